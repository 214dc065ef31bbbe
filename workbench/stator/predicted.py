"""What windings that were wound anew should read, in the place of what their pattern says of them."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from workbench.stator.copper import COPPER_K, factor
from workbench.stator.errors import FieldError
from workbench.stator.pattern import Pattern

# a band is never narrower than this either way, as a share of its nominal
_LEAST_WIDTH = 1e-6


@dataclass(frozen=True, slots=True)
class Predicted:
    """Ohms of one winding of a pattern at 20 C, of copper; `low_20` and `high_20`: 2 standard uncertainties away."""

    winding: str
    ohms_20: float
    low_20: float
    high_20: float


def with_predicted(pattern: Pattern, some: Sequence[Predicted], band_from: str = "") -> Pattern:
    """The same pattern, but that these windings should read so. `band_from`: what is said of where their bands come
    from, since what was said of the old ones holds no longer.

    The wire is copper, whatever the pattern's other windings are, and goes to the pattern's temperature as copper does.
    Raises FieldError for a winding that the pattern hasn't, or that is no wire.
    """
    by_name = {p.winding: p for p in some}
    wire = {w.name for w in pattern.windings if w.element is None}
    for name in by_name:
        if name not in wire:
            raise FieldError("winding", f"the pattern has no winding of wire named {name!r}")
    warm = factor(20.0, pattern.reference_celsius, COPPER_K)
    out = []
    for w in pattern.windings:
        p = by_name.get(w.name)
        if p is not None:
            ohms = p.ohms_20 * warm
            low = min(p.low_20 * warm, ohms * (1 - _LEAST_WIDTH))
            high = max(p.high_20 * warm, ohms * (1 + _LEAST_WIDTH))
            w = replace(w, ohms=ohms, tolerance_percent=None, low_ohms=low, high_ohms=high, band_from=band_from)
        out.append(w)
    return replace(pattern, windings=tuple(out))
