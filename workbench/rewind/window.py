"""The room that a coil has beside its tooth: the half slot that it shares with its neighbour, less its lining.

Coordinates, mm: x along the tooth, from the middle of the ring outwards (from its root on a straight core); y away from
the tooth's flank, 0 on the bare iron. One side of the tooth is drawn; the other is its mirror image.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from workbench.rewind import polygon
from workbench.rewind.errors import MisfitError, RewindError
from workbench.rewind.polygon import HalfPlane, Point
from workbench.stator.layout import MOST_TEETH, Facing

LARGEST_MM = 1000.0
MOST_CORNERS = 24
_CHORDS = 8
_FLAT = 1e-6


@dataclass(frozen=True, slots=True)
class Core:
    """The iron around one coil, mm. Raises RewindError where it contradicts itself.

    `root_mm` and `tip_mm`: distance of the tooth's two ends from the middle of the ring, where the wire may lie up to
    (the root's end is its hub or ring, the tip's the shoe, or the tooth's end); on a straight core from the root, so
    that `root_mm` is 0 as a rule. `tooth_mm` and `stack_mm`: the tooth's width and the height of its stack. `gap_mm`:
    between two legs of a straight core, nothing else. `neighbour_wound`: whether the next tooth bears a coil too, so
    that each has half the slot.
    """

    facing: Facing
    tooth_mm: float
    stack_mm: float
    root_mm: float
    tip_mm: float
    teeth: int | None = None
    gap_mm: float | None = None
    neighbour_wound: bool = True

    def __post_init__(self) -> None:
        for field, sentence in _wrong(self):
            raise RewindError(field, sentence)

    @property
    def ends_mm(self) -> tuple[float, float]:
        """Least and largest x between root and tip."""
        return (min(self.root_mm, self.tip_mm), max(self.root_mm, self.tip_mm))


def _wrong(c: Core) -> Iterator[tuple[str, str]]:
    for field in ("tooth_mm", "stack_mm", "tip_mm"):
        value = getattr(c, field)
        if not 0 < value <= LARGEST_MM:
            yield field, f"must lie above 0 and at most {LARGEST_MM:g} mm, not at {value:g} mm"
    if not 0 <= c.root_mm <= LARGEST_MM:
        yield "root_mm", f"must lie from 0 to {LARGEST_MM:g} mm, not at {c.root_mm:g} mm"
    if (c.root_mm < c.tip_mm) != (c.facing is not Facing.INWARD) or c.root_mm == c.tip_mm:
        way = "on a straight core" if c.facing is Facing.STRAIGHT else f"where the teeth point {c.facing}"
        which = "further in than" if c.facing is Facing.INWARD else "further out than"
        yield "tip_mm", f"{way} the tip must lie {which} the root"
    if c.facing is Facing.STRAIGHT:
        if c.gap_mm is None or not 0 < c.gap_mm <= LARGEST_MM:
            yield "gap_mm", "a straight core needs the gap between its legs"
        if c.teeth is not None:
            yield "teeth", "a straight core has no ring of teeth"
    elif c.gap_mm is not None:
        yield "gap_mm", "only a straight core has a gap between legs; a ring's comes from its teeth"
    elif c.teeth is None or not 3 <= c.teeth <= MOST_TEETH:
        yield "teeth", f"a ring with a window between its teeth has from 3 to {MOST_TEETH} of them"


@dataclass(frozen=True, slots=True)
class Lining:
    """What lies between iron and wire, mm of thickness: a liner, or the walls of a bobbin.

    `flank_mm` on the tooth's sides, `end_mm` on the ends of the stack, `root_mm` and `tip_mm` at the tooth's ends (a
    bobbin's flanges), `neighbour_mm` kept clear of the line shared with the neighbour, or of its bare iron.
    `flange_mm`: how far the flanges stand out from the bare flank, when they limit the coil.
    """

    flank_mm: float = 0.0
    end_mm: float = 0.0
    root_mm: float = 0.0
    tip_mm: float = 0.0
    neighbour_mm: float = 0.0
    flange_mm: float | None = None

    def __post_init__(self) -> None:
        for field in ("flank_mm", "end_mm", "root_mm", "tip_mm", "neighbour_mm", "flange_mm"):
            value = getattr(self, field)
            if value is not None and not 0 <= value <= LARGEST_MM:
                raise RewindError(field, f"must lie from 0 to {LARGEST_MM:g} mm, not at {value:g} mm")

    @classmethod
    def liner(cls, mm: float) -> "Lining":
        """One thickness on the whole tooth."""
        return cls(mm, mm, mm, mm)


@dataclass(frozen=True, slots=True)
class Window:
    """Where wire may lie: `corners` of a convex polygon in turn, counterclockwise, mm, its lining already taken off.

    Its lowest edge is the floor, along the tooth. Raises RewindError when it is not convex, lies below the flank, or
    widens away from the floor (the upper layers would hang in the air).
    """

    corners: tuple[Point, ...]

    def __post_init__(self) -> None:
        if len(self.corners) > MOST_CORNERS or not polygon.is_convex(self.corners):
            raise RewindError(
                "corners", f"a window is convex, its 3 to {MOST_CORNERS} corners given counterclockwise, with an area"
            )
        if any(not (abs(x) <= LARGEST_MM and 0 <= y <= LARGEST_MM) for x, y in self.corners):
            raise RewindError("corners", f"a window lies beside the tooth's flank (y = 0) and within {LARGEST_MM:g} mm")
        low, high = self._floor()
        if any(not low - _FLAT <= x <= high + _FLAT for x, _ in self.corners):
            raise RewindError("corners", "a window is nowhere longer than at its floor; upper layers would hang in air")

    def _floor(self) -> tuple[float, float]:
        on = [x for x, y in self.corners if y <= self.floor_mm + _FLAT]
        return min(on), max(on)

    @property
    def floor_mm(self) -> float:
        """y of its floor."""
        return min(y for _, y in self.corners)

    @property
    def depth_mm(self) -> float:
        """From its floor to its highest corner."""
        return max(y for _, y in self.corners) - self.floor_mm

    @property
    def area_mm2(self) -> float:
        return polygon.area(self.corners)

    def deepened(self, mm: float) -> "Window":
        """The same with all but its floor moved so much further from the tooth."""
        floor, (low, high) = self.floor_mm, self._floor()
        start = next(i for i, (x, y) in enumerate(self.corners) if y <= floor + _FLAT and x >= high - _FLAT)
        turned = [*self.corners[start:], *self.corners[:start]]
        upper = [(x, y + mm) for x, y in turned if y > floor + _FLAT]
        return Window(
            polygon.without_twins([(low, floor), (high, floor), (high, floor + mm), *upper, (low, floor + mm)])
        )

    def below(self, build_mm: float) -> tuple[Point, ...]:
        """Corners of what lies within this build of the floor."""
        return polygon.clipped(self.corners, (0.0, -1.0, -(self.floor_mm + build_mm)))


def window_of(core: Core, lining: Lining) -> Window:
    """The half slot (the whole one beside a bare neighbour) less its lining. Raises MisfitError when none is left."""
    low, high = core.ends_mm
    inward = core.facing is Facing.INWARD
    low += lining.tip_mm if inward else lining.root_mm
    high -= lining.root_mm if inward else lining.tip_mm
    floor, top = lining.flank_mm, LARGEST_MM if lining.flange_mm is None else lining.flange_mm
    corners: tuple[Point, ...] = (
        ((low, floor), (high, floor), (high, top), (low, top)) if high > low and top > floor else ()
    )
    for limit in (neighbour_line(core, lining), *(_ring(core, lining) if inward else ())):
        corners = polygon.clipped(corners, limit)
    if len(corners) < 3 or polygon.area(corners) < 1e-6:
        raise MisfitError("lining", "between lining and neighbour no room is left for wire")
    return Window(corners)


def _ring(core: Core, lining: Lining) -> Iterator[HalfPlane]:
    """The inside of the ring that inward teeth stand on, as chords: inside the arc everywhere. A hub that outward
    teeth stand on falls away from them, so that a straight line is on the safe side.
    """
    assert core.teeth is not None
    half = core.tooth_mm / 2
    if half >= core.root_mm:
        return
    start, end = math.asin(half / core.root_mm), 2 * math.pi / core.teeth
    for i in range(_CHORDS if end > start else 0):
        middle = start + (i + 0.5) * (end - start) / _CHORDS
        within = core.root_mm * math.cos((end - start) / _CHORDS / 2) - lining.root_mm
        nx, ny = -math.cos(middle), -math.sin(middle)
        yield (nx, ny, -within - ny * half)


def neighbour_line(core: Core, lining: Lining) -> HalfPlane:
    """The line that the slot is shared along, or the bare neighbour's flank, with its clearance. (nx, ny, least): this
    side of it has nx x + ny y >= least.
    """
    if core.gap_mm is not None:
        return (0.0, -1.0, lining.neighbour_mm - core.gap_mm / (2 if core.neighbour_wound else 1))
    assert core.teeth is not None
    half = core.tooth_mm / 2
    # seen from the ring's middle: the slot's own middle line, or the neighbour's axis with its half width
    turn = (1 if core.neighbour_wound else 2) * math.pi / core.teeth
    iron = 0.0 if core.neighbour_wound else half
    nx, ny = math.sin(turn), -math.cos(turn)
    return (nx, ny, iron + lining.neighbour_mm - ny * half)
