"""Colours by their role and the look of the common widgets. Sizes follow one text size."""

from dataclasses import dataclass
from importlib.resources import files
from pathlib import Path

from PySide6.QtGui import QColor, QFont, QPalette
from PySide6.QtWidgets import QApplication, QWidget

from workbench.window.fonts import font, load_fonts

BASE_PIXELS = 15
SMALLEST_TARGET = 40


@dataclass(frozen=True, slots=True)
class Verdicts:
    """A colour for each verdict: as ink and mark on any ground of the theme, or as a tint behind ink."""

    in_: str
    close: str
    continuous: str
    out: str


@dataclass(frozen=True, slots=True)
class Theme:
    """Named colours, `#rrggbb`. Inks reach 4.5:1 on every ground they stand on, marks 3:1 (WCAG 2.2)."""

    name: str
    page: str
    panel: str
    panel_edge: str
    ink: str
    quiet: str
    field: str
    field_edge: str
    accent: str
    on_accent: str
    accent_tint: str
    bar: str
    bar_ink: str
    bar_quiet: str
    strong: str
    on_strong: str
    strong_focus: str
    ink_of: Verdicts
    tint_of: Verdicts
    plastic: str
    plastic_edge: str
    cavity: str
    metal: str
    on_metal: str
    iron: str


LIGHT = Theme(
    name="light",
    page="#f4f1ea",
    panel="#fffdf9",
    panel_edge="#d9d4c8",
    ink="#1d2226",
    quiet="#575d61",
    field="#ffffff",
    field_edge="#7b7f80",
    accent="#15569e",
    on_accent="#ffffff",
    accent_tint="#e4edf7",
    bar="#20262b",
    bar_ink="#fbf9f4",
    bar_quiet="#b9c0c4",
    strong="#20262b",
    on_strong="#fbf9f4",
    strong_focus="#86bcf5",
    ink_of=Verdicts(in_="#0b6248", close="#4c4a7e", continuous="#5f3b00", out="#ab4426"),
    tint_of=Verdicts(in_="#dcefe6", close="#e6e5f4", continuous="#f6ead0", out="#f9e0d8"),
    plastic="#ece7dc",
    plastic_edge="#33393d",
    cavity="#ffffff",
    metal="#4d5860",
    on_metal="#ffffff",
    iron="#bcc4c8",
)

DARK = Theme(
    name="dark",
    page="#15191c",
    panel="#1f2529",
    panel_edge="#3c454b",
    ink="#f1eee7",
    quiet="#b3b8b9",
    field="#171b1e",
    field_edge="#8b9499",
    accent="#86bcf5",
    on_accent="#0d2136",
    accent_tint="#22384f",
    bar="#0c0f11",
    bar_ink="#f6f3ec",
    bar_quiet="#aeb6ba",
    strong="#e9e5db",
    on_strong="#1a1f22",
    strong_focus="#15569e",
    ink_of=Verdicts(in_="#74d5b0", close="#cbcdf5", continuous="#fac755", out="#fe9e7f"),
    tint_of=Verdicts(in_="#1b3a2f", close="#2f2e4c", continuous="#3f3218", out="#4b261c"),
    plastic="#2d3439",
    plastic_edge="#a5aeb3",
    cavity="#14181b",
    metal="#a9b4ba",
    on_metal="#12171a",
    iron="#59646a",
)


@dataclass(frozen=True, slots=True)
class Sizes:
    """Pixels that follow the text: `scale` 1 is the bench's usual size, 2 is text at 200 %."""

    scale: float = 1.0

    def px(self, pixels: float) -> int:
        return round(pixels * self.scale)

    @property
    def base(self) -> int:
        return self.px(BASE_PIXELS)

    @property
    def quiet(self) -> int:
        return self.px(13)

    @property
    def title(self) -> int:
        return self.px(18)

    @property
    def value(self) -> int:
        return self.px(26)

    @property
    def big(self) -> int:
        return self.px(48)

    @property
    def target(self) -> int:
        """The least height of anything to press: it grows with its text, and never shrinks."""
        return max(SMALLEST_TARGET, self.px(SMALLEST_TARGET))


def apply(app: QApplication, theme: Theme, text_scale: float = 1.0) -> None:
    """Dresses the whole program: Fusion, palette, font, stylesheet.

    Labels take `role` "title", "quiet", "value" or "big" and `verdict` "in", "close", "doubtful", "continuous" or
    "out"; buttons `role` "strong"; frames `role` "panel" or "bar". A property set later needs `redress(widget)`.
    """
    sizes = Sizes(text_scale)
    load_fonts()
    app.setStyle("Fusion")
    app.setPalette(palette(theme))
    app.setFont(font(sizes.base))
    app.setStyleSheet(stylesheet(theme, sizes))


def icon(name: str, theme: Theme) -> str:
    """The path of one of the little drawings in resources/icons, as a stylesheet wants it."""
    return Path(str(files("resources").joinpath("icons", f"{name}-{theme.name}.svg"))).as_posix()


def redress(widget: QWidget) -> None:
    """Lets a widget take the look of a `role`, `verdict` or `state` that was set after it was first shown."""
    style = widget.style()
    style.unpolish(widget)
    style.polish(widget)


def palette(theme: Theme) -> QPalette:
    made = QPalette()
    role = QPalette.ColorRole
    for r, colour in (
        (role.Window, theme.page),
        (role.WindowText, theme.ink),
        (role.Base, theme.field),
        (role.AlternateBase, theme.page),
        (role.Text, theme.ink),
        (role.Button, theme.panel),
        (role.ButtonText, theme.ink),
        (role.BrightText, theme.ink_of.out),
        (role.Highlight, theme.accent),
        (role.HighlightedText, theme.on_accent),
        (role.Link, theme.accent),
        (role.PlaceholderText, theme.quiet),
        (role.ToolTipBase, theme.bar),
        (role.ToolTipText, theme.bar_ink),
        (role.Accent, theme.accent),
    ):
        made.setColor(r, QColor(colour))
    for r in (role.WindowText, role.Text, role.ButtonText):
        made.setColor(QPalette.ColorGroup.Disabled, r, QColor(theme.quiet))
    return made


def verdict_ink(theme: Theme, word: str) -> str:
    """The ink for a verdict's word on screen; plain ink for any other."""
    v = theme.ink_of
    return {"in": v.in_, "close": v.close, "doubtful": v.close, "continuous": v.continuous, "out": v.out}.get(
        word, theme.ink
    )


def verdict_tint(theme: Theme, word: str) -> str:
    """The ground to put behind a verdict's word; the panel's for any other."""
    v = theme.tint_of
    return {"in": v.in_, "close": v.close, "doubtful": v.close, "continuous": v.continuous, "out": v.out}.get(
        word, theme.panel
    )


def stylesheet(theme: Theme, sizes: Sizes) -> str:
    """The ring of the focus is 4 px, where an edge is 2: what is more grows inwards, so that nothing moves. Its inner
    half is what is seen to change (3:1 at least), since two edges can't both differ so from ground and one another.
    """
    t, s = theme, sizes
    weight = {"medium": int(QFont.Weight.Medium), "semi": int(QFont.Weight.DemiBold)}
    verdicts = "\n".join(
        f'QLabel[verdict="{w}"] {{ color: {verdict_ink(t, w)}; font-weight: {weight["semi"]}; }}'
        for w in ("in", "close", "doubtful", "continuous", "out")
    )
    return f"""
QMainWindow, QDialog, QWizard {{ background: {t.page}; }}
QToolTip {{ background: {t.bar}; color: {t.bar_ink}; border: 1px solid {t.bar_quiet}; padding: 4px; }}
QFrame[role="panel"] {{ background: {t.panel}; border: 1px solid {t.panel_edge}; border-radius: 6px; }}
QFrame[role="band"] {{ background: {t.accent_tint}; }}
QFrame[role="bar"] {{ background: {t.bar}; }}
QFrame[role="bar"] QLabel {{ color: {t.bar_ink}; }}
QFrame[role="bar"] QLabel[role="quiet"] {{ color: {t.bar_quiet}; }}
QLabel[role="title"] {{ font-size: {s.title}px; font-weight: {weight["semi"]}; }}
QLabel[role="quiet"] {{ font-size: {s.quiet}px; color: {t.quiet}; }}
QLabel[role="value"] {{ font-size: {s.value}px; font-weight: {weight["semi"]}; }}
QLabel[role="big"] {{ font-size: {s.big}px; font-weight: {weight["semi"]}; }}
QLabel[role="caption"] {{ min-height: {s.target}px; }}
{verdicts}
QDialogButtonBox {{ dialogbuttonbox-buttons-have-icons: 0; }}
QPushButton, QToolButton {{
    background: {t.panel}; color: {t.ink}; border: 2px solid {t.field_edge}; border-radius: 6px;
    padding: 2px {s.px(14)}px; min-height: {s.target - 8}px; font-weight: {weight["medium"]};
}}
QPushButton:hover, QToolButton:hover {{ background: {t.accent_tint}; }}
QPushButton:pressed, QToolButton:pressed, QPushButton:checked {{
    background: {t.accent_tint}; border-color: {t.accent}; }}
QPushButton[role="strong"] {{ background: {t.strong}; color: {t.on_strong}; border-color: {t.strong}; }}
QPushButton[tall="true"] {{ min-height: {s.px(52)}px; }}
QPushButton[role="switch"] {{ padding-left: {s.px(8)}px; padding-right: {s.px(8)}px; }}
QPushButton:disabled, QToolButton:disabled {{
    color: {t.quiet}; background: {t.page}; border: 2px dashed {t.panel_edge}; }}
QPushButton:focus, QToolButton:focus {{ border: 4px solid {t.accent}; padding: 0 {s.px(14) - 2}px; }}
QPushButton[role="switch"]:focus {{ padding: 0 {s.px(8) - 2}px; }}
QPushButton[role="strong"]:focus {{ border-color: {t.strong_focus}; }}
QLineEdit, QPlainTextEdit, QTextEdit, QComboBox {{
    background: {t.field}; color: {t.ink}; border: 2px solid {t.field_edge}; border-radius: 4px;
    padding: 2px {s.px(8)}px; selection-background-color: {t.accent}; selection-color: {t.on_accent};
    placeholder-text-color: {t.quiet};
}}
QLineEdit, QComboBox, QAbstractSpinBox {{ min-height: {s.target - 8}px; }}
QLineEdit[role="value"] {{ font-size: {s.value}px; font-weight: {weight["semi"]}; min-height: {s.px(44)}px; }}
QLineEdit:focus, QPlainTextEdit:focus, QTextEdit:focus, QComboBox:focus {{
    border: 4px solid {t.accent}; padding: 0 {s.px(8) - 2}px;
}}
QAbstractItemView:focus, QScrollArea:focus {{ border: 2px solid {t.accent}; }}
QLineEdit[state="refused"], QComboBox[state="refused"] {{ border-color: {t.ink_of.out}; }}
QLineEdit:disabled, QPlainTextEdit:disabled, QComboBox:disabled {{ color: {t.quiet}; background: {t.page}; }}
QComboBox::drop-down {{ subcontrol-origin: border; right: 2px; border: none; width: {s.px(30)}px; }}
QComboBox::down-arrow {{ image: url({icon("down", t)}); width: {s.px(18)}px; height: {s.px(18)}px; }}
QComboBox QAbstractItemView {{ background: {t.field}; color: {t.ink}; border: 1px solid {t.field_edge}; }}
QAbstractItemView {{
    background: {t.panel}; color: {t.ink}; border: 2px solid {t.panel_edge}; border-radius: 4px;
    selection-background-color: {t.accent}; selection-color: {t.on_accent}; outline: none;
}}
QAbstractItemView[role="bare"] {{ border-color: transparent; }}
QAbstractItemView[role="bare"]:focus {{ border-color: {t.accent}; }}
QTableView {{ gridline-color: {t.panel_edge}; }}
QTableView::item {{ padding: 0 {s.px(6)}px; }}
QTableView::item:focus {{ border: 2px solid {t.accent}; }}
QTableView::item:selected:focus {{ border: 2px solid {t.ink}; }}
QHeaderView {{ border: none; background: {t.page}; }}
QHeaderView::section {{
    background: {t.page}; color: {t.quiet}; border: none; padding: 4px {s.px(8)}px; font-size: {s.quiet}px;
}}
QTableView[role="triangle"] {{ background: transparent; border: none; selection-background-color: transparent; }}
QTableView[role="triangle"] QHeaderView, QTableView[role="triangle"] QTableCornerButton::section {{
    background: transparent; border: none;
}}
QTableView[role="triangle"] QHeaderView::section {{
    background: transparent; color: {t.ink}; padding: 0; font-weight: {weight["medium"]};
}}
QTableView[role="triangle"]:focus {{ border: none; }}
QTableView[role="triangle"]::item, QTableView[role="triangle"]::item:selected {{ border: none; }}
QWidget[role="clear"] {{ background: transparent; }}
QScrollArea {{ border: 2px solid transparent; background: transparent; }}
QScrollBar {{ background: {t.page}; border: none; }}
QScrollBar:vertical {{ width: {s.px(14)}px; }}
QScrollBar:horizontal {{ height: {s.px(14)}px; }}
QScrollBar::handle {{ background: {t.field_edge}; border-radius: {s.px(3)}px; margin: {s.px(3)}px; }}
QScrollBar::handle:hover {{ background: {t.accent}; }}
QScrollBar::handle:vertical {{ min-height: {s.px(16)}px; }}
QScrollBar::handle:horizontal {{ min-width: {s.px(16)}px; }}
QScrollBar::add-line, QScrollBar::sub-line {{ width: 0; height: 0; }}
QScrollBar::add-page, QScrollBar::sub-page {{ background: none; }}
QCheckBox, QRadioButton {{ min-height: {s.target - 4}px; spacing: {s.px(8)}px; border: 2px solid transparent; }}
QCheckBox:focus, QRadioButton:focus {{ border: 2px solid {t.accent}; border-radius: 4px; }}
QCheckBox::indicator, QRadioButton::indicator {{
    width: {s.px(18)}px; height: {s.px(18)}px; border: 2px solid {t.field_edge}; background: {t.field};
}}
QCheckBox::indicator {{ border-radius: 4px; }}
QCheckBox::indicator:checked {{
    background: {t.accent}; border-color: {t.accent}; image: url({icon("tick", t)});
}}
QRadioButton::indicator {{ border-radius: {s.px(18) // 2 + 2}px; }}
QRadioButton::indicator:checked {{
    border: {s.px(6)}px solid {t.accent}; width: {s.px(18) + 4 - 2 * s.px(6)}px; height: {s.px(18) + 4 - 2 * s.px(6)}px;
}}
"""
