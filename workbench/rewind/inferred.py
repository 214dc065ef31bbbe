"""What a strip record says when all its figures are joined: what nobody counted, whether they agree, and who lies."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from enum import StrEnum

from workbench.rewind.joining import Floats, Joined, Law, Observed, joined
from workbench.rewind.strip import Figure, StripRecord
from workbench.rewind.tables import Span
from workbench.rewind.wire import (
    ENAMEL_GRAMS_PER_CM3,
    GRAMS_PER_CM3,
    OHM_MM2_PER_METRE,
    TABLED,
    Build,
    Gauge,
    Likely,
    likely,
)

# figures that sound ones would contradict less often than this are said to; common practice, no source
CONTRADICTS = 0.01
# and the rest of them must at least agree so well without the one that is named
AGREES = 0.05
# share of enamel in a weighed coil whose overall diameter nobody measured, and its u; from memory, no source
ENAMEL_SHARE, ENAMEL_SHARE_U = 0.03, 0.015


class Quantity(StrEnum):
    """TURNS: of one coil. LENGTH: metres of the whole winding, one strand's. GRAMS: of its copper. OHMS: at 20 C."""

    TURNS = "turns"
    BARE = "bare"
    OVERALL = "overall"
    STRANDS = "strands"
    MEAN_TURN = "mean-turn"
    LENGTH = "length"
    OHMS = "ohms"
    GRAMS = "grams"


class Note(StrEnum):
    """UNEVEN: the places or coils of one figure differ by more than it may be off by. THINNER: over its enamel the wire
    is no thicker than bare.
    """

    UNEVEN_BARE = "uneven-bare"
    UNEVEN_OVERALL = "uneven-overall"
    UNEVEN_TURNS = "uneven-turns"
    THINNER = "thinner"


@dataclass(frozen=True, slots=True)
class Worth:
    """A value and its standard uncertainty `u`; `recorded`: whether the record holds it itself."""

    value: float
    u: float
    recorded: bool


@dataclass(frozen=True, slots=True)
class Suspect:
    """A figure without which the rest agree; `others_say` what it should have been, None where nothing tells."""

    figure: Figure
    others_say: Worth | None


@dataclass(frozen=True, slots=True)
class GaugeFound:
    """A gauge that the wire may be of, and the builds that its diameter over enamel goes with."""

    likely: Likely
    builds: tuple[Build, ...]


@dataclass(frozen=True, slots=True)
class Inferred:
    """`worths`: all that the record determines. Where figures contradict each other, it is told without the liar; with
    several suspects, as the mean of leaving out each, u covering them all; with none, u is widened by
    sqrt(chi_square / freedom). `gauges`: of both tables, each with its likeliest first.

    `chi_square`, `freedom`, `chance`: how well all figures agree; without freedom nothing checks them. `suspects` are
    empty while they agree; one alone is `liar`; of two or more none can be named.
    """

    worths: Mapping[Quantity, Worth]
    gauges: tuple[GaugeFound, ...]
    chi_square: float
    freedom: int
    chance: float
    suspects: tuple[Suspect, ...]
    notes: tuple[Note, ...]

    @property
    def contradicts(self) -> bool:
        return self.chance < CONTRADICTS

    @property
    def liar(self) -> Figure | None:
        return self.suspects[0].figure if len(self.suspects) == 1 else None


# places of the logarithms that are solved for: bare mm, strands, turns of the whole winding, mean turn mm, overall mm
_BARE, _STRANDS, _TURNS, _TURN, _OVERALL = range(5)
# where they stay when nothing tells; every law is smooth around them
_START = tuple(map(math.log, (0.5, 1.0, 100.0, 100.0, 0.55)))


def infer(record: StripRecord) -> Inferred:
    """Everything that the record's figures determine together. An empty record determines nothing, and that is all."""
    seen = {f: v for f in Figure if (v := record.figure(f)) is not None}
    fit = _fit(record, seen)
    contradicts = fit.chance < CONTRADICTS
    without = _without_each(record, seen) if contradicts else {}
    worths = {q: w for q in Quantity if (w := _told(record, q, seen, fit, without)) is not None}
    return Inferred(
        worths=worths,
        gauges=_gauges(worths),
        chi_square=fit.chi_square,
        freedom=fit.freedom,
        chance=fit.chance,
        suspects=tuple(_suspect(record, f, seen, rest) for f, rest in without.items()),
        notes=tuple(_notes(record, seen)),
    )


def _fit(record: StripRecord, seen: Mapping[Figure, tuple[float, float]]) -> Joined:
    return joined([_observed(record, f, v, u, seen) for f, (v, u) in seen.items()], _START)


def _observed(
    record: StripRecord, figure: Figure, value: float, u: float, seen: Mapping[Figure, tuple[float, float]]
) -> Observed:
    share = u / value
    match figure:
        case Figure.BARE | Figure.GAUGE:
            return Observed(math.log(value), share, _plain(_BARE))
        case Figure.OVERALL:
            return Observed(math.log(value), share, _plain(_OVERALL))
        case Figure.STRANDS:
            return Observed(math.log(value), share, _plain(_STRANDS))
        case Figure.TURNS:
            return Observed(math.log(value * record.coils), share, _plain(_TURNS))
        case Figure.MEAN_TURN | Figure.GEOMETRY:
            return Observed(math.log(value), share, _plain(_TURN))
        case Figure.OHMS:
            return Observed(math.log(value), share, _laws(record)[Quantity.OHMS])
        case Figure.GRAMS:
            if record.enamelled and Figure.OVERALL in seen and (Figure.BARE in seen or Figure.GAUGE in seen):
                return Observed(math.log(value), share, _with_enamel(record))
            if record.enamelled:
                value /= 1 + ENAMEL_SHARE
                share = math.hypot(share, ENAMEL_SHARE_U / (1 + ENAMEL_SHARE))
            return Observed(math.log(value), share, _laws(record)[Quantity.GRAMS])


def _plain(place: int) -> Law:
    return lambda x: float(x[place])


def _laws(record: StripRecord) -> dict[Quantity, Law]:
    """Each quantity's logarithm from those that are solved for."""

    def metres(x: Floats) -> float:
        return math.log((math.exp(x[_TURNS] + x[_TURN]) + record.tails_mm) / 1000)

    def area(x: Floats) -> float:
        return math.log(math.pi / 4) + 2 * float(x[_BARE]) + float(x[_STRANDS])

    return {
        Quantity.TURNS: lambda x: float(x[_TURNS]) - math.log(record.coils),
        Quantity.BARE: _plain(_BARE),
        Quantity.OVERALL: _plain(_OVERALL),
        Quantity.STRANDS: _plain(_STRANDS),
        Quantity.MEAN_TURN: _plain(_TURN),
        Quantity.LENGTH: metres,
        Quantity.OHMS: lambda x: math.log(OHM_MM2_PER_METRE) + metres(x) - area(x),
        Quantity.GRAMS: lambda x: math.log(GRAMS_PER_CM3) + metres(x) + area(x),
    }


def _with_enamel(record: StripRecord) -> Law:
    copper = _laws(record)[Quantity.GRAMS]

    def law(x: Floats) -> float:
        ring = max(0.0, math.exp(2 * float(x[_OVERALL] - x[_BARE])) - 1)
        return copper(x) + math.log1p(ENAMEL_GRAMS_PER_CM3 / GRAMS_PER_CM3 * ring)

    return law


_RECORDED = {
    Quantity.TURNS: (Figure.TURNS,), Quantity.BARE: (Figure.BARE,), Quantity.OVERALL: (Figure.OVERALL,),
    Quantity.STRANDS: (Figure.STRANDS,), Quantity.MEAN_TURN: (Figure.MEAN_TURN, Figure.GEOMETRY),
    Quantity.OHMS: (Figure.OHMS,), Quantity.GRAMS: (Figure.GRAMS,), Quantity.LENGTH: (),
}  # fmt: skip
_OF_FIGURE = {
    Figure.TURNS: Quantity.TURNS, Figure.BARE: Quantity.BARE, Figure.GAUGE: Quantity.BARE,
    Figure.OVERALL: Quantity.OVERALL, Figure.STRANDS: Quantity.STRANDS, Figure.MEAN_TURN: Quantity.MEAN_TURN,
    Figure.GEOMETRY: Quantity.MEAN_TURN, Figure.OHMS: Quantity.OHMS, Figure.GRAMS: Quantity.GRAMS,
}  # fmt: skip


def _worth(
    record: StripRecord, fit: Joined, which: Quantity, seen: Mapping[Figure, tuple[float, float]]
) -> Worth | None:
    found = fit.value(_laws(record)[which])
    if found is None:
        return None
    value, share = found
    return Worth(value, value * share, any(f in seen for f in _RECORDED[which]))


def _without_each(record: StripRecord, seen: Mapping[Figure, tuple[float, float]]) -> dict[Figure, Joined]:
    """The fits of all others for each figure without which they agree."""
    out: dict[Figure, Joined] = {}
    for figure in seen:
        fit = _fit(record, {f: v for f, v in seen.items() if f is not figure})
        # without one that nothing else bears on the rest agree no better
        if fit.chance >= AGREES and (figure is not Figure.STRANDS or _can_be_strands(record, fit, seen)):
            out[figure] = fit
    return out


def _can_be_strands(record: StripRecord, rest: Joined, seen: Mapping[Figure, tuple[float, float]]) -> bool:
    """Whether the others leave room for one strand at least (within 3 u): where they say a hundredth of one, another
    figure lies.
    """
    told = _worth(record, rest, Quantity.STRANDS, seen)
    return told is None or told.value + 3 * told.u >= 1


def _told(
    record: StripRecord,
    which: Quantity,
    seen: Mapping[Figure, tuple[float, float]],
    whole: Joined,
    without: Mapping[Figure, Joined],
) -> Worth | None:
    """By all figures when they agree; else by whichever suspect is left out, each as likely as the next."""
    if not without:
        worth = _worth(record, whole, which, seen)
        wider = math.sqrt(whole.chi_square / whole.freedom) if whole.chance < CONTRADICTS else 1.0
        return None if worth is None else replace(worth, u=worth.u * wider)
    each = [w for fit in without.values() if (w := _worth(record, fit, which, seen)) is not None]
    if not each:
        return None
    mean = math.fsum(w.value for w in each) / len(each)
    square = math.fsum(w.u**2 + (w.value - mean) ** 2 for w in each) / len(each)
    return Worth(mean, math.sqrt(square), each[0].recorded)


def _suspect(record: StripRecord, figure: Figure, seen: Mapping[Figure, tuple[float, float]], rest: Joined) -> Suspect:
    others = {f: v for f, v in seen.items() if f is not figure}
    return Suspect(figure, _worth(record, rest, _OF_FIGURE[figure], others))


def _gauges(worths: Mapping[Quantity, Worth]) -> tuple[GaugeFound, ...]:
    bare, over = worths.get(Quantity.BARE), worths.get(Quantity.OVERALL)
    if bare is None:
        return ()
    found = (c for scale in TABLED for c in likely(bare.value, bare.u, scale))
    return tuple(GaugeFound(c, () if over is None else builds_of(c.gauge, over.value, over.u)) for c in found)


def builds_of(gauge: Gauge, mm: float, u_mm: float) -> tuple[Build, ...]:
    """The builds of its table that a diameter over the enamel, mm, measured with standard uncertainty u_mm, may be of.

    A limit that the table lacks is taken to be its neighbour's, or halfway between the two nominals.
    """
    spans = [(b, _whole_span(gauge, b)) for b in gauge.builds]
    return tuple(b for b, (low, high) in spans if low - 2 * u_mm <= mm <= high + 2 * u_mm)


def _whole_span(gauge: Gauge, build: Build) -> tuple[float, float]:
    at, span = gauge.builds.index(build), gauge.overall(build)
    before, after = (gauge.overall(gauge.builds[i]) if 0 <= i < len(gauge.builds) else None for i in (at - 1, at + 1))
    nominal = span.nominal or span.high or gauge.mm
    low = span.low or (_border(before, nominal) if before is not None else gauge.mm)
    if span.high is not None:
        return low, span.high
    # of the last build, as far off as its least
    return low, _middle(nominal, after) if after is not None else 2 * nominal - low


def _border(before: Span, nominal: float) -> float:
    return before.high or _middle(nominal, before)


def _middle(nominal: float, other: Span) -> float:
    return (nominal + (other.nominal or nominal)) / 2


def _notes(record: StripRecord, seen: Mapping[Figure, tuple[float, float]]) -> list[Note]:
    out: list[Note] = []
    first = replace(record, bare_mm=record.bare_mm[:1], overall_mm=record.overall_mm[:1], turns=record.turns[:1])
    for note, figure, values in (
        (Note.UNEVEN_BARE, Figure.BARE, record.bare_mm),
        (Note.UNEVEN_OVERALL, Figure.OVERALL, record.overall_mm),
        (Note.UNEVEN_TURNS, Figure.TURNS, record.turns),
    ):
        alone = first.figure(figure)
        # two single figures of the same thing differ by less than this 19 times in 20 (JCGM 100, k = 2)
        if alone is not None and max(values) - min(values) > 2 * math.sqrt(2) * alone[1]:
            out.append(note)
    bare, over = seen.get(Figure.BARE), seen.get(Figure.OVERALL)
    if bare is not None and over is not None and over[0] <= bare[0]:
        out.append(Note.THINNER)
    return out
