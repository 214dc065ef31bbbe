"""A rewind of three phases as wound, all in order, to be spoilt by the tests that share it."""

from dataclasses import replace
from datetime import UTC, datetime

from workbench.exchange.starters import starter_meters, starter_pattern
from workbench.rewind.layout import Connection, Scheme
from workbench.rewind.layoutplan import plan
from workbench.rewind.record import Body, Laid, WireWork
from workbench.rewind.shelf import AsWas
from workbench.rewind.wire import Build, Wire, awg
from workbench.rewind.wound import Expected, expected, mean_turn
from workbench.rewind.woundrecord import (
    ORDER,
    Bake,
    CoilReading,
    CoilWound,
    Done,
    Insulation,
    Run,
    SenseSeen,
    Spot,
    UsedMeter,
    Way,
    WoundWire,
    WoundWork,
)
from workbench.stator.copper import COPPER_K, factor
from workbench.stator.layout import Facing
from workbench.stator.meter import Meter, Range
from workbench.stator.pattern import Pattern

AT = datetime(2026, 3, 4, 9, 30, tzinfo=UTC)
METERS = dict(starter_meters())
HANDHELD = UsedMeter("Counter handheld", METERS["Counter handheld"])
FOUR_WIRES = UsedMeter("Bench, four wires", METERS["Bench, four wires"])
# ideal but for a digit of 10 microohm
FINE = UsedMeter("fine", Meter((Range(2.0, 1e-5, 0.0, 1.0),), 2.0))
WIRE = WoundWire(Wire.of(awg(18), Build.HEAVY), "top shelf 18")
COILS = plan(Scheme(12, 10, 3, Connection.WYE)).coils
TURNS, MEAN = 40, 72.5


def pattern(name: str = "three-phase wye") -> Pattern:
    found = starter_pattern(name)
    assert found is not None
    return found


def want(turns: int = TURNS) -> Expected:
    """What a coil of so many turns should read at 20 C."""
    found = expected(CoilWound(Spot(1), turns, WIRE), mean_turn(body(WoundWork())))
    assert found is not None
    return found


def coil(tooth: int, times: float = 1.0, on: UsedMeter = FINE, celsius: float = 20.0, turns: int = TURNS) -> CoilWound:
    """Reads `times` what it should, as this meter shows it."""
    shown = times * want(turns).ohms * factor(20.0, celsius, COPPER_K) + on.lead_ohms
    return CoilWound(Spot(tooth), turns, WIRE, CoilReading(shown, celsius, 0.0, on))


def body(work: WoundWork | None) -> Body:
    laid = Laid(Scheme(12, 10, 3, Connection.WYE), Facing.OUTWARD, COILS)
    return Body(laid, WireWork(AsWas(WIRE.wire, TURNS, MEAN, 4)), wound=work)


def in_order() -> WoundWork:
    """Nothing is lacking."""
    return WoundWork(
        tuple(Done(s, AT, "as ever" if i % 2 else "") for i, s in enumerate(ORDER)),
        tuple(coil(c.tooth) for c in COILS),
        tuple(SenseSeen(Spot(c.tooth), Way.CLOCKWISE if c.sense > 0 else Way.NORTH) for c in COILS),
        Insulation(500.0, 200.0, 20.0, above=True),
        "lot 7, opened in May",
        Bake(135.0, 240.0),
        Run(True, "14.1 V at 3000 rpm", AT),
    )


def turned(work: WoundWork, tooth: int) -> WoundWork:
    """The sense at one tooth the other way about."""
    other = {
        Way.CLOCKWISE: Way.ANTICLOCKWISE, Way.ANTICLOCKWISE: Way.CLOCKWISE, Way.NORTH: Way.SOUTH, Way.SOUTH: Way.NORTH
    }  # fmt: skip
    seen = tuple(replace(s, way=other[s.way]) if s.spot == Spot(tooth) else s for s in work.sense)
    return replace(work, sense=seen)
