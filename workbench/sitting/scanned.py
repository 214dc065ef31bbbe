"""A card's square code at the counter: which sheet it is of, and whether it still says what the sheet says."""

from collections.abc import Callable
from typing import Any, Protocol
from uuid import UUID

from workbench.cards.check import Compared, Standing, compare
from workbench.cards.sayings import scan_words
from workbench.cards.scan import NoCardError, Scanned, read_card
from workbench.records import BenchFile, CardMade
from workbench.sitting.card import asserts_of
from workbench.sitting.keeper import Failed

NEWER = "This card is of a newer Plugface than this one. Look the part up by the tag that stands on it."
GARBLED = "That is no card's whole code. Scan it again, or type the tag that stands on it."


class Sheets(Protocol):
    """What is asked of the shop's records."""

    def open_sheet(self, sheet_id: UUID, then: Any = None, failed: Failed | None = None) -> Any: ...

    def cards_of(self, sheet_id: UUID, then: Any = None, failed: Failed | None = None) -> Any: ...


def scan(text: str) -> Scanned | str | None:
    """A card's content; the sentence why it can't be used; None where the text is a plain tag."""
    try:
        return read_card(text)
    except NoCardError as e:
        return NEWER if e.newer else GARBLED


def look_up(
    card: Scanned, sheets: Sheets, told: Callable[[BenchFile | None, str], None], failed: Failed | None
) -> None:
    """Tells the file of the card's sheet (None: not in this store) and what the card is worth."""

    def opened(file: BenchFile | None) -> None:
        if file is None:
            told(None, f"No sheet of this store is the one on this card. Look {card.tag} up by its tag.")
            return
        sheets.cards_of(card.sheet_id, lambda made: told(file, _worth(card, file, made)), failed)

    sheets.open_sheet(card.sheet_id, opened, failed)


def _worth(card: Scanned, file: BenchFile, made: tuple[CardMade, ...]) -> str:
    if card.tag.casefold() != file.unit.tag.casefold():
        return scan_words(Compared(Standing.FOREIGN))
    return scan_words(compare(card.check, asserts_of(file), [m.asserts for m in made]))
