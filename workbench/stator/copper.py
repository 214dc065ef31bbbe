"""How a winding's resistance follows its temperature."""

from enum import StrEnum


class Conductor(StrEnum):
    COPPER = "copper"
    ALUMINIUM = "aluminium"


# Inferred zero-resistance temperature k below 0 C, negated: R ~ k + T.
# Copper: IEC 60228 Annex B (by secondary reprint). IEC 60034-1 prints 235 for a rise by resistance.
COPPER_K = 234.5
# Aluminium: as IEC 60034-1 gives it (by secondary reprint); IEC 60228 has 228.
ALUMINIUM_K = 225.0

_K = {Conductor.COPPER: COPPER_K, Conductor.ALUMINIUM: ALUMINIUM_K}


def k_of(conductor: Conductor) -> float:
    """The constant k, in degrees Celsius, of R2 = R1 (k + t2) / (k + t1)."""
    return _K[conductor]


def factor(from_celsius: float, to_celsius: float, k: float) -> float:
    """What a resistance at `from_celsius` is multiplied by to stand at `to_celsius` (dimensionless)."""
    return (k + to_celsius) / (k + from_celsius)
