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
from workbench.exchange.starters import starter_revisions
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


STARTERS = starter_revisions()


def gap(box: QRectF, line: Route) -> float:
    """From a value's edge to a line's nearest point."""
    points = line.points(100)
    dx = np.maximum(np.maximum(box.x() - points[:, 0], points[:, 0] - box.right()), 0)
    dy = np.maximum(np.maximum(box.y() - points[:, 1], points[:, 1] - box.bottom()), 0)
    return float(np.hypot(dx, dy).min())


def away(box: Box, line: Route) -> float:
    """From the middle of a value to a line's nearest point."""
    points = line.points(100)
    return float(np.hypot(points[:, 0] - box.x - box.width / 2, points[:, 1] - box.y - box.height / 2).min())


@pytest.mark.parametrize("size", [(624, 460), (400, 300), (900, 600)])
def test_a_windings_name_stands_by_its_own_line(dressed: QApplication, qtbot: QtBot, size: tuple[int, int]) -> None:
    """On every pattern that ships: beside or across its own line, or left out; never off by itself nearer another."""
    named, left_out = 0, 0
    for pattern in STARTERS:
        plans = tuple(face_plan(c) for c in pattern.connectors)
        face = FaceView()
        qtbot.addWidget(face)
        face.resize(*size)
        together = plans if len(plans) > 1 and face.fits(plans, face.size()) else ()
        nodes = {s.node for p in together or plans[:1] for s in p.spots}
        edges = [e for e in (*pattern.windings, *pattern.links) if nodes & {e.start, e.finish}]
        face.set_state(FaceState(plans[0], tuple(Mark(e.start, e.finish, e.name) for e in edges), beside=together))
        lines = face.routes
        shown = dict(face.values)
        left_out += len(lines) - len(shown)
        for text, box in shown.items():
            own = next(line for m, line in lines.items() if text.startswith(m.text))
            others = [line for m, line in lines.items() if not text.startswith(m.text)]
            named += 1
            if others and min(gap(box, o) for o in others) < gap(box, own):
                assert gap(box, own) < 0.7 * box.height(), (pattern.name, text)
    assert left_out < named


def test_a_name_across_a_line_leaves_as_much_of_it_in_sight() -> None:
    upright = Route((0, 0), (0, 20), (0, 40), (0, 60))
    narrow = Ground(Box(-40, -20, 80, 100), (), 10, (), np.empty((0, 2)))
    (across,) = place_labels([Wanted(upright, 70, 14)], narrow)
    assert across is not None
    assert away(across, upright) < 1
    short = Route((0, 0), (0, 15), (0, 30), (0, 44))
    (none,) = place_labels([Wanted(short, 70, 14)], replace(narrow, bounds=Box(-40, -2, 80, 48)))
    assert none is None or away(none, short) >= 1


def test_a_name_lies_across_its_line_rather_than_across_an_edge() -> None:
    upright = Route((0, 0), (0, 30), (0, 60), (0, 90))
    wall = np.array([(x, y) for x in (-80.0, 80.0) for y in range(-50, 150)])
    (name,) = place_labels([Wanted(upright, 130, 14)], Ground(Box(-400, -100, 800, 300), (), 10, (), wall))
    assert name is not None
    assert away(name, upright) < 1


def test_a_long_name_stands_no_further_off_than_a_number() -> None:
    """A share of its own width would put it far away, where it is nobody's."""
    upright = Route((0, 0), (0, 30), (0, 60), (0, 90))
    wall = np.array([(x, y) for x in (-60.0, 60.0) for y in range(-50, 150)])
    # cavities so big that too little of the line is left to lie across it
    (name,) = place_labels([Wanted(upright, 130, 14)], Ground(Box(-400, -100, 800, 300), (), 40, (), wall))
    assert name is not None
    assert away(name, upright) < 100


def test_of_two_sides_the_one_without_another_line_is_taken() -> None:
    own, other = Route((0, 0), (50, 0), (100, 0), (150, 0)), Route((0, -19), (50, -19), (100, -19), (150, -19))
    ground = Ground(Box(-50, -100, 300, 200), (), 10, (), np.empty((0, 2)))
    _, alone = place_labels([Wanted(other, 0, 14), Wanted(own, 40, 14)], ground)
    assert alone is not None
    assert alone.y > 0
    (first,) = place_labels([Wanted(own, 40, 14)], ground)
    assert first is not None
    assert first.y < 0


def test_only_the_pair_in_hand_has_its_value_where_it_may_be_read_as_anothers() -> None:
    own, other = Route((0, 0), (0, 10), (0, 20), (0, 30)), Route((60, -40), (60, 0), (60, 40), (60, 80))
    ground = Ground(Box(30, -40, 80, 120), (), 5, (), np.empty((0, 2)))
    _, strayed = place_labels([Wanted(other, 0, 14), Wanted(own, 40, 14)], ground)
    assert strayed is None
    _, placed = place_labels([Wanted(other, 0, 14), Wanted(own, 40, 14, must=True)], ground)
    assert placed is not None


def test_a_name_left_out_is_shown_once_its_pair_is_in_hand(dressed: QApplication, qtbot: QtBot) -> None:
    pattern = next(p for p in STARTERS if p.name == "exciter with a stop loop")
    plan = face_plan(pattern.connectors[0])
    nodes = {s.node for s in plan.spots}
    marks = tuple(
        Mark(e.start, e.finish, e.name) for e in (*pattern.windings, *pattern.links) if nodes & {e.start, e.finish}
    )
    face = FaceView()
    qtbot.addWidget(face)
    face.resize(400, 300)
    face.set_state(FaceState(plan, marks))
    out = next(m for m in marks if m.text == "ground wire")
    assert out.text not in dict(face.values)
    face.set_state(FaceState(plan, tuple(replace(m, chosen=m is out) for m in marks)))
    assert out.text in dict(face.values)


def test_a_name_has_its_whole_height(dressed: QApplication, qtbot: QtBot) -> None:
    face = FaceView()
    qtbot.addWidget(face)
    face.resize(640, 440)
    boxes = {}
    for text in ("lighting", "155"):
        face.set_state(FaceState(face_plan(ROUND_4), (Mark("D.1", "D.2", text),)))
        ((_, boxes[text]),) = face.values
    assert boxes["lighting"].height() > boxes["155"].height()
