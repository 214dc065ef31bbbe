"""The bench's face: all plugs side by side where they fit, else one of them and the strip."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from tests.sitting.fakes import TWO_COILS, bench_of
from workbench.sitting.bench import Bench
from workbench.sitting.views import face_lines
from workbench.stator.pattern import Pair
from workbench.window.bench.facepanel import FacePanel
from workbench.window.faces.state import Standing
from workbench.window.look import Look
from workbench.window.theme import LIGHT, Sizes

WIDE, NARROW = (660, 460), (400, 300)


def panel_of(bench: Bench, qtbot: QtBot, size: tuple[int, int] = WIDE, scale: float = 1.0) -> FacePanel:
    panel = FacePanel(Look(LIGHT, Sizes(scale)), bench, lambda: face_lines(bench))
    qtbot.addWidget(panel)
    bench.on_change = panel.show_bench
    panel.resize(*size)
    panel.show_bench()
    with qtbot.waitExposed(panel):
        panel.show()
    return panel


@pytest.fixture
def bench(dressed: QApplication) -> Bench:
    return bench_of(TWO_COILS)[0]


def test_the_size_decides_and_a_resize_decides_anew(bench: Bench, qtbot: QtBot) -> None:
    panel = panel_of(bench, qtbot)
    assert panel.side_by_side
    assert not panel.strip.isVisible()
    assert [b.node for b in panel.face.buttons] == [*bench.pattern.pins, "core"]
    panel.resize(*NARROW)
    assert not panel.side_by_side
    qtbot.waitUntil(panel.strip.isVisible)
    assert [b.node for b in panel.face.buttons] == ["P.1", "P.2", "P.3", "P.4", "P.5", "core"]
    panel.resize(*WIDE)
    assert panel.side_by_side
    assert not panel.strip.isVisible()


@pytest.mark.parametrize("scale", [1.0, 2.0])
def test_at_its_least_size_nothing_is_cut(bench: Bench, qtbot: QtBot, scale: float) -> None:
    panel = panel_of(bench, qtbot, scale=scale)
    panel.resize(panel.minimumSizeHint())
    panel.layout().activate()  # type: ignore[union-attr]  # it has one
    inside: list[QWidget] = [*panel.face.buttons, panel.turn, panel.flip]
    inside += panel.face.titles if panel.side_by_side else panel.strip.thumbs
    for w in inside:
        corner = w.mapTo(panel, w.rect().topLeft())
        assert panel.rect().contains(corner)
        assert panel.rect().contains(w.mapTo(panel, w.rect().bottomRight()))
    assert min(b.width() for b in panel.face.buttons) >= 44


def test_a_pin_of_another_plug_needs_no_choosing_first(bench: Bench, qtbot: QtBot) -> None:
    panel = panel_of(bench, qtbot)
    assert bench.plug == "P"
    bench.press("P.1")
    bench.press("P.4")
    for node in ("P.1", "L.2"):
        qtbot.mouseClick(panel.face.button(node), Qt.MouseButton.LeftButton)
    assert bench.pair == Pair("P.1", "L.2")


def test_a_title_chooses_the_plug_in_sight(bench: Bench, qtbot: QtBot) -> None:
    panel = panel_of(bench, qtbot)
    qtbot.mouseClick(panel.face.titles[1], Qt.MouseButton.LeftButton)
    assert bench.plug == "L"
    assert [t.isChecked() for t in panel.face.titles] == [False, True]


def test_readings_of_every_plug_shown_are_drawn_the_last_read_last(bench: Bench, qtbot: QtBot) -> None:
    panel = panel_of(bench, qtbot)
    for typed in ("P1 P2 OL", "L1 L2 0.7", "P1 L1 OL", "P1 P2 OL"):
        bench.enter(typed)
        if bench.said is not None and bench.said.choices:
            bench.enter(bench.text)
    state = panel.face.state
    assert state is not None
    read = [m for m in state.marks if m.standing is not Standing.OFFERED]
    assert {m.one + m.other for m in read} >= {"P.1P.2", "P.1L.1"}
    assert (read[-1].one, read[-1].other) == ("P.1", "P.2")
    panel.resize(*NARROW)
    shown = panel.face.state
    assert shown is not None
    on_show = {s.node for s in shown.plan.spots}
    assert all({m.one, m.other} & on_show for m in shown.marks)
