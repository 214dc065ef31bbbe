"""A sheet's readings as the model takes them: merged, in one order, each with what the meter does to it."""

import math
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from workbench.findings.circuit import Floats, Ints
from workbench.stator.meter import Meter
from workbench.stator.pattern import Pair
from workbench.stator.sheet import Reading

# a touch adds |N(0, 0.02)| ohm: common practice, no source; its mean and variance are the half-normal's
_TOUCH = 0.02
TOUCH_MEAN = _TOUCH * math.sqrt(2 / math.pi)
TOUCH_VARIANCE = _TOUCH**2 * (1 - 2 / math.pi)


@dataclass(frozen=True, slots=True)
class Evidence:
    """Finite readings first: `pairs`, `shown` (ohm), `own` (ohm squared, what each has to itself), `scale` (its
    range's gain, standard uncertainty as a share) and `range` (which readings share it). Then the open ones, with
    the ohms each is known to lie above.
    """

    pairs: tuple[Pair, ...]
    shown: Floats
    own: Floats
    scale: Floats
    range: Ints
    opens: tuple[Pair, ...]
    above: Floats

    def __len__(self) -> int:
        return len(self.pairs) + len(self.opens)


def own_variance(meter: Meter, on: int) -> float:
    """Touch, digits and rounding of one reading on a range (ohm squared)."""
    r = meter.ranges[on]
    return TOUCH_VARIANCE + r.digit**2 + r.resolution_ohms**2 / 12


def gather(meter: Meter, readings: Iterable[Reading]) -> Evidence:
    """Repeats of a pair on one range are their mean. Where a pair also reads a number, its opens were missed
    touches and don't count.
    """
    finite: dict[tuple[tuple[str, str], float], list[float]] = {}
    opens: dict[tuple[str, str], float] = {}
    for r in readings:
        on = r.range_on(meter)
        key = r.pair.unordered
        if r.ohms is None:
            opens[key] = max(opens.get(key, 0.0), meter.overload_above(on))
        else:
            finite.setdefault((key, on.upto_ohms), []).append(r.ohms)
    for key, _ in finite:
        opens.pop(key, None)
    tops = [r.upto_ohms for r in meter.ranges]
    order = sorted(finite)
    on_range = [tops.index(top) for _, top in order]
    counts = [len(finite[k]) for k in order]
    lone = sorted(opens)
    return Evidence(
        pairs=tuple(Pair(*k) for k, _ in order),
        shown=np.array([math.fsum(finite[k]) / len(finite[k]) for k in order]),
        own=np.array([own_variance(meter, on) / n for on, n in zip(on_range, counts, strict=True)]),
        scale=np.array([meter.ranges[on].gain(1.0) for on in on_range]),
        range=np.array(on_range, dtype=np.intp),
        opens=tuple(Pair(*k) for k in lone),
        above=np.array([opens[k] for k in lone]),
    )
