"""What stands for a whole sheet: its head, and what was decided. Shown at once, put back where it can't be kept."""

from collections.abc import Callable
from dataclasses import replace

from workbench.records import Decided, SheetHead
from workbench.sitting.keeper import Keeper

Told = Callable[[Exception | None], None]


class Standing:
    """`told` hears each time of what was kept (None) or of what kept it from being."""

    def __init__(self, head: SheetHead, decided: Decided | None, keeper: Keeper) -> None:
        self.head = head
        self.decided = decided
        self._safe_head = head
        self._safe_decided = decided
        self._keeper = keeper
        self._changing = False

    @property
    def unkept(self) -> bool:
        """Whether the head shown is not the one that is kept."""
        return self.head is not self._safe_head

    def change(self, head: SheetHead, can_go_back: Callable[[SheetHead], bool], told: Told) -> None:
        """One change is on its way at a time, so that each starts from the version that is kept.

        `can_go_back`: whether the readings taken since would fit the head that is kept.
        """
        self.head = head
        if not self._changing:
            self._send_head(can_go_back, told)

    def _send_head(self, can_go_back: Callable[[SheetHead], bool], told: Told) -> None:
        self._changing = True
        self.head = sent = replace(self.head, version=self._safe_head.version)

        def then(kept: SheetHead) -> None:
            self._changing = False
            self._safe_head = kept
            if self.head is sent:
                self.head = kept
            else:
                self._send_head(can_go_back, told)
            told(None)

        def failed(e: Exception) -> None:
            self._changing = False
            if can_go_back(self._safe_head):
                self.head = self._safe_head
            told(e)

        self._keeper.change_conditions(sent, then=then, failed=failed)

    def decide(self, decided: Decided, told: Told) -> None:
        self.decided = decided

        def then(_: object) -> None:
            self._safe_decided = decided
            told(None)

        def failed(e: Exception) -> None:
            if self.decided is decided:  # a later decision stands by itself
                self.decided = self._safe_decided
            told(e)

        self._keeper.decide(decided, then=then, failed=failed)
