"""Whether a part moved between two sheets, or only the readings did."""

import math
from dataclasses import dataclass

from workbench.stator.correct import Corrected


@dataclass(frozen=True, slots=True)
class Drift:
    """How far a value stands from an earlier one, and the U of that difference (ohm, at the reference temperature)."""

    change: float
    expanded: float
    then: float

    @property
    def flagged(self) -> bool:
        """More than the readings can explain."""
        return abs(self.change) > self.expanded

    @property
    def share(self) -> float | None:
        """The change as a share of the earlier value; None where that says nothing (about 0 ohm, or below)."""
        return self.change / self.then if self.then > self.expanded else None


def drift(now: Corrected, then: Corrected, *, same_meter: bool) -> Drift:
    """Two corrected values of one winding, from two sheets: U_d = 2 sqrt(u1^2 + u2^2 - 2 cov) (JCGM 100, 5.2.2).

    What the sheets share is the gain of a range of the same meter: both readings are off by the same share of
    themselves, so cov is the product of the two (F.1.2.3). Leads, temperature and digits are each sheet's own.
    """
    covariance = 0.0
    if same_meter:
        earlier = dict(then.gain)
        covariance = math.fsum(g * earlier.get(top, 0.0) for top, g in now.gain)
    variance = now.u**2 + then.u**2 - 2 * covariance
    # never below what the two have to themselves; rounding alone could take it there
    return Drift(now.ohms - then.ohms, 2 * math.sqrt(max(variance, 0.0)), then.ohms)
