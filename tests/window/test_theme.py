"""Contrast by WCAG 2.2's own formula, targets and text sizes, glyphs."""

import ast
from dataclasses import fields
from pathlib import Path

import pytest
from PySide6.QtGui import QFontMetricsF, QRawFont
from PySide6.QtWidgets import QApplication, QComboBox, QLabel, QLineEdit, QPushButton, QScrollArea, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot

from tests.window.contrast import contrast
from workbench import words
from workbench.window import fonts, theme
from workbench.window.theme import DARK, LIGHT, Theme

THEMES = pytest.mark.parametrize("t", [LIGHT, DARK], ids=lambda t: t.name)


def test_the_formula_gives_the_known_ratios() -> None:
    """21:1 from WCAG's own text; 4.54:1 for #767676 on white, from memory."""
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.005)


@THEMES
def test_text_reaches_4_5(t: Theme) -> None:
    grounds = {n: getattr(t, n) for n in ("page", "panel", "field", "plastic", "accent_tint", "cavity")}
    verdicts = {f.name: getattr(t.ink_of, f.name) for f in fields(t.ink_of)}
    tints = {f.name: getattr(t.tint_of, f.name) for f in fields(t.tint_of)}
    pairs = {
        (i, g): (getattr(t, i), colour) for i in ("ink", "quiet", "accent") for g, colour in (grounds | tints).items()
    }
    pairs |= {(f"ink of {v}", g): (ink, colour) for v, ink in verdicts.items() for g, colour in grounds.items()}
    pairs |= {(f"ink of {v}", "its tint"): (ink, tints[v]) for v, ink in verdicts.items()}
    pairs |= {
        ("bar_ink", "bar"): (t.bar_ink, t.bar),
        ("bar_quiet", "bar"): (t.bar_quiet, t.bar),
        ("on_accent", "accent"): (t.on_accent, t.accent),
        ("on_strong", "strong"): (t.on_strong, t.strong),
        ("on_metal", "metal"): (t.on_metal, t.metal),
    }
    low = {k: round(contrast(*v), 2) for k, v in pairs.items() if contrast(*v) < 4.5}
    assert not low


@THEMES
def test_marks_reach_3(t: Theme) -> None:
    pairs = {
        "terminal in its cavity": (t.metal, t.cavity),
        "a picked terminal": (t.accent, t.accent_tint),
        "a cavity's edge on the plug": (t.plastic_edge, t.plastic),
        "a plug's edge on its panel": (t.plastic_edge, t.panel),
        "a field's edge": (t.field_edge, t.panel),
        "a field's edge inside": (t.field_edge, t.field),
        "a button's edge on the page": (t.field_edge, t.page),
        "the ring of the focus on a panel": (t.accent, t.panel),
        "the ring of the focus on a plug": (t.accent, t.plastic),
        "the ring of the focus on a strong button": (t.strong_focus, t.strong),
        "an offered line": (t.quiet, t.plastic),
    }
    low = {k: round(contrast(*v), 2) for k, v in pairs.items() if contrast(*v) < 3}
    assert not low


@pytest.mark.parametrize("scale", [1.0, 1.5, 2.0])
def test_text_and_targets_follow_the_scale(qapp: QApplication, qtbot: QtBot, scale: float) -> None:
    theme.apply(qapp, LIGHT, scale)
    page = QWidget()
    qtbot.addWidget(page)
    layout = QVBoxLayout(page)
    big, button, edit, box = QLabel("OUT"), QPushButton("Open"), QLineEdit(), QComboBox()
    big.setProperty("role", "big")
    for w in (big, button, edit, box):
        layout.addWidget(w)
    page.show()
    assert big.font().pixelSize() == round(48 * scale)
    assert button.font().pixelSize() == round(15 * scale)
    for w in (button, edit, box):
        assert w.height() >= 36 * scale
    theme.apply(qapp, LIGHT)


@THEMES
def test_the_handle_of_a_scroll_bar_stands_out(qapp: QApplication, qtbot: QtBot, t: Theme) -> None:
    theme.apply(qapp, t)
    area = QScrollArea()
    qtbot.addWidget(area)
    area.setWidget(QLabel("\n".join(["line"] * 80)))
    area.resize(200, 200)
    area.show()
    bar = area.verticalScrollBar()
    assert bar.isVisible()
    down = bar.grab().toImage()
    handle, groove = (down.pixelColor(bar.width() // 2, y) for y in (20, bar.height() - 8))
    assert contrast(handle, groove) >= 3
    theme.apply(qapp, LIGHT)


def test_a_verdict_set_later_shows_after_redress(dressed: QApplication, qtbot: QtBot) -> None:
    label = QLabel("307")
    qtbot.addWidget(label)
    label.show()
    label.setProperty("verdict", "out")
    theme.redress(label)
    assert label.palette().windowText().color().name() == LIGHT.ink_of.out


def test_figures_are_equally_wide_in_labels_of_every_role(dressed: QApplication, qtbot: QtBot) -> None:
    for role in ("", "quiet", "value", "big"):
        label = QLabel()
        qtbot.addWidget(label)
        label.setProperty("role", role)
        label.ensurePolished()
        assert label.font().family() == fonts.FAMILY
        widths = {QFontMetricsF(label.font()).horizontalAdvance(d * 4) for d in "0123456789"}
        assert len(widths) == 1, role


def printable() -> set[str]:
    """Every character in the strings of the words module, and all that values and names are made of."""
    tree = ast.parse(Path(words.__file__).read_text(encoding="utf-8"))
    said = {c for n in ast.walk(tree) if isinstance(n, ast.Constant) and isinstance(n.value, str) for c in n.value}
    return {c for c in said if c.isprintable()} | {chr(c) for c in range(32, 127)} | set("Ω\u2126±–…°−×µ½¼²‰’“”")


@pytest.mark.parametrize("name", fonts.FILES)
def test_every_character_has_a_glyph_in_the_shipped_font(qapp: QApplication, name: str) -> None:
    from PySide6.QtCore import QByteArray
    from PySide6.QtGui import QFont

    raw = QRawFont()
    raw.loadFromData(QByteArray(fonts.font_bytes(name)), 15, QFont.HintingPreference.PreferNoHinting)
    assert raw.isValid()
    assert not [c for c in printable() if not raw.supportsCharacter(ord(c))]


def test_the_drawings_of_tick_and_arrow_ship(qapp: QApplication) -> None:
    assert all(Path(theme.icon(n, t)).is_file() for n in ("tick", "down") for t in (LIGHT, DARK))
