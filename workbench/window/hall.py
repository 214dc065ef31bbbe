"""What the main window lends to the desks that stand in it."""

from collections.abc import Callable
from typing import Protocol, TypeVar

from PySide6.QtWidgets import QDialog, QWidget

from workbench.shop import Shop
from workbench.window.look import Look
from workbench.window.settings import Liking
from workbench.window.tones import Tones

T = TypeVar("T")


class Hall(Protocol):
    """`look`, `liking`: as they are now; both may change. One page is seen at a time, and one dialog."""

    look: Look
    liking: Liking
    shop: Shop
    tones: Tones

    def see(self, page: QWidget, title: str) -> None:
        """Brings a page to the front; one that is new to the hall is taken in."""

    def drop(self, page: QWidget) -> None:
        """Puts a page away for good."""

    def ask(self, dialog: QDialog) -> None:
        """Opens a dialog without stopping the program for it."""

    def say(self, trouble: Exception) -> None:
        """Tells of trouble that no page tells of."""

    def bring(self) -> None:
        """All news that has come for the window's thread, now."""

    def reckon(self, work: Callable[[], T], then: Callable[[T], object]) -> None:
        """Works something out away from the window's thread."""
