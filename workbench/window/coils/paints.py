"""The pens, brushes and fonts a coil layout is drawn with: made once for a theme and a size."""

from dataclasses import dataclass

from PySide6.QtCore import Qt
from PySide6.QtGui import QBrush, QColor, QFont, QPen

from workbench.window.fonts import font
from workbench.window.theme import Sizes, Theme

# wire, and the grounds that tell windings of one wire apart; by the theme's name
COPPER = {
    "light": ("#7a4013", ("#fbeddd", "#e6bd94", "#c9935f")),
    "dark": ("#f4c49a", ("#2c211a", "#5b3e28", "#8a5c36")),
}


@dataclass(frozen=True)
class CoilPaints:
    theme: Theme
    name: QFont
    lit_name: QFont
    number: QFont
    copper: QColor
    grounds: tuple[QBrush, ...]
    iron: QBrush
    iron_edge: QPen
    edge: QPen
    hover_edge: QPen
    lit_edge: QPen
    lit_ground: QBrush
    lit_copper: QColor
    leader: QPen
    lit_leader: QPen
    halo: QPen
    plate: QBrush
    lit_plate: QBrush
    hover_plate: QBrush
    ink: QColor
    lit_ink: QColor
    quiet: QColor
    focus: QPen


def coil_paints(theme: Theme, sizes: Sizes) -> CoilPaints:
    copper, grounds = COPPER[theme.name]
    accent, ink = QColor(theme.accent), QColor(theme.ink)
    round_join = (Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap, Qt.PenJoinStyle.RoundJoin)
    return CoilPaints(
        theme=theme,
        name=font(sizes.quiet, QFont.Weight.Medium),
        lit_name=font(sizes.quiet, QFont.Weight.DemiBold),
        number=font(sizes.px(10), QFont.Weight.Medium),
        copper=QColor(copper),
        grounds=tuple(QBrush(QColor(g)) for g in grounds),
        iron=QBrush(QColor(theme.iron)),
        iron_edge=QPen(QColor(theme.plastic_edge), 1.2, *round_join),
        edge=QPen(QColor(copper), 1.2, *round_join),
        hover_edge=QPen(accent, 2.0, *round_join),
        # as its name's plate: reversed, so that it is told without colour too
        lit_edge=QPen(ink, 3.0, *round_join),
        lit_ground=QBrush(accent),
        lit_copper=QColor(theme.on_accent),
        leader=QPen(QColor(theme.quiet), 1.2, *round_join),
        lit_leader=QPen(accent, 2.2, *round_join),
        halo=QPen(QColor(theme.panel), 3.6, *round_join),
        plate=QBrush(QColor(theme.panel)),
        lit_plate=QBrush(accent),
        hover_plate=QBrush(QColor(theme.accent_tint)),
        ink=ink,
        lit_ink=QColor(theme.on_accent),
        quiet=QColor(theme.quiet),
        focus=QPen(accent, 2.0),
    )
