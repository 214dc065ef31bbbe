"""What is written down while coils are wound: steps done, turns, ohms, senses, insulation, varnish, bake, the run."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from workbench.rewind.errors import RewindError, between
from workbench.rewind.shelf import MOST_TURNS
from workbench.rewind.wire import Wire
from workbench.stator.layout import MOST_PLACES, MOST_TEETH
from workbench.stator.meter import Meter
from workbench.stator.sheet import COLDEST, HOTTEST

LONGEST_NOTE = 300
LONGEST_NAME = 60
# an insulation test of a small part, V dc: the 500 V that IEEE 43 has below 1 kV is taken as the most
LEAST_VOLTS, MOST_VOLTS = 25.0, 500.0
MOST_MEGOHMS = 1e6
# what an oven is set to, C, and for how long, minutes; common practice, no source
COOLEST_BAKE, HOTTEST_BAKE = 40.0, 250.0
LONGEST_BAKE = 2880.0


class WoundStep(StrEnum):
    """In the order they are done. JOIN: spliced or crimped, and pulled. COLD: ohms of the finished part, cooled."""

    LINER = "liner"
    WIND = "wind"
    TIE = "tie"
    STRIP_ENDS = "strip-ends"
    JOIN = "join"
    SLEEVE = "sleeve"
    INSULATION = "insulation"
    VARNISH = "varnish"
    BAKE = "bake"
    CLEARANCE = "clearance"
    COLD = "cold"


ORDER = tuple(WoundStep)


class Way(StrEnum):
    """How a coil's sense was seen: its turns, from the tooth's tip towards its root; or the pole that a small limited
    dc makes of the tip, plus on the start of its phase.
    """

    CLOCKWISE = "clockwise"
    ANTICLOCKWISE = "anticlockwise"
    NORTH = "north"
    SOUTH = "south"

    @property
    def sense(self) -> int:
        """1 clockwise: a current that is seen to go round clockwise makes a south pole of the face that is seen."""
        return 1 if self in (Way.CLOCKWISE, Way.SOUTH) else -1

    @property
    def by_compass(self) -> bool:
        return self in (Way.NORTH, Way.SOUTH)


@dataclass(frozen=True, slots=True, order=True)
class Spot:
    """Where a coil sits: `place` in the stack on its tooth; `tooth` 0 for one beside the ring or of no known place."""

    tooth: int
    place: int = 0

    def __post_init__(self) -> None:
        _lies("tooth", self.tooth, 0, MOST_TEETH)
        _lies("place", self.place, 0, MOST_PLACES * MOST_TEETH)


@dataclass(frozen=True, slots=True)
class WoundWire:
    """`typed`: by hand, rather than what was taken off the shelf on the page Wire."""

    wire: Wire
    spool: str = ""
    typed: bool = False

    def __post_init__(self) -> None:
        _short("spool", self.spool, LONGEST_NAME)


@dataclass(frozen=True, slots=True)
class UsedMeter:
    """The meter by its name and as its specification is, and what its leads were, ohm: 0 where it was zeroed."""

    name: str
    meter: Meter
    lead_ohms: float = 0.0
    lead_u_ohms: float = 0.0

    def __post_init__(self) -> None:
        for field in ("lead_ohms", "lead_u_ohms"):
            _lies(field, getattr(self, field), 0, 1e6)


@dataclass(frozen=True, slots=True)
class CoilReading:
    """`ohms` as the meter showed them, leads included; None for an overload. `celsius` of the copper, `celsius_u` its
    standard uncertainty.
    """

    ohms: float | None
    celsius: float
    celsius_u: float
    on: UsedMeter

    def __post_init__(self) -> None:
        _lies("celsius", self.celsius, COLDEST, HOTTEST)
        _lies("celsius_u", self.celsius_u, 0, 100)
        if self.ohms is not None:
            covering = self.on.meter.covering(self.ohms)
            if covering is None:
                raise RewindError("ohms", f"{self.ohms:g} ohm lies above every range of the meter without being open")
            if self.ohms < covering.floor:
                raise RewindError("ohms", f"{self.ohms:g} ohm lies further below 0 than this meter may be off")


@dataclass(frozen=True, slots=True)
class CoilWound:
    """`turns` by the counter; None where not counted."""

    spot: Spot
    turns: int | None = None
    wire: WoundWire | None = None
    reading: CoilReading | None = None

    def __post_init__(self) -> None:
        if self.turns is not None and not 1 <= self.turns <= MOST_TURNS:
            raise RewindError("turns", f"a coil has from 1 to {MOST_TURNS:,} turns, not {self.turns}")


@dataclass(frozen=True, slots=True)
class SenseSeen:
    spot: Spot
    way: Way


@dataclass(frozen=True, slots=True)
class Done:
    """A step that was ticked."""

    step: WoundStep
    at: datetime
    note: str = ""

    def __post_init__(self) -> None:
        _aware(self.at)
        _short("note", self.note, LONGEST_NOTE)


@dataclass(frozen=True, slots=True)
class Insulation:
    """Between winding and core before the dip: V dc, megohm after a minute, and how warm it was, C.

    `above`: the tester showed no more than that it lies above `megohms`.
    """

    volts: float
    megohms: float
    celsius: float
    above: bool = False

    def __post_init__(self) -> None:
        _lies("volts", self.volts, LEAST_VOLTS, MOST_VOLTS)
        _lies("megohms", self.megohms, 0, MOST_MEGOHMS)
        _lies("celsius", self.celsius, COLDEST, HOTTEST)


@dataclass(frozen=True, slots=True)
class Bake:
    """What the oven was set to, C, and how long it was in, minutes."""

    celsius: float
    minutes: float

    def __post_init__(self) -> None:
        _lies("celsius", self.celsius, COOLEST_BAKE, HOTTEST_BAKE)
        _lies("minutes", self.minutes, 1, LONGEST_BAKE)


@dataclass(frozen=True, slots=True)
class Run:
    """On the machine it belongs to: whether it did what it should, and what was seen."""

    well: bool
    seen: str
    at: datetime

    def __post_init__(self) -> None:
        _aware(self.at)
        _short("seen", self.seen, LONGEST_NOTE)


@dataclass(frozen=True, slots=True)
class WoundWork:
    """`done`: the first so many steps of `ORDER`; `coils` and `sense` at most one a spot."""

    done: tuple[Done, ...] = ()
    coils: tuple[CoilWound, ...] = ()
    sense: tuple[SenseSeen, ...] = ()
    insulation: Insulation | None = None
    varnish_lot: str = ""
    bake: Bake | None = None
    run: Run | None = None

    def __post_init__(self) -> None:
        if tuple(d.step for d in self.done) != ORDER[: len(self.done)]:
            raise RewindError("done", "the steps don't follow each other")
        _once("coils", [c.spot for c in self.coils])
        _once("sense", [s.spot for s in self.sense])
        _short("varnish_lot", self.varnish_lot, LONGEST_NAME)

    @property
    def next_step(self) -> WoundStep | None:
        return next(iter(ORDER[len(self.done) :]), None)

    def coil(self, spot: Spot) -> CoilWound | None:
        return next((c for c in self.coils if c.spot == spot), None)

    def way(self, spot: Spot) -> Way | None:
        return next((s.way for s in self.sense if s.spot == spot), None)


def _once(field: str, spots: Sequence[Spot]) -> None:
    for i, spot in enumerate(spots):
        if spot in spots[:i]:
            raise RewindError(f"{field}[{i}].spot", f"tooth {spot.tooth} stands there twice")


def _lies(field: str, value: float, low: float, high: float) -> None:
    if not (math.isfinite(value) and low <= value <= high):
        raise RewindError(field, between(low, high, value))


def _short(field: str, text: str, most: int) -> None:
    if len(text) > most:
        raise RewindError(field, f"has at most {most} characters, not {len(text)}")


def _aware(at: datetime) -> None:
    if at.tzinfo is None:
        raise RewindError("at", "needs its time zone")
