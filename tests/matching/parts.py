"""Hand-made patterns, and a way to ask which of them a part is."""

from workbench.matching.library import Library
from workbench.matching.weighing import Weighed, weigh
from workbench.stator.meter import Meter, Range
from workbench.stator.pattern import Cavity, Connector, Link, Pair, Pattern, Side, Winding
from workbench.stator.sheet import Conditions, Reading

METER = Meter((Range(200, 0.1, 0.8, 3), Range(2000, 1, 0.8, 3), Range(2e7, 1e4, 1.0, 3)), 2e7)
COOL = Conditions(20.0, 2.0, 0.2, 0.05)


def plug(name: str, pins: str, key: Side | None = Side.BOTTOM) -> Connector:
    """A row of one-letter pins."""
    return Connector(name, tuple(Cavity(p) for p in pins), key)


def wound(*runs: tuple[str, str, float], tolerance: float = 10.0) -> tuple[Winding, ...]:
    return tuple(Winding(f"w{i}", a, b, ohms=ohms, tolerance_percent=tolerance) for i, (a, b, ohms) in enumerate(runs))


def pattern(
    name: str, *runs: tuple[str, str, float], plugs: tuple[Connector, ...] = (plug("P", "123"),),
    links: tuple[tuple[str, str], ...] = (), tolerance: float = 10.0,
) -> Pattern:  # fmt: skip
    wires = tuple(Link(f"link {i}", a, b) for i, (a, b) in enumerate(links))
    return Pattern(name, plugs, wound(*runs, tolerance=tolerance), wires)


def read(*values: tuple[str, str, float | None]) -> tuple[Reading, ...]:
    """Readings (None: open); `ohms` without the leads' 0.2."""
    return tuple(Reading(Pair(a, b), None if ohms is None else round(ohms + 0.2, 1)) for a, b, ohms in values)


def which(
    patterns: list[Pattern], *values: tuple[str, str, float | None], plugs: tuple[Connector, ...] | None = None
) -> Weighed:
    """The part's plugs are those of the first pattern unless told otherwise."""
    library = Library.of(patterns)
    return weigh(library.candidates(plugs or patterns[0].connectors), METER, COOL, read(*values))


def chances(patterns: list[Pattern], w: Weighed) -> dict[str | None, float]:
    out: dict[str | None, float] = {patterns[r.pattern].name: r.probability for r in w.ranked}
    return out | {None: w.none}
