"""Makes the card of the sheet on the bench and shows it."""

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QWidget

from workbench.records import now
from workbench.shop import Shop
from workbench.sitting.bench import Bench
from workbench.window.backdesk import BackDesk
from workbench.window.look import Look

if TYPE_CHECKING:
    from PySide6.QtGui import QImage

    from workbench.cards.facts import CardFacts
    from workbench.window.card.dialog import CardDialog

CARD_DOTS = 96  # per inch, on screen: a whole card fits a 768 px screen


class CardDesk:
    """One card at a time, however often it is asked for; `dialog` while it is looked at."""

    def __init__(self, window: QWidget, shop: Shop, back: BackDesk, say: Callable[[Exception], None]) -> None:
        self.dialog: CardDialog | None = None
        self._window, self._shop, self._back, self._say = window, shop, back, say
        self._coming = False

    def show(self, bench: Bench, look: Look) -> None:
        """The dialog opens when the card is made."""
        if self._coming or self.dialog is not None:
            return
        self._coming = True
        self._shop.cards_of(bench.head.id, lambda made: self._make(bench, look, len(made) + 1), self._failed)

    def _make(self, bench: Bench, look: Look, copy: int) -> None:
        from workbench.sitting.card import card_facts

        facts = card_facts(bench, now().astimezone(), copy)
        dots = CARD_DOTS * self._window.devicePixelRatioF()
        self._back.do(lambda: _drawn(facts, dots), lambda made: self._made(bench, look, *made), self._failed)

    def _made(self, bench: Bench, look: Look, pdf: bytes, images: "list[QImage]") -> None:
        from workbench.window.card.dialog import CardDialog

        def left(how: str) -> None:
            self._shop.note_card(bench.head.id, how, failed=self._say)

        self.dialog, self._coming = CardDialog(self._window, look, pdf, images, bench.unit.tag, left), False
        self.dialog.finished.connect(self._closed)
        self.dialog.open()

    def _closed(self) -> None:
        if self.dialog is not None:
            self.dialog.deleteLater()
            self.dialog = None

    def _failed(self, e: Exception) -> None:
        self._coming = False
        self._say(e)


def _drawn(facts: "CardFacts", dots: float) -> "tuple[bytes, list[QImage]]":
    from workbench.cards import make_card
    from workbench.window.card.pages import page_images

    pdf = make_card(facts)
    return pdf, page_images(pdf, dots)
