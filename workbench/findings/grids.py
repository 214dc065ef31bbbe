"""The values a fault's parameters may take, as cells: each a middle, and how far it reaches."""

import math
from dataclasses import dataclass

import numpy as np

from workbench.findings.circuit import Floats
from workbench.findings.hypotheses import What

# A cell stands for its values as a normal distribution about its middle. With 0.4 of the cells' distance as its
# standard deviation a row of them adds up to an even density within 9 %, where the rectangle's own 0.29 leaves 39 %.
REACH = 0.4

FRACTION = (0.02, 0.9)
FAULT_OHMS = (0.5, 200.0)
LEAD_OHMS = (0.5, 500.0)
LEAK_OHMS = (1e3, 1e6)
JOINT_OHMS = (0.5, 500.0)
UNZEROED_OHMS = (0.1, 6.0)
RISE = (20.0, 80.0)


@dataclass(frozen=True, slots=True)
class Axis:
    """`values` in the parameter's own unit, and `spread`, one standard deviation of a cell in that unit."""

    values: Floats
    spread: Floats

    def __len__(self) -> int:
        return len(self.values)


def log_axis(ends: tuple[float, float], cells: int) -> Axis:
    low, high = math.log(ends[0]), math.log(ends[1])
    step = (high - low) / cells
    values = np.array([math.exp(low + step * (i + 0.5)) for i in range(cells)])
    return Axis(values, REACH * step * values)


def even_axis(ends: tuple[float, float], cells: int) -> Axis:
    step = (ends[1] - ends[0]) / cells
    values = np.array([ends[0] + step * (i + 0.5) for i in range(cells)])
    return Axis(values, np.full(cells, REACH * step))


@dataclass(frozen=True, slots=True, eq=False)
class Grids:
    """How finely each parameter is cut."""

    fraction: Axis
    position: Axis
    fault_ohms: Axis
    position_ab: Axis
    fault_ohms_ab: Axis
    lead_ohms: Axis
    leak_ohms: Axis
    leak_position: Axis
    joint_ohms: Axis
    unzeroed: Axis
    rise: Axis

    def cells(self, what: int) -> int:
        """How many cells one hypothesis of a kind is cut into."""
        ab = len(self.position_ab) ** 2 * len(self.fault_ohms_ab)
        many = {
            What.SHORTED: len(self.fraction), What.TO_CORE: len(self.position) * len(self.fault_ohms),
            What.TO_WINDING: ab, What.RESISTIVE: len(self.lead_ohms), What.UNZEROED: len(self.unzeroed),
            What.WARMER: len(self.rise), What.LEAK: len(self.leak_position) * len(self.leak_ohms),
            What.JOINT: len(self.joint_ohms),
        }  # fmt: skip
        return many.get(what, 1)


def grids(
    fraction: int, position: int, fault: int, position_ab: int, fault_ab: int, lead: int, leak: int, joint: int
) -> Grids:
    return Grids(
        fraction=log_axis(FRACTION, fraction),
        position=even_axis((0, 1), position),
        fault_ohms=log_axis(FAULT_OHMS, fault),
        position_ab=even_axis((0, 1), position_ab),
        fault_ohms_ab=log_axis(FAULT_OHMS, fault_ab),
        lead_ohms=log_axis(LEAD_OHMS, lead),
        leak_ohms=log_axis(LEAK_OHMS, leak),
        leak_position=even_axis((0, 1), 2),
        joint_ohms=log_axis(JOINT_OHMS, joint),
        unzeroed=even_axis(UNZEROED_OHMS, 16),
        rise=even_axis(RISE, 4),
    )


USUAL = grids(fraction=14, position=5, fault=9, position_ab=4, fault_ab=6, lead=14, leak=7, joint=10)
MIDDLING = grids(fraction=10, position=4, fault=7, position_ab=2, fault_ab=3, lead=12, leak=3, joint=5)
COARSE = grids(fraction=6, position=3, fault=4, position_ab=2, fault_ab=3, lead=6, leak=3, joint=5)
FINE = grids(fraction=40, position=16, fault=30, position_ab=10, fault_ab=20, lead=60, leak=30, joint=50)
# one odd value each, to compare explanations by
POINT = Grids(
    fraction=Axis(np.array([0.31]), np.zeros(1)),
    position=Axis(np.array([0.43]), np.zeros(1)),
    fault_ohms=Axis(np.array([7.3]), np.zeros(1)),
    position_ab=Axis(np.array([0.43]), np.zeros(1)),
    fault_ohms_ab=Axis(np.array([7.3]), np.zeros(1)),
    lead_ohms=Axis(np.array([7.3]), np.zeros(1)),
    leak_ohms=Axis(np.array([7300.0]), np.zeros(1)),
    leak_position=Axis(np.array([0.43]), np.zeros(1)),
    joint_ohms=Axis(np.array([7.3]), np.zeros(1)),
    unzeroed=Axis(np.array([1.3]), np.zeros(1)),
    rise=Axis(np.array([37.0]), np.zeros(1)),
)
