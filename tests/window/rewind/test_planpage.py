"""The plan's page by real clicks and keys: planned, drawn wire by wire, refused with its number at the field, noted."""

from collections.abc import Callable, Iterator
from dataclasses import fields, replace
from itertools import pairwise
from typing import Any

import numpy as np
import pytest
from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QApplication, QComboBox, QLabel, QLineEdit, QMainWindow, QWidget
from pytestqt.qtbot import QtBot
from shiboken6 import delete

from tests.sitting.plans import BLOCK, INWARD, RING, SCRAMBLE
from tests.sitting.rewinds import rewinding
from tests.window.rewind.byname import key_of, place_of, row_of
from workbench.sitting.planform import PlanForm, plan_asked
from workbench.sitting.rewindplan import came_of
from workbench.window.look import Look
from workbench.window.rewind.page import RewindPage
from workbench.window.rewind.planpage import PlanPage
from workbench.window.rewind.windowsketch import WindowSketch, numbered_every
from workbench.window.rewind.wirepicture import Frame, wire_picture
from workbench.window.theme import LIGHT, Sizes

K, M = Qt.Key, Qt.KeyboardModifier
LOOK = Look(LIGHT, Sizes())


class Desk:
    def __init__(self, qtbot: QtBot) -> None:
        self.qtbot = qtbot
        self.rewinding, self.keeper = rewinding(winding="phase 1")
        self.desk = RewindPage(LOOK, self.rewinding, to_bench=lambda: None, shelf=lambda: None)
        self.window = QMainWindow()
        self.window.setCentralWidget(self.desk)
        self.window.resize(1366, 728)
        self.window.show()
        self.window.activateWindow()
        qtbot.waitUntil(self.window.isActiveWindow)
        self.desk.show_page(place_of("Plan"))

    @property
    def page(self) -> PlanPage:
        page = self.desk.page
        assert isinstance(page, PlanPage)
        return page

    def field(self, name: str) -> QLineEdit:
        field = self.page.fields[name]
        assert isinstance(field, QLineEdit)
        return field

    def fill(self, form: PlanForm) -> None:
        """What differs from what stands there."""
        for f in fields(form):
            value, field = getattr(form, f.name), self.page.fields[f.name]
            if isinstance(field, QComboBox):
                while field.currentData() != value:
                    field.setFocus()
                    self.key(K.Key_Down if field.currentIndex() < field.findData(value) else K.Key_Up)
            elif isinstance(field, QLineEdit) and field.text() != value:
                field.clear()
                self.qtbot.keyClicks(field, value)

    def key(self, key: K, modifier: M = M.NoModifier) -> None:
        at = QApplication.focusWidget()
        assert at is not None
        self.qtbot.keyClick(at, key, modifier)

    def click(self, widget: QWidget) -> None:
        self.qtbot.mouseClick(widget, Qt.MouseButton.LeftButton)

    def plan(self, form: PlanForm) -> None:
        self.fill(form)
        self.click(self.page.plan)


Make = Callable[[], Desk]


@pytest.fixture
def desk(dressed: QApplication, qtbot: QtBot) -> Iterator[Make]:
    made: list[Desk] = []

    def make() -> Desk:
        made.append(Desk(qtbot))
        return made[-1]

    yield make
    for d in made:
        d.window.close()
        d.window.deleteLater()


def facts(page: PlanPage) -> dict[str, str]:
    return {f.name: f.value for f in page.desk.view.facts} if page.desk.view is not None else {}


def lines(page: PlanPage) -> list[str]:
    return [w.accessibleName() for w in page.facts.findChildren(QLabel) if w.isVisible() and w.accessibleName()]


def test_a_coil_is_planned_by_keys_and_noted(desk: Make) -> None:
    d = desk()
    d.desk.show_page(place_of("Wire"))
    d.key(key_of("Plan"), M.ControlModifier)
    d.qtbot.waitUntil(d.field("gauge").hasFocus)
    assert "drawn here to scale" in d.page.said.text()
    assert not d.page.sketch.isVisible()
    d.fill(RING)
    d.key(K.Key_P, M.ControlModifier)
    d.qtbot.waitUntil(d.page.sketch.isVisible)
    assert d.page.headline.text() == "It goes in: 40 turns, of 41 to 45 that would."
    assert "A coil at 60 °C: 0.0798 Ω" in d.page.sketch.accessibleDescription()
    assert row_of(d.desk, "Plan").detail == "not planned"
    d.key(K.Key_Return, M.ControlModifier)
    d.qtbot.waitUntil(lambda: d.rewinding.body.plan is not None)
    assert row_of(d.desk, "Plan").detail == "AWG 18, heavy, 40 turns"
    assert d.page.noted.text().startswith("Noted: AWG 18, heavy, 40 turns a coil")
    assert len(d.keeper.of("rewind")) == 1


def test_what_comes_of_it_is_on_the_page_line_by_line(desk: Make) -> None:
    d = desk()
    d.plan(RING)
    d.qtbot.waitUntil(lambda: lines(d.page) == [f"{name}: {value}" for name, value in facts(d.page).items()])
    assert len(lines(d.page)) > 10
    assert "higher than hands usually get" in d.page.cautions.text()
    d.plan(replace(RING, turns="60"))
    d.qtbot.waitUntil(
        lambda: lines(d.page) == ["Drawn: the 45 turns that go in", f"Lacking: {facts(d.page)['Lacking']}"]
    )
    assert not d.page.cautions.isVisible()


@pytest.mark.parametrize(
    ("change", "field", "number"),
    [({"turns": "90"}, "turns", "45 turns too many"), ({"flywheel": "40.2"}, "flywheel", "0.09 mm too close")],
)
def test_what_does_not_go_in_is_refused_at_its_field_with_its_number(
    desk: Make, change: dict[str, str], field: str, number: str
) -> None:
    d = desk()
    d.plan(replace(RING, **change))  # type: ignore[arg-type]  # by name
    assert d.field(field).property("state") == "refused"
    assert d.field(field).hasFocus()
    assert number in d.desk.said.sentence
    assert number in d.page.headline.text()
    assert d.page.headline.property("verdict") == "out"
    assert d.page.sketch.isVisible()
    assert d.field(field).text() == next(iter(change.values()))
    d.click(d.page.note)
    assert d.rewinding.body.plan is None
    d.plan(RING)
    assert d.field(field).property("state") == ""
    assert d.page.headline.property("verdict") == ""


def test_what_is_typed_wrong_leaves_what_was_planned(desk: Make) -> None:
    d = desk()
    d.plan(RING)
    d.plan(replace(RING, tooth="wide"))
    assert d.field("tooth").hasFocus()
    assert "tooth's width" in d.desk.said.sentence
    assert d.page.headline.text().startswith("It goes in")


def test_a_straight_core_has_a_gap_and_no_teeth(desk: Make) -> None:
    d = desk()
    assert (d.field("teeth").isEnabled(), d.field("gap").isEnabled()) == (True, False)
    d.plan(BLOCK)
    assert (d.field("teeth").isEnabled(), d.field("gap").isEnabled()) == (False, True)
    assert d.page.headline.text().startswith("It goes in: 45 turns")


def test_another_winding_has_a_plan_of_its_own(desk: Make) -> None:
    d = desk()
    d.plan(RING)
    d.rewinding.choose("phase 2")
    assert d.field("turns").text() == ""
    assert not d.page.sketch.isVisible()
    d.rewinding.choose("phase 1")
    assert d.field("turns").text() == "40"
    assert d.page.sketch.isVisible()


# ---- drawn


def discs(image: QImage) -> int:
    """Patches of ink that hang together."""
    a = np.frombuffer(image.constBits(), np.uint8).reshape(image.height(), image.bytesPerLine() // 4, 4)
    left = a[:, : image.width(), 3] > 128
    found = 0
    while left.any():
        found += 1
        edge = np.zeros_like(left)
        edge.flat[int(left.argmax())] = True
        part = edge
        while edge.any():
            grown = part.copy()
            for axis in (0, 1):
                for by in (1, -1):
                    grown |= np.roll(part, by, axis)
            grown &= left
            edge = grown & ~part
            part = grown
        left &= ~part
    return found


@pytest.mark.parametrize("form", [RING, INWARD, SCRAMBLE, replace(RING, turns="90"), replace(BLOCK, strands="2")])
def test_as_many_wires_are_drawn_as_the_plan_has(desk: Make, form: PlanForm) -> None:
    """Apart from one another, since they are drawn thinner here than they lie."""
    d = desk()
    d.plan(form)
    drawing = d.page.sketch.drawing
    assert drawing is not None
    came = d.page.desk.view
    assert came is not None
    goes_in = 45 if form.turns == "90" else int(form.turns)
    assert drawing.wires == goes_in * int(form.strands)
    thin = replace(drawing, wire_mm=0.5 * drawing.wire_mm)
    picture = wire_picture(thin, Frame(14.0, 60.0, 340.0, 420, 360), d.page.sketch._inks)
    assert discs(picture) == drawing.wires


def test_each_wire_is_where_the_frame_puts_it_and_every_other_layer_is_darker(desk: Make) -> None:
    d = desk()
    d.plan(RING)
    sketch = d.page.sketch
    drawing, picture, frame = sketch.drawing, sketch.picture, sketch._frame
    assert drawing is not None
    assert picture is not None
    assert frame is not None
    assert sketch.settled
    light = []
    for layer in drawing.layers:
        at = frame.at(layer.wires[1])
        light.append(picture.pixelColor(round(at.x() * frame.ratio), round(at.y() * frame.ratio)).lightness())
    assert len(light) == 4
    assert all(abs(a - b) > 60 for a, b in pairwise(light))
    assert light[0] == light[2]


def test_the_scale_bar_is_as_long_as_it_says(desk: Make) -> None:
    d = desk()
    d.plan(RING)
    sketch = d.page.sketch
    d.qtbot.waitUntil(lambda: sketch.height() > 400 and sketch.settled)
    frame, drawing = sketch._frame, sketch.drawing
    assert frame is not None
    assert drawing is not None
    image = sketch.grab().toImage().convertToFormat(QImage.Format.Format_RGB32)
    ink = (np.frombuffer(image.constBits(), np.uint8).reshape(image.height(), -1, 4)[..., :3] < 90).all(axis=-1)
    below = ink[int(frame.y - drawing.low[1] * frame.scale) + 28 :]  # under the drawing and the layers' numbers
    runs = [_longest(row) for row in below]
    assert max(runs) == pytest.approx(drawing.scale_mm * frame.scale, abs=3)


def _longest(row: np.ndarray) -> int:
    best = run = 0
    for on in row:
        run = run + 1 if on else 0
        best = max(best, run)
    return best


def test_larger_it_is_drawn_anew(desk: Make) -> None:
    d = desk()
    d.plan(RING)
    before = d.page.sketch.picture
    d.window.resize(QSize(1366, 900))
    d.qtbot.waitUntil(lambda: d.page.sketch.picture is not before)
    assert d.page.sketch.settled


class Later:
    """A back desk that answers when it is told to."""

    def __init__(self) -> None:
        self.waiting: list[Callable[[], object]] = []

    def __call__(self, work: Callable[[], Any], then: Callable[[Any], object]) -> None:
        self.waiting.append(lambda: then(work()))

    def answer(self) -> None:
        self.waiting.pop(0)()


def alone(form: PlanForm, later: Later) -> WindowSketch:
    sketch = WindowSketch(LOOK, later)
    sketch.resize(300, 400)
    sketch.show_drawing(came_of(plan_asked(form), 1).view.drawing, "")
    return sketch


def test_however_often_its_size_changes_one_picture_is_made_at_a_time(dressed: QApplication) -> None:
    later = Later()
    sketch = alone(RING, later)
    for high in (410, 420, 430):
        sketch.resize(300, high)
        sketch.grab()  # so that it hears of its size
    assert len(later.waiting) == 1
    later.answer()
    assert not sketch.settled
    later.answer()
    assert sketch.settled
    assert sketch.picture is not None
    assert sketch.picture.height() == 430
    assert later.waiting == []


def test_a_picture_of_what_is_no_more_to_be_seen_is_dropped(dressed: QApplication) -> None:
    later = Later()
    sketch = alone(RING, later)
    sketch.show_drawing(came_of(plan_asked(INWARD), 1).view.drawing, "")
    later.answer()
    assert sketch.picture is None
    later.answer()
    assert sketch.settled
    sketch.show_drawing(None, "")
    assert sketch.picture is None


def test_a_picture_that_comes_when_the_page_is_gone_is_let_go(dressed: QApplication) -> None:
    later = Later()
    sketch = alone(RING, later)
    delete(sketch)
    later.answer()
    assert later.waiting == []


def test_numbers_of_layers_never_touch() -> None:
    for apart in (40.0, 11.0, 3.0, 0.4, 0.01):
        assert numbered_every(apart, 20.0) * apart >= 20.0 or numbered_every(apart, 20.0) == 1000
    assert numbered_every(25.0, 20.0) == 1
