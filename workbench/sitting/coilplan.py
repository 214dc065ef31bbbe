"""Where the iron and the coils of a layout lie in its sketch. Geometry only: x to the right, y down."""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import lru_cache

from workbench.sitting.faceplan import Box
from workbench.stator.layout import Coil, Facing, Layout, Wire, usual_wire
from workbench.stator.pattern import Pattern

Point = tuple[float, float]
Polygon = tuple[Point, ...]

# Lengths are in radii of the ring, or in teeth's pitches on a straight core.
BESIDE_ROOT, BESIDE_TIP, BESIDE_HALF = 1.1, 1.36, 0.17
GAP = 0.02
CLEAR = 1.03
STEP = math.radians(3)  # arcs are drawn in chords no longer than this
TONES = 3


@dataclass(frozen=True, slots=True)
class CoilSpot:
    """A coil as a box across its tooth: `along` the tooth's axis and `across` it, around its centre.

    `angle` turns the axis from straight up, clockwise, radians. `lane` from -1 to 1 is where across the coil a line
    to its label begins, so that two coils of a stack don't have one line.
    """

    winding: str
    wire: Wire
    sense: int | None
    centre: Point
    angle: float
    along: float
    across: float
    lane: float

    @property
    def axis(self) -> Point:
        """Unit vector from root to tip."""
        return (math.sin(self.angle), -math.cos(self.angle))

    def at(self, along: float, across: float) -> Point:
        """A place in the coil's own frame, from its centre."""
        (ax, ay), (x, y) = self.axis, self.centre
        return (x + ax * along - ay * across, y + ay * along + ax * across)

    def holds(self, x: float, y: float, margin: float = 0.0) -> bool:
        (ax, ay), dx, dy = self.axis, x - self.centre[0], y - self.centre[1]
        along, across = dx * ax + dy * ay, dy * ax - dx * ay
        return abs(along) <= self.along / 2 + margin and abs(across) <= self.across / 2 + margin

    @property
    def corners(self) -> Polygon:
        a, c = self.along / 2, self.across / 2
        return (self.at(-a, -c), self.at(a, -c), self.at(a, c), self.at(-a, c))


@dataclass(frozen=True, slots=True)
class Wound:
    """A winding that has coils: `coils` are their places in the plan; `tone` tells it from others of the same wire.

    `words` say where it is wound and of what: `tooth 1 and 4, fine wire`.
    """

    name: str
    coils: tuple[int, ...]
    tone: int
    wire: Wire
    words: str

    def spoken(self, lit: bool) -> str:
        return f"{self.name}, {self.words}{', lit' if lit else ''}"


@dataclass(frozen=True, slots=True)
class ToothName:
    number: int
    at: Point
    room: float  # the iron it may take: along the ring or yoke, and across it
    depth: float


@dataclass(frozen=True, slots=True)
class CoilPlan:
    """`iron` is filled by the even-odd rule: outlines and bores. `box` holds all. A ring's centre is the origin."""

    facing: Facing
    box: Box
    iron: tuple[Polygon, ...]
    stubs: tuple[Polygon, ...]
    teeth: tuple[ToothName, ...]
    coils: tuple[CoilSpot, ...]
    windings: tuple[Wound, ...]

    def winding(self, name: str) -> Wound:
        return next(w for w in self.windings if w.name == name)

    @property
    def solid(self) -> tuple[Box, ...]:
        """What lines to the names had better not cross, the ring aside."""
        if self.facing is Facing.STRAIGHT:
            return (self.box,)
        half = 0.75 * BESIDE_HALF
        beside = (c.centre for c in self.coils if math.hypot(*c.centre) > 1)
        return tuple(Box(x - half, y - half, 2 * half, 2 * half) for x, y in beside)

    def lead(self, winding: str) -> tuple[Point, Point]:
        """Where a line to a winding's name begins, on its first coil, and where it is clear of the core."""
        c = self.coils[self.winding(winding).coils[0]]
        x, y = c.at(0, c.lane * c.across / 2)
        if self.facing is Facing.STRAIGHT:
            return (x, y), (x, self.box.y - 0.03)
        (ax, ay), away = c.axis, math.hypot(*c.centre)
        if away > 1:
            return (x, y), (x + ax * 0.6 * c.along, y + ay * 0.6 * c.along)
        if self.facing is Facing.INWARD:
            ax, ay = -ax, -ay
        # along the tooth's own axis, until the rim is behind
        b = x * ax + y * ay
        t = -b + math.sqrt(b * b - (x * x + y * y - CLEAR * CLEAR))
        return (x, y), (x + ax * t, y + ay * t)

    def tooth_at(self, x: float, y: float) -> int | None:
        """The number of the tooth in whose share of the core the place lies; None beside the core."""
        if self.facing is Facing.STRAIGHT:
            b = self.box
            inside = b.x <= x <= b.x + b.width and b.y <= y <= b.y + b.height
            return min(self.teeth, key=lambda t: abs(t.at[0] - x)).number if inside else None
        away = math.hypot(x, y)
        if not 0 < away <= 1:
            return None
        return max(self.teeth, key=lambda t: (t.at[0] * x + t.at[1] * y) / (math.hypot(*t.at) * away)).number

    def coil_at(self, x: float, y: float, margin: float = 0.0) -> CoilSpot | None:
        """The nearest coil whose box, grown by `margin`, holds the place."""
        near = [c for c in self.coils if c.holds(x, y, margin)]
        return min(near, key=lambda c: math.dist(c.centre, (x, y)), default=None)


@dataclass(frozen=True, slots=True)
class _Tooth:
    """One tooth's room for wire: its axis, from root to tip along it, and half its width."""

    origin: Point
    angle: float
    root: float
    tip: float
    half: float


@dataclass(frozen=True, slots=True)
class _Ring:
    """Radii of a ring with teeth; the shoe lies from `shoe` to `face`, the coils' room from `root` to `shoe`.

    `shaft` and `coil`: half the width of a tooth, and of what is wound on it.
    """

    root: float
    shoe: float
    face: float
    bore: float | None
    shaft: float
    coil: float


@lru_cache(maxsize=64)
def coil_plan(pattern: Pattern) -> CoilPlan | None:
    """None for a pattern without a layout."""
    layout = pattern.layout
    if layout is None:
        return None
    return _plan(layout, lambda name: usual_wire(pattern.winding(name).kind), _windings(pattern, layout))


def plain_plan(layout: Layout, tones: Mapping[str, int]) -> CoilPlan:
    """Of a layout that no pattern has: `tones` by the names of its coils, which must say their wire."""

    def wound(name: str) -> Wound:
        own = tuple(i for i, c in enumerate(layout.coils) if c.winding == name)
        return Wound(name, own, tones[name] % TONES, layout.coils[own[0]].wire or Wire.HEAVY, "")

    return _plan(layout, lambda _: Wire.HEAVY, tuple(wound(name) for name in layout.windings))


def _plan(layout: Layout, usual: Callable[[str], Wire], windings: tuple[Wound, ...]) -> CoilPlan:
    if layout.facing is Facing.STRAIGHT:
        teeth, iron, names, box = _straight(layout.teeth)
    else:
        teeth, iron, names, box = _round(layout)
    spots, stubs = _coils(usual, layout, teeth)
    return CoilPlan(layout.facing, _around(box, stubs), iron, stubs, names, spots, windings)


# ---- iron

_Core = tuple[dict[int, _Tooth], tuple[Polygon, ...], tuple[ToothName, ...], Box]


def _round(layout: Layout) -> _Core:
    n = layout.teeth
    ring = _ring(layout.facing, n)
    # a coil is straight where shoe and ring are round: its corners must clear them
    outer = math.sqrt(max(ring.root, ring.shoe) ** 2 - ring.coil**2)
    root, tip = (ring.root, outer) if layout.facing is Facing.OUTWARD else (outer, ring.shoe)
    teeth = {k: _Tooth((0, 0), _angle(k, n), root, tip, ring.coil) for k in range(1, n + 1)}
    if layout.facing is Facing.INWARD:
        # the axis of an inward tooth points to the middle
        teeth = {k: _Tooth((0, 0), t.angle + math.pi, -t.root, -t.tip, t.half) for k, t in teeth.items()}
    iron = [_contour(ring, n)]
    if layout.facing is Facing.INWARD:
        iron.append(_circle(1.0))
    elif ring.bore is not None:
        iron.append(_circle(ring.bore))
    back = 1.0 if ring.bore is None else ring.bore
    middle = (ring.root + back) / 2
    room = min(2 * middle * math.sin(min(math.pi / n, math.pi / 2)), 0.4)
    names = tuple(ToothName(k, _polar(middle, _angle(k, n)), room, abs(ring.root - back)) for k in range(1, n + 1))
    return teeth, tuple(iron), names, Box(-1, -1, 2, 2)


def _ring(facing: Facing, n: int) -> _Ring:
    """More teeth need a larger root circle, or there is no slot left to wind in."""
    half_pitch = min(math.pi / n, 0.6)
    if facing is Facing.OUTWARD:
        root = min(0.36 + 0.012 * n, 0.64)
        coil = min(0.9 * root * math.tan(half_pitch), 0.26)
        return _Ring(root, 0.88, 1.0, root - 0.24, coil * 0.5, coil)
    shoe = min(0.4 + 0.01 * n, 0.6)
    coil = min(0.9 * shoe * math.tan(half_pitch), 0.2)
    return _Ring(0.82, shoe, shoe - 0.1, None, coil * 0.5, coil)


def _contour(ring: _Ring, n: int) -> Polygon:
    """The outline of the teeth, once around; for an inward core the hole's."""
    half_shoe = min(0.8 * math.pi / n, 0.55)
    out: list[Point] = []
    at_root, at_shoe = math.asin(ring.shaft / ring.root), math.asin(ring.shaft / ring.shoe)
    for k in range(1, n + 1):
        a = _angle(k, n)
        out += [_polar(ring.root, a - at_root), _polar(ring.shoe, a - at_shoe), _polar(ring.shoe, a - half_shoe)]
        out += _arc(ring.face, a - half_shoe, a + half_shoe)
        out += [_polar(ring.shoe, a + half_shoe), _polar(ring.shoe, a + at_shoe)]
        out += _arc(ring.root, a + at_root, a + 2 * math.pi / n - at_root)
    return tuple(out)


def _straight(n: int) -> _Core:
    """Legs up from a yoke, a pitch of 1 apart."""
    left, shaft, yoke, leg = -(n - 1) / 2, 0.2, 0.42, 1.2
    outline: list[Point] = []
    for k in range(n):
        x = left + k
        outline += [(x - shaft, 0), (x - shaft, -leg), (x + shaft, -leg), (x + shaft, 0)]
    outline += [(left + n - 1 + shaft, yoke), (left - shaft, yoke)]
    teeth = {k + 1: _Tooth((left + k, 0), 0.0, 0.04, leg - 0.12, 0.44) for k in range(n)}
    names = tuple(ToothName(k + 1, (left + k, yoke / 2), 0.5, yoke) for k in range(n))
    return teeth, (tuple(outline),), names, Box(left - 0.5, -leg, n, leg + yoke)


def _angle(tooth: int, teeth: int) -> float:
    return 2 * math.pi * (tooth - 1) / teeth


def _polar(radius: float, angle: float) -> Point:
    return (radius * math.sin(angle), -radius * math.cos(angle))


def _arc(radius: float, start: float, end: float) -> list[Point]:
    steps = max(1, math.ceil(abs(end - start) / STEP))
    return [_polar(radius, start + (end - start) * i / steps) for i in range(steps + 1)]


def _circle(radius: float) -> Polygon:
    return tuple(_arc(radius, 0, 2 * math.pi))


# ---- coils


def _coils(
    usual: Callable[[str], Wire], layout: Layout, teeth: dict[int, _Tooth]
) -> tuple[tuple[CoilSpot, ...], tuple[Polygon, ...]]:
    spots, stubs = [], {}
    stacks: dict[object, tuple[Coil, ...]] = {c.spot: layout.stack(c) for c in layout.coils}
    for c in layout.coils:
        stack = stacks[c.spot]
        if c.tooth is not None:
            tooth = teeth[c.tooth]
        else:
            assert c.beside_degrees is not None
            tooth = _Tooth((0, 0), math.radians(c.beside_degrees), BESIDE_ROOT, BESIDE_TIP, BESIDE_HALF)
            stubs[c.spot] = _stub(tooth)
        spots.append(_spot(usual, layout, c, tooth, stack.index(c), len(stack)))
    return tuple(spots), tuple(stubs.values())


def _spot(usual: Callable[[str], Wire], layout: Layout, c: Coil, t: _Tooth, rank: int, of: int) -> CoilSpot:
    room = (t.tip - t.root - GAP * (of + 1)) / of
    middle = t.root + GAP + room / 2 + rank * (room + GAP)
    ax, ay = math.sin(t.angle), -math.cos(t.angle)
    centre = (t.origin[0] + ax * middle, t.origin[1] + ay * middle)
    # an inward tooth's number stands at its root, where the line passes
    alone = 0.6 if layout.facing is Facing.INWARD and c.tooth is not None else 0.0
    lane = alone if of == 1 else -0.62 + 1.24 * rank / (of - 1)
    return CoilSpot(
        c.winding,
        c.wire or usual(c.winding),
        c.sense,
        centre,
        t.angle,
        room,
        2 * t.half,
        lane,
    )


def _stub(t: _Tooth) -> Polygon:
    """The little core that a coil on a bracket is wound around."""
    half = 0.4 * t.half
    spot = CoilSpot("", Wire.FINE, None, _polar((t.root + t.tip) / 2, t.angle), t.angle, t.tip - t.root, 2 * half, 0)
    return spot.corners


def _around(box: Box, stubs: tuple[Polygon, ...]) -> Box:
    """The box grown to hold what stands beside the ring, its wire too."""
    wire = BESIDE_HALF
    xs = [box.x, box.x + box.width, *(x + s for p in stubs for x, _ in p for s in (-wire, wire))]
    ys = [box.y, box.y + box.height, *(y + s for p in stubs for _, y in p for s in (-wire, wire))]
    return Box(min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys))


def _windings(pattern: Pattern, layout: Layout) -> tuple[Wound, ...]:
    out, tones = [], dict.fromkeys(Wire, 0)
    for name in layout.windings:
        own = [i for i, c in enumerate(layout.coils) if c.winding == name]
        usual = usual_wire(pattern.winding(name).kind)
        wires = list(dict.fromkeys(layout.coils[i].wire or usual for i in own))
        tone, said = tones[wires[0]] % TONES, _words([layout.coils[i] for i in own], wires)
        out.append(Wound(name, tuple(own), tone, wires[0], said))
        tones[wires[0]] += 1
    return tuple(out)


def _words(coils: list[Coil], wires: list[Wire]) -> str:
    said = []
    teeth = sorted({c.tooth for c in coils if c.tooth is not None})
    if teeth:
        said.append(f"tooth {_listed([str(t) for t in teeth])}")
    beside = sorted({c.beside_degrees for c in coils if c.beside_degrees is not None})
    if beside:
        said.append(f"beside the ring at {_listed([f'{d:g}' for d in beside])} degrees")
    return ", ".join((*said, f"{_listed(sorted(wires))} wire"))


def _listed(names: list[str]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"
