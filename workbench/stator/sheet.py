"""One sitting of readings on a unit."""

import math
from collections.abc import Iterator
from dataclasses import dataclass, field

from workbench.stator.errors import FieldError
from workbench.stator.meter import Meter, Range
from workbench.stator.pattern import Pair, Pattern, why_untouchable

MOST_READINGS = 1000
COLDEST, HOTTEST = -60.0, 300.0


@dataclass(frozen=True, slots=True)
class Conditions:
    """What holds for a whole sheet. `lead_ohms` is 0 where the meter itself was zeroed on its leads."""

    celsius: float
    celsius_uncertainty: float
    lead_ohms: float = 0.0
    lead_uncertainty_ohms: float = 0.0

    def __post_init__(self) -> None:
        if not COLDEST <= self.celsius <= HOTTEST:
            raise FieldError("celsius", f"{self.celsius:g} C lies outside {COLDEST:g} to {HOTTEST:g} C")
        for name in ("celsius_uncertainty", "lead_ohms", "lead_uncertainty_ohms"):
            value = getattr(self, name)
            if not (math.isfinite(value) and value >= 0):
                raise FieldError(name, f"must be from 0, not {value:g}")


@dataclass(frozen=True, slots=True)
class Reading:
    """One measured pair. `ohms` as shown on the meter, leads included; None for an overload.

    The range is the lowest that covers it, for an overload the highest, unless one is named.
    """

    pair: Pair
    ohms: float | None
    range_upto_ohms: float | None = None

    def range_on(self, meter: Meter) -> Range:
        """Raises FieldError where the meter has no such range, or none that covers the reading."""
        if self.range_upto_ohms is not None:
            named = meter.named(self.range_upto_ohms)
            if named is None:
                tops = ", ".join(f"{r.upto_ohms:g}" for r in meter.ranges)
                raise FieldError(
                    "range_upto_ohms", f"the meter has no range up to {self.range_upto_ohms:g}, only {tops}"
                )
            if self.ohms is not None and self.ohms > named.upto_ohms:
                raise FieldError("ohms", f"{self.ohms:g} lies above its range's {named.upto_ohms:g} without being open")
            return named
        if self.ohms is None:
            return meter.top
        covering = meter.covering(self.ohms)
        if covering is None:
            raise FieldError(
                "ohms", f"{self.ohms:.15g} lies above every range of the meter, which would show an overload"
            )
        return covering


@dataclass(frozen=True, slots=True)
class Proof:
    """Which contacts are proved, so that an overload means open and not a missed pin.

    `stated` True or False holds for the whole sheet. None: worked out from the sheet (methods of the
    bench: a pin by a finite reading of another pair, the iron by a reading between two bare spots).
    """

    stated: bool | None = None
    iron: bool = False


@dataclass(frozen=True, slots=True)
class Sheet:
    """Raises FieldError where a reading or check can't be one of this pattern and meter."""

    pattern: Pattern
    meter: Meter
    conditions: Conditions
    readings: tuple[Reading, ...] = ()
    checks: tuple[Pair, ...] | None = None
    proof: Proof = field(default_factory=Proof)

    def __post_init__(self) -> None:
        if len(self.readings) > MOST_READINGS:
            raise FieldError(
                "readings", f"{len(self.readings)} of them is more than the {MOST_READINGS} a sheet may have"
            )
        if len(self.checks or ()) > MOST_READINGS:
            raise FieldError(
                "checks", f"{len(self.checks or ())} of them is more than the {MOST_READINGS} a sheet may have"
            )
        touchable: set[str] = set()
        for where, place, pair in self._pairs():
            for end, node in zip(("from", "to"), pair, strict=True):
                if node not in touchable:
                    why = why_untouchable(self.pattern, node)
                    if why:
                        raise FieldError(f"{where}.{end}" if place == "reading" else where, why)
                    touchable.add(node)
            if pair.positive == pair.negative:
                raise FieldError(f"{where}.to" if place == "reading" else where, f"both leads lie on {pair.positive!r}")
        for i, reading in enumerate(self.readings):
            try:
                on = reading.range_on(self.meter)
            except FieldError as e:
                raise e.within(f"readings[{i}]") from None
            if reading.ohms is not None and reading.ohms < on.floor:
                raise FieldError(
                    f"readings[{i}].ohms",
                    f"{reading.ohms:g} lies below 0 by more than the {on.digits:g} digits this range may be off",
                )

    def _pairs(self) -> Iterator[tuple[str, str, Pair]]:
        for i, r in enumerate(self.readings):
            yield f"readings[{i}]", "reading", r.pair
        for i, c in enumerate(self.checks or ()):
            yield f"checks[{i}]", "check", c

    @property
    def plan(self) -> tuple[Pair, ...]:
        """The checks to read: the sheet's own, else the pattern's, else just what was read."""
        if self.checks is not None:
            return self.checks
        if self.pattern.checks is not None:
            return self.pattern.checks
        return tuple(dict.fromkeys(r.pair for r in self.readings))
