"""Cards that left the program, counted within their sheet: the customer's by themselves, and the shop's."""

from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session

from db.keep import add, next_place
from db.tables import CardRow
from workbench.records import CardMade, CardSize, Whose


def note(session: Session, card: CardMade) -> CardMade:
    """Notes one card more of this sheet, or finds it noted already; with the copy number that it has then."""
    values = {
        "id": card.id,
        "sheet_id": card.sheet_id,
        "how": card.how,
        "made_at": card.made_at,
        "whose": str(card.whose),
        "size": str(card.size),
        "asserts": card.asserts,
    }
    copy = next_place(session, CardRow, "copy", sheet_id=card.sheet_id, whose=str(card.whose))
    add(session, CardRow, values, {"copy": copy})
    return _record(session.get_one(CardRow, card.id))


def of_sheet(session: Session, sheet_id: UUID) -> tuple[CardMade, ...]:
    """The customer's, then the shop's, each in their order."""
    rows = session.scalars(select(CardRow).where(CardRow.sheet_id == sheet_id).order_by(CardRow.whose, CardRow.copy))
    return tuple(_record(r) for r in rows)


def _record(r: CardRow) -> CardMade:
    return CardMade(r.id, r.sheet_id, r.copy, r.how, r.made_at, Whose(r.whose), CardSize(r.size), r.asserts)
