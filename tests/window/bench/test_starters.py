"""Every pattern that ships, as it comes up on a bench of 1366 x 768: nothing too small, cut or without its name."""

import pytest
from PySide6.QtCore import QSize
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from tests.sitting.fakes import bench_of
from workbench.exchange.starters import starter_revisions
from workbench.sitting.views import face_lines
from workbench.stator.pattern import Pattern
from workbench.window.bench.facepanel import FacePanel
from workbench.window.coils.sketch import CoilSketch
from workbench.window.look import Look
from workbench.window.theme import LIGHT, Sizes

# what the page leaves them there
FACE, COILS = QSize(658, 457), QSize(272, 440)
LOOK = Look(LIGHT, Sizes())
REVISIONS = [pytest.param(p, id=f"{p.name} #{i}") for i, p in enumerate(starter_revisions())]


@pytest.mark.parametrize("pattern", REVISIONS)
def test_all_its_plugs_stand_side_by_side_with_every_cavity_at_least_44_px(
    pattern: Pattern, dressed: QApplication, qtbot: QtBot
) -> None:
    bench = bench_of(pattern)[0]
    panel = FacePanel(LOOK, bench, lambda: face_lines(bench))
    qtbot.addWidget(panel)
    panel.resize(FACE)
    panel.show_bench()
    with qtbot.waitExposed(panel):
        panel.show()
    assert panel.side_by_side is (len(pattern.connectors) > 1)
    assert [b.node for b in panel.face.buttons] == [*pattern.pins, "core"]
    for button in panel.face.buttons:
        assert min(button.width(), button.height()) >= 44
        assert panel.face.rect().contains(button.geometry())


@pytest.mark.parametrize("pattern", REVISIONS)
def test_its_coils_are_drawn_large_enough_and_each_winding_has_its_name(
    pattern: Pattern, dressed: QApplication, qtbot: QtBot
) -> None:
    sketch = CoilSketch(LOOK)
    qtbot.addWidget(sketch)
    sketch.resize(COILS)
    sketch.set_pattern(pattern)
    with qtbot.waitExposed(sketch):
        sketch.show()
    plan = sketch.plan
    assert plan is not None
    for w in plan.windings:
        assert not sketch.name(w.name).plain, w.name
        assert sketch.rect().contains(sketch.name(w.name).geometry())
    spots = [sketch.centre_of(c) for c in plan.coils]
    assert all(sketch.rect().contains(s.toPoint()) for s in spots)
