"""What the shop has found, as far as it is known here, and the odds that the bench weighs by."""

from collections.abc import Mapping
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QWidget

from workbench.findings.faults import STATED, Fault
from workbench.findings.odds import Counts, family_of, odds
from workbench.shop import Shop
from workbench.sitting.bench import Bench
from workbench.stator.pattern import Pattern
from workbench.window.look import Look
from workbench.window.settings import keep_learns

if TYPE_CHECKING:
    from workbench.window.oddsdialog import OddsDialog


class OddsDesk:
    """Nothing waits for the shop's counts: until they come, and where they can't be read, the last ones hold."""

    def __init__(self, shop: Shop, *, learns: bool) -> None:
        self.counts = Counts()
        self.learns = learns
        self._shop = shop
        self._bench: Bench | None = None
        self._others = Counts()  # all that was found, but for the job on the bench

    def refresh(self) -> None:
        self._shop.found_so_far(then=self._know)

    def priors(self, pattern: Pattern) -> Mapping[Fault, float]:
        """By what is known now."""
        return self._by(self.counts, pattern)

    def follow(self, bench: Bench) -> None:
        """A part's own finding must not speak for itself: it is weighed anew once the others' are known."""
        self._bench = bench
        self._others = self.counts
        bench.on_decided = self.refresh
        self._shop.found_so_far(bench.job.id, then=lambda counts: self._apply(bench, counts))

    def dialog(self, parent: QWidget, look: Look) -> "OddsDialog":
        """Shows them to the owner, who may switch the following off."""
        from workbench.window.oddsdialog import OddsDialog

        made = OddsDialog(parent, look, self.counts, learns=self.learns)
        made.accepted.connect(lambda: self.learn(made.learns.isChecked()))
        return made

    def learn(self, learns: bool) -> None:
        """Kept for this bench, and at once in force on it."""
        self.learns = learns
        keep_learns(learns)
        if self._bench is not None:
            self._apply(self._bench, self._others)

    def _know(self, counts: Counts) -> None:
        self.counts = counts

    def _apply(self, bench: Bench, others: Counts) -> None:
        if bench is self._bench:
            self._others = others
            bench.stand_on(self._by(others, bench.pattern))

    def _by(self, counts: Counts, pattern: Pattern) -> Mapping[Fault, float]:
        return odds(counts, family_of(pattern)).priors if self.learns else STATED
