"""What stands on a card's page. All lengths in points, from the page's lower left corner up."""

from dataclasses import dataclass
from enum import StrEnum


class Weight(StrEnum):
    """The weights of the card's one typeface."""

    REGULAR = "Regular"
    MEDIUM = "Medium"
    BOLD = "SemiBold"


QUIET = 4  # modules left white all round a square code (ISO/IEC 18004)


@dataclass(frozen=True, slots=True)
class Text:
    """`y` is the base line's."""

    x: float
    y: float
    words: str
    weight: Weight
    size: float
    white: bool = False


@dataclass(frozen=True, slots=True)
class Rule:
    """A straight line; `dash` as lengths on and off, empty for a whole one."""

    x: float
    y: float
    to_x: float
    to_y: float
    thick: float = 0.5
    dash: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Shape:
    """A closed polygon, filled black, or drawn by its outline alone (`thick`)."""

    points: tuple[tuple[float, float], ...]
    thick: float = 1.0
    filled: bool = False
    dash: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Disc:
    x: float
    y: float
    radius: float
    thick: float = 1.0
    white: bool = False


@dataclass(frozen=True, slots=True)
class Squares:
    """The dark modules of a square code, `size` wide each, as lower left corner and count to the right."""

    runs: tuple[tuple[float, float, int], ...]
    size: float


Mark = Text | Rule | Shape | Disc | Squares


@dataclass(frozen=True, slots=True)
class Page:
    width: float
    height: float
    marks: tuple[Mark, ...]
