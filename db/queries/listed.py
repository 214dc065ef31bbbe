"""Units as the counter lists them: each with its latest job, and what was decided of that."""

from typing import TYPE_CHECKING

from sqlalchemy import Select, and_, func, select
from sqlalchemy.orm import Session, aliased

from db.queries import jobs, units
from db.tables import DecisionRow, JobRow, UnitRow
from workbench.records import UnitListed

if TYPE_CHECKING:
    Listing = Select[UnitRow, JobRow, DecisionRow]


def recent(session: Session, limit: int) -> tuple[UnitListed, ...]:
    """Those with the latest jobs first."""
    return _lists(session, _listing().order_by(func.coalesce(JobRow.number, 0).desc(), UnitRow.made_at.desc()), limit)


def search(session: Session, text: str, limit: int) -> tuple[UnitListed, ...]:
    """Those whose tag and label hold every word of `text`, in any case, by tag. A blank text finds nothing."""
    words = units.key_of(text).split()
    if not words:
        return ()
    query = _listing().order_by(UnitRow.tag_key)
    for word in words:
        query = query.where(UnitRow.found_by.contains(word, autoescape=True))
    return _lists(session, query, limit)


def _listing() -> "Listing":
    later, overtaken = aliased(JobRow), aliased(DecisionRow)
    superseded = select(later.id).where(later.unit_id == UnitRow.id, later.number > JobRow.number).exists()
    no_longer = (
        select(overtaken.id).where(overtaken.job_id == DecisionRow.job_id, overtaken.place > DecisionRow.place).exists()
    )
    return (
        select(UnitRow, JobRow, DecisionRow)
        .select_from(UnitRow)
        .outerjoin(JobRow, and_(JobRow.unit_id == UnitRow.id, ~superseded))
        .outerjoin(DecisionRow, and_(DecisionRow.job_id == JobRow.id, ~no_longer))
    )


def _lists(session: Session, query: "Listing", limit: int) -> tuple[UnitListed, ...]:
    return tuple(
        UnitListed(units.record(u), jobs.record(j) if j else None, jobs.decided(d) if d else None)
        for u, j, d in session.execute(query.limit(limit))
    )
