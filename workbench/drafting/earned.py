"""Bands a shop earns from its own parts known good: tolerance intervals (ISO 16269-6)."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import cache

import numpy as np

COVERAGE = CONFIDENCE = 0.95
# below so many units a band is provisional: common practice, no source
FIRM = 10
LEAST = 3  # two units tell next to nothing of how far a third may lie


class Goodness(StrEnum):
    """How a unit is known to be good."""

    RAN_WELL = "ran well"  # seen to run on its machine
    OTHER_BAND = "other band"  # passed by a band that was not earned from the shop's own units
    THIS_BAND = "this band"  # passed by the earned band alone, which can't speak for itself


class Method(StrEnum):
    NORMAL = "normal"  # mean and k standard deviations
    ORDER = "order"  # from the least to the greatest of them


@dataclass(frozen=True, slots=True)
class UnitValue:
    """A winding of one unit: `ohms` corrected, at the pattern's reference temperature. `meter`: what it was read on.

    `repeat`: standard uncertainty (ohm) of that meter's repeating itself; `u`: of all, its gain, the leads and the
    temperature too (JCGM 100).
    """

    unit: str
    ohms: float
    goodness: Goodness
    meter: str = ""
    repeat: float = 0.0
    u: float = 0.0


@dataclass(frozen=True, slots=True)
class EarnedBand:
    """`low` to `high` holds 95 % of such windings with 95 % confidence; None while there are too few units.

    `n` units counted, `left_out` that only this very band passed. `more`: units that are missing for `method` to be
    firm. `meter`: the one that all were read on, empty where there were several. `widened`: what the meters can tell
    either way (ohm), where the units lie closer together than that and the band was made so wide; else 0.
    """

    low: float | None
    high: float | None
    n: int
    left_out: int
    method: Method
    more: int
    meter: str = ""
    widened: float = 0.0

    @property
    def provisional(self) -> bool:
        return self.low is not None and self.method is Method.NORMAL and self.n < FIRM


def earned_band(values: Sequence[UnitValue], method: Method = Method.NORMAL) -> EarnedBand:
    """One value a unit; where a unit comes twice its last one counts.

    Two-sided normal interval, mean -+ k s (ISO 16269-6); or the order-statistic one from the least value to the
    greatest, which takes no law for granted and needs `order_needs()` units.

    Neither is narrower than what the meters tell: units that all read alike on a coarse meter need not be alike. Read
    on one meter that is by how far it repeats itself, since its own error is in every value already; else all of U.
    """
    counted = {v.unit: v for v in values if v.goodness is not Goodness.THIS_BAND}
    left_out = len({v.unit for v in values} - {*counted})
    n = len(counted)
    meters = {v.meter for v in counted.values()}
    meter = next(iter(meters)) if len(meters) == 1 else ""
    ohms = np.array([v.ohms for v in counted.values()])
    alone = np.array([v.repeat if len(meters) == 1 else v.u for v in counted.values()])
    enough = order_needs() if method is Method.ORDER else FIRM
    more = max(enough - n, 0)
    if n < (enough if method is Method.ORDER else LEAST):
        return EarnedBand(None, None, n, left_out, method, more, meter)
    if method is Method.ORDER:
        middle, reach = float(ohms.max() + ohms.min()) / 2, float(ohms.max() - ohms.min()) / 2
    else:
        middle, reach = float(ohms.mean()), k_factor(n) * float(ohms.std(ddof=1))
    least = 2 * math.sqrt(float((alone**2).mean()))  # U of what they were read by, together
    widened = least if reach < least else 0.0
    reach = max(reach, least)
    if not 0 < reach < middle:
        return EarnedBand(None, None, n, left_out, method, max(more, 1), meter)
    if method is Method.ORDER and not widened:
        return EarnedBand(float(ohms.min()), float(ohms.max()), n, left_out, method, more, meter)
    return EarnedBand(middle - reach, middle + reach, n, left_out, method, more, meter, widened)


@cache
def k_factor(n: int, coverage: float = COVERAGE, confidence: float = CONFIDENCE) -> float:
    """Two-sided normal tolerance factor for n values with unknown mean and sigma, exact (ISO 16269-6, Annex F).

    The share that mean -+ k s covers is at least `coverage` with probability `confidence`: for each place z of the
    sample mean, r(z) is the half-width that covers it, and s must reach it; averaged over z ~ N(0, 1/n).
    Raises ValueError for n below 2.
    """
    if n < 2:
        raise ValueError("a tolerance interval needs two values")
    # heavy, and wanted by nobody but who looks at the shop's own bands
    from scipy.optimize import brentq
    from scipy.special import chdtrc, ndtr

    nodes, weights = np.polynomial.hermite_e.hermegauss(64)
    weights = weights / weights.sum()
    reaches = [
        brentq(lambda r, z=z: ndtr(z + r) - ndtr(z - r) - coverage, 0, abs(z) + 10) for z in nodes / math.sqrt(n)
    ]
    r = np.array(reaches)

    def short(k: float) -> float:
        return float(weights @ chdtrc(n - 1, (n - 1) * (r / k) ** 2)) - confidence

    return float(brentq(short, 0.1, 1e4))


@cache
def order_needs(coverage: float = COVERAGE, confidence: float = CONFIDENCE) -> int:
    """The least n for which the interval from the least to the greatest value covers enough with enough confidence:
    1 - n p^(n-1) + (n - 1) p^n (ISO 16269-6)."""
    n, p = 2, coverage
    while 1 - n * p ** (n - 1) + (n - 1) * p**n < confidence:
        n += 1
    return n
