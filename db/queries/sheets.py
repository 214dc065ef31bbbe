"""Sheets, their readings and the strikes on them."""

from dataclasses import replace
from uuid import UUID

from sqlalchemy import Select, select
from sqlalchemy.orm import Session

from db.bodies import meter_of, meter_text, predicted_of, predicted_text
from db.keep import Values, add, edit, next_place, row_of
from db.queries import jobs, patterns, rewinds, units
from db.tables import DecisionRow, JobRow, PatternRevisionRow, ReadingRow, SheetRow, StrikeRow, UnitRow
from db.trouble import Refused
from workbench.exchange.finished import predicted_by
from workbench.records import (
    BenchFile,
    Decided,
    Job,
    KeptReading,
    Outcome,
    PastSheet,
    SheetHead,
    Strike,
    TemperatureSource,
    Unit,
    as_read,
)
from workbench.stator.pattern import Pair
from workbench.stator.predicted import Predicted
from workbench.stator.sheet import Conditions, Reading


def begin(session: Session, head: SheetHead) -> SheetHead:
    """Adds a sheet, or finds it begun already; as it is kept then.

    What the part's rewound windings should read is told by its rewinds as they are now, unless the head knows it.
    """
    values = _conditions(head) | {
        "job_id": head.job_id,
        "revision_id": head.revision_id,
        "started_at": head.started_at,
        "version": 1,
    }
    said = head.predicted or _predicted(session, head)
    once = {"place": next_place(session, SheetRow, "place", job_id=head.job_id), "predicted": predicted_text(said)}
    if not add(session, SheetRow, values, once):
        kept = row_of(session, SheetRow, head.id)
        assert kept is not None
        said = predicted_of(kept["predicted"])
    return replace(head, version=1, predicted=said)


def begun(session: Session, head: SheetHead) -> BenchFile:
    """As `begin`; with all that the bench needs of it."""
    begin(session, head)
    file = file_of(session, head.id)
    assert file is not None
    return file


def change_conditions(session: Session, head: SheetHead) -> SheetHead:
    """Meter, leads, temperature, what of it is assumed, proof of the iron, note; job, revision and start stay.

    Raises ChangedElsewhere.
    """
    return replace(head, version=edit(session, SheetRow, "sheet", _conditions(head), head.version))


def keep_reading(session: Session, kept: KeptReading) -> KeptReading:
    """Its strike, if any, is not written with it."""
    values = {
        "id": kept.id,
        "sheet_id": kept.sheet_id,
        "place": kept.place,
        "node_from": kept.reading.pair.positive,
        "node_to": kept.reading.pair.negative,
        "ohms": kept.reading.ohms,
        "range_upto_ohms": kept.reading.range_upto_ohms,
        "typed": kept.typed,
        "taken_at": kept.taken_at,
    }
    add(session, ReadingRow, values)
    return kept


def strike(session: Session, struck: Strike) -> Strike:
    """Raises Refused where the reading was struck before, by another strike, or was never kept."""
    if session.get(ReadingRow, struck.reading_id) is None:
        raise Refused("This reading is not kept, so there is nothing to strike out. Nothing was written.")
    other = session.scalar(select(StrikeRow).where(StrikeRow.reading_id == struck.reading_id))
    if other is not None and other.id != struck.id:
        raise Refused(
            f"This reading was struck out already ({other.reason}). That strike stands and nothing was written. "
            "Open the sheet again to see it."
        )
    values = {"id": struck.id, "reading_id": struck.reading_id, "reason": struck.reason, "struck_at": struck.struck_at}
    add(session, StrikeRow, values)
    return struck


def latest_of(session: Session, job_id: UUID) -> SheetHead | None:
    row = session.scalar(select(SheetRow).where(SheetRow.job_id == job_id).order_by(SheetRow.place.desc()).limit(1))
    return None if row is None else head_of(row)


def readings_of(session: Session, sheet_id: UUID) -> tuple[KeptReading, ...]:
    """In their places, the struck ones among them."""
    query = (
        select(ReadingRow, StrikeRow)
        .outerjoin(StrikeRow, StrikeRow.reading_id == ReadingRow.id)
        .where(ReadingRow.sheet_id == sheet_id)
        .order_by(ReadingRow.place)
    )
    return tuple(_kept(r, s) for r, s in session.execute(query))


def bench_file(session: Session, tag: str) -> BenchFile | None:
    """The unit's latest job with that job's latest sheet; None where unit, job or sheet is wanting."""
    unit = units.by_tag(session, tag)
    job = jobs.latest_of(session, unit.id) if unit else None
    head = latest_of(session, job.id) if job else None
    if unit is None or job is None or head is None:
        return None
    return _file(session, unit, job, head)


def file_of(session: Session, sheet_id: UUID) -> BenchFile | None:
    """One sheet with its own job and its unit, whether it is the latest or not; None where it isn't kept."""
    found = session.execute(
        select(SheetRow, JobRow, UnitRow)
        .join(JobRow, JobRow.id == SheetRow.job_id)
        .join(UnitRow, UnitRow.id == JobRow.unit_id)
        .where(SheetRow.id == sheet_id)
    ).first()
    if found is None:
        return None
    sheet, job, unit = found
    return _file(session, units.record(unit), jobs.record(job), head_of(sheet))


def counted_of(session: Session, sheets: "Select[UUID]") -> dict[UUID, tuple[KeptReading, ...]]:
    """The readings of these sheets that count, each sheet's in its order."""
    out: dict[UUID, list[KeptReading]] = {}
    unstruck = (
        select(ReadingRow)
        .outerjoin(StrikeRow, StrikeRow.reading_id == ReadingRow.id)
        .where(ReadingRow.sheet_id.in_(sheets), StrikeRow.id.is_(None))
        .order_by(ReadingRow.place)
    )
    for r in session.scalars(unstruck):
        out.setdefault(r.sheet_id, []).append(_kept(r, None))
    return {id: tuple(readings) for id, readings in out.items()}


def of_unit(session: Session, unit_id: UUID) -> tuple[PastSheet, ...]:
    """Every sheet of a unit with its readings that count, oldest first: by job and place, never by the clock."""
    mine = select(SheetRow.id).join(JobRow, JobRow.id == SheetRow.job_id).where(JobRow.unit_id == unit_id)
    counted = counted_of(session, mine)
    # the latest decision of a job holds
    decided = {
        d.job_id: d
        for d in session.scalars(select(DecisionRow).where(DecisionRow.sheet_id.in_(mine)).order_by(DecisionRow.place))
    }
    outcomes = {d.sheet_id: Outcome(d.outcome) for d in decided.values()}
    sheets = (
        select(SheetRow, JobRow.number, PatternRevisionRow)
        .join(JobRow, JobRow.id == SheetRow.job_id)
        .join(PatternRevisionRow, PatternRevisionRow.id == SheetRow.revision_id)
        .where(JobRow.unit_id == unit_id)
        .order_by(JobRow.number, SheetRow.place)
    )
    return tuple(
        past(number, sheet, revision, counted.get(sheet.id, ()), outcomes.get(sheet.id))
        for sheet, number, revision in session.execute(sheets)
    )


def past(
    number: int, sheet: SheetRow, revision: PatternRevisionRow, readings: tuple[KeptReading, ...],
    outcome: Outcome | None,
) -> PastSheet:  # fmt: skip
    head = head_of(sheet)
    return PastSheet(number, head, as_read(patterns.record(revision), head), readings, outcome)


def _predicted(session: Session, head: SheetHead) -> tuple[Predicted, ...]:
    done = rewinds.of_unit_with(session, head.job_id)
    return predicted_by(patterns.revision(session, head.revision_id).pattern, done) if done else ()


def _file(session: Session, unit: Unit, job: Job, head: SheetHead) -> BenchFile:
    return BenchFile(
        unit,
        job,
        as_read(patterns.revision(session, head.revision_id), head),
        head,
        readings_of(session, head.id),
        _decided(session, job, head),
        rewinds.repairs_of(session, job.id),
        rewinds.of_job(session, job.id),
        rewinds.before(session, job.id, head.started_at),
    )


def _decided(session: Session, job: Job, head: SheetHead) -> Decided | None:
    """What was decided of the job, unless that was before this sheet was begun."""
    decided = jobs.decision_of(session, job.id)
    if decided is None:
        return None
    on, this = (row_of(session, SheetRow, id) for id in (decided.sheet_id, head.id))
    earlier = on is not None and this is not None and on["place"] < this["place"]
    return None if earlier and decided.decided_at <= head.started_at else decided


def _conditions(head: SheetHead) -> Values:
    return {
        "id": head.id,
        "meter_id": head.meter_id,
        "meter_name": head.meter_name,
        "meter_body": meter_text(head.meter),
        "celsius": head.conditions.celsius,
        "celsius_uncertainty": head.conditions.celsius_uncertainty,
        "lead_ohms": head.conditions.lead_ohms,
        "lead_uncertainty_ohms": head.conditions.lead_uncertainty_ohms,
        "source": str(head.source),
        "meter_zeroed": head.meter_zeroed,
        "iron_ohms": head.iron_ohms,
        "note": head.note,
        "celsius_assumed": head.celsius_assumed,
        "leads_assumed": head.leads_assumed,
    }


def head_of(r: SheetRow) -> SheetHead:
    return SheetHead(
        id=r.id,
        job_id=r.job_id,
        revision_id=r.revision_id,
        meter_id=r.meter_id,
        meter_name=r.meter_name,
        meter=meter_of(r.meter_body),
        conditions=Conditions(r.celsius, r.celsius_uncertainty, r.lead_ohms, r.lead_uncertainty_ohms),
        source=TemperatureSource(r.source),
        meter_zeroed=r.meter_zeroed,
        iron_ohms=r.iron_ohms,
        started_at=r.started_at,
        version=r.version,
        note=r.note,
        predicted=predicted_of(r.predicted),
        celsius_assumed=r.celsius_assumed,
        leads_assumed=r.leads_assumed,
    )


def _kept(r: ReadingRow, s: StrikeRow | None) -> KeptReading:
    reading = Reading(Pair(r.node_from, r.node_to), r.ohms, r.range_upto_ohms)
    struck = None if s is None else Strike(s.id, s.reading_id, s.reason, s.struck_at)
    return KeptReading(r.id, r.sheet_id, r.place, reading, r.typed, r.taken_at, struck)
