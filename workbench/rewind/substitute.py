"""What on the shelf could replace a coil's wire, and what would change: ohms, fill, volts, inductance, current, copper.

Volts go with turns and inductance with their square; the current into a load is I = E/sqrt((R + R_load)^2 + (wL)^2).
More turns give more at low speed and less at high, where the short-circuit current tends to go with 1/turns.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from enum import StrEnum

from workbench.rewind.errors import RewindError
from workbench.rewind.shelf import Duty, Question, Spool
from workbench.rewind.wire import Wire, area_mm2
from workbench.stator.copper import COPPER_K, factor

# copper that is looked at, as a share of what it was, either way; common practice, no source
WITHIN = 2.0
# more amperes on the same copper than this are said; common practice, no source
HOTTER = 1.1


class Caution(StrEnum):
    """STRANDS_TOGETHER: strands in hand must have the same turns, or they are a shorted secondary: count them together.
    RUNS_OUT: the spools hold too little. OVERFILLED: more fill than is got in. HOTTER: more amperes to the mm2 than
    before, or less copper where amperes can't be told. FILL_UNKNOWN: the window wasn't given.
    """

    STRANDS_TOGETHER = "strands-together"
    RUNS_OUT = "runs-out"
    OVERFILLED = "overfilled"
    HOTTER = "hotter"
    FILL_UNKNOWN = "fill-unknown"


@dataclass(frozen=True, slots=True)
class Running:
    """At one speed. `ratio`: its current to what it was; `density_ratio`: amperes to the mm2 likewise. `amps` (rms, of
    the whole winding) and `amps_per_mm2` are None where the volts aren't known.
    """

    rpm: float
    ratio: float
    density_ratio: float
    amps: float | None
    amps_per_mm2: float | None


@dataclass(frozen=True, slots=True)
class Substitute:
    """Ratios are to what it was. `ohms`: of the whole winding at the duty's temperature, 20 C without one. `fill`: wire
    over enamel as a share of the window; `turns_fitting`: the most that goes in at `Question.most_fill`; both None
    where the window isn't known. `copper_grams`: in all coils; `grams_needed`: off the spools, with enamel and spare.
    `short_grams`: what is lacking, a coil's strand being of one piece; 0 when there is enough.
    """

    wire: Wire
    turns: int
    spools: tuple[str, ...]
    ohms: float
    ohms_ratio: float
    area_ratio: float
    fill: float | None
    fill_ratio: float
    turns_fitting: int | None
    volts_ratio: float
    henries_ratio: float
    short_circuit_ratio: float
    idle: Running | None
    working: Running | None
    copper_grams: float
    grams_needed: float
    grams_left: float
    short_grams: float
    cautions: tuple[Caution, ...] = ()

    @property
    def usable(self) -> bool:
        """It goes in, as far as is known, and there is enough of it."""
        return not {Caution.RUNS_OUT, Caution.OVERFILLED} & set(self.cautions)


@dataclass(frozen=True, slots=True)
class Ranking:
    """`nearest` first: what can be used before what can't, then by the larger change of current of the two speeds;
    where current can't be told, by the change of ohms and volts. `at_idle` and `at_working`: places in `nearest` of
    what can be used, the most current first; None with `why_not` the sentence where current can't be ranked.
    """

    nearest: tuple[Substitute, ...]
    at_idle: tuple[int, ...] | None
    at_working: tuple[int, ...] | None
    why_not: str | None


def substitutes(q: Question) -> Ranking:
    """Raises RewindError where no spool has copper between half and twice what it was, in any number in hand tried."""
    found = [_substitute(q, *way) for way in _ways(q)]
    if not found:
        raise RewindError(
            "spools",
            f"nothing on the shelf comes within half to twice the copper of {q.as_was.wire.gauge.name}"
            f"{_in_hand(q.as_was.wire.strands)}; try more strands, or order wire",
        )
    nearest = tuple(sorted(found, key=_farness))
    why_not = _why_not(q.duty)
    if why_not is not None:
        return Ranking(nearest, None, None, why_not)
    usable = [i for i, s in enumerate(nearest) if s.usable]
    idle = sorted(usable, key=lambda i: -_ratio(nearest[i].idle))
    working = sorted(usable, key=lambda i: -_ratio(nearest[i].working))
    return Ranking(nearest, tuple(idle), tuple(working), None)


def _ways(q: Question) -> Iterator[tuple[Wire, int, tuple[Spool, ...]]]:
    """Wire with its strands, turns, and all spools of that wire."""
    alike: dict[Wire, list[Spool]] = {}
    for spool in q.spools:
        alike.setdefault(spool.wire, []).append(spool)
    for wire, spools in alike.items():
        for strands in dict.fromkeys(q.strands):
            in_hand = replace(wire, strands=strands)
            if 1 / WITHIN - 1e-9 <= in_hand.area_mm2 / q.as_was.wire.area_mm2 <= WITHIN + 1e-9:
                for turns in dict.fromkeys(q.turns or (q.as_was.turns,)):
                    yield in_hand, turns, tuple(spools)


def _substitute(q: Question, wire: Wire, turns: int, spools: tuple[Spool, ...]) -> Substitute:
    was = q.as_was
    ohms, ohms_was = _ohms(q, wire, turns), _ohms(q, was.wire, was.turns)
    area, fill_was = wire.area_mm2 / was.wire.area_mm2, _enamelled(was.wire) * was.turns
    by_turns = turns / was.turns
    fill = _enamelled(wire) * turns / was.window_mm2 if was.window_mm2 is not None else None
    fitting = int(q.most_fill * was.window_mm2 / _enamelled(wire) + 1e-9) if was.window_mm2 is not None else None
    metres = _metres(q, turns) * was.coils
    piece = _metres(q, turns) * _strand_grams(wire) * (1 + q.spare)
    pieces = sum(int(s.grams / piece + 1e-9) for s in spools)
    short = max(0, was.coils * wire.strands - pieces) * piece
    running = [_running(q, rpm, by_turns, ohms, ohms_was, wire) for rpm in _speeds(q.duty)]
    idle, working = running or (None, None)
    out = Substitute(
        wire,
        turns,
        tuple(s.name for s in spools),
        ohms,
        ohms / ohms_was,
        area,
        fill,
        _enamelled(wire) * turns / fill_was,
        fitting,
        by_turns,
        by_turns**2,
        1 / by_turns,
        idle,
        working,
        metres * wire.grams_per_metre,
        piece * was.coils * wire.strands,
        sum(s.grams for s in spools),
        short,
    )
    return replace(out, cautions=tuple(_cautions(out)))


def _cautions(s: Substitute) -> Iterator[Caution]:
    if s.wire.strands > 1:
        yield Caution.STRANDS_TOGETHER
    if s.short_grams:
        yield Caution.RUNS_OUT
    if s.turns_fitting is None:
        yield Caution.FILL_UNKNOWN
    elif s.turns > s.turns_fitting:
        yield Caution.OVERFILLED
    speeds = [r for r in (s.idle, s.working) if r is not None]
    if (max(r.density_ratio for r in speeds) if speeds else 1 / s.area_ratio) > HOTTER:
        yield Caution.HOTTER


# ---- what it carries


def _why_not(duty: Duty | None) -> str | None:
    if duty is None:
        return "current can't be ranked without idle and working speed, poles and inductance"
    if duty.henries is None:
        return "current can't be ranked without inductance; measure it on a winding that is sound"
    if duty.poles is None:
        return "current can't be ranked without the poles; count them on the flywheel"
    return None


def _speeds(duty: Duty | None) -> tuple[float, ...]:
    return () if duty is None or _why_not(duty) is not None else (duty.idle_rpm, duty.working_rpm)


def _running(q: Question, rpm: float, by_turns: float, ohms: float, ohms_was: float, wire: Wire) -> Running:
    duty = q.duty
    assert duty is not None
    assert duty.henries is not None
    assert duty.poles is not None
    reactance = math.pi * duty.poles * rpm / 60 * duty.henries
    impedance = math.hypot(ohms + duty.load_ohms, reactance * by_turns**2)
    ratio = by_turns * math.hypot(ohms_was + duty.load_ohms, reactance) / impedance
    volts = duty.volts_per_krpm * rpm / 1000 * by_turns if duty.volts_per_krpm is not None else None
    amps = volts / impedance if volts is not None else None
    density = amps / q.as_was.paths / wire.area_mm2 if amps is not None else None
    return Running(rpm, ratio, ratio * q.as_was.wire.area_mm2 / wire.area_mm2, amps, density)


def _ratio(r: Running | None) -> float:
    assert r is not None
    return r.ratio


def _farness(s: Substitute) -> tuple[bool, float, int, float]:
    if s.idle is not None and s.working is not None:
        off = max(abs(math.log(s.idle.ratio)), abs(math.log(s.working.ratio)))
    else:
        off = abs(math.log(s.ohms_ratio)) + abs(math.log(s.volts_ratio))
    # what is as near goes by fewer strands, then by less copper
    return not s.usable, round(off, 9), s.wire.strands, s.grams_needed


# ---- what it takes


def _metres(q: Question, turns: int) -> float:
    """Wire of one coil, leads and all."""
    return (turns * q.as_was.mean_turn_mm + q.tails_mm) / 1000


def _ohms(q: Question, wire: Wire, turns: int) -> float:
    per_path = q.as_was.coils / q.as_was.paths
    warm = factor(20.0, q.duty.celsius if q.duty is not None else 20.0, COPPER_K)
    return per_path / q.as_was.paths * _metres(q, turns) * wire.ohms_per_metre * warm


def _enamelled(wire: Wire) -> float:
    """Of all strands of a turn, mm2."""
    return wire.strands * area_mm2(wire.placing_mm)


def _strand_grams(wire: Wire) -> float:
    return (wire.grams_per_metre + wire.enamel_grams_per_metre) / wire.strands


def _in_hand(strands: int) -> str:
    return f", {strands} in hand" if strands > 1 else ""
