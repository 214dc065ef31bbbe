"""Verdicts are told by shape first, and their colours hold for eyes that lack a kind of cone."""

from collections.abc import Callable
from dataclasses import fields
from itertools import combinations

import numpy as np
import pytest
from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QColor, QImage, QPainter, QPen
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from tests.window.contrast import Floats, pixels
from tests.window.eyes import EYES, Lab, apart, lab, seen
from tests.window.inks import render, spied
from workbench.window.bench.tagshape import TagShape
from workbench.window.history.shapes import SYMBOLS
from workbench.window.look import Look
from workbench.window.pairs.marks import STROKES, draw_mark
from workbench.window.theme import DARK, LIGHT, Theme
from workbench.words import SHEET_WORDS

THEMES = pytest.mark.parametrize("t", [LIGHT, DARK], ids=lambda t: t.name)
# CIEDE2000 between colours that stand side by side; there is no standard for it, and a word and a sign say it first
VERDICTS_APART, OTHERS_APART = 8.0, 6.0
# of the ink of the larger of two shapes, how much must lie elsewhere
SHAPES_APART = 0.4


@pytest.mark.parametrize(
    ("one", "other", "wanted"),
    [
        ((50, 2.6772, -79.7751), (50, 0, -82.7485), 2.0425),
        ((50, 2.49, -0.001), (50, -2.49, 0.0011), 7.2195),
        ((50, -1, 2), (50, 0, 0), 2.3669),
        ((50, 2.5, 0), (73, 25, -18), 27.1492),
        ((60.2574, -34.0099, 36.2677), (60.4626, -34.1751, 39.4387), 1.2644),
        ((22.7233, 20.0904, -46.6940), (23.0331, 14.9730, -42.5619), 2.0373),
        ((2.0776, 0.0795, -1.1350), (0.9033, -0.0636, -0.5514), 0.9082),
    ],
)
def test_the_difference_is_that_of_its_authors_own_table(one: Lab, other: Lab, wanted: float) -> None:
    """Sharma, Wu and Dalal 2005, table 1."""
    assert apart(one, other) == pytest.approx(wanted, abs=5e-5)


def test_white_and_grey_stay_what_they_are_to_all_eyes() -> None:
    for eyes in EYES:
        assert apart(seen("#ffffff", eyes), (100, 0, 0)) < 0.01
        assert apart(seen("#777777", eyes), seen("#777777", "all cones")) < 0.01
    assert lab([0, 0, 0]) == pytest.approx((0, 0, 0))


def test_red_and_green_come_together_without_the_long_or_the_middle_cone() -> None:
    """A red and a green of one lightness: what the simulation is for."""
    far = {eyes: apart(seen("#c0504d", eyes), seen("#3f8a3f", eyes)) for eyes in EYES}
    assert far["deuteranopia"] < far["all cones"] / 3
    assert far["protanopia"] < far["all cones"] / 2
    assert far["tritanopia"] > far["all cones"] / 2


@THEMES
@pytest.mark.parametrize("eyes", EYES)
def test_the_inks_of_verdicts_stay_apart(t: Theme, eyes: str) -> None:
    """From one another, from plain ink, and from what marks the pair in hand and what is said quietly."""
    verdicts = {f.name: seen(getattr(t.ink_of, f.name), eyes) for f in fields(t.ink_of)}
    near = {pair: apart(verdicts[pair[0]], verdicts[pair[1]]) for pair in combinations(verdicts, 2)}
    near |= {(v, "ink"): apart(verdicts[v], seen(t.ink, eyes)) for v in verdicts}
    assert {k: v for k, v in near.items() if v < VERDICTS_APART} == {}
    others = {(v, n): apart(verdicts[v], seen(getattr(t, n), eyes)) for v in verdicts for n in ("accent", "quiet")}
    assert {k: v for k, v in others.items() if v < OTHERS_APART} == {}


def drawn(draw: Callable[[QPainter], None], ratio: int = 1) -> Floats:
    """Black on white in 20 px, as ink from 0 to 1."""
    image = QImage(20 * ratio, 20 * ratio, QImage.Format.Format_RGB32)
    image.setDevicePixelRatio(ratio)
    image.fill(Qt.GlobalColor.white)
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.translate(10, 10)
    draw(painter)
    painter.end()
    ink: Floats = 1 - pixels(image)[..., 0] / 255
    return ink


def alike(shapes: dict[str, Floats]) -> dict[tuple[str, str], float]:
    far = {(a, b): np.abs(shapes[a] - shapes[b]).sum() for a, b in combinations(shapes, 2)}
    parts = {(a, b): float(d / max(shapes[a].sum(), shapes[b].sum())) for (a, b), d in far.items()}
    return {k: v for k, v in parts.items() if v < SHAPES_APART}


@pytest.mark.parametrize("radius", [2.5, 5.0])  # px: in a cell at the usual size of text, and at 200 %
def test_the_signs_of_cells_differ_in_shape(qapp: QApplication, radius: float) -> None:
    black = QColor("black")
    signs = {name: drawn(lambda p, n=name: draw_mark(p, n, QPointF(), radius, black)) for name in STROKES}
    assert len(signs) == 6
    assert alike(signs) == {}


@pytest.mark.parametrize("size", [7, 11, 14])  # px: in a crowd, an earlier sheet, this one
def test_the_points_of_a_history_differ_in_shape(qapp: QApplication, size: int) -> None:
    from pyqtgraph.graphicsItems.ScatterPlotItem import Symbols

    def dot(painter: QPainter, symbol: str) -> None:
        painter.scale(size, size)
        pen = QPen(QColor("black"), 1)
        pen.setCosmetic(True)
        painter.setPen(pen)
        painter.setBrush(QColor("black"))
        painter.drawPath(Symbols[symbol])

    points = {word: drawn(lambda p, s=symbol: dot(p, s)) for word, symbol in SYMBOLS.items()}
    assert len(points) == 6
    assert alike(points) == {}


@THEMES
def test_the_sheets_verdicts_differ_in_shape_without_word_or_colour(
    dressed: QApplication, qtbot: QtBot, t: Theme
) -> None:
    tag = TagShape(Look(t))
    qtbot.addWidget(tag)
    tag.resize(tag.sizeHint())
    tag.show()
    pictures = {}
    for word in SHEET_WORDS.values():
        tag.show_word(word)
        with spied([]):
            pictures[word] = render(tag) @ np.array([0.299, 0.587, 0.114])
    for a, b in combinations(pictures, 2):
        strong = np.abs(pictures[a] - pictures[b]) > 60  # of 255 greys
        assert strong.mean() > 0.01, (a, b)
