"""Units known good: what bands of the shop's own are made from."""

from uuid import UUID

from sqlalchemy import or_, select
from sqlalchemy.orm import Session, aliased

from db.queries import sheets
from db.tables import DecisionRow, JobRow, PatternRevisionRow, SheetRow, UnitRow
from workbench.records import GoodSheet, Outcome


def of_pattern(session: Session, pattern_id: UUID) -> tuple[GoodSheet, ...]:
    """Sheets on which a unit of this pattern passed, by the latest decision of its job: good ones, and those of units
    that were seen to run well. Oldest job first; a unit may come more than once.
    """
    later = aliased(DecisionRow)
    overtaken = select(later.id).where(later.job_id == DecisionRow.job_id, later.place > DecisionRow.place).exists()
    passed = (
        select(SheetRow, JobRow.number, PatternRevisionRow, UnitRow, DecisionRow)
        .select_from(DecisionRow)
        .join(SheetRow, SheetRow.id == DecisionRow.sheet_id)
        .join(JobRow, JobRow.id == SheetRow.job_id)
        .join(UnitRow, UnitRow.id == JobRow.unit_id)
        .join(PatternRevisionRow, PatternRevisionRow.id == SheetRow.revision_id)
        .where(
            PatternRevisionRow.pattern_id == pattern_id,
            DecisionRow.outcome == str(Outcome.PASS),
            or_(DecisionRow.verdict == "good", DecisionRow.ran_well),
            ~overtaken,
        )
        .order_by(JobRow.number)
    )
    found = session.execute(passed).all()
    counted = sheets.counted_of(session, select(SheetRow.id).where(SheetRow.id.in_([f[0].id for f in found])))
    out = []
    for sheet, number, revision, unit, decision in found:
        readings = counted.get(sheet.id, ())
        past = sheets.past(number, sheet, revision, readings, Outcome.PASS)
        out.append(GoodSheet(unit.id, unit.tag, decision.ran_well, past))
    return tuple(out)
