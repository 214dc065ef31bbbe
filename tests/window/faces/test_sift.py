"""Too many readings to read: which are drawn, and how the others are told of."""

import itertools
from dataclasses import replace

import pytest
from PySide6.QtCore import QPoint
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from tests.sitting.plugs import THREE_ROWS_12
from workbench.sitting.faceplan import face_plan
from workbench.window.faces.faceview import FaceView
from workbench.window.faces.sift import READABLE, sift
from workbench.window.faces.state import FaceState, Mark, Standing, Tone

PAIRS = list(itertools.combinations(THREE_ROWS_12.nodes, 2))


def inside(count: int) -> tuple[Mark, ...]:
    return tuple(Mark(a, b, str(100 + i), Tone.IN) for i, (a, b) in enumerate(PAIRS[:count]))


def test_up_to_twenty_all_pass() -> None:
    marks = inside(READABLE)
    assert sift(marks, frozenset()).shown == marks
    offered = (*marks, Mark("E.11", "E.12", standing=Standing.OFFERED))
    assert sift(offered, frozenset()).shown == offered
    assert sift(offered, frozenset()).count == 0


def test_past_that_the_newest_the_picked_and_what_is_not_in_pass() -> None:
    marks = list(inside(25))
    marks[3] = replace(marks[3], tone=Tone.OUT)
    marks[5] = replace(marks[5], tone=Tone.CONTINUOUS)
    marks[7] = replace(marks[7], standing=Standing.PENDING)
    marks[9] = replace(marks[9], chosen=True)
    marks.append(Mark("E.11", "E.12", standing=Standing.OFFERED))
    sifted = sift(tuple(marks), frozenset())
    assert sifted.shown == tuple(marks[i] for i in (3, 5, 7, 9, 24, 25))
    assert sifted.count == 20
    picked = sift(tuple(marks), frozenset({"E.3"}))
    assert set(picked.shown) - set(sifted.shown) == {m for m in marks if "E.3" in (m.one, m.other)} - set(sifted.shown)
    assert "E.3" not in picked.hidden


def test_every_hidden_reading_is_counted_at_both_its_nodes() -> None:
    sifted = sift(inside(30), frozenset())
    assert sum(sifted.hidden.values()) == 2 * sifted.count
    assert len(sifted.shown) + sifted.count == 30


@pytest.fixture
def face(dressed: QApplication, qtbot: QtBot) -> FaceView:
    made = FaceView()
    qtbot.addWidget(made)
    made.resize(640, 440)
    return made


@pytest.mark.parametrize("size", [(640, 440), (500, 320)])
def test_the_face_says_how_many_more_there_are_off_everything_it_draws(face: FaceView, size: tuple[int, int]) -> None:
    face.resize(*size)
    plan = face_plan(THREE_ROWS_12)
    face.set_state(FaceState(plan, inside(READABLE)))
    assert face.more.isHidden()
    face.set_state(FaceState(plan, inside(40)))
    assert not face.more.isHidden()
    assert face.more.text() == "39 more readings in All pairs"
    assert len(face.drawn) == 1
    assert face.rect().contains(face.more.geometry())
    assert not any(face.more.geometry().intersects(b.geometry()) for b in face.buttons)
    # a reader still hears all of them
    assert face.button("E.1").accessibleDescription().count(" to pin") == 11


def test_a_pin_with_further_readings_has_a_tick(face: FaceView) -> None:
    """The same lines drawn; only what is hidden differs."""
    plan = face_plan(THREE_ROWS_12)
    loud = tuple(replace(m, tone=Tone.OUT) for m in inside(READABLE))
    pictures = []
    for hidden in (Mark("E.9", "E.12", "1", Tone.IN), Mark("E.9", "E.11", "1", Tone.IN)):
        face.set_state(FaceState(plan, (hidden, *loud)))
        assert len(face.drawn) == READABLE
        made = QImage(face.size(), QImage.Format.Format_RGB32)
        face.render(made, QPoint(0, 0))
        b = face.button("E.12")
        aside = round(b.width() / 2 * 0.7)
        at = b.geometry().center() + QPoint(aside, -aside)
        pictures.append(made.copy(at.x() - 6, at.y() - 6, 12, 12))
    assert pictures[0] != pictures[1]
