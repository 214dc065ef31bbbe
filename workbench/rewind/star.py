"""The star of slots: how the volts of tooth coils add up, as one phasor a coil.

For magnets that alternate evenly around the ring. Two-layer fractional-slot tooth coils after the star of slots as in
"Use of the star of slots in designing fractional-slot single-layer synchronous motors".
"""

import cmath
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

# below it a sum of unit vectors is nought; rounding leaves some 1e-14
NOUGHT = 1e-9


@dataclass(frozen=True, slots=True)
class Around:
    """A coil around `span` neighbouring teeth, `tooth` being the first, from 1; sense is 1 or -1."""

    tooth: int
    sense: int = 1
    turns: float = 1.0
    span: int = 1


def directions(teeth: int, poles: int) -> int:
    """How many different directions the teeth's volts have: teeth / gcd(teeth, pole pairs)."""
    return teeth // math.gcd(teeth, poles // 2)


def symmetric(teeth: int, poles: int) -> bool:
    """Whether three phases can balance: teeth / (3 gcd(teeth, pole pairs)) is a whole number."""
    return directions(teeth, poles) % 3 == 0


def arrow(tooth: int, teeth: int, poles: int) -> complex:
    """The direction of a tooth's volts, of length 1."""
    return cmath.exp(2j * math.pi * (poles // 2 * (tooth - 1) % teeth) / teeth)


def pitch_factor(teeth: int, poles: int, harmonic: int = 1, span: int = 1) -> float:
    """sin(harmonic x pi x pole pairs x span / teeth); below nought where the harmonic comes out turned about."""
    # the angle is a whole number of 2 pi / (2 teeth): reduced before the sine, so that nought is nought
    return _sine(harmonic * (poles // 2) * span, teeth)


def phasor(coils: Iterable[Around], teeth: int, poles: int, harmonic: int = 1) -> complex:
    """Their volts in series, in turns: 1 is a turn of full pitch. `harmonic` is of the magnets' field, 1 the first."""
    total = 0j
    for c in coils:
        half_teeth = harmonic * (poles // 2) * (2 * (c.tooth - 1) + c.span - 1) % (2 * teeth)
        pitch = pitch_factor(teeth, poles, harmonic, c.span)
        total += c.sense * c.turns * pitch * cmath.exp(1j * math.pi * half_teeth / teeth)
    return total


def winding_factor(coils: Sequence[Around], teeth: int, poles: int, harmonic: int = 1) -> float:
    """Pitch times distribution of coils in series, from 0 to 1: the length of their phasor to that of as many turns
    of full pitch all in step.
    """
    return abs(phasor(coils, teeth, poles, harmonic)) / sum(c.turns for c in coils)


@dataclass(frozen=True, slots=True)
class Balance:
    """How far three phasors are from equal and 120 degrees apart.

    `departure`: the largest difference of a length from their mean, as a share of it (NEMA MG 1's formula for voltage
    unbalance, by secondary quotation, used here by analogy). `degrees_off`: the largest difference of an angle between
    two of them from 120. Both infinite where one has no length.
    """

    departure: float
    degrees_off: float

    def within(self, share: float, degrees: float) -> bool:
        return self.departure <= share and self.degrees_off <= degrees


def balance(emfs: Sequence[complex]) -> Balance:
    """Of three phasors, in either order of rotation."""
    a, b, c = emfs
    lengths = [abs(e) for e in emfs]
    mean = sum(lengths) / 3
    if min(lengths) <= NOUGHT * max(1.0, mean):
        return Balance(math.inf, math.inf)
    steps = [_degrees(b / a), _degrees(c / b), _degrees(a / c)]
    off = min(max(abs(_wrapped(s - turn)) for s in steps) for turn in (120.0, -120.0))
    return Balance(max(abs(x - mean) for x in lengths) / mean, off)


def best_senses(arrows: Sequence[complex]) -> tuple[tuple[int, ...], ...]:
    """Every choice of 1 or -1 for each that makes their sum as long as can be; of a choice and its opposite the one
    that leaves the first arrow as it is.

    Whatever lies on one side of the longest sum keeps its sense, so only splits by a line have to be tried.
    """
    folded = sorted({round(cmath.phase(a) % math.pi, 9) % round(math.pi, 9) for a in arrows})
    following = np.array([*folded[1:], folded[0] + math.pi])
    axes = np.exp(1j * ((np.array(folded) + following) / 2 + math.pi / 2))
    every = np.array(arrows)
    senses = np.where((every * axes.conj()[:, None]).real > 0, 1, -1)
    senses *= senses[:, :1]
    lengths = np.abs(senses @ every)
    longest = senses[lengths >= lengths.max() * (1 - 1e-6)]
    return tuple(dict.fromkeys(tuple(row) for row in longest.tolist()))


def _sine(half_turns: int, of: int) -> float:
    """sin(pi x half_turns / of), exact at its noughts."""
    rest = half_turns % (2 * of)
    return 0.0 if rest % of == 0 else math.sin(math.pi * rest / of)


def _degrees(z: complex) -> float:
    return math.degrees(cmath.phase(z))


def _wrapped(degrees: float) -> float:
    """From -180 to 180."""
    return (degrees + 180.0) % 360.0 - 180.0
