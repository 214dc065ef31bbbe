"""What decided jobs were found to have, counted."""

from contextlib import suppress
from uuid import UUID

from sqlalchemy import ColumnElement, func, select
from sqlalchemy.orm import Session, aliased

from db.queries import patterns
from db.tables import DecisionRow, RepairRow, RewindRow, SheetRow
from workbench.findings.faults import Fault
from workbench.findings.odds import Counts, Family, family_of
from workbench.records import Outcome


def counts(session: Session, but_for: UUID | None = None) -> Counts:
    """By the latest decision of each job, with the pattern its sheet was judged against; jobs of which that was not
    said, or which were found to have what the model doesn't weigh, are left out, and so is `but_for`.

    A part that was mended and then passed as sound was found to have what it was mended for.
    """
    later, before = aliased(DecisionRow), aliased(DecisionRow)
    set_right = _passed_as_sound(later) & _to_be_mended(DecisionRow)
    overtaken = (
        select(later.id).where(later.job_id == DecisionRow.job_id, later.place > DecisionRow.place, ~set_right).exists()
    )
    mended_first = (
        select(before.id)
        .where(before.job_id == DecisionRow.job_id, before.place < DecisionRow.place, _to_be_mended(before))
        .exists()
    )
    query = (
        select(SheetRow.revision_id, DecisionRow.found, func.count())
        .join(SheetRow, SheetRow.id == DecisionRow.sheet_id)
        .where(DecisionRow.found != "", ~overtaken, ~(_passed_as_sound(DecisionRow) & mended_first))
        .group_by(SheetRow.revision_id, DecisionRow.found)
    )
    if but_for is not None:
        query = query.where(DecisionRow.job_id != but_for)
    families: dict[UUID, Family] = {}
    out: dict[Family, dict[Fault, int]] = {}
    for revision_id, found, number in session.execute(query).all():
        if revision_id not in families:
            families[revision_id] = family_of(patterns.revision(session, revision_id).pattern)
        with suppress(ValueError):  # beyond the model, or beyond this program: none of its odds
            fault = Fault(found)
            of_family = out.setdefault(families[revision_id], {})
            of_family[fault] = of_family.get(fault, 0) + number
    return Counts(out)


def _to_be_mended(row: type[DecisionRow]) -> ColumnElement[bool]:
    """What a repair or a rewind was decided for, of a job in which one was done."""
    repaired = select(RepairRow.id).where(RepairRow.job_id == row.job_id).correlate(row).exists()
    done = RewindRow.done_at.is_not(None)
    rewound = select(RewindRow.id).where(RewindRow.job_id == row.job_id, done).correlate(row).exists()
    fault = row.outcome.in_([Outcome.REPAIR, Outcome.REWIND]) & row.found.not_in(["", Fault.SOUND])
    return fault & (repaired | rewound)


def _passed_as_sound(row: type[DecisionRow]) -> ColumnElement[bool]:
    return (row.outcome == Outcome.PASS) & (row.found == Fault.SOUND)
