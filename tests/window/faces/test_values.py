"""Lines keep off cavities they only pass; values overlap neither cavities nor each other."""

import itertools
import math
from dataclasses import replace

import numpy as np
import pytest
from PySide6.QtCore import QRectF
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from tests.sitting.plugs import ALL, INLINE_3, ROUND_4, STAGGERED_5, THREE_ROWS_12, TWO_ROWS_6
from workbench.sitting.faceplan import Box, View, face_plan
from workbench.stator.pattern import Connector
from workbench.window.faces.faceview import FaceView
from workbench.window.faces.placing import Ground, Wanted, place_labels
from workbench.window.faces.routes import CLEARANCE, Route, route
from workbench.window.faces.state import FaceState, Mark, Tone


def every_pair(connector: Connector, most: int) -> tuple[Mark, ...]:
    nodes = [*connector.nodes, "core"]
    tones = itertools.cycle((Tone.IN, Tone.OUT, Tone.CLOSE, Tone.CONTINUOUS))
    texts = itertools.cycle(("309 out", "97.4", "open in", "1.2k"))
    pairs = list(itertools.combinations(nodes, 2))
    step = max(1, len(pairs) // most)
    return tuple(Mark(a, b, next(texts), next(tones)) for a, b in pairs[::step][:most])


@pytest.mark.parametrize("size", [(640, 440), (500, 320)])
@pytest.mark.parametrize("view", [View(), View(1), View(0, True)], ids=["as is", "turned", "wires"])
@pytest.mark.parametrize("connector", ALL, ids=lambda c: c.name)
def test_values_overlap_nothing(
    dressed: QApplication, qtbot: QtBot, connector: Connector, view: View, size: tuple[int, int]
) -> None:
    face = FaceView()
    qtbot.addWidget(face)
    face.resize(*size)
    face.set_state(FaceState(face_plan(connector, view), every_pair(connector, 16)))
    boxes = [box for _, box in face.values]
    assert boxes
    for i, box in enumerate(boxes):
        assert QRectF(face.rect()).contains(box)
        assert not any(box.intersects(other) for other in boxes[:i])
        assert not box.intersects(QRectF(face.ground.geometry()))
        assert not box.intersects(QRectF(face.words.geometry()))
        for b in face.buttons[:-1]:
            middle = QRectF(b.geometry()).center()
            dx = max(box.left() - middle.x(), 0, middle.x() - box.right())
            dy = max(box.top() - middle.y(), 0, middle.y() - box.bottom())
            assert math.hypot(dx, dy) >= b.width() / 2 - 6


@pytest.mark.parametrize("connector", [INLINE_3, STAGGERED_5, TWO_ROWS_6, ROUND_4], ids=lambda c: c.name)
def test_a_few_readings_all_find_room_for_their_values(
    dressed: QApplication, qtbot: QtBot, connector: Connector
) -> None:
    face = FaceView()
    qtbot.addWidget(face)
    face.resize(640, 440)
    marks = every_pair(connector, 6)
    face.set_state(FaceState(face_plan(connector), marks))
    assert sorted(t for t, _ in face.values) == sorted(m.text for m in marks)


def test_the_pair_in_hand_has_its_value_even_in_a_thicket(dressed: QApplication, qtbot: QtBot) -> None:
    face = FaceView()
    qtbot.addWidget(face)
    face.resize(500, 320)
    nodes = [*THREE_ROWS_12.nodes, "core"]
    plan = face_plan(THREE_ROWS_12)
    marks = [Mark(a, b, str(300 + i)) for i, (a, b) in enumerate(itertools.combinations(nodes, 2))]
    face.set_state(FaceState(plan, tuple(marks)))
    without_room = [m for m in marks if m.text not in {t for t, _ in face.values}]
    assert without_room
    chosen = replace(without_room[0], chosen=True)
    face.set_state(FaceState(plan, tuple(chosen if m is without_room[0] else m for m in marks)))
    assert chosen.text in {t for t, _ in face.values}


def test_a_value_from_another_plug_names_the_far_pin(dressed: QApplication, qtbot: QtBot) -> None:
    face = FaceView()
    qtbot.addWidget(face)
    face.resize(640, 440)
    face.set_state(FaceState(face_plan(ROUND_4), (Mark("D.4", "A.3", "406 out", Tone.OUT),)))
    assert [t for t, _ in face.values] == ["406 out to A 3"]


@pytest.mark.parametrize("view", [View(), View(1)])
@pytest.mark.parametrize("connector", ALL, ids=lambda c: c.name)
def test_a_line_keeps_off_the_cavities_it_passes(connector: Connector, view: View) -> None:
    plan = face_plan(connector, view)
    for a, b in itertools.combinations(plan.spots, 2):
        others = tuple((s.x, s.y) for s in plan.spots if s not in (a, b))
        line = route((a.x, a.y), (b.x, b.y), others).points(100)
        for x, y in others:
            assert np.hypot(line[:, 0] - x, line[:, 1] - y).min() > 1.15, (a.pin, b.pin)


def test_a_line_with_nothing_in_its_way_is_straight() -> None:
    line = route((0, 0), (6, 0), ((3, 4),))
    assert {round(float(y), 9) for y in line.points(20)[:, 1]} == {0.0}
    around = route((0, 0), (6, 0), ((3, 0),)).points(20)
    assert float(np.abs(around[:, 1]).max()) >= CLEARANCE


def test_of_two_equal_lines_the_second_value_gives_way() -> None:
    line = Route((0, 0), (50, 0), (100, 0), (150, 0))
    ground = Ground(Box(-50, -100, 300, 200), (), 10, (), np.empty((0, 2)))
    first, second, none = place_labels([Wanted(line, 40, 14), Wanted(line, 40, 14), Wanted(line, 0, 14)], ground)
    assert first is not None
    assert second is not None
    assert none is None
    assert QRectF(first.x, first.y, 40, 14).intersects(QRectF(second.x, second.y, 40, 14)) is False
    assert place_labels([Wanted(line, 400, 14)], ground) == [None]


def away(box: QRectF | Box, line: Route) -> float:
    """From the middle of a value to a line's nearest point."""
    x, y = (box.x, box.y) if isinstance(box, Box) else (box.x(), box.y())
    w, h = (box.width, box.height) if isinstance(box, Box) else (box.width(), box.height())
    points = line.points(100)
    return float(np.hypot(points[:, 0] - x - w / 2, points[:, 1] - y - h / 2).min())


def test_a_long_name_lies_across_its_own_line_rather_than_by_another() -> None:
    """Two lines that meet in one pin, a wall at the left: beside its own line the first has no room."""
    steep, flat = Route((90, 20), (80, 40), (70, 60), (60, 80)), Route((60, 80), (90, 60), (130, 30), (170, 20))
    ground = Ground(Box(0, 0, 400, 100), ((90, 0), (190, 0), (50, 100)), 14, (), np.empty((0, 2)))
    first, second = place_labels([Wanted(steep, 74, 14), Wanted(flat, 74, 14)], ground)
    assert first is not None
    assert second is not None
    assert away(first, steep) < away(first, flat)
    assert away(second, flat) < away(second, steep)


def test_a_name_across_a_line_leaves_as_much_of_it_in_sight() -> None:
    upright = Route((0, 0), (0, 20), (0, 40), (0, 60))
    narrow = Ground(Box(-40, -20, 80, 100), (), 10, (), np.empty((0, 2)))
    (across,) = place_labels([Wanted(upright, 70, 14)], narrow)
    assert across is not None
    assert away(across, upright) < 1
    short = Route((0, 0), (0, 15), (0, 30), (0, 44))
    (none,) = place_labels([Wanted(short, 70, 14)], replace(narrow, bounds=Box(-40, -2, 80, 48)))
    assert none is None or away(none, short) >= 1


def test_a_long_name_stands_no_further_off_than_a_number() -> None:
    """A share of its own width would put it far away, where it is nobody's."""
    upright = Route((0, 0), (0, 20), (0, 40), (0, 60))
    ground = Ground(Box(-400, -100, 800, 300), (), 10, (), np.array([(x, 30.0) for x in range(20, 90)]))
    (name,) = place_labels([Wanted(upright, 130, 14)], ground)
    assert name is not None
    assert away(name, upright) < 80


def test_a_name_has_its_whole_height(dressed: QApplication, qtbot: QtBot) -> None:
    face = FaceView()
    qtbot.addWidget(face)
    face.resize(640, 440)
    boxes = {}
    for text in ("lighting", "155"):
        face.set_state(FaceState(face_plan(ROUND_4), (Mark("D.1", "D.2", text),)))
        ((_, boxes[text]),) = face.values
    assert boxes["lighting"].height() > boxes["155"].height()
