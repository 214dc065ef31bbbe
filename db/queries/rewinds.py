"""Rewinds and repairs of a job."""

from dataclasses import replace
from datetime import datetime
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session, aliased

from db.keep import add, edit, next_place, row_of
from db.tables import JobRow, RepairRow, RewindRow
from workbench.records import KeptRewind, Repair, RepairKind


def of_job(session: Session, job_id: UUID) -> tuple[KeptRewind, ...]:
    """Oldest first."""
    rows = session.scalars(
        select(RewindRow).where(RewindRow.job_id == job_id).order_by(RewindRow.made_at, RewindRow.id)
    )  # fmt: skip
    return tuple(map(_record, rows))


def of_unit_with(session: Session, job_id: UUID) -> tuple[KeptRewind, ...]:
    """Those that are done of the unit that a job is of, in whichever job; oldest first."""
    job = aliased(JobRow)
    rows = session.scalars(
        select(RewindRow)
        .join(JobRow, JobRow.id == RewindRow.job_id)
        .join(job, job.unit_id == JobRow.unit_id)
        .where(job.id == job_id, RewindRow.done_at.is_not(None))
        .order_by(RewindRow.done_at, RewindRow.id)
    )
    return tuple(map(_record, rows))


def before(session: Session, job_id: UUID, moment: datetime) -> tuple[KeptRewind, ...]:
    """Those of the unit's other jobs that were done by then; oldest first."""
    done = of_unit_with(session, job_id)
    return tuple(r for r in done if r.job_id != job_id and r.done_at is not None and r.done_at < moment)


def save(session: Session, rewind: KeptRewind) -> KeptRewind:
    """Adds a rewind, or edits the one kept under its id; as it is kept then. Raises ChangedElsewhere."""
    changing = {"winding": rewind.winding, "body": rewind.body, "done_at": rewind.done_at}
    if row_of(session, RewindRow, rewind.id) is None:
        values = {"id": rewind.id, "job_id": rewind.job_id, "made_at": rewind.made_at, "version": 1}
        add(session, RewindRow, values | changing)
        return replace(rewind, version=1)
    what = f"rewind of the {rewind.winding}"
    return replace(rewind, version=edit(session, RewindRow, what, {"id": rewind.id, **changing}, rewind.version))


def repairs_of(session: Session, job_id: UUID) -> tuple[Repair, ...]:
    """In the order they were written down."""
    rows = session.scalars(select(RepairRow).where(RepairRow.job_id == job_id).order_by(RepairRow.place))
    return tuple(Repair(r.id, r.job_id, RepairKind(r.kind), r.where, r.note, r.repaired_at) for r in rows)


def keep_repair(session: Session, repair: Repair) -> Repair:
    values = {
        "id": repair.id, "job_id": repair.job_id, "kind": str(repair.kind), "where": repair.where,
        "note": repair.note, "repaired_at": repair.repaired_at,
    }  # fmt: skip
    add(session, RepairRow, values, {"place": next_place(session, RepairRow, "place", job_id=repair.job_id)})
    return repair


def _record(r: RewindRow) -> KeptRewind:
    return KeptRewind(r.id, r.job_id, r.winding, r.body, r.made_at, r.done_at, r.version)
