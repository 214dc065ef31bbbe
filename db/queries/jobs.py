"""Jobs: one visit of a unit each, numbered through the shop; and what was decided of them."""

from dataclasses import replace
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session

from db.keep import add, edit, next_place, row_of
from db.queries import units
from db.tables import DecisionRow, JobRow
from db.trouble import Refused
from workbench.records import Decided, Job, Outcome, Unit

_EDITABLE = ("complaint", "seen", "approved", "found", "done", "closed_at")


def next_number(session: Session) -> int:
    return next_place(session, JobRow, "number")


def open_job(session: Session, job: Job) -> Job:
    """Opens a job, or finds it opened already. A number below 1 asks for the next one; so it is kept.

    Raises Refused where another job has that number.
    """
    kept = row_of(session, JobRow, job.id)
    number = job.number if job.number >= 1 else int(kept["number"]) if kept else next_number(session)
    other = session.scalar(select(JobRow.id).where(JobRow.number == number))
    if other is not None and other != job.id:
        raise Refused(
            f"There is a job {number} already. Nothing was written. Book the part in again: it gets the next number."
        )
    values = {"id": job.id, "unit_id": job.unit_id, "number": number, "opened_at": job.opened_at, "version": 1}
    add(session, JobRow, values | {k: getattr(job, k) for k in _EDITABLE})
    return replace(job, number=number, version=1)


def edit_job(session: Session, job: Job) -> Job:
    """Its words and when it was closed; number, unit and opening stay. Raises ChangedElsewhere."""
    values = {"id": job.id} | {k: getattr(job, k) for k in _EDITABLE}
    return replace(job, version=edit(session, JobRow, f"job {job.number}", values, job.version))


def latest_of(session: Session, unit_id: UUID) -> Job | None:
    row = session.scalar(select(JobRow).where(JobRow.unit_id == unit_id).order_by(JobRow.number.desc()).limit(1))
    return None if row is None else record(row)


def unit_and_latest(session: Session, tag: str) -> tuple[Unit, Job | None] | None:
    unit = units.by_tag(session, tag)
    return None if unit is None else (unit, latest_of(session, unit.id))


def decide(session: Session, decided: Decided) -> Decided:
    values = {
        "id": decided.id,
        "job_id": decided.job_id,
        "sheet_id": decided.sheet_id,
        "outcome": str(decided.outcome),
        "note": decided.note,
        "verdict": decided.verdict,
        "decided_at": decided.decided_at,
        "found": decided.found,
        "found_where": decided.found_where,
        "ran_well": decided.ran_well,
    }
    add(session, DecisionRow, values, {"place": next_place(session, DecisionRow, "place", job_id=decided.job_id)})
    return decided


def decision_of(session: Session, job_id: UUID) -> Decided | None:
    """The latest one, which holds."""
    d = session.scalar(
        select(DecisionRow).where(DecisionRow.job_id == job_id).order_by(DecisionRow.place.desc()).limit(1)
    )
    return None if d is None else decided(d)


def decided(d: DecisionRow) -> Decided:
    return Decided(
        d.id, d.job_id, d.sheet_id, Outcome(d.outcome), d.note, d.verdict, d.decided_at,
        d.found, d.found_where, d.ran_well,
    )  # fmt: skip


def record(r: JobRow) -> Job:
    return Job(
        r.id, r.unit_id, r.number, r.complaint, r.opened_at, r.seen, r.approved, r.found, r.done, r.closed_at, r.version
    )
