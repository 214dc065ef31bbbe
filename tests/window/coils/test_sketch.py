"""A coil layout as a hand, a keyboard and a screen reader use it, and what is seen of it."""

from collections.abc import Callable
from dataclasses import replace
from itertools import combinations

import pytest
from PySide6.QtCore import QPoint, QPointF, QRect, QSize, Qt
from PySide6.QtGui import QAccessible, QColor, QImage
from PySide6.QtWidgets import QApplication, QLineEdit, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot

from workbench.stator.layout import Coil, Facing, Layout
from workbench.stator.pattern import Cavity, Connector, Kind, Pattern, Winding
from workbench.window.coils.namebutton import NameButton
from workbench.window.coils.sketch import LEAST, CoilSketch
from workbench.window.look import Look
from workbench.window.theme import DARK, LIGHT, Sizes, Theme, palette

PLUG = (Connector("P", tuple(Cavity(str(i)) for i in range(1, 9))),)


def winding(name: str, kind: Kind, n: int) -> Winding:
    return Winding(name, f"P.{n}", f"P.{n + 1}", kind, ohms=10, tolerance_percent=10)


THREE = Pattern(
    "two coils and lighting",
    PLUG,
    (winding("low-speed coil", Kind.IGNITION, 1), winding("high-speed coil", Kind.IGNITION, 2),
     winding("lighting", Kind.LIGHTING, 5), winding("not drawn", Kind.OTHER, 7)),
    layout=Layout(6, coils=(
        Coil("low-speed coil", 1, sense=1), Coil("low-speed coil", 4, sense=-1), Coil("high-speed coil", 1, place=1),
        *(Coil("lighting", k) for k in (2, 3, 5, 6)))),
)  # fmt: skip
LOW, HIGH, LIGHTS = "low-speed coil", "high-speed coil", "lighting"


def phases(layout: Callable[[tuple[Coil, ...]], Layout], teeth: int) -> Pattern:
    coils = tuple(Coil(f"phase {(k - 1) % 3 + 1}", k, sense=1) for k in range(1, teeth + 1))
    windings = tuple(winding(f"phase {i}", Kind.CHARGING, i) for i in (1, 2, 3))
    return Pattern("phases", PLUG, windings, layout=layout(coils))


SHAPES = {
    "three": THREE,
    "12 teeth": phases(lambda c: Layout(12, coils=c), 12),
    "18 teeth": phases(lambda c: Layout(18, coils=c), 18),
    "inward": phases(lambda c: Layout(12, Facing.INWARD, c), 12),
    "straight": phases(lambda c: Layout(3, Facing.STRAIGHT, c), 3),
    "96 teeth": phases(lambda c: Layout(96, coils=c), 96),
    "beside": replace(THREE, layout=Layout(6, coils=(Coil(LOW, 1), Coil(LIGHTS, 2), Coil(HIGH, beside_degrees=200)))),
}
Show = Callable[..., CoilSketch]


@pytest.fixture
def show(dressed: QApplication, qtbot: QtBot) -> Show:
    def shown(pattern: Pattern, size: QSize = LEAST, theme: Theme = LIGHT, scale: float = 1.0) -> CoilSketch:
        sketch = CoilSketch(Look(theme, Sizes(scale)))
        qtbot.addWidget(sketch)
        sketch.resize(size)
        sketch.set_pattern(pattern)
        with qtbot.waitExposed(sketch):
            sketch.show()
        sketch.activateWindow()
        qtbot.waitUntil(sketch.isActiveWindow)
        return sketch

    return shown


def presses(sketch: CoilSketch) -> list[str]:
    heard: list[str] = []
    sketch.windingPressed.connect(heard.append)
    return heard


def middle(sketch: CoilSketch, coil: int) -> QPoint:
    assert sketch.plan is not None
    return sketch.centre_of(sketch.plan.coils[coil]).toPoint()


def focused() -> str:
    widget = QApplication.focusWidget()
    return widget.wound.name if isinstance(widget, NameButton) else ""


# ---- pressed


def test_a_click_on_any_coil_says_its_winding(show: Show, qtbot: QtBot) -> None:
    sketch = show(THREE, QSize(320, 260))
    heard = presses(sketch)
    for i in range(7):
        qtbot.mouseClick(sketch, Qt.MouseButton.LeftButton, pos=middle(sketch, i))
    assert heard == [LOW, LOW, HIGH, LIGHTS, LIGHTS, LIGHTS, LIGHTS]


def test_a_click_beside_the_coils_says_nothing(show: Show, qtbot: QtBot) -> None:
    sketch = show(THREE, QSize(320, 260))
    heard = presses(sketch)
    hub = (middle(sketch, 0) + middle(sketch, 1)) / 2
    qtbot.mouseClick(sketch, Qt.MouseButton.LeftButton, pos=hub)
    qtbot.mouseClick(sketch, Qt.MouseButton.RightButton, pos=middle(sketch, 0))
    qtbot.mousePress(sketch, Qt.MouseButton.LeftButton, pos=middle(sketch, 0))
    qtbot.mouseRelease(sketch, Qt.MouseButton.LeftButton, pos=middle(sketch, 3))
    assert heard == []


def test_a_name_is_pressed_as_its_coil(show: Show, qtbot: QtBot) -> None:
    sketch = show(THREE)
    heard = presses(sketch)
    qtbot.mouseClick(sketch.name(HIGH), Qt.MouseButton.LeftButton)
    assert heard == [HIGH]


def test_the_tab_key_stops_at_each_name_and_the_arrows_go_round(qtbot: QtBot, dressed: QApplication) -> None:
    page = QWidget()
    qtbot.addWidget(page)
    column = QVBoxLayout(page)
    before, sketch, after = QLineEdit(), CoilSketch(Look()), QLineEdit()
    for w in (before, sketch, after):
        column.addWidget(w)
    sketch.set_pattern(THREE)
    with qtbot.waitExposed(page):
        page.show()
    page.activateWindow()
    qtbot.waitUntil(page.isActiveWindow)
    before.setFocus()
    heard = presses(sketch)

    def press(key: Qt.Key) -> None:
        target = QApplication.focusWidget()
        assert target is not None
        qtbot.keyClick(target, key)

    press(Qt.Key.Key_Tab)
    assert focused() == LOW
    press(Qt.Key.Key_Right)
    assert focused() == HIGH
    press(Qt.Key.Key_Down)
    press(Qt.Key.Key_Return)
    press(Qt.Key.Key_Right)
    press(Qt.Key.Key_Space)
    press(Qt.Key.Key_Left)
    press(Qt.Key.Key_Up)
    press(Qt.Key.Key_Enter)
    assert heard == [LIGHTS, LOW, HIGH]
    press(Qt.Key.Key_Tab)
    assert focused() == LIGHTS
    press(Qt.Key.Key_Tab)
    assert after.hasFocus()
    for name in (LIGHTS, HIGH, LOW):
        press(Qt.Key.Key_Backtab)
        assert focused() == name
    press(Qt.Key.Key_Backtab)
    assert before.hasFocus()


def test_a_reader_hears_each_winding_and_presses_it(show: Show, qtbot: QtBot) -> None:
    sketch = show(THREE)
    heard = presses(sketch)
    assert [n.accessibleName() for n in sketch.names] == [
        "low-speed coil, tooth 1 and 4, fine wire",
        "high-speed coil, tooth 1, fine wire",
        "lighting, tooth 2, 3, 5 and 6, heavy wire",
    ]
    assert sketch.accessibleDescription() == "6 teeth pointing outward, numbered clockwise from the top"
    sketch.set_lit(frozenset((LOW, "not drawn")))
    assert sketch.name(LOW).accessibleName() == "low-speed coil, tooth 1 and 4, fine wire, lit"
    assert sketch.lit == {LOW}
    found = QAccessible.queryAccessibleInterface(sketch.name(HIGH))
    assert found.role() == QAccessible.Role.Button
    found.actionInterface().doAction("Press")
    qtbot.waitUntil(lambda: heard == [HIGH])
    sketch.set_lit(frozenset())
    assert sketch.name(LOW).accessibleName() == "low-speed coil, tooth 1 and 4, fine wire"


# ---- seen


def grey(sketch: CoilSketch, ratio: int = 1) -> QImage:
    image = QImage(sketch.size() * ratio, QImage.Format.Format_RGB32)
    image.setDevicePixelRatio(ratio)
    image.fill(QColor("white"))
    sketch.render(image, QPoint())
    return image.convertToFormat(QImage.Format.Format_Grayscale8)


def changed(one: QImage, other: QImage, around: QPoint, reach: int = 12) -> int:
    """How many pixels differ plainly in lightness near a place."""
    box = QRect(around.x() - reach, around.y() - reach, 2 * reach + 1, 2 * reach + 1)
    spots = [(x, y) for x in range(box.left(), box.right()) for y in range(box.top(), box.bottom())]
    return sum(abs(one.pixelColor(x, y).lightness() - other.pixelColor(x, y).lightness()) > 60 for x, y in spots)


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=lambda t: t.name)
def test_what_is_lit_is_told_in_black_and_white_by_its_outline(show: Show, theme: Theme) -> None:
    sketch = show(THREE, QSize(480, 400), theme)
    assert sketch.plan is not None
    sketch.setPalette(palette(theme))
    before = grey(sketch)
    sketch.set_lit(frozenset((LIGHTS,)))
    after, close = grey(sketch), grey(sketch, 4)
    first, second = sketch.plan.coils[:2]
    unit = (middle(sketch, 1).y() - middle(sketch, 0).y()) / (second.centre[1] - first.centre[1])
    for i, coil in enumerate(sketch.plan.coils):
        assert (changed(before, after, middle(sketch, i), 6) > 20) == (coil.winding == LIGHTS), (i, coil.winding)
        # a px beyond the coil's flank, where only the ends of turns and a heavier outline reach
        along = [coil.at(0.05 * k * coil.along, -coil.across / 2 - 1 / unit) for k in range(-6, 7)]
        spots = [4 * (sketch.centre_of(coil) + unit * (QPointF(*p) - QPointF(*coil.centre))) for p in along]
        ground = close.pixelColor(4, 4).lightness()
        outlined = all(abs(close.pixelColor(s.toPoint()).lightness() - ground) > 100 for s in spots)
        assert outlined == (coil.winding == LIGHTS), (i, coil.winding)
    assert changed(before, after, sketch.name(LIGHTS).geometry().center(), 10) > 60
    assert changed(before, after, sketch.name(LOW).geometry().center(), 10) == 0


@pytest.mark.parametrize("shape", SHAPES)
@pytest.mark.parametrize(
    ("size", "scale"), [(LEAST, 1.0), (QSize(320, 250), 1.0), (QSize(250, 420), 1.0), (QSize(460, 400), 2.0)]
)
def test_the_names_lie_beside_the_coils_and_never_on_each_other(
    show: Show, shape: str, size: QSize, scale: float
) -> None:
    sketch = show(SHAPES[shape], size, scale=scale)
    boxes = [n.geometry() for n in sketch.names]
    assert len(boxes) == 3
    assert not any(n.plain for n in sketch.names)
    for one, other in combinations(boxes, 2):
        assert not one.intersects(other)
    assert sketch.plan is not None
    for box in boxes:
        assert sketch.rect().contains(box)
        assert not any(box.contains(middle(sketch, i)) for i in range(len(sketch.plan.coils)))


def test_names_without_room_are_still_reached(show: Show, qtbot: QtBot) -> None:
    windings = tuple(winding(f"winding number {i}", Kind.CHARGING, 1) for i in range(24))
    layout = Layout(24, coils=tuple(Coil(w.name, i + 1) for i, w in enumerate(windings)))
    sketch = show(Pattern("many", PLUG, windings, layout=layout))
    assert 0 < sum(n.plain for n in sketch.names) < 24
    last = sketch.names[-1]
    assert last.plain
    assert (last.geometry().center() - middle(sketch, 23)).manhattanLength() <= 2
    heard = presses(sketch)
    sketch.names[0].setFocus()
    qtbot.keyClick(sketch.names[0], Qt.Key.Key_Left)
    qtbot.keyClick(last, Qt.Key.Key_Space)
    assert heard == ["winding number 23"]


def test_a_coil_under_the_mouse_shows_what_is_pressed(show: Show, qtbot: QtBot) -> None:
    sketch = show(THREE, QSize(480, 400))
    plain = grey(sketch)
    qtbot.mouseMove(sketch, middle(sketch, 3))
    qtbot.waitUntil(lambda: sketch.toolTip() == "lighting, tooth 2, 3, 5 and 6, heavy wire")
    assert sketch.cursor().shape() == Qt.CursorShape.PointingHandCursor
    over = grey(sketch)
    assert changed(plain, over, middle(sketch, 5), 30) > 0
    qtbot.mouseMove(sketch, QPoint(2, 2))
    qtbot.waitUntil(lambda: not sketch.toolTip())
    assert sketch.cursor().shape() == Qt.CursorShape.ArrowCursor


def test_a_pattern_without_a_layout_says_so(show: Show, qtbot: QtBot) -> None:
    sketch = show(replace(THREE, layout=None))
    heard = presses(sketch)
    qtbot.mouseClick(sketch, Qt.MouseButton.LeftButton)
    sketch.set_lit(frozenset((LOW,)))
    assert (sketch.names, sketch.lit, heard) == ((), frozenset(), [])
    assert sketch.accessibleDescription() == "This pattern has no coil layout."
    assert changed(grey(sketch), QImage(grey(sketch).size(), QImage.Format.Format_Grayscale8), QPoint(115, 100)) > 0


def test_another_pattern_takes_its_place_and_the_same_one_changes_nothing(show: Show) -> None:
    sketch = show(THREE)
    kept = sketch.names
    kept[1].setFocus()
    sketch.set_pattern(replace(THREE))
    assert sketch.names == kept
    assert focused() == HIGH
    sketch.set_lit(frozenset(("phase 2",)))
    sketch.set_pattern(SHAPES["12 teeth"])
    assert [n.wound.name for n in sketch.names] == ["phase 1", "phase 2", "phase 3"]
    assert [n.lit for n in sketch.names] == [False, True, False]


def test_larger_text_and_another_theme_are_taken_on(show: Show) -> None:
    sketch = show(THREE, QSize(480, 400))
    small, light = sketch.name(LOW).height(), grey(sketch)
    sketch.set_look(Look(DARK, Sizes(2.0)))
    assert sketch.name(LOW).height() > 1.5 * small
    assert changed(light, grey(sketch), middle(sketch, 1), 20) > 20


def luminance(colour: QColor) -> float:
    """WCAG 2.2, relative luminance."""
    parts = [v / 12.92 if v <= 0.04045 else ((v + 0.055) / 1.055) ** 2.4 for v in colour.getRgbF()[:3]]
    return 0.2126 * parts[0] + 0.7152 * parts[1] + 0.0722 * parts[2]


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=lambda t: t.name)
def test_wire_stands_out_from_panel_and_ground(theme: Theme) -> None:
    """3:1 for what must be seen to understand a drawing: WCAG 2.2, 1.4.11."""
    from workbench.window.coils.paints import coil_paints

    p = coil_paints(theme, Sizes())
    pairs = [(p.copper, QColor(theme.panel)), (p.lit_copper, p.lit_ground.color()), (p.lit_ink, p.lit_plate.color())]
    pairs += [(p.copper, g.color()) for g in p.grounds]
    for one, other in pairs:
        high, low = sorted((luminance(one), luminance(other)), reverse=True)
        assert (high + 0.05) / (low + 0.05) >= 3, (one.name(), other.name())


@pytest.mark.parametrize("askew", [60, 75, 120, 240, 300])
def test_a_bobbin_askew_beside_the_ring_leaves_the_sketch_as_large_as_a_straight_one_does(
    show: Show, askew: float
) -> None:
    def ring(degrees: float) -> float:
        coils = (*(Coil(LIGHTS, k) for k in range(1, 7)), Coil(LOW, beside_degrees=degrees))
        sketch = show(replace(THREE, layout=Layout(6, coils=coils)), QSize(280, 440))
        assert sketch.plan is not None
        return (sketch.centre_of(sketch.plan.coils[0]) - sketch.centre_of(sketch.plan.coils[3])).manhattanLength()

    assert ring(askew) > 0.95 * ring(90)
