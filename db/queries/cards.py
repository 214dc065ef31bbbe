"""Cards that left the program, counted within their sheet."""

from datetime import datetime
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session

from db.keep import add, next_place
from db.tables import CardRow
from workbench.records import CardMade


def note(session: Session, id: UUID, sheet_id: UUID, how: str, made_at: datetime) -> CardMade:
    """Notes one card more of this sheet, or finds it noted already; with its copy number."""
    values = {"id": id, "sheet_id": sheet_id, "how": how, "made_at": made_at}
    add(session, CardRow, values, {"copy": next_place(session, CardRow, "copy", sheet_id=sheet_id)})
    row = session.get_one(CardRow, id)
    return CardMade(row.id, row.sheet_id, row.copy, row.how, row.made_at)


def of_sheet(session: Session, sheet_id: UUID) -> tuple[CardMade, ...]:
    rows = session.scalars(select(CardRow).where(CardRow.sheet_id == sheet_id).order_by(CardRow.copy))
    return tuple(CardMade(r.id, r.sheet_id, r.copy, r.how, r.made_at) for r in rows)
