"""A plain part, and sheets of it with as little said as can be."""

from collections.abc import Iterable
from dataclasses import replace

from workbench.stator.meter import Meter, Range
from workbench.stator.pattern import CORE, Cavity, Connector, Link, Pair, Pattern, Winding
from workbench.stator.sheet import Conditions, Proof, Reading, Sheet

PLUG = Connector("P", tuple(Cavity(pin) for pin in "12345"))
FINE = Winding("fine", "P.1", "P.3", ohms=245.0, tolerance_percent=10)
COARSE = Winding("coarse", "P.3", "P.2", ohms=31.0, tolerance_percent=10)
TWO_COILS = Pattern("two coils on a common pin", (PLUG,), (FINE, COARSE), (Link("loop", "P.4", "P.5"),))

METER = Meter(
    (Range(200, 0.1, 0.8, 3), Range(2000, 1, 0.8, 3), Range(2e4, 10, 0.8, 3), Range(2e7, 1e4, 1.0, 3)),
    open_above_ohms=2e7,
)
COLD = Conditions(20.0, 0.0)  # at the reference temperature, leads zeroed: corrected is as shown
PROVED = Proof(stated=True)

FINE_PAIR, COARSE_PAIR, SERIES, LOOP = Pair("P.1", "P.3"), Pair("P.3", "P.2"), Pair("P.1", "P.2"), Pair("P.4", "P.5")
GROUND = Pair("P.1", CORE)

Shown = tuple[Pair, float | None]


def sheet(
    *shown: Shown,
    checks: Iterable[Pair] | None = None,
    pattern: Pattern = TWO_COILS,
    proof: Proof = PROVED,
    conditions: Conditions = COLD,
    meter: Meter = METER,
) -> Sheet:
    readings = tuple(Reading(pair, ohms) for pair, ohms in shown)
    return Sheet(pattern, meter, conditions, readings, None if checks is None else tuple(checks), proof)


def with_winding(p: Pattern, changed: Winding) -> Pattern:
    """The pattern with the winding of that name replaced."""
    return replace(p, windings=tuple(changed if w.name == changed.name else w for w in p.windings))
