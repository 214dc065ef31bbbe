"""The pens, brushes and fonts a face draws with: made once for a theme and a size, never while painting."""

from dataclasses import dataclass

from PySide6.QtCore import Qt
from PySide6.QtGui import QBrush, QColor, QFont, QPen

from workbench.window.faces.state import Tone
from workbench.window.fonts import font
from workbench.window.theme import Sizes, Theme, verdict_ink

# In pen widths. Out is solid too: it is told by its weight and the cross at its middle.
DASHES: dict[Tone, tuple[float, ...]] = {
    Tone.CONTINUOUS: (5.0, 2.0),
    Tone.CLOSE: (5.0, 1.6, 1.0, 1.6),
    Tone.DOUBTFUL: (2.6, 1.5, 0.8, 1.5, 0.8, 1.5),
}


@dataclass(frozen=True)
class Paints:
    """`radius` is a cavity's in px."""

    theme: Theme
    radius: float
    label: QFont
    pin: QFont
    caption: QFont
    button: QFont
    edge: QPen
    thin: QPen
    accent: QPen
    focus: QPen
    hover: QPen
    tick: QPen
    plastic: QBrush
    cavity: QBrush
    tint: QBrush
    metal: QBrush
    iron: QBrush
    panel: QBrush
    ink: QColor
    quiet: QColor
    on_metal: QColor
    accent_colour: QColor
    glow: QColor

    def tone(self, tone: Tone) -> QColor:
        return QColor(verdict_ink(self.theme, tone.value) if tone is not Tone.PLAIN else self.theme.ink)


def paints(theme: Theme, sizes: Sizes, radius: float) -> Paints:
    glow = QColor(theme.accent)
    glow.setAlpha(70)
    semi, medium = QFont.Weight.DemiBold, QFont.Weight.Medium
    return Paints(
        theme=theme,
        radius=radius,
        # a value that finds no room says less than a smaller one
        label=font(min(sizes.px(max(16, radius * 0.42)), max(16, round(radius * 0.75))), semi),
        pin=font(max(12, round(radius * 0.82)), semi),
        caption=font(min(sizes.quiet, round(radius * 0.6)), medium),
        button=font(sizes.px(16), semi),
        edge=QPen(QColor(theme.plastic_edge), 2.0),
        thin=QPen(QColor(theme.plastic_edge), 1.2),
        accent=QPen(QColor(theme.accent), 4.0),
        focus=QPen(QColor(theme.accent), 3.0),
        hover=QPen(QColor(theme.accent), 2.0),
        tick=QPen(QColor(theme.quiet), 2.0, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap),
        plastic=QBrush(QColor(theme.plastic)),
        cavity=QBrush(QColor(theme.cavity)),
        tint=QBrush(QColor(theme.accent_tint)),
        metal=QBrush(QColor(theme.metal)),
        iron=QBrush(QColor(theme.iron)),
        panel=QBrush(QColor(theme.panel)),
        ink=QColor(theme.ink),
        quiet=QColor(theme.quiet),
        on_metal=QColor(theme.on_metal),
        accent_colour=QColor(theme.accent),
        glow=glow,
    )
