"""Holds a layout given by hand, or noted as found, against what its teeth allow: reversed coils are found and named."""

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from workbench.rewind.electrical import (
    EMF_DEGREES,
    EMF_SHARE,
    OHMS_SHARE,
    Electrical,
    Remark,
    electrical,
    remarks,
)
from workbench.rewind.layout import Scheme, ToothCoil, hold, of_phase
from workbench.rewind.layoutsteps import Step, steps
from workbench.rewind.star import NOUGHT, arrow, balance, best_senses, pitch_factor, symmetric

# choices of senses that are tried of each phase, where many are as good: those nearest to what was given
_TRIED = 3
# of pole counts that may be what a flywheel had: less is no winding anybody would make; common practice, no source
PLAUSIBLE_FACTOR = 0.5
_JUST = PLAUSIBLE_FACTOR - 1e-9


class Fault(StrEnum):
    """REVERSED: a coil is wound the other way. UNEQUAL_COILS, UNEQUAL_TURNS, UNEQUAL_OHMS, UNEQUAL_VOLTS: between
    three phases. NOT_120: their angles.
    """

    REVERSED = "reversed"
    UNEQUAL_COILS = "unequal-coils"
    UNEQUAL_TURNS = "unequal-turns"
    UNEQUAL_OHMS = "unequal-ohms"
    UNEQUAL_VOLTS = "unequal-volts"
    NOT_120 = "not-120"


@dataclass(frozen=True, slots=True)
class Checked:
    """`reversed_coils`: the coils that, turned about, make the layout what it should be: one set, empty where none is
    reversed, or several where none is nearer to it than another. `electrical` is of what was given.
    """

    scheme: Scheme
    coils: tuple[ToothCoil, ...]
    poles: int
    electrical: Electrical
    faults: tuple[Fault, ...]
    reversed_coils: tuple[tuple[ToothCoil, ...], ...]
    remarks: tuple[Remark, ...]

    @property
    def good(self) -> bool:
        return not self.faults

    @property
    def steps(self) -> tuple[Step, ...]:
        return steps(self.scheme, self.coils)


def check(scheme: Scheme, coils: Sequence[ToothCoil]) -> tuple[Checked, ...]:
    """Under the scheme's poles; where those are unknown, under each pole count that these coils may have been wound
    for, the fewest reversed coils first, then the highest winding factor: empty where none fits.

    Raises RewindError where the coils can't be of this scheme at all.
    """
    hold(scheme, coils)
    if scheme.poles is not None:
        return (_checked(scheme, coils, scheme.poles),)
    under = [_checked(scheme, coils, poles) for poles in _poles(scheme)]
    meant = {c.poles: electrical(scheme, turned(coils, c.reversed_coils[0]), c.poles) for c in under}
    factor = {poles: min(p.factor for p in found.phases) for poles, found in meant.items()}
    able = [c for c in under if meant[c.poles].balanced and factor[c.poles] >= _JUST]
    fewest = min((len(c.reversed_coils[0]) for c in able), default=0)
    nearest = [c for c in able if len(c.reversed_coils[0]) == fewest]
    return tuple(sorted(nearest, key=lambda c: (-round(factor[c.poles], 9), c.poles)))


def _poles(scheme: Scheme) -> Iterator[int]:
    for poles in range(2, 2 * scheme.teeth, 2):
        able = scheme.phases == 1 or symmetric(scheme.teeth, poles)
        if able and abs(pitch_factor(scheme.teeth, poles)) >= _JUST:
            yield poles


def turned(coils: Sequence[ToothCoil], about: Sequence[ToothCoil]) -> tuple[ToothCoil, ...]:
    """The same coils, with some turned about."""
    these = frozenset(about)
    return tuple(replace(c, sense=-c.sense) if c in these else c for c in coils)


def _checked(scheme: Scheme, coils: Sequence[ToothCoil], poles: int) -> Checked:
    found = electrical(scheme, coils, poles)
    about = _reversed(scheme, coils, poles)
    faults = tuple(_faults(scheme, coils, found, bool(about[0])))
    return Checked(scheme, tuple(coils), poles, found, faults, about, remarks(scheme, found))


def _faults(scheme: Scheme, coils: Sequence[ToothCoil], found: Electrical, about: bool) -> Iterator[Fault]:
    if about:
        yield Fault.REVERSED
    if found.balance is None:
        return
    phases = [of_phase(coils, p) for p in range(1, scheme.phases + 1)]
    if len({len(own) for own in phases}) > 1:
        yield Fault.UNEQUAL_COILS
    if len({sum(c.turns for c in own) for own in phases}) > 1:
        yield Fault.UNEQUAL_TURNS
    if found.ohms_departure > OHMS_SHARE + 1e-9:
        yield Fault.UNEQUAL_OHMS
    if found.balance.departure > EMF_SHARE:
        yield Fault.UNEQUAL_VOLTS
    if found.balance.degrees_off > EMF_DEGREES:
        yield Fault.NOT_120


# ---- reversed coils


def _reversed(scheme: Scheme, coils: Sequence[ToothCoil], poles: int) -> tuple[tuple[ToothCoil, ...], ...]:
    """Each phase's coils must add up to the longest, and three phases lie nearest to 120 degrees apart; of the ways
    to have that, those that turn the fewest coils about. Turning all of them about changes nothing.
    """
    by_phase = [of_phase(coils, p) for p in range(1, scheme.phases + 1)]
    ways = [_ways(scheme, own, poles) for own in by_phase]
    tried = list(itertools.product(*ways))
    if scheme.phases == 3:
        off = [_off(way) for way in tried]
        tried = [way for way, o in zip(tried, off, strict=True) if o <= min(off) + EMF_DEGREES]
    flips = {frozenset(i for _, about in way for i in about) for way in tried}
    fewest = min(len(f) for f in flips)
    given = {i: c for own in by_phase for i, c in _numbered(own)}
    sets = sorted(sorted(f) for f in flips if len(f) == fewest)
    return tuple(tuple(given[i] for i in one) for one in sets)


_Key = tuple[int, int]
_Way = tuple[complex, tuple[_Key, ...]]


def _numbered(own: Sequence[ToothCoil]) -> list[tuple[_Key, ToothCoil]]:
    return [((c.tooth, c.place), c) for c in own]


def _ways(scheme: Scheme, own: Sequence[ToothCoil], poles: int) -> list[_Way]:
    """Volts of a phase with some of its coils turned about so that they add up to the longest."""
    arrows = [c.sense * c.turns * arrow(c.tooth, scheme.teeth, poles) for c in own]
    out: list[_Way] = []
    for senses in best_senses(arrows):
        for all_about in (1, -1):
            kept = [s * all_about for s in senses]
            total = sum((a * s for a, s in zip(arrows, kept, strict=True)), 0j)
            about = tuple(k for (k, _), s in zip(_numbered(own), kept, strict=True) if s < 0)
            out.append((total, about))
    return sorted(out, key=lambda way: len(way[1]))[: 2 * _TRIED]


def _off(ways: Sequence[_Way]) -> float:
    lengths = [abs(total) for total, _ in ways]
    return balance([total for total, _ in ways]).degrees_off if min(lengths) > NOUGHT else 360.0
