"""Round copper magnet wire: gauges, what a metre of it reads and weighs, and how thick it is over its enamel.

Ohms and mass go by the rounded diameters of the table (ASTM B258), not by the exact formula: they differ by up to 3 %
in fine wire, and the rounded ones are what wire is sold by.
"""

import math
import re
from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from workbench.rewind import tables
from workbench.rewind.errors import RewindError
from workbench.rewind.tables import Span

# annealed copper at 20 C, exactly 1/58 ohm mm2/m, and 8.89 g/cm3: IEC 60028, by secondary reprint
OHM_MM2_PER_METRE = 1 / 58
GRAMS_PER_CM3 = 8.89
# of polyester and amide-imide films; from memory, no source
ENAMEL_GRAMS_PER_CM3 = 1.4
# how far a bare diameter may be from nominal where the table doesn't say; common practice, no source
USUAL_TOLERANCE = 0.01
MOST_STRANDS = 32


class Scale(StrEnum):
    """By which a diameter is named; MEASURED is a wire that is on no table's list."""

    AWG = "awg"
    METRIC = "metric"
    MEASURED = "measured"


TABLED = (Scale.AWG, Scale.METRIC)


class Build(StrEnum):
    """How much enamel: NEMA MW 1000's single, heavy and triple on AWG; IEC 60317-0-1's grades on metric sizes."""

    SINGLE = "single"
    HEAVY = "heavy"
    TRIPLE = "triple"
    GRADE_1 = "grade-1"
    GRADE_2 = "grade-2"
    GRADE_3 = "grade-3"


def awg_mm(number: float) -> float:
    """Exact diameter, mm: 0.127 x 92^((36 - n)/39) (ASTM B258). 0000 is -3."""
    return float(0.127 * 92 ** ((36 - number) / 39))


def area_mm2(mm: float) -> float:
    """Of a round wire of this diameter, mm2."""
    return math.pi / 4 * mm * mm


def ohms_per_metre(mm: float) -> float:
    """At 20 C, of a round copper wire of this bare diameter, ohm/m."""
    return OHM_MM2_PER_METRE / area_mm2(mm)


def grams_per_metre(mm: float) -> float:
    """Of a round copper wire of this bare diameter, without enamel, g/m."""
    return GRAMS_PER_CM3 * area_mm2(mm)


@dataclass(frozen=True, slots=True)
class Gauge:
    """A size of wire. `size` is the AWG number or the nominal bare diameter in mm; `bare` the diameters, mm, whose
    nominal is always given. Made by `awg`, `metric`, `measured` or `gauge`.
    """

    scale: Scale
    size: float
    bare: Span

    @property
    def mm(self) -> float:
        """Nominal bare diameter, mm: the rounded one of its table."""
        assert self.bare.nominal is not None
        return self.bare.nominal

    @property
    def name(self) -> str:
        return f"AWG {self.size:.0f}" if self.scale is Scale.AWG else f"{self.size:.3f} mm"

    @property
    def area_mm2(self) -> float:
        return area_mm2(self.mm)

    @property
    def ohms_per_metre(self) -> float:
        """At 20 C, ohm/m."""
        return ohms_per_metre(self.mm)

    @property
    def grams_per_metre(self) -> float:
        """Without enamel, g/m."""
        return grams_per_metre(self.mm)

    @property
    def tolerance_known(self) -> bool:
        return self.bare.low is not None or self.bare.high is not None

    @property
    def tolerance(self) -> float:
        """How far the bare diameter may be from nominal, as a share of it: by the table, a side that it lacks being
        like the other; else `USUAL_TOLERANCE`.
        """
        off = [abs(x - self.mm) for x in (self.bare.low, self.bare.high) if x is not None]
        return max(off) / self.mm if off else USUAL_TOLERANCE

    @property
    def builds(self) -> tuple[Build, ...]:
        """Those that its table has an overall diameter for."""
        return tuple(Build(code) for code in self._films)

    def overall(self, build: Build) -> Span:
        """Diameter over the enamel, mm. Raises RewindError where the table has none."""
        films = self._films
        if build not in films:
            known = f"it has {', '.join(films)}" if films else "it has no overall diameter of this size at all"
            raise RewindError(
                "build", f"there is no {build} build of {self.name} in the table ({known}); measure it over the enamel"
            )
        return films[build]

    @property
    def _films(self) -> dict[str, Span]:
        return tables.film(self.scale).get(self.size, {}) if self.scale in TABLED else {}


def awg(number: int) -> Gauge:
    """Raises RewindError outside AWG 8 to 46."""
    table = tables.bare("awg")
    if number not in table:
        raise RewindError(
            "gauge", f"AWG {number} is not in the table, which goes from AWG {min(table):.0f} to {max(table):.0f}"
        )
    return Gauge(Scale.AWG, float(number), table[number])


def metric(mm: float) -> Gauge:
    """A size of the IEC table by its nominal bare diameter, mm. Raises RewindError for one that isn't listed."""
    table = tables.bare("metric")
    for size, span in table.items():
        if abs(size - mm) < 5e-4:
            return Gauge(Scale.METRIC, size, span)
    near = sorted(sorted(table, key=lambda s: abs(s - mm))[:2])
    raise RewindError(
        "gauge",
        f"{mm:.3f} mm is not in the table (nearest: {near[0]:.3f} and {near[1]:.3f}); "
        "give it as measured, bare and over the enamel",
    )


def measured(mm: float, low: float | None = None, high: float | None = None) -> Gauge:
    """A wire known only by its measured bare diameter, mm. Raises RewindError for no diameter of a magnet wire."""
    if not 0.01 <= mm <= 10:
        raise RewindError("gauge", f"a magnet wire is from 0.01 to 10 mm thick, not {mm:g} mm")
    if not (low or mm) <= mm <= (high or mm):
        raise RewindError("gauge", f"{mm:g} mm lies outside its own limits")
    return Gauge(Scale.MEASURED, mm, Span(low, mm, high))


def gauge(text: str) -> Gauge:
    """By name, as in `AWG 20` or `0.8 mm`. Raises RewindError."""
    found = re.fullmatch(r"(?ai)\s*(?:awg\s*(\d{1,2})|(\d{1,2}(?:\.\d{1,4})?)\s*mm)\s*", text)
    if found is None:
        raise RewindError("gauge", f"{text[:40]!r} names no gauge; write it as AWG 20 or 0.8 mm")
    number, mm = found.groups()
    return awg(int(number)) if number else metric(float(mm))


def gauges(scale: Scale) -> tuple[Gauge, ...]:
    """All of a table, the thickest first."""
    all_of = (Gauge(scale, size, span) for size, span in tables.bare(scale).items())
    return tuple(sorted(all_of, key=lambda g: -g.mm))


@dataclass(frozen=True, slots=True)
class Wire:
    """What a coil is wound of: `strands` in hand, each of this gauge, `overall` mm thick over its enamel.

    `build` is None where the overall diameter was measured rather than taken from the table. Raises FieldError.
    """

    gauge: Gauge
    overall: Span
    build: Build | None = None
    strands: int = 1

    def __post_init__(self) -> None:
        if not 1 <= self.strands <= MOST_STRANDS:
            raise RewindError("strands", f"from 1 to {MOST_STRANDS} go in hand, not {self.strands}")
        known = [x for x in (self.overall.low, self.overall.nominal, self.overall.high) if x is not None]
        if self.overall.nominal is None and self.overall.high is None:
            raise RewindError("overall", "a coil can't be laid without a diameter over the enamel")
        if min(known) < self.gauge.mm * (1 - 2 * self.gauge.tolerance) or known != sorted(known):
            raise RewindError("overall", f"{min(known):.3f} mm over the enamel does not go with {self.gauge.name} bare")

    @classmethod
    def of(cls, gauge: Gauge, build: Build, strands: int = 1) -> "Wire":
        """With the overall diameter of its table. Raises RewindError where that has none."""
        return cls(gauge, gauge.overall(build), build, strands)

    @property
    def placing_mm(self) -> float:
        """The diameter to lay it by, mm: the largest it may have, the nominal where that isn't known."""
        return self.overall.high or self.nominal_mm

    @property
    def nominal_mm(self) -> float:
        """Nominal diameter over the enamel, mm; where the table has none, the middle, or the largest."""
        low, nominal, high = self.overall.low, self.overall.nominal, self.overall.high
        if nominal is not None:
            return nominal
        assert high is not None
        return (low + high) / 2 if low is not None else high

    @property
    def area_mm2(self) -> float:
        """Copper of all strands, mm2."""
        return self.strands * self.gauge.area_mm2

    @property
    def ohms_per_metre(self) -> float:
        """All strands side by side at 20 C, ohm/m."""
        return self.gauge.ohms_per_metre / self.strands

    @property
    def grams_per_metre(self) -> float:
        """Copper of all strands, g/m."""
        return self.gauge.grams_per_metre * self.strands

    @property
    def enamel_grams_per_metre(self) -> float:
        """Of all strands, g/m, by the nominal diameters and `ENAMEL_GRAMS_PER_CM3`."""
        ring = max(0.0, area_mm2(self.nominal_mm) - self.gauge.area_mm2)
        return self.strands * ENAMEL_GRAMS_PER_CM3 * ring


@dataclass(frozen=True, slots=True)
class Likely:
    """A gauge that a measured diameter may be of. `off_mm`: measured less nominal; `probability`: among its table's
    sizes, each as likely beforehand.
    """

    gauge: Gauge
    off_mm: float
    probability: float


def nearest(mm: float, scale: Scale) -> Gauge:
    """The size of a table that is nearest by ratio to this bare diameter, mm."""
    return min(gauges(scale), key=lambda g: abs(math.log(g.mm / mm)))


def likely(mm: float, u_mm: float, scale: Scale) -> tuple[Likely, ...]:
    """Sizes within three standard deviations of a bare diameter measured as mm with standard uncertainty u_mm, the
    likeliest first; the wire's own tolerance, taken as rectangular, widens u. Empty when none of the table is so near.
    """
    near: list[tuple[Gauge, float]] = []
    for g in gauges(scale):
        u = math.hypot(u_mm, g.tolerance * g.mm / math.sqrt(3))
        z = (mm - g.mm) / u
        if abs(z) <= 3:
            near.append((g, math.exp(-z * z / 2) / u))
    total = math.fsum(w for _, w in near)
    return tuple(sorted((Likely(g, mm - g.mm, w / total) for g, w in near), key=lambda c: -c.probability))


@dataclass(frozen=True, slots=True)
class Equivalent:
    """So many strands of a gauge, whose copper is `area_ratio` times what was asked for; ohms go by its inverse."""

    gauge: Gauge
    strands: int
    area_ratio: float


def equivalents(
    wanted_mm2: float, scale: Scale, strands: Iterable[int] = (1, 2, 3), within: float = 0.1
) -> tuple[Equivalent, ...]:
    """What of a table carries the same copper area, mm2, within a share of it; the nearest first."""
    some = (Equivalent(g, n, n * g.area_mm2 / wanted_mm2) for n in strands for g in gauges(scale))
    return tuple(
        sorted((e for e in some if abs(e.area_ratio - 1) <= within), key=lambda e: abs(math.log(e.area_ratio)))
    )


def stretched(mm: float, share: float) -> float:
    """Bare diameter, mm, of a wire made longer by this share under tension: its volume stays."""
    return mm / math.sqrt(1 + share)
