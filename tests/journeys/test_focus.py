"""Where the keys go is seen on every page and dialog, and goes the way one reads."""

from collections.abc import Iterator
from itertools import groupby, pairwise

import numpy as np
import pytest
from PySide6.QtCore import QPoint, QRect, Qt
from PySide6.QtWidgets import QAbstractItemView, QApplication, QLineEdit, QScrollArea, QWidget

from tests.journeys.conftest import Hand, Open
from tests.journeys.screens import screens
from tests.window.contrast import Bytes, luminance_of, pixels, ratio
from workbench.window.coils.namebutton import NameButton
from workbench.window.faces.plugstrip import PlugThumb
from workbench.window.metersdialog import MetersDialog

# WCAG 2.2, 2.4.13 (AAA) asks for as much as a ring of 2 px around the thing, changed by 3:1; within an edge of 2 px
# and round corners, such a ring has a little less than a rectangle's outline twice.
LEAST_RING, LEAST_CHANGE = 1.5, 3.0
AROUND = 4  # px around a thing in which its ring may lie


def takes_keys(screen: QWidget) -> list[QWidget]:
    found = [w for w in screen.findChildren(QWidget) if w.isVisible() and w.isEnabled()]
    return [
        w
        for w in found
        if w.focusPolicy() & Qt.FocusPolicy.TabFocus
        and w.window() is screen.window()
        and not (w.objectName().startswith("qt_") or w.focusProxy() or isinstance(w.parent(), QLineEdit))
    ]


def place(w: QWidget) -> QRect:
    return QRect(w.mapTo(w.window(), QPoint(0, 0)), w.size())


def picture(w: QWidget) -> Bytes:
    QApplication.processEvents()
    window = w.window()
    around = place(w).adjusted(-AROUND, -AROUND, AROUND, AROUND) & window.rect()
    return pixels(window.grab(around).toImage())


def outline() -> int:
    """Of what has the focus, as far as it is in sight, in px: in a table or list that is one cell."""
    at = QApplication.focusWidget()
    assert at is not None
    size = at.visibleRegion().boundingRect().size()
    if isinstance(at, QAbstractItemView) and at.currentIndex().isValid():
        size = at.visualRect(at.currentIndex()).size()
    return 2 * (size.width() + size.height())


def in_front(hand: Hand, screen: QWidget) -> None:
    screen.window().activateWindow()
    hand.until(lambda: screen.window().isActiveWindow() and QApplication.focusWidget() is not None)
    hand.until(lambda: not squeezed(screen))


def squeezed(screen: QWidget) -> list[QScrollArea]:
    """Those whose inside is not laid out anew yet after it grew."""
    areas = [a for a in screen.findChildren(QScrollArea) if a.isVisible() and a.widget() is not None]
    return [a for a in areas if a.widget().height() < a.widget().minimumSizeHint().height()]


def into_sight(screen: QWidget, w: QWidget) -> None:
    for area in screen.findChildren(QScrollArea):
        inside = area.widget()
        if inside is not None and inside.isAncestorOf(w):
            at = w.mapTo(inside, w.rect().center())
            area.ensureVisible(at.x(), at.y(), w.width() // 2 + AROUND, w.height() // 2 + AROUND)


def rings(hand: Hand, screen: QWidget, known: set[QWidget]) -> Iterator[tuple[str, float]]:
    """Px changed by 3:1 as the focus comes, for each px of the outline."""
    in_front(hand, screen)
    before = QApplication.focusWidget()
    QApplication.processEvents()
    for w in takes_keys(screen):
        if w in known or not w.isVisible():  # what comes and goes with the room there is may have gone meanwhile
            continue
        known.add(w)
        hand.until(lambda: not squeezed(screen))
        into_sight(screen, w)
        w.setFocus(Qt.FocusReason.TabFocusReason)
        QApplication.processEvents()  # what scrolls as the focus comes has scrolled then
        w.clearFocus()
        without = picture(w)
        w.setFocus(Qt.FocusReason.TabFocusReason)
        with_it = picture(w)
        changed = ratio(luminance_of(without), luminance_of(with_it)) >= LEAST_CHANGE
        yield f"{type(w).__name__} {w.accessibleName()}", float(np.count_nonzero(changed)) / outline()
    if before is not None:
        before.setFocus()


@pytest.mark.parametrize(
    ("dark", "text_scale", "wide", "with_strip"),
    [(False, 1.0, 1366, False), (True, 1.0, 1366, False), (False, 2.0, 1366, False), (False, 1.5, 900, True)],
)
def test_the_focus_is_seen_on_whatever_takes_it(
    demo: Hand, open_window: Open, dark: bool, text_scale: float, wide: int, with_strip: bool
) -> None:
    """`with_strip`: too little room for all plugs at once, so that one is chosen from a strip."""
    store = demo.window.shop._at._place
    demo.close()
    hand = open_window(store, dark=dark, text_scale=text_scale, start_tag="SL-0147", practice=demo.window._practice)
    hand.until(lambda: hand.window.bench_page is not None)
    hand.window.resize(wide, 728)
    known: set[QWidget] = set()
    low = {
        f"{where}: {name}": round(ring, 2)
        for where, screen in screens(hand)
        for name, ring in rings(hand, screen, known)
        if ring < LEAST_RING
    }
    assert not low, low
    assert len(known) > 100
    assert with_strip in {isinstance(w, PlugThumb) for w in known}


def region(w: QWidget) -> str:
    """The panel, bar or band that a widget stands in; a dialog is one."""
    at = w.parentWidget()
    while at is not None and not at.isWindow():
        if at.property("role") in ("panel", "bar", "band"):
            return at.accessibleName() or str(at.property("role"))
        at = at.parentWidget()
    return "all"


def round_by_tab(hand: Hand, screen: QWidget) -> list[QWidget]:
    """Every stop of Tab on a screen, beginning with the topmost."""
    start = QApplication.focusWidget()
    assert start is not None
    stops = [start]
    for _ in range(200):
        hand.qtbot.keyClick(stops[-1], Qt.Key.Key_Tab)
        at = QApplication.focusWidget()
        assert at is not None
        if at is start:
            break
        stops.append(at)
    stops = [w for w in stops if not isinstance(w, QScrollArea)]
    top = min(range(len(stops)), key=lambda i: (place(stops[i]).top(), place(stops[i]).left()))
    return stops[top:] + stops[:top]


def backwards(a: QWidget, b: QWidget) -> bool:
    """Whether b, which comes next, stands before a: over it, or left of it in the same row. A new column may begin
    higher up.
    """
    if isinstance(a, NameButton) and isinstance(b, NameButton):
        return False  # they stand around a ring, in the pattern's order
    first, then = place(a), place(b)
    left, right = then.right() < first.left(), then.left() > first.right()
    if then.bottom() < first.top():
        return not right
    return left and then.top() <= first.bottom()


def test_tab_goes_the_way_one_reads(demo: Hand) -> None:
    demo.window.resize(1366, 728)
    wrong = []
    for where, screen in screens(demo):
        if isinstance(screen, MetersDialog):
            continue  # its table's fields are walked by Tab too: test_every_page
        in_front(demo, screen)
        stops = round_by_tab(demo, screen)
        for name, group in groupby(stops, region):
            for a, b in pairwise(group):
                for w in (a, b):  # as they stand when Tab comes from one to the other
                    into_sight(screen, w)
                if backwards(a, b):
                    wrong.append(f"{where}, {name}: from {a.accessibleName()!r} back to {b.accessibleName()!r}")
        visited = [name for name, _ in groupby(stops, region)]
        if len(visited) != len(set(visited)):
            wrong.append(f"{where}: {visited}")
        if where == "bench, a history drawn":
            assert visited == ["bar", "panel", "band", "What is to be read", "What the readings say", "History"]
    assert not wrong
