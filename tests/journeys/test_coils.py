"""The coils beside the face: the winding under test is lit, and a coil picks its check."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractButton

from tests.journeys.conftest import Hand
from workbench.stator.pattern import Pair


def name_of(hand: Hand, winding: str) -> QAbstractButton:
    names = hand.page.coils.findChildren(QAbstractButton)
    return next(b for b in names if winding in b.accessibleName() and b.isVisible())


def test_a_coil_picks_its_check_and_is_lit(demo: Hand) -> None:
    demo.press(demo.page.checks_panel.coils)
    assert demo.page.coils.isVisible()
    assert "lit" in name_of(demo, "low-speed coil").accessibleName()
    assert "lit" not in name_of(demo, "lighting").accessibleName()
    demo.press(name_of(demo, "lighting"))
    assert demo.bench.pair == Pair("L.1", "L.2")
    assert "lit" in name_of(demo, "lighting").accessibleName().replace("lighting", "")
    demo.qtbot.keyClick(name_of(demo, "high-speed coil"), Qt.Key.Key_Space)
    assert demo.bench.pair == Pair("P.3", "P.2")
    demo.type("P1 P2")  # both coils in series
    assert all("lit" in name_of(demo, c).accessibleName() for c in ("low-speed coil", "high-speed coil"))
