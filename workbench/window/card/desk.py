"""Makes the card of the sheet on the bench, or the tag it came in with, and shows it."""

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QWidget

from workbench.records import CardMade, CardSize, new_id, now
from workbench.shop import Shop
from workbench.sitting.bench import Bench
from workbench.window import settings
from workbench.window.backdesk import BackDesk
from workbench.window.card.kind import Kind
from workbench.window.look import Look

if TYPE_CHECKING:
    from workbench.window.card.dialog import CardDialog
    from workbench.window.card.pages import Drawn

LEAST_DOTS, MOST_DOTS = 80, 96  # per inch, on screen: below, nothing could be read
AROUND = 250  # pixels of a screen's height that its card can't have: what stands above and below it
TALLEST = 150 / 25.4  # inches
WEIGHING_MS = 20


class CardDesk:
    """One card at a time, however often it is asked for; `dialog` while it is looked at."""

    def __init__(self, window: QWidget, shop: Shop, back: BackDesk, say: Callable[[Exception], None]) -> None:
        self.dialog: CardDialog | None = None
        self._window, self._shop, self._back, self._say = window, shop, back, say
        self._coming = False
        self._wanted = object()  # what was asked for last: whatever else comes is too late

    def show(self, bench: Bench, look: Look, kind: Kind = Kind.CUSTOMER) -> None:
        """The dialog opens when the card is made; the readings are weighed first, since the card says what of."""
        if self._coming or self.dialog is not None:
            return
        self._coming = True
        self._ask(bench, settings.card_size(), kind, partial(self._open, bench, look))

    def _ask(self, bench: Bench, size: CardSize, kind: Kind, then: "Callable[[Drawn], None]") -> None:
        """`then` comes once it is made, unless something else was asked for since, or the dialog closed."""
        self._wanted = wanted = object()

        def still(step: Callable[..., None]) -> Callable[..., None]:
            return lambda *made: step(*made) if self._wanted is wanted else None

        def weighed() -> None:
            if bench.explains and bench.explained is None:
                QTimer.singleShot(WEIGHING_MS, self._window, still(weighed))
                return
            self._shop.cards_of(bench.head.id, still(counted), still(self._failed))

        def counted(before: tuple[CardMade, ...]) -> None:
            dots = self._dots()
            make, asserts = _intake(bench, size) if kind is Kind.INTAKE else _card(bench, size, kind, before)
            self._back.do(partial(_drawn, kind, size, make, asserts, dots), still(then), still(self._failed))

        weighed()

    def _dots(self) -> float:
        """As large as a whole card can be on this screen, a 768 px one too."""
        room = (self._window.screen().availableGeometry().height() - AROUND) / TALLEST
        return min(MOST_DOTS, max(LEAST_DOTS, room)) * self._window.devicePixelRatioF()

    def _open(self, bench: Bench, look: Look, drawn: "Drawn") -> None:
        from workbench.window.card.dialog import CardDialog

        dialog = CardDialog(self._window, look, bench.unit.tag, drawn)

        def chosen() -> None:
            settings.keep_card_size(dialog.size_chosen)
            self._ask(bench, dialog.size_chosen, dialog.kind, dialog.show_drawn)

        def left(how: str, drawn: "Drawn") -> None:
            if drawn.kind is Kind.INTAKE:
                return
            dialog.waits()
            card = CardMade(new_id(), bench.head.id, 0, how, now(), drawn.kind.whose, drawn.size, drawn.asserts)
            self._shop.note_card(card, noted, not_noted)

        def noted(_: CardMade) -> None:
            if self.dialog is dialog:  # the next one out of here is a reprint
                self._ask(bench, dialog.size_chosen, dialog.kind, dialog.show_drawn)

        def not_noted(e: Exception) -> None:
            if self.dialog is dialog:
                dialog.show_drawn(dialog.drawn)
            self._say(e)

        dialog.chosen.connect(chosen)
        dialog.left.connect(left)
        self.dialog, self._coming = dialog, False
        dialog.finished.connect(self._closed)
        dialog.open()

    def _closed(self) -> None:
        self._wanted = object()
        if self.dialog is not None:
            self.dialog.deleteLater()
            self.dialog = None

    def _failed(self, e: Exception) -> None:
        self._coming = False
        if self.dialog is not None:
            self.dialog.failed(f"That could not be drawn: this is what was chosen before. {e}")
        else:
            self._say(e)


def _card(bench: Bench, size: CardSize, kind: Kind, before: tuple[CardMade, ...]) -> tuple[Callable[[], bytes], str]:
    """How the card is made, as the copy that it would be by now; and what it asserts."""
    from workbench.cards import make_card
    from workbench.sitting.card import card_facts

    alike = [m for m in before if m.whose is kind.whose]
    first = min((m.made_at for m in alike), default=None)
    facts = card_facts(bench, now().astimezone(), len(alike) + 1, whose=kind.whose, first_made_at=first)
    return partial(make_card, facts, size), facts.asserts


def _intake(bench: Bench, size: CardSize) -> tuple[Callable[[], bytes], str]:
    from workbench.cards import make_intake
    from workbench.cards.intake import intake_facts

    facts = intake_facts(bench.unit, bench.job, bench.pattern.name, now().astimezone())
    return partial(make_intake, facts, size), ""


def _drawn(kind: Kind, size: CardSize, make: Callable[[], bytes], asserts: str, dots: float) -> "Drawn":
    from workbench.window.card.pages import Drawn, page_images

    pdf = make()
    return Drawn(kind, size, pdf, tuple(page_images(pdf, dots)), asserts)
