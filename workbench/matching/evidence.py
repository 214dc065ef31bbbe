"""A sheet's readings in the slots of a shape, and what the meter does to each."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from workbench.findings.circuit import Floats, Ints
from workbench.findings.evidence import TOUCH_MEAN, Evidence, gather
from workbench.findings.likelihood import Shared
from workbench.matching.layings import Shape
from workbench.stator.errors import FieldError
from workbench.stator.meter import Meter
from workbench.stator.pattern import Pair
from workbench.stator.sheet import Conditions, Reading

MOST_READINGS = 100

# a part that is like nothing: the odds of an open pair, of ohms as windings have them, of leaks. A guess, no source.
LONE_OPEN, LONE_OHMS, LONE_LEAK = 0.40, 0.59, 0.01
_SHIFT, _MIDDLE, _TOP = 0.3, 5000.0, 20e6
_WIDTH = math.log((_MIDDLE + _SHIFT) / _SHIFT)
_LEAK_WIDTH = math.log(_TOP / _MIDDLE)


def lone_density(shown: Floats) -> Floats:
    """Per ohm, of a display of a part that is like nothing."""
    low = LONE_OHMS / _WIDTH / (np.maximum(shown, 0.0) + _SHIFT)
    high = LONE_LEAK / _LEAK_WIDTH / np.clip(shown, _MIDDLE, _TOP)
    out: Floats = np.where(shown <= _MIDDLE, low, high)
    return out


def lone_displays(n: int) -> Floats:
    """The middles of n equal shares of its displays up to 5,000 ohm."""
    at = (np.arange(n) + 0.5) / n
    out: Floats = _SHIFT * (np.exp(at * _WIDTH) - 1)
    return out


@dataclass(frozen=True, slots=True, eq=False)
class Sighted:
    """`e`: the readings merged, finite first. `finite`, `opens`: the number of each one's pair in the shape.

    `lone` (finite readings,): log density of each for a part that is like nothing; `lone_log`: of the whole sheet.
    """

    e: Evidence
    finite: Ints
    opens: Ints
    meter: Meter
    conditions: Conditions
    lone: Floats

    @property
    def lone_log(self) -> float:
        return float(self.lone.sum()) + len(self.opens) * math.log(LONE_OPEN)

    @property
    def lead(self) -> float:
        """What leads and touch add to every reading (ohm)."""
        return self.conditions.lead_ohms + TOUCH_MEAN

    @property
    def shared(self) -> Shared:
        """Leads alone; windings and temperature differ from pattern to pattern."""
        none: Floats = np.zeros(0)
        return Shared(none, none, self.lead, self.conditions.lead_uncertainty_ohms)


def sight(
    shape: Shape, nodes: Sequence[str], meter: Meter, conditions: Conditions, readings: Iterable[Reading]
) -> Sighted:
    """Raises FieldError for a reading that this meter or part can't have given."""
    readings = tuple(readings)
    check(nodes, meter, readings)
    e = gather(meter, readings)
    at = {n: i for i, n in enumerate(nodes)}

    def pairs(of: Sequence[Pair]) -> Ints:
        return np.array([shape.pair_of[at[a], at[b]] for a, b in of], dtype=np.intp)

    return Sighted(e, pairs(e.pairs), pairs(e.opens), meter, conditions, np.log(lone_density(e.shown)))


def check(nodes: Sequence[str], meter: Meter, readings: Sequence[Reading]) -> None:
    """Raises FieldError for a reading that this meter or part can't have given."""
    if len(readings) > MOST_READINGS:
        raise FieldError("readings", f"{len(readings)} of them is more than the {MOST_READINGS} that are looked at")
    known = set(nodes)
    for i, r in enumerate(readings):
        for end, node in zip(("from", "to"), r.pair, strict=True):
            if node not in known:
                raise FieldError(f"readings[{i}].{end}", f"there is no pin {node!r} on this part")
        if r.pair.positive == r.pair.negative:
            raise FieldError(f"readings[{i}].to", f"both leads lie on {r.pair.positive!r}")
        try:
            on = r.range_on(meter)
        except FieldError as e:
            raise e.within(f"readings[{i}]") from None
        if r.ohms is not None and r.ohms < on.floor:
            raise FieldError(
                f"readings[{i}].ohms",
                f"{r.ohms:g} lies below 0 by more than the {on.digits:g} digits this range may be off",
            )
