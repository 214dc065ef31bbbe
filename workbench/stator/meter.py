"""A meter, its ranges, and what its specification lets a reading be off by."""

import math
from dataclasses import dataclass

from workbench.stator.errors import FieldError


@dataclass(frozen=True, slots=True)
class Range:
    """One range: its top and resolution in ohm, its limits as percent of the shown value and digits."""

    upto_ohms: float
    resolution_ohms: float
    percent: float
    digits: float

    def gain(self, shown: float) -> float:
        """Standard uncertainty (ohm) of the part every reading on this range shares.

        Limits of a rectangular distribution, a / sqrt 3 (JCGM 100, 4.3.7).
        """
        return self.percent / 100 * abs(shown) / math.sqrt(3)

    @property
    def digit(self) -> float:
        """Standard uncertainty (ohm) of the part each reading has to itself."""
        return self.digits * self.resolution_ohms / math.sqrt(3)

    @property
    def floor(self) -> float:
        """The lowest value (ohm) this range may show: a meter zeroed on its leads may go a little below 0."""
        return -self.digits * self.resolution_ohms


@dataclass(frozen=True, slots=True)
class Meter:
    """Ranges from the lowest up. `open_above_ohms`: above it the meter shows an overload."""

    ranges: tuple[Range, ...]
    open_above_ohms: float

    def __post_init__(self) -> None:
        if not self.ranges:
            raise FieldError("meter.ranges", "a meter needs at least one range")
        for i, r in enumerate(self.ranges):
            for name, value, least in (
                ("upto_ohms", r.upto_ohms, "above"),
                ("resolution_ohms", r.resolution_ohms, "above"),
                ("percent", r.percent, "from"),
                ("digits", r.digits, "from"),
            ):
                if not math.isfinite(value) or value < 0 or (least == "above" and value == 0):
                    raise FieldError(f"meter.ranges[{i}].{name}", f"must be {least} 0, not {value:g}")
        tops = [r.upto_ohms for r in self.ranges]
        if len(set(tops)) < len(tops):
            raise FieldError("meter.ranges", "two ranges have the same top")
        if not (math.isfinite(self.open_above_ohms) and self.open_above_ohms > 0):
            raise FieldError("meter.open_above_ohms", f"must be above 0, not {self.open_above_ohms:g}")
        object.__setattr__(self, "ranges", tuple(sorted(self.ranges, key=lambda r: r.upto_ohms)))

    @property
    def top(self) -> Range:
        return self.ranges[-1]

    def covering(self, shown: float) -> Range | None:
        """The lowest range that covers the shown value (ohm); None above them all."""
        return next((r for r in self.ranges if shown <= r.upto_ohms), None)

    def named(self, upto_ohms: float) -> Range | None:
        return next((r for r in self.ranges if r.upto_ohms == upto_ohms), None)

    def overload_above(self, r: Range) -> float:
        """The ohms that an overload on this range is known to lie above."""
        return min(r.upto_ohms, self.open_above_ohms)
