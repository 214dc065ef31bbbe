"""The verdict of one reading against its band (JCGM 106, ILAC-G8)."""

import math
from dataclasses import dataclass
from enum import StrEnum


class Verdict(StrEnum):
    INSIDE = "inside"
    CONTINUOUS = "continuous"
    UNDECIDED = "undecided"
    OUTSIDE = "outside"


@dataclass(frozen=True, slots=True)
class Decision:
    """`probability` of lying inside; None where it can't be told for want of proof."""

    verdict: Verdict
    probability: float | None

    @property
    def leans_in(self) -> bool:
        """Undecided, but more likely inside than not (ILAC-G8's conditional pass)."""
        return self.probability is not None and self.probability >= 0.5


UNPROVED = Decision(Verdict.UNDECIDED, None)


def normal_below(z: float) -> float:
    """The standard normal distribution function."""
    return 0.5 * math.erfc(-z / math.sqrt(2))


def probability_inside(y: float, u: float, low: float | None, high: float) -> float:
    """p_c of JCGM 106, 7: the chance that a value known as y with standard uncertainty u lies in the band."""
    if u == 0:
        return float((low is None or y >= low) and y <= high)
    p = normal_below((high - y) / u)
    if low is not None:
        p -= normal_below((low - y) / u)
    return min(1.0, max(0.0, p))


def against_band(y: float, u: float, low: float, high: float) -> Decision:
    """All in ohm at the reference temperature; `u` is one standard uncertainty."""
    expanded = 2 * u
    p = probability_inside(y, u, low, high)
    if y + expanded < low or y - expanded > high:
        return Decision(Verdict.OUTSIDE, p)
    if 2 * expanded >= high - low:
        return Decision(Verdict.CONTINUOUS, p)
    if low <= y - expanded and y + expanded <= high:
        return Decision(Verdict.INSIDE, p)
    return Decision(Verdict.UNDECIDED, p)


def against_high(y: float, u: float, high: float) -> Decision:
    """A band with no low limit: only its high one is judged (JCGM 106, 7: one limit, one term)."""
    decision = against_limit(y, u, high)
    # as for any band from 0 to there: too wide an uncertainty can't judge it, another only not this value
    if decision.verdict is Verdict.CONTINUOUS and 4 * u < high:
        return Decision(Verdict.UNDECIDED, decision.probability)
    return decision


def against_limit(y: float, u: float, limit: float) -> Decision:
    """A link: only too much is wrong."""
    p = probability_inside(y, u, None, limit)
    if y - 2 * u > limit:
        return Decision(Verdict.OUTSIDE, p)
    if y + 2 * u <= limit:
        return Decision(Verdict.INSIDE, p)
    return Decision(Verdict.CONTINUOUS, p)
