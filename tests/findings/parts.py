"""Small parts and a way to ask `explain` about readings."""

from collections.abc import Iterable

from workbench.findings.explain import Explained, explain
from workbench.stator.meter import Meter, Range
from workbench.stator.pattern import Cavity, Connector, Link, Pair, Pattern, Winding
from workbench.stator.sheet import Conditions, Reading

BENCH = Meter(
    (*(Range(50 * 10**i, 0.01 * 10**i, 1.0, 5) for i in range(6)), Range(2e7, 1e3, 1.0, 5)), open_above_ohms=2e7
)
ROOM = Conditions(celsius=20, celsius_uncertainty=2, lead_ohms=0.1, lead_uncertainty_ohms=0.05)

# a winding, its ends, ohms, tolerance in percent
Wound = tuple[str, str, str, float, float]
# two nodes and what the meter showed; None: open
Shown = tuple[str, str, float | None]


def part(pins: str, *wound: Wound, links: Iterable[tuple[str, str, str]] = ()) -> Pattern:
    """Plugs as in `P:123 Q:12`."""
    plugs = (p.split(":") for p in pins.split())
    return Pattern(
        "a part",
        tuple(Connector(name, tuple(Cavity(c) for c in cavities)) for name, cavities in plugs),
        tuple(Winding(n, a, b, ohms=r, tolerance_percent=t) for n, a, b, r, t in wound),
        tuple(Link(*link) for link in links),
    )


def readings(*shown: Shown) -> list[Reading]:
    return [Reading(Pair(a, b), ohms) for a, b, ohms in shown]


def ask(pattern: Pattern, *shown: Shown, meter: Meter = BENCH, room: Conditions = ROOM) -> Explained:
    return explain(pattern, meter, room, readings(*shown))


def chance(x: Explained, fault: str, where: str = "") -> float:
    return sum(f.probability for f in x.findings if (f.fault, f.where) == (fault, where))


def top(x: Explained) -> tuple[str, str]:
    return str(x.findings[0].fault), x.findings[0].where


FLOATING = part("P:12", ("coil", "P.1", "P.2", 10.0, 10))
GROUNDED = part("P:12", ("low", "core", "P.1", 5.0, 10), ("high", "P.1", "P.2", 20.0, 10))
