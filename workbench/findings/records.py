"""What `explain` answers, as frozen records."""

from dataclasses import dataclass

from workbench.findings.faults import BenchFault, Fault
from workbench.stator.pattern import Pair
from workbench.stator.sheet import Reading


@dataclass(frozen=True, slots=True)
class Parameter:
    """A fault's `ohms`, `fraction`, `position`, `position_a`, `position_b` or `celsius`: its expected value, and the
    range that holds it with 90 %."""

    name: str
    value: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Finding:
    """One explanation. `where`: a winding, a pin, two of them as `a|b` in sorted order, or empty.

    `instead`: where a reading was taken elsewhere, the likeliest other pair, if one stands out. `slipped`: of a pair
    whose readings contradict each other, the one that was no reading of it.
    """

    fault: Fault | BenchFault
    where: str
    probability: float
    parameters: tuple[Parameter, ...] = ()
    instead: Pair | None = None
    slipped: Reading | None = None


@dataclass(frozen=True, slots=True)
class NextPair:
    """A pair not yet read, and the information (bit) that reading it should give about which explanation holds.

    `chance`: how probable what is true should be once it is read, on average; 0 where that is not worked out.
    """

    pair: Pair
    bits: float
    chance: float = 0.0


@dataclass(frozen=True, slots=True)
class Speech:
    """How far one pair's reading speaks for an explanation against a sound part, bit; below 0: against it."""

    pair: Pair
    bits: float


@dataclass(frozen=True, slots=True)
class Group:
    """Findings that the readings taken can't tell apart, most probable first.

    `tell`: the unread pair that should tell most among them; None where no pair of this part ever could.
    """

    findings: tuple[Finding, ...]
    probability: float
    tell: NextPair | None
