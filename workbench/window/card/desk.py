"""Makes the card of the sheet on the bench, or the tag it came in with, and shows it."""

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QWidget

from workbench.records import CardMade, CardSize, Whose, new_id, now
from workbench.shop import Shop
from workbench.sitting.bench import Bench
from workbench.window import settings
from workbench.window.backdesk import BackDesk
from workbench.window.card.kind import Kind
from workbench.window.look import Look

if TYPE_CHECKING:
    from PySide6.QtGui import QImage

    from workbench.window.card.dialog import CardDialog

CARD_DOTS = 96  # per inch, on screen: a whole card fits a 768 px screen
WEIGHING_MS = 20


class CardDesk:
    """One card at a time, however often it is asked for; `dialog` while it is looked at."""

    def __init__(self, window: QWidget, shop: Shop, back: BackDesk, say: Callable[[Exception], None]) -> None:
        self.dialog: CardDialog | None = None
        self._window, self._shop, self._back, self._say = window, shop, back, say
        self._coming = False
        self._asserts = ""

    def show(self, bench: Bench, look: Look, kind: Kind = Kind.CUSTOMER) -> None:
        """The dialog opens when the card is made; the readings are weighed first, since the card says what of."""
        if self._coming or self.dialog is not None:
            return
        self._coming = True
        self._draw(bench, settings.card_size(), kind, lambda *made: self._open(bench, look, kind, *made))

    def _draw(
        self,
        bench: Bench,
        size: CardSize,
        kind: Kind,
        then: "Callable[[CardSize, bytes, list[QImage]], None]",
    ) -> None:
        if bench.explains and bench.explained is None:
            QTimer.singleShot(WEIGHING_MS, self._window, lambda: self._draw(bench, size, kind, then))
            return
        self._shop.cards_of(bench.head.id, lambda made: self._work(bench, size, kind, made, then), self._failed)

    def _work(
        self,
        bench: Bench,
        size: CardSize,
        kind: Kind,
        made: tuple[CardMade, ...],
        then: "Callable[[CardSize, bytes, list[QImage]], None]",
    ) -> None:
        pdf = self._intake(bench, size) if kind is Kind.INTAKE else self._card(bench, size, kind, made)
        dots = CARD_DOTS * self._window.devicePixelRatioF()
        self._back.do(lambda: _drawn(pdf, dots), lambda done: then(size, *done), self._failed)

    def _card(self, bench: Bench, size: CardSize, kind: Kind, made: tuple[CardMade, ...]) -> Callable[[], bytes]:
        from workbench.cards import make_card
        from workbench.sitting.card import card_facts

        alike = [m for m in made if m.whose is kind.whose]
        first = min((m.made_at for m in alike), default=None)
        facts = card_facts(bench, now().astimezone(), len(alike) + 1, whose=kind.whose, first_made_at=first)
        self._asserts = facts.asserts
        return partial(make_card, facts, size)

    def _intake(self, bench: Bench, size: CardSize) -> Callable[[], bytes]:
        from workbench.cards import make_intake
        from workbench.cards.intake import intake_facts

        facts = intake_facts(bench.unit, bench.job, bench.pattern.name, now().astimezone())
        return partial(make_intake, facts, size)

    def _open(self, bench: Bench, look: Look, kind: Kind, size: CardSize, pdf: bytes, images: "list[QImage]") -> None:
        from workbench.window.card.dialog import CardDialog

        dialog = CardDialog(self._window, look, bench.unit.tag, kind)
        dialog.show_pages(size, pdf, images)

        def again() -> None:
            settings.keep_card_size(dialog.size_chosen)
            self._draw(bench, dialog.size_chosen, dialog.kind, dialog.show_pages)

        def left(how: str) -> None:
            if dialog.kind is Kind.INTAKE:
                return
            whose, asserts = dialog.kind.whose, self._asserts
            card = CardMade(new_id(), bench.head.id, 1, how, now(), Whose(whose), dialog.size_chosen, asserts)
            self._shop.note_card(card, lambda _: again(), self._say)  # the next one out of here is a reprint

        dialog.chosen.connect(again)
        dialog.left.connect(left)
        self.dialog, self._coming = dialog, False
        dialog.finished.connect(self._closed)
        dialog.open()

    def _closed(self) -> None:
        if self.dialog is not None:
            self.dialog.deleteLater()
            self.dialog = None

    def _failed(self, e: Exception) -> None:
        self._coming = False
        self._say(e)


def _drawn(pdf: Callable[[], bytes], dots: float) -> "tuple[bytes, list[QImage]]":
    from workbench.window.card.pages import page_images

    made = pdf()
    return made, page_images(made, dots)
