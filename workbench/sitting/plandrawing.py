"""A coil in its window as it is drawn: cut across, its tooth standing on its root, each wire at its place; mm.

`u` goes from the tooth's flank towards its neighbour, `v` from the root towards the tip, whichever way the teeth point.
"""

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from workbench.rewind import polygon
from workbench.rewind.coil import CoilOrder, Manner
from workbench.rewind.section import Section
from workbench.rewind.window import LARGEST_MM, Core, Lining, Window, neighbour_line
from workbench.rewindwords import TOOTH_WORD, TURNING_WORDS
from workbench.stator.layout import Facing

Point = tuple[float, float]
Polygon = tuple[Point, ...]

_ARC = 40
_SCALES = (0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500)


@dataclass(frozen=True, slots=True)
class DrawnLayer:
    """Counted from the tooth out, 1 first; its wires' middles in the order they are wound."""

    number: int
    wires: tuple[Point, ...]

    @property
    def odd(self) -> bool:
        return self.number % 2 == 1


@dataclass(frozen=True, slots=True)
class Nearest:
    """Where the coil comes nearest to what turns, and how near; below 0 where it would be run into."""

    coil: Point
    turning: Point
    mm: float


@dataclass(frozen=True, slots=True)
class PlanDrawing:
    """`low`, `high`: corners of what is seen; `tip`: height of the tooth. `iron`: tooth, neighbour and what they stand
    on, `lined`: lining and window together, `turning`: flywheel or what turns inside. `shared`: the line that the slot
    is shared along; None beside a bare neighbour. `in_layers`: whether wires come to lie so, or are only spread evenly.
    `scale_mm`: the length of a scale bar that suits it.
    """

    low: Point
    high: Point
    iron: tuple[Polygon, ...]
    lined: Polygon
    window: Polygon
    shared: tuple[Point, Point] | None
    turning: Polygon
    nearest: Nearest | None
    layers: tuple[DrawnLayer, ...]
    in_layers: bool
    wire_mm: float
    bare_mm: float
    scale_mm: float
    tip: float
    tooth_name: str
    turning_name: str

    @property
    def wires(self) -> int:
        return sum(len(x.wires) for x in self.layers)


def plan_drawing(order: CoilOrder, window: Window | None, section: Section | None) -> PlanDrawing:
    """`window` and `section` None where there is none."""
    place = _placed(order.core)
    long = order.core.ends_mm[1] - order.core.ends_mm[0]
    corners = tuple(place(*p) for p in window.corners) if window is not None else ()
    layers = tuple(
        DrawnLayer(i, tuple(place(x, row.y_mm) for x in row.x_mm))
        for i, row in enumerate(section.rows if section is not None else (), 1)
    )
    wide = max((u for u, _ in corners), default=order.core.tooth_mm)
    low_u, high_u = -order.core.tooth_mm / 2, wide + max(1.0, 0.25 * wide)
    thick = max(1.0, 0.08 * long)
    turns_at = _turning_at(order)
    near = turns_at is not None and abs(turns_at(0.0) - long) < 0.6 * long
    top = max(long, *(turns_at(u) for u in (low_u, high_u, 0.0))) if near and turns_at is not None else long
    low, high = (low_u, -thick), (high_u, top + thick)
    turning: Polygon = ()
    if near and turns_at is not None:
        arc = tuple((u, turns_at(u)) for u in _across(low_u, high_u))
        turning = (*arc, (high_u, high[1]), (low_u, high[1]))
    return PlanDrawing(
        low,
        high,
        tuple(_iron(order.core, low, high)),
        tuple(place(*p) for p in _lined(order)),
        corners,
        _shared(order.core, place) if order.core.neighbour_wound else None,
        turning,
        _nearest(order, section, place) if section is not None else None,
        layers,
        order.manner is Manner.LAYERED,
        order.wire.placing_mm,
        order.wire.gauge.mm,
        max(x for x in _SCALES if x <= max(_SCALES[0], 0.4 * (high_u - low_u))),
        long,
        TOOTH_WORD,
        TURNING_WORDS[order.core.facing],
    )


def _placed(core: Core) -> Callable[[float, float], Point]:
    """From the engine's x along the tooth and y off its flank."""
    if core.facing is Facing.INWARD:
        return lambda x, y: (y, core.root_mm - x)
    return lambda x, y: (y, x - core.root_mm)


def _across(low: float, high: float) -> Iterator[float]:
    return (low + (high - low) * i / _ARC for i in range(_ARC + 1))


def _rises(core: Core, radius: float) -> Callable[[float], float]:
    """Height of a circle about the middle of the ring, over its root, at u; the side of it that the teeth are on."""
    outward = core.facing is Facing.OUTWARD
    middle = -core.root_mm if outward else core.root_mm

    def at(u: float) -> float:
        half = math.sqrt(max(0.0, radius**2 - (u + core.tooth_mm / 2) ** 2))
        return middle + half if outward else middle - half

    return at


def _turning_at(order: CoilOrder) -> Callable[[float], float] | None:
    """Where what turns begins, at u; None where that wasn't measured."""
    reach = order.room.flywheel_mm
    if reach is None:
        return None
    if order.core.facing is Facing.STRAIGHT:
        above = reach - order.core.root_mm
        return lambda u: above
    return _rises(order.core, reach)


# ---- iron and lining


def _iron(core: Core, low: Point, high: Point) -> Iterator[Polygon]:
    long, below = core.ends_mm[1] - core.ends_mm[0], low[1]
    own: Polygon = ((low[0], below), (0.0, below), (0.0, long), (low[0], long))
    yield own
    if core.facing is Facing.STRAIGHT:
        gap = core.gap_mm or 0.0
        yield (low[0], below), (high[0], below), (high[0], 0.0), (low[0], 0.0)
        yield (gap, below), (gap + core.tooth_mm, below), (gap + core.tooth_mm, long), (gap, long)
        return
    stands = _rises(core, core.root_mm)
    yield (*((u, stands(u)) for u in _across(*sorted((low[0], high[0])))), (high[0], below), (low[0], below))
    yield tuple(_turned(core, p) for p in ((-core.tooth_mm, below), (0.0, below), (0.0, long), (-core.tooth_mm, long)))


def _turned(core: Core, p: Point) -> Point:
    """A point of this tooth, on its neighbour."""
    assert core.teeth is not None
    a = 2 * math.pi / core.teeth
    outward = core.facing is Facing.OUTWARD
    middle = (-core.tooth_mm / 2, -core.root_mm if outward else core.root_mm)
    du, dv = p[0] - middle[0], p[1] - middle[1]
    lean = math.sin(a) if outward else -math.sin(a)
    return middle[0] + du * math.cos(a) + dv * lean, middle[1] - du * lean + dv * math.cos(a)


def _lined(order: CoilOrder) -> Polygon:
    """What lining and window share, in the engine's coordinates: this coil's part of the slot, up to its flanges."""
    low, high = order.core.ends_mm
    top = LARGEST_MM if order.lining.flange_mm is None else order.lining.flange_mm
    return polygon.clipped(((low, 0.0), (high, 0.0), (high, top), (low, top)), neighbour_line(order.core, order.lining))


def _shared(core: Core, place: Callable[[float, float], Point]) -> tuple[Point, Point] | None:
    """From root to tip, as far as it is over the flank."""
    nx, ny, least = neighbour_line(core, Lining())
    ends = [(x, (least - nx * x) / ny) for x in core.ends_mm]
    if all(y < 0 for _, y in ends):
        return None
    first, last = (place(*p) for p in ends)
    return first, last


# ---- what turns


def _nearest(order: CoilOrder, section: Section, place: Callable[[float, float], Point]) -> Nearest | None:
    """Of the coil's outline, by the same distances that its clearance goes by."""
    reach, core, half = order.room.flywheel_mm, order.core, order.core.tooth_mm / 2
    if reach is None:
        return None
    if core.facing is Facing.STRAIGHT:
        x, y, r = max(section.outline, key=lambda p: p[0] + p[2])
        return Nearest(place(x + r, y), place(reach, y), reach - x - r)
    side = 1.0 if core.facing is Facing.OUTWARD else -1.0
    x, y, r = max(section.outline, key=lambda p: side * math.hypot(p[0], p[1] + half) + p[2])
    far = math.hypot(x, y + half)

    def on(radius: float) -> Point:
        return place(x * radius / far, (y + half) * radius / far - half)

    edge = far + side * r
    return Nearest(on(edge), on(reach), side * (reach - edge))
