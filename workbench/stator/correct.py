"""From what the meter showed to ohms at the reference temperature, with what they may be off by."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from workbench.stator.copper import Conductor, factor, k_of
from workbench.stator.meter import Meter
from workbench.stator.network import Floats
from workbench.stator.pattern import Pair
from workbench.stator.sheet import Conditions, Reading


@dataclass(frozen=True, slots=True)
class Corrected:
    """Ohms at the reference temperature, less leads, and its standard uncertainties (ohm) by cause.

    `gain` is one figure a range (by the range's top), shared by all readings on that range; `leads`
    and `temperature` are shared by the whole sheet; `digit` is this one's own.
    """

    ohms: float
    gain: tuple[tuple[float, float], ...]
    digit: float
    leads: float
    temperature: float

    @property
    def u(self) -> float:
        shared = sum(g * g for _, g in self.gain)
        return math.sqrt(shared + self.digit**2 + self.leads**2 + self.temperature**2)

    @property
    def expanded(self) -> float:
        """U = 2 u."""
        return 2 * self.u


class Corrector:
    """The corrections of one sheet's conditions (JCGM 100 throughout)."""

    def __init__(self, meter: Meter, conditions: Conditions, conductor: Conductor, reference_celsius: float) -> None:
        self.meter = meter
        self.conditions = conditions
        k = k_of(conductor)
        self.factor = factor(conditions.celsius, reference_celsius, k)
        self._relative_temperature = conditions.celsius_uncertainty / (k + conditions.celsius)

    def mean(self, readings: Sequence[Reading]) -> Corrected:
        """The mean of repeated finite readings of one pair (a single one is its own mean).

        Shared parts stay as they are; the digit part goes down by sqrt n, unless the scatter is larger.
        """
        shown = [r.ohms for r in readings if r.ohms is not None]
        n = len(shown)
        f = self.factor
        gains: dict[float, float] = {}
        digits = 0.0
        for reading, ohms in zip(readings, shown, strict=True):
            on = reading.range_on(self.meter)
            gains[on.upto_ohms] = gains.get(on.upto_ohms, 0.0) + f * on.gain(ohms) / n
            digits += on.digit**2
        mean = math.fsum(shown) / n
        own = math.sqrt(digits) / n
        if n > 1:
            scatter = math.sqrt(math.fsum((x - mean) ** 2 for x in shown) / (n - 1))
            own = max(own, scatter / math.sqrt(n))
        y = f * (mean - self.conditions.lead_ohms)
        return Corrected(
            ohms=y,
            gain=tuple(gains.items()),
            digit=f * own,
            leads=f * self.conditions.lead_uncertainty_ohms,
            temperature=abs(y) * self._relative_temperature,
        )

    def shown(self, ohms: float) -> float:
        """What the meter would show (ohm) for this resistance at the reference temperature, leads included."""
        return ohms / self.factor + self.conditions.lead_ohms

    def at(self, ohms: float, readings: int = 1) -> Corrected | None:
        """A resistance (ohm at the reference temperature) as this meter would read it; None above its ranges."""
        shown = self.shown(ohms)
        if shown > self.meter.open_above_ohms or self.meter.covering(shown) is None:
            return None
        return self.mean([Reading(_ANY, shown)] * readings)


_ANY = Pair("", "")


def covariance(values: Sequence[Corrected]) -> Floats:
    """Covariance matrix (ohm squared) of corrected values of one sheet.

    To be used wherever readings are combined (a sum, a ratio, a balance): the gain of a range, the
    leads and the temperature move them together.
    """
    columns: list[dict[object, float]] = [
        {
            **{("gain", top): g for top, g in v.gain},
            "leads": v.leads,
            "temperature": math.copysign(v.temperature, v.ohms),
        }
        for v in values
    ]
    causes = sorted({c for column in columns for c in column}, key=str)
    shared = np.array([[column.get(c, 0.0) for c in causes] for column in columns]).reshape(len(values), -1)
    out: Floats = shared @ shared.T + np.diag([v.digit**2 for v in values])
    return out
