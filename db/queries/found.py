"""What decided jobs were found to have, counted."""

from contextlib import suppress
from uuid import UUID

from sqlalchemy import func, select
from sqlalchemy.orm import Session, aliased

from db.queries import patterns
from db.tables import DecisionRow, SheetRow
from workbench.findings.faults import Fault
from workbench.findings.odds import Counts, Family, family_of


def counts(session: Session, but_for: UUID | None = None) -> Counts:
    """By the latest decision of each job, with the pattern its sheet was judged against; jobs of which that was not
    said, or which were found to have what the model doesn't weigh, are left out, and so is `but_for`.
    """
    later = aliased(DecisionRow)
    overtaken = select(later.id).where(later.job_id == DecisionRow.job_id, later.place > DecisionRow.place).exists()
    query = (
        select(SheetRow.revision_id, DecisionRow.found, func.count())
        .join(SheetRow, SheetRow.id == DecisionRow.sheet_id)
        .where(DecisionRow.found != "", ~overtaken)
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
