"""A record that can be edited: shown at once as it was changed, put back where that can't be kept."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any, Generic, TypeVar

from workbench.records import Job, KeptRewind, SheetHead, Unit
from workbench.sitting.keeper import Failed, Then

T = TypeVar("T", SheetHead, Unit, Job, KeptRewind)
Told = Callable[[Exception | None], None]
Send = Callable[[Any, Then, Failed], Any]


class Edited(Generic[T]):
    """`shown`: as the hand left it. One change is on its way at a time, so that each starts from the version kept.

    `told` hears each time of what was kept (None) or of what kept it from being.
    """

    def __init__(self, record: T, send: Send) -> None:
        self.shown: T = record
        self._safe: T = record
        self._send = send
        self._changing = False

    @property
    def unkept(self) -> bool:
        """Whether what is shown is not what is kept."""
        return self.shown is not self._safe

    def change(self, record: T, told: Told, can_go_back: Callable[[T], bool] = lambda kept: True) -> None:
        """`can_go_back`: whether what was done since would fit what is kept."""
        self.shown = record
        if not self._changing:
            self._go(told, can_go_back)

    def _go(self, told: Told, can_go_back: Callable[[T], bool]) -> None:
        self._changing = True
        self.shown = sent = replace(self.shown, version=self._safe.version)

        def then(kept: T) -> None:
            self._changing = False
            self._safe = kept
            if self.shown is sent:
                self.shown = kept
            else:
                self._go(told, can_go_back)
            told(None)

        def failed(e: Exception) -> None:
            self._changing = False
            if can_go_back(self._safe):
                self.shown = self._safe
            told(e)

        self._send(sent, then, failed)
