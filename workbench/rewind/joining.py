"""Figures that bear on the same few quantities, joined by weighted least squares on logarithms (JCGM 100, JCGM 102)."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
# the logarithm of something, from the logarithms of all quantities
Law = Callable[[Floats], float]

_STEPS = 40
_SLOPE = 1e-5
_SMALL = 1e-7


@dataclass(frozen=True, slots=True)
class Observed:
    """`log` of what was observed, the standard uncertainty of that (relative, so), and what it should be."""

    log: float
    u: float
    law: Law


@dataclass(frozen=True, slots=True)
class Joined:
    """`x`: the quantities' logarithms; `covariance` of what is determined of them; `known`: projects on that part.

    `chi_square` of the residuals has `freedom` degrees: observations less what they determine.
    """

    x: Floats
    covariance: Floats
    known: Floats
    chi_square: float
    freedom: int

    @property
    def chance(self) -> float:
        """That sound figures would disagree so much or more."""
        return chi_square_tail(self.chi_square, self.freedom)

    def value(self, law: Law) -> tuple[float, float] | None:
        """Something of the quantities, and its relative standard uncertainty; None where nothing determines it."""
        slope = slopes(law, self.x)
        if np.linalg.norm(slope - self.known @ slope) > 1e-4 * max(1.0, float(np.linalg.norm(slope))):
            return None
        return math.exp(law(self.x)), math.sqrt(max(0.0, float(slope @ self.covariance @ slope)))


def joined(observed: Sequence[Observed], start: Sequence[float]) -> Joined:
    """Least squares from a start in logarithms; what no figure bears on stays there."""
    x = np.array(start, dtype=float)
    for _ in range(_STEPS):
        a, r = _weighted(observed, x)
        step = np.clip(np.linalg.lstsq(a, r, rcond=_SMALL)[0], -3.0, 3.0)
        x = x + step
        if float(np.abs(step).max(initial=0.0)) < 1e-11:
            break
    a, r = _weighted(observed, x)
    _, sizes, right = np.linalg.svd(a, full_matrices=False)
    some = sizes > _SMALL * sizes.max(initial=0.0)
    basis, sizes = right[some], sizes[some]
    covariance = (basis.T / sizes**2) @ basis
    return Joined(x, covariance, basis.T @ basis, float(r @ r), len(observed) - int(some.sum()))


def _weighted(observed: Sequence[Observed], x: Floats) -> tuple[Floats, Floats]:
    a = np.array([slopes(o.law, x) / o.u for o in observed]).reshape(len(observed), len(x))
    r = np.array([(o.log - o.law(x)) / o.u for o in observed], dtype=float)
    return a, r


def slopes(law: Law, x: Floats) -> Floats:
    """By central differences: the laws are smooth and of order one in logarithms."""
    steps = _SLOPE * np.eye(len(x))
    return np.array([(law(x + s) - law(x - s)) / (2 * _SLOPE) for s in steps])


def chi_square_tail(value: float, freedom: int) -> float:
    """P(chi-square with so many degrees of freedom > value); 1 without any."""
    half = value / 2
    if freedom <= 0 or half <= 0:
        return 1.0
    # Q(a + 1, h) = Q(a, h) + h^a e^-h / Gamma(a + 1), from Q(1/2, h) = erfc(sqrt h) or Q(1, h) = e^-h
    a, tail = (0.5, math.erfc(math.sqrt(half))) if freedom % 2 else (1.0, math.exp(-half))
    while a < freedom / 2 - 0.25:
        tail += math.exp(a * math.log(half) - half - math.lgamma(a + 1))
        a += 1
    return min(tail, 1.0)
