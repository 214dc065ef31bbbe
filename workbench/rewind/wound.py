"""Judges coils as they are wound: ohms against wire and turns, a coil against its fellows, a sense against the layout.

What a coil should read is worked out as in `coil`; the meter's part is the bench's own (`stator.correct`, `.verdict`).
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from enum import StrEnum
from functools import lru_cache

import numpy as np

from workbench.rewind.coil import Allowances
from workbench.rewind.ofpattern import coils_of_winding, names_of
from workbench.rewind.record import Body
from workbench.rewind.strip import MEAN_TURN_SHARE
from workbench.rewind.wire import Wire
from workbench.rewind.woundrecord import CoilReading, CoilWound, Insulation, Spot, Way
from workbench.stator.copper import Conductor
from workbench.stator.correct import Corrected, Corrector, covariance
from workbench.stator.pattern import Pair, Pattern
from workbench.stator.sheet import Conditions, Reading
from workbench.stator.verdict import UNPROVED, Decision, Verdict, against_band

# at which coils are compared, C
AT = 20.0
# how far two coils of one hand, spool and count may lie from their mean, as a share; common practice, no source
ALIKE = 0.01
# of its standard uncertainty: many coils are looked at together, and one of a dozen goes beyond 2 by chance
APART = 3.0
FEWEST = 3  # of two that differ, neither stands out
# of random-wound machines below 1 kV, at 40 C, megohm: IEEE 43, by secondary write-ups; its scope starts at 750 W, so
# it is held to here by analogy
LEAST_MEGOHMS = 5.0
_ANY = Pair("", "")


@dataclass(frozen=True, slots=True)
class AskedCoil:
    """A coil of the winding. `sense`: the one it should have, 1 clockwise from tip to root; None where nobody knows."""

    spot: Spot
    phase: int
    sense: int | None


def asked_coils(pattern: Pattern, winding: str, body: Body) -> tuple[AskedCoil, ...]:
    """As laid out, in the order they are wound; else as the pattern has them; else one coil of which nothing is known.

    A phase that the pattern gives no coil has one of those too.
    """
    if body.laid is not None:
        return tuple(AskedCoil(Spot(c.tooth, c.place), c.phase, c.sense) for c in body.laid.coils)
    names = names_of(pattern, winding)
    on_teeth = sorted(coils_of_winding(pattern, winding), key=lambda c: (names.index(c.winding), c.tooth, c.place))
    out = [AskedCoil(Spot(c.tooth or 0, c.place), names.index(c.winding) + 1, c.sense) for c in on_teeth]
    elsewhere = 0
    for phase, name in enumerate(names, 1):
        beside = [c for c in pattern.layout.coils if c.winding == name and c.tooth is None] if pattern.layout else []
        senses: list[int | None] = [c.sense for c in beside]
        if not senses and not any(a.phase == phase for a in out):
            senses = [None]
        for sense in senses:
            out.append(AskedCoil(Spot(0, elsewhere), phase, sense))
            elsewhere += 1
    return tuple(out)


# ---- sense


class Compared(StrEnum):
    """NOTHING: tested, but nobody knows which way it should go."""

    AGREES = "agrees"
    DIFFERS = "differs"
    UNTESTED = "untested"
    NOTHING = "nothing"


def compared(coil: AskedCoil, way: Way | None) -> Compared:
    if way is None:
        return Compared.UNTESTED
    if coil.sense is None:
        return Compared.NOTHING
    return Compared.AGREES if way.sense == coil.sense else Compared.DIFFERS


# ---- ohms


@dataclass(frozen=True, slots=True)
class MeanTurn:
    """Of a coil, mm, with its standard uncertainty; and what hands add to it."""

    mm: float
    u_mm: float
    hands: Allowances = field(default_factory=Allowances)


def mean_turn(body: Body) -> MeanTurn | None:
    """The plan's; else that of the winding as it was, taken as the same whatever replaces it; None where none is noted.

    A plan keeps its ohms' uncertainty whole: less the wire's and the stretch's part, the mean turn's is left.
    """
    if body.plan is not None:
        order, metres = body.plan.order, body.plan.metres
        mm = (metres - order.allowances.tails_mm / 1000) * 1000 / order.turns
        rest = body.plan.u**2 - _wire_u(order.wire, order.allowances) ** 2
        return MeanTurn(mm, math.sqrt(max(rest, 0.0)) * metres * 1000 / order.turns, order.allowances)
    if body.wire is None:
        return None
    mm = body.wire.as_was.mean_turn_mm
    return MeanTurn(mm, MEAN_TURN_SHARE * mm)


def _wire_u(wire: Wire, hands: Allowances) -> float:
    """Relative standard uncertainty of a metre's ohms: diameter and stretch rectangular (JCGM 100, 4.3.7)."""
    return math.hypot(2 * wire.gauge.tolerance / math.sqrt(3), hands.stretch / math.sqrt(3))


@dataclass(frozen=True, slots=True)
class Expected:
    """A coil's ohms at `AT` by its wire and turns; `u` relative, standard."""

    ohms: float
    u: float

    @property
    def low(self) -> float:
        return self.ohms * (1 - 2 * self.u)

    @property
    def high(self) -> float:
        return self.ohms * (1 + 2 * self.u)


def expected(coil: CoilWound, turn: MeanTurn | None) -> Expected | None:
    """None where turns, wire or mean turn are not known. Wire and mean turn joined as JCGM 100, 5.1 joins them."""
    if turn is None or coil.turns is None or coil.wire is None:
        return None
    wire, hands = coil.wire.wire, turn.hands
    metres = (coil.turns * turn.mm + hands.tails_mm) / 1000
    u = math.hypot(_wire_u(wire, hands), coil.turns * turn.u_mm / 1000 / metres)
    return Expected(metres * wire.ohms_per_metre * (1 + hands.stretch), u)


@dataclass(frozen=True, slots=True)
class CoilJudged:
    """`corrected` at `AT`, None of an overload. `decision` None where there is nothing to hold it against.

    `seen_turns`: the fewest missing turns that would come out outside on this meter; None where not even all would.
    """

    coil: CoilWound
    expected: Expected | None
    corrected: Corrected | None
    decision: Decision | None
    seen_turns: int | None


@lru_cache(512)  # a page and a verdict ask for the same coils again and again
def judge_coil(coil: CoilWound, turn: MeanTurn | None) -> CoilJudged:
    want, reading = expected(coil, turn), coil.reading
    if reading is None:
        return CoilJudged(coil, want, None, None, None)
    corrector = _corrector(reading)
    if reading.ohms is None:
        return CoilJudged(coil, want, None, _overload(want, reading, corrector), None)
    value = corrected_of(reading)
    if want is None:
        return CoilJudged(coil, None, value, None, None)
    decision = against_band(value.ohms, value.u, want.low, want.high)
    return CoilJudged(coil, want, value, decision, _seen_turns(coil, want, corrector))


def corrected_of(reading: CoilReading) -> Corrected:
    """A finite reading at `AT`, less its leads."""
    return _corrector(reading).mean([Reading(_ANY, reading.ohms)])


def _corrector(reading: CoilReading) -> Corrector:
    on = reading.on
    conditions = Conditions(reading.celsius, reading.celsius_u, on.lead_ohms, on.lead_u_ohms)
    return Corrector(on.meter, conditions, Conductor.COPPER, AT)


def _overload(want: Expected | None, reading: CoilReading, corrector: Corrector) -> Decision | None:
    """Open, where what it should read lies within the meter's ranges."""
    if want is None:
        return None
    meter = reading.on.meter
    reached = corrector.shown(want.high) < meter.overload_above(meter.top)
    return Decision(Verdict.OUTSIDE, 0.0) if reached else UNPROVED


def _seen_turns(coil: CoilWound, want: Expected, corrector: Corrector) -> int | None:
    """Against the band's low end, by the meter's U at what the coil should read."""
    value = corrector.at(want.ohms)
    if value is None or coil.turns is None:
        return None
    lacking = math.floor(coil.turns * (want.ohms - want.low + value.expanded) / want.ohms) + 1
    return lacking if lacking <= coil.turns else None


# ---- a coil against its fellows


@dataclass(frozen=True, slots=True)
class Apart:
    """A coil that stands out. `share`: how far it is from its fellows; `turns`: the same in turns, missing below 0."""

    spot: Spot
    share: float
    turns: float


def standing_out(judged: Sequence[CoilJudged]) -> tuple[Apart, ...]:
    """The coils, the furthest first, that differ from their fellows by more than meter and wire can explain.

    Each is taken by what it should read with its own turns. Fellows are of one wire, read on one meter by one hand:
    what errors they share (gain of a range, leads, temperature: `covariance`) moves them together and drops out.
    """
    groups: dict[object, list[CoilJudged]] = {}
    for j in judged:
        reading = j.coil.reading
        if j.corrected is not None and j.expected is not None and reading is not None:
            groups.setdefault((reading.on.meter, j.coil.wire.wire if j.coil.wire else None), []).append(j)
    out = [a for group in groups.values() for a in _apart(group)]
    return tuple(sorted(out, key=lambda a: -abs(a.share)))


def _apart(group: Sequence[CoilJudged]) -> list[Apart]:
    """One after the other, the furthest first, so that it doesn't pull the others' mean along; fewer than half of all,
    for else it is the rest that stands out.
    """
    out: list[Apart] = []
    left = np.arange(len(group))
    wants = np.array([j.expected.ohms for j in group if j.expected is not None])
    values = [j.corrected for j in group if j.corrected is not None]
    shares = np.array([v.ohms for v in values]) / wants
    every = covariance(values) / np.outer(wants, wants) + np.eye(len(group)) * ALIKE**2 / 3
    while (n := len(left)) >= FEWEST and 2 * len(out) + 2 < len(group):
        # each less the mean of the others: a of its own less b of all, and the variance of that
        a, b = n / (n - 1), 1 / (n - 1)
        off = a * shares[left] - b * shares[left].sum()
        joint = every[np.ix_(left, left)]
        u = np.sqrt(a * a * np.diag(joint) - 2 * a * b * joint.sum(axis=1) + b * b * joint.sum())
        i = int((np.abs(off) / u).argmax())
        if abs(off[i]) <= APART * u[i]:
            break
        coil, share = group[int(left[i])].coil, float(off[i])
        left = np.delete(left, i)
        out.append(Apart(coil.spot, share, share * (coil.turns or 0)))
    return out


# ---- insulation


def megohms_at_40(test: Insulation) -> float:
    """Halved for each 10 C that it is warmer (IEEE 43's rule for thermoplastic insulation, by secondary write-ups)."""
    return float(test.megohms * 0.5 ** ((40.0 - test.celsius) / 10))


def held(test: Insulation) -> bool | None:
    """Whether it holds; None, undecided: as read enough but not as corrected, or the tester reaches no further."""
    if megohms_at_40(test) >= LEAST_MEGOHMS:
        return True
    return None if test.above or test.megohms >= LEAST_MEGOHMS else False
