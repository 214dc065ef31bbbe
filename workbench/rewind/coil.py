"""A coil planned: how it lies in its window, what it takes and what it will read, or by how much it doesn't fit."""

import math
from collections.abc import Iterator
from dataclasses import dataclass, field
from enum import StrEnum

from workbench.rewind.errors import MisfitError, RewindError
from workbench.rewind.rows import Lay
from workbench.rewind.section import Section, laid_in_layers, scattered
from workbench.rewind.window import Core, Lining, Window, window_of
from workbench.rewind.wire import Wire, area_mm2
from workbench.stator.copper import COPPER_K, factor
from workbench.stator.layout import Facing

MOST_TURNS = 30_000
MOST_WIRES = 30_000
# area of round wire over enamel in an infinite nested lattice, pi / (2 sqrt 3): no coil reaches it
LATTICE_LIMIT = math.pi / (2 * math.sqrt(3))


class Manner(StrEnum):
    """LAYERED: turn beside turn, row on row. SCRAMBLE: as the wire falls."""

    LAYERED = "layered"
    SCRAMBLE = "scramble"


class Fit(StrEnum):
    """Which of the two bounds of a layered coil go in; a scramble coil goes by its FILL."""

    BOTH = "both"
    SQUARE = "square"
    NESTED = "nested"
    FILL = "fill"


class Caution(StrEnum):
    """What a plan that fits should still be read with."""

    NESTED_ONLY = "nested-only"  # it goes in only with every wire in a groove
    HIGH_FILL = "high-fill"  # more over-enamel fill than hands usually get
    LAID_BY_NOMINAL = "laid-by-nominal"  # the largest diameter over enamel isn't known
    USUAL_TOLERANCE = "usual-tolerance"  # nor the bare wire's own tolerance


@dataclass(frozen=True, slots=True)
class Fills:
    """Fill over enamel, as a share of the window. Both are common practice, no source; a shop's own replace them."""

    scramble: float = 0.50
    layered_warns: float = 0.60

    def __post_init__(self) -> None:
        for name in ("scramble", "layered_warns"):
            if not 0.05 <= getattr(self, name) <= LATTICE_LIMIT:
                raise RewindError(
                    name, f"a fill lies from 0.05 to {LATTICE_LIMIT:.3f}, which not even endless nested wire passes"
                )


@dataclass(frozen=True, slots=True)
class Allowances:
    """What hands add; common practice, no source, so a shop sets its own.

    `bulge`: how much more the build is at the ends of the stack, as a share of it. `stretch`: how much longer the wire
    gets under tension, as a share. Both are taken to lie anywhere from 0 to twice this. `tails_mm`: both leads' wire
    together. `spare`: share bought on top. `core_u_mm`: standard uncertainty of the tooth's width and of its stack's
    height.
    """

    bulge: float = 0.05
    stretch: float = 0.005
    tails_mm: float = 300.0
    spare: float = 0.10
    core_u_mm: float = 0.1

    def __post_init__(self) -> None:
        for name, most in (("bulge", 1.0), ("stretch", 0.1), ("tails_mm", 1e5), ("spare", 1.0), ("core_u_mm", 10.0)):
            if not 0 <= getattr(self, name) <= most:
                raise RewindError(name, f"must lie from 0 to {most:g}, not at {getattr(self, name):g}")


@dataclass(frozen=True, slots=True)
class Room:
    """What turns or stands close to the coil, mm; None where it wasn't measured.

    `flywheel_mm`: radius of the flywheel's inside around outward teeth (of what turns inside inward ones); on a
    straight core, from the tooth's root. `end_mm`: free height over each end of the stack. `least_mm`: what must stay.
    """

    flywheel_mm: float | None = None
    end_mm: float | None = None
    least_mm: float = 0.5

    def __post_init__(self) -> None:
        for name in ("flywheel_mm", "end_mm", "least_mm"):
            if getattr(self, name) is not None and not 0 <= getattr(self, name) <= 1e4:
                raise RewindError(name, "must lie from 0 to 10000 mm")


@dataclass(frozen=True, slots=True)
class CoilOrder:
    """What is to be wound on one tooth. `window` is the one of core and lining unless one was traced (mm)."""

    wire: Wire
    turns: int
    core: Core
    lining: Lining = field(default_factory=Lining)
    manner: Manner = Manner.LAYERED
    window: Window | None = None
    between_mm: float = 0.0
    room: Room = field(default_factory=Room)
    fills: Fills = field(default_factory=Fills)
    allowances: Allowances = field(default_factory=Allowances)

    def __post_init__(self) -> None:
        if not 1 <= self.turns <= MOST_TURNS:
            raise RewindError("turns", f"a coil has from 1 to {MOST_TURNS:,} turns, not {self.turns}")
        if self.turns * self.wire.strands > MOST_WIRES:
            raise RewindError("turns", f"a coil of more than {MOST_WIRES:,} wires in its section is not drawn here")
        if not 0 <= self.between_mm <= 10:
            raise RewindError("between_mm", "a sheet between layers is from 0 to 10 mm thick")


@dataclass(frozen=True, slots=True)
class Ohms:
    """Nominal, and nominal -/+ 2 u (ohm)."""

    nominal: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class CoilPlan:
    """One coil that fits. Lengths mm but for `metres`, masses g.

    `square` and `nested`: the two bounds of a layered coil, None where one doesn't go in (or the manner is
    scramble); `section`: what is drawn, and what governs build and clearance. `fits_low`, `fits_high`: turns that the
    window takes, by the poorer and the better bound. `fill`: wire over enamel as a share of the window.
    `mean_turn_u_mm`: its standard uncertainty. `metres`: along the coil as wound, leads included, one strand's.
    `u`: relative standard uncertainty of the ohms. `copper_grams` in it, `buy_grams` of bare copper with the spare,
    `buy_enamelled_grams` with its enamel too (whose density is from memory). `flywheel_mm`, `end_mm`: clearances,
    None where the room wasn't measured.
    """

    order: CoilOrder
    window: Window
    fit: Fit
    square: Section | None
    nested: Section | None
    section: Section
    fits_low: int
    fits_high: int
    fill: float
    build_mm: float
    mean_turn_mm: float
    mean_turn_u_mm: float
    metres: float
    ohms_20: float
    u: float
    copper_grams: float
    buy_grams: float
    buy_enamelled_grams: float
    flywheel_mm: float | None
    end_mm: float | None
    cautions: tuple[Caution, ...]

    def ohms_at(self, celsius: float) -> Ohms:
        """With its band, at this temperature (k = 234.5)."""
        nominal = self.ohms_20 * factor(20.0, celsius, COPPER_K)
        return Ohms(nominal, nominal * (1 - 2 * self.u), nominal * (1 + 2 * self.u))

    @property
    def turns_per_layer(self) -> tuple[float, ...]:
        """Of what is drawn, from the floor up; fractions where a turn's strands fall into two layers."""
        return tuple(r.wires / self.order.wire.strands for r in self.section.rows)


def mean_turn_mm(width_mm: float, height_mm: float, build_mm: float) -> float:
    """2(w + h) + pi b: middle turn around a tooth and its lining, corners rounded about the tooth's."""
    return 2 * (width_mm + height_mm) + math.pi * build_mm


def plan_coil(order: CoilOrder) -> CoilPlan:
    """Raises MisfitError, with the number by which it misses, when it doesn't fit."""
    window = order.window or window_of(order.core, order.lining)
    wire = order.wire
    by_lay: dict[Lay, Section] = {}
    if order.manner is Manner.LAYERED:
        both = laid_in_layers(window, wire, order.turns, order.between_mm)
        by_lay = {lay: laid for lay, (laid, n) in both.items() if n >= order.turns}
        governing = by_lay.get(Lay.SQUARE) or by_lay[Lay.NESTED]
        bounds, fits = tuple(laid for laid, _ in both.values()), tuple(n for _, n in both.values())
    else:
        governing, most = scattered(window, wire, order.turns, order.fills.scramble)
        bounds, fits = (governing,), (most,)
    fit = _fit(order.manner, by_lay)
    turn, turn_u = _mean_turn(order, bounds)
    allow = order.allowances
    metres = (order.turns * turn + allow.tails_mm) / 1000
    bought = metres / (1 + allow.stretch)
    copper = bought * wire.grams_per_metre
    flywheel, end = _clearances(order, window, governing)
    fill = order.turns * wire.strands * area_mm2(wire.placing_mm) / window.area_mm2
    return CoilPlan(
        order=order,
        window=window,
        fit=fit,
        square=by_lay.get(Lay.SQUARE),
        nested=by_lay.get(Lay.NESTED),
        section=governing,
        fits_low=min(fits),
        fits_high=max(fits),
        fill=fill,
        build_mm=governing.build_mm,
        mean_turn_mm=turn,
        mean_turn_u_mm=turn_u,
        metres=metres,
        ohms_20=metres * wire.ohms_per_metre * (1 + allow.stretch),
        u=_relative_u(order, turn_u, metres),
        copper_grams=copper,
        buy_grams=copper * (1 + allow.spare),
        buy_enamelled_grams=(copper + bought * wire.enamel_grams_per_metre) * (1 + allow.spare),
        flywheel_mm=flywheel,
        end_mm=end,
        cautions=tuple(_cautions(order, fit, fill)),
    )


def _fit(manner: Manner, by_lay: dict[Lay, Section]) -> Fit:
    if manner is Manner.SCRAMBLE:
        return Fit.FILL
    if len(by_lay) == 2:
        return Fit.BOTH
    return Fit.SQUARE if Lay.SQUARE in by_lay else Fit.NESTED


def _mean_turn(order: CoilOrder, bounds: tuple[Section, ...]) -> tuple[float, float]:
    """With its standard uncertainty, mm. For the build stands twice the mean height of the wires, the same where all
    layers are alike; it lies anywhere between the bounds, each taken as far as it goes in.
    """
    allow, lining = order.allowances, order.lining
    low, high = min(b.mean_mm for b in bounds), max(b.mean_mm for b in bounds)
    middle = (low + high) / 2
    width, height = order.core.tooth_mm + 2 * lining.flank_mm, order.core.stack_mm + 2 * lining.end_mm
    turn = mean_turn_mm(width, height, 2 * middle * (1 + allow.bulge))
    parts = (
        2 * math.sqrt(2) * allow.core_u_mm,
        2 * math.pi * ((high - low) / 2 + max(b.mean_give_mm for b in bounds)) / math.sqrt(3),
        2 * math.pi * middle * allow.bulge / math.sqrt(3),
    )
    return turn, math.hypot(*parts)


def _relative_u(order: CoilOrder, turn_u: float, metres: float) -> float:
    """Of the ohms: wire (its limits rectangular, area twice the diameter's), stretch, mean turn (JCGM 100)."""
    wire = 2 * order.wire.gauge.tolerance / math.sqrt(3)
    return math.hypot(wire, order.allowances.stretch / math.sqrt(3), order.turns * turn_u / 1000 / metres)


def _clearances(order: CoilOrder, window: Window, section: Section) -> tuple[float | None, float | None]:
    """To what turns, and over the ends of the stack, mm. Raises MisfitError below what must stay."""
    room, half = order.room, order.core.tooth_mm / 2
    flywheel = end = None
    if room.flywheel_mm is not None:
        match order.core.facing:
            case Facing.STRAIGHT:
                flywheel = room.flywheel_mm - max(x + r for x, _, r in section.outline)
            case Facing.OUTWARD:
                flywheel = room.flywheel_mm - max(math.hypot(x, y + half) + r for x, y, r in section.outline)
            case Facing.INWARD:
                flywheel = min(math.hypot(x, y + half) - r for x, y, r in section.outline) - room.flywheel_mm
    if room.end_mm is not None:
        end = room.end_mm - order.lining.end_mm - section.build_mm * (1 + order.allowances.bulge)
    for name, value, what in (("flywheel_mm", flywheel, "the flywheel"), ("end_mm", end, "what stands over the stack")):
        if value is not None and value < room.least_mm - 1e-9:
            lacks = room.least_mm - value
            left = f"{value:.2f} mm is left" if value >= 0 else f"it would stand {-value:.2f} mm into it"
            raise MisfitError(
                f"room.{name}",
                f"the coil comes {lacks:.2f} mm too close to {what}: {left} where {room.least_mm:g} mm must stay; "
                "fewer turns or thinner wire would fit",
                mm=lacks,
            )
    return flywheel, end


def _cautions(order: CoilOrder, fit: Fit, fill: float) -> Iterator[Caution]:
    if fit is Fit.NESTED:
        yield Caution.NESTED_ONLY
    if order.manner is Manner.LAYERED and fill > order.fills.layered_warns:
        yield Caution.HIGH_FILL
    if order.wire.overall.high is None:
        yield Caution.LAID_BY_NOMINAL
    if not order.wire.gauge.tolerance_known:
        yield Caution.USUAL_TOLERANCE
