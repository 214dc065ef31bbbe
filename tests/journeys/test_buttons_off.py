"""A button that can't be pressed says in its tip what is wanted first, on every screen."""

from PySide6.QtWidgets import QPushButton

from tests.journeys.conftest import Hand
from tests.journeys.screens import screens


def test_a_button_that_is_off_says_why(demo: Hand) -> None:
    silent = {
        f"{name}: {b.text()}"
        for name, widget in screens(demo)
        for b in widget.findChildren(QPushButton)
        if b.isVisible() and not b.isEnabled() and (not b.toolTip() or b.property("tip") is None)
    }
    assert not silent
