"""What was counted, measured and weighed of a coil before and under the knife. Everything may be missing."""

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from enum import StrEnum

from workbench.rewind.coil import mean_turn_mm
from workbench.rewind.errors import RewindError, between
from workbench.rewind.wire import MOST_STRANDS, Gauge, ohms_per_metre
from workbench.stator.copper import COPPER_K, factor

# standard uncertainties where the record has none; common practice, no source
CALIPER_U_MM = 0.005
TAPE_U_MM = 0.5
TURNS_SHARE, TURNS_LEAST = 0.005, 0.5
OHMS_SHARE = 0.01
GRAMS_SHARE, GRAMS_LEAST = 0.01, 0.1
MEAN_TURN_SHARE = 0.02
MOST_MEASURED = 100


class Figure(StrEnum):
    """What a record may hold. GAUGE: as a tag or a book says. GEOMETRY: a mean turn worked out from its sides."""

    TURNS = "turns"
    BARE = "bare"
    OVERALL = "overall"
    GAUGE = "gauge"
    STRANDS = "strands"
    MEAN_TURN = "mean-turn"
    GEOMETRY = "geometry"
    OHMS = "ohms"
    GRAMS = "grams"


@dataclass(frozen=True, slots=True)
class StripRecord:
    """One winding as found: `coils` alike in series. Lengths mm; each `_u` a standard uncertainty, None: the usual one.

    `turns`: counted, one figure for each coil that was counted. `bare_mm`, `overall_mm`: as measured at several places.
    `gauge`: as somebody wrote it down. `strands` in hand. `mean_turn_mm`: of a turn cut out and laid straight.
    `width_mm`, `height_mm`, `build_mm`: of the tooth with its liner, and how thick the coil lay on it. `ohms` of the
    whole winding at `celsius`, meter leads taken off; `lead_gauge` and `lead_mm` the loom's own wire within that
    reading, both leads together. `grams`: of all copper of all coils, `enamelled` when weighed with its enamel on.
    `tails_mm`: the coils' own wire beyond their turns, all together, in ohms and grams alike. Raises RewindError for
    what no coil can have.
    """

    coils: int = 1
    turns: tuple[float, ...] = ()
    turns_u: float | None = None
    bare_mm: tuple[float, ...] = ()
    bare_u_mm: float | None = None
    overall_mm: tuple[float, ...] = ()
    overall_u_mm: float | None = None
    gauge: Gauge | None = None
    strands: int | None = None
    mean_turn_mm: float | None = None
    mean_turn_u_mm: float | None = None
    width_mm: float | None = None
    height_mm: float | None = None
    build_mm: float | None = None
    sides_u_mm: float | None = None
    ohms: float | None = None
    ohms_u: float | None = None
    celsius: float = 20.0
    celsius_u: float = 3.0
    lead_gauge: Gauge | None = None
    lead_mm: float = 0.0
    grams: float | None = None
    grams_u: float | None = None
    enamelled: bool = False
    tails_mm: float = 0.0

    def __post_init__(self) -> None:
        for field, sentence in _wrong(self):
            raise RewindError(field, sentence)

    @property
    def geometry_mm(self) -> float | None:
        """Mean turn from width, height and build; None where one of them is missing."""
        if self.width_mm is None or self.height_mm is None or self.build_mm is None:
            return None
        return mean_turn_mm(self.width_mm, self.height_mm, self.build_mm)

    @property
    def lead_ohms_20(self) -> float:
        """Of the loom's wire within the ohms, at 20 C."""
        return 0.0 if self.lead_gauge is None else self.lead_mm / 1000 * ohms_per_metre(self.lead_gauge.mm)

    @property
    def coil_ohms_20(self) -> float | None:
        """Of the winding's own copper at 20 C, ohm."""
        return None if self.ohms is None else self.ohms * factor(self.celsius, 20.0, COPPER_K) - self.lead_ohms_20

    def figure(self, which: Figure) -> tuple[float, float] | None:
        """Value and standard uncertainty, as taken: turns of one coil, mm, ohms at 20 C without loom, g. None where the
        record doesn't hold it.
        """
        match which:
            case Figure.TURNS:
                return mean_of(self.turns, self.turns_u, lambda m: max(TURNS_LEAST, TURNS_SHARE * m))
            case Figure.BARE:
                return mean_of(self.bare_mm, self.bare_u_mm, lambda _: CALIPER_U_MM)
            case Figure.OVERALL:
                return mean_of(self.overall_mm, self.overall_u_mm, lambda _: CALIPER_U_MM)
            case Figure.GAUGE:
                g = self.gauge
                return None if g is None else (g.mm, g.mm * g.tolerance / math.sqrt(3))
            case Figure.STRANDS:
                return None if self.strands is None else (float(self.strands), 1e-3 * self.strands)
            case Figure.MEAN_TURN:
                turn = self.mean_turn_mm
                return None if turn is None else (turn, _or(self.mean_turn_u_mm, MEAN_TURN_SHARE * turn))
            case Figure.GEOMETRY:
                turn, u = self.geometry_mm, _or(self.sides_u_mm, TAPE_U_MM)
                return None if turn is None else (turn, u * math.hypot(2, 2, math.pi))
            case Figure.OHMS:
                return self._ohms()
            case Figure.GRAMS:
                grams = self.grams
                return None if grams is None else (grams, _or(self.grams_u, max(GRAMS_LEAST, GRAMS_SHARE * grams)))

    def _ohms(self) -> tuple[float, float] | None:
        if self.ohms is None or self.coil_ohms_20 is None:
            return None
        warm = self.ohms * factor(self.celsius, 20.0, COPPER_K)
        read = _or(self.ohms_u, OHMS_SHARE * self.ohms) / self.ohms
        return self.coil_ohms_20, warm * math.hypot(read, self.celsius_u / (COPPER_K + self.celsius))


def mean_of(values: tuple[float, ...], u: float | None, usual: Callable[[float], float]) -> tuple[float, float] | None:
    """Mean and its standard uncertainty: the instrument's, which the places share, and their scatter over sqrt n."""
    if not values:
        return None
    n, mean = len(values), math.fsum(values) / len(values)
    scatter = math.sqrt(math.fsum((v - mean) ** 2 for v in values) / (n - 1) / n) if n > 1 else 0.0
    return mean, math.hypot(_or(u, usual(mean)), scatter)


def _or(given: float | None, usual: float) -> float:
    return usual if given is None else given


_LIMITS = {
    "turns": (0.25, 1e6), "bare_mm": (0.005, 20), "overall_mm": (0.005, 20), "mean_turn_mm": (1, 1e4),
    "width_mm": (0.5, 1e4), "height_mm": (0.5, 1e4), "build_mm": (0.01, 1e3), "ohms": (1e-6, 1e9), "grams": (1e-3, 1e6),
    "lead_mm": (0, 1e5), "tails_mm": (0, 1e6), "celsius": (-60, 300), "celsius_u": (0, 100),
    "turns_u": (1e-6, 1e6), "bare_u_mm": (1e-6, 10), "overall_u_mm": (1e-6, 10), "mean_turn_u_mm": (1e-6, 1e4),
    "sides_u_mm": (1e-6, 1e3), "ohms_u": (1e-12, 1e9), "grams_u": (1e-6, 1e6),
}  # fmt: skip


def _wrong(r: StripRecord) -> Iterator[tuple[str, str]]:
    for name, (low, high) in _LIMITS.items():
        value = getattr(r, name)
        several = isinstance(value, tuple)
        for i, v in enumerate(value if several else () if value is None else (value,)):
            if not low <= v <= high:
                yield f"{name}[{i}]" if several else name, between(low, high, v)
        if several and len(value) > MOST_MEASURED:
            yield name, f"at most {MOST_MEASURED} of them"
    if not 1 <= r.coils <= 1000:
        yield "coils", f"a winding has from 1 to 1000 coils, not {r.coils}"
    if r.strands is not None and not 1 <= r.strands <= MOST_STRANDS:
        yield "strands", f"from 1 to {MOST_STRANDS} go in hand, not {r.strands}"
    if r.lead_mm and r.lead_gauge is None:
        yield "lead_gauge", "the loom's wire needs its gauge to be taken off the ohms"
    coil = r.coil_ohms_20
    if coil is not None and coil <= 0:
        yield "ohms", f"the loom's own {r.lead_ohms_20:.3g} ohm leave nothing of this reading for the coils"
