"""What may be wrong with a part, as the model's words, and how likely each is before anything is read."""

from collections.abc import Mapping
from enum import StrEnum
from types import MappingProxyType


class Fault(StrEnum):
    SOUND = "sound"
    OPEN_WINDING = "open-winding"
    OPEN_LEAD = "open-lead"
    SHORTED_TURNS = "shorted-turns"
    WINDING_TO_CORE = "winding-to-core"
    WINDING_TO_WINDING = "winding-to-winding"
    RESISTIVE_LEAD = "resistive-lead"
    SWAPPED_PINS = "swapped-pins"
    LEADS_NOT_ZEROED = "leads-not-zeroed"
    WRONG_TEMPERATURE = "wrong-temperature"
    UNLISTED = "unlisted"  # two of them at once, a leak to the core, a bad joint inside a winding


class BenchFault(StrEnum):
    """Faults beyond the model's, weighed on the bench alone (`findings.wiring`)."""

    OPEN_GROUND = "open-ground"
    POOR_GROUND = "poor-ground"
    OPEN_LINK = "open-link"
    POOR_LINK = "poor-link"
    WET_PLUG = "wet-plug"
    SLIP = "slip"
    ELSEWHERE = "elsewhere"


JUDGE_FAULTS: tuple[Fault, ...] = tuple(Fault)

# the shop's guess before it has counted: common practice, no source
STATED: Mapping[Fault, float] = MappingProxyType(
    {
        Fault.SOUND: 0.55,
        Fault.OPEN_WINDING: 0.08,
        Fault.OPEN_LEAD: 0.08,
        Fault.SHORTED_TURNS: 0.10,
        Fault.WINDING_TO_CORE: 0.08,
        Fault.WINDING_TO_WINDING: 0.02,
        Fault.RESISTIVE_LEAD: 0.04,
        Fault.SWAPPED_PINS: 0.02,
        Fault.LEADS_NOT_ZEROED: 0.01,
        Fault.WRONG_TEMPERATURE: 0.01,
        Fault.UNLISTED: 0.01,
    }
)

# the shop's guess of the bench's faults before anything is read: common practice, no source
BENCH_PRIORS = {
    BenchFault.OPEN_GROUND: 0.010,
    BenchFault.POOR_GROUND: 0.010,
    BenchFault.OPEN_LINK: 0.005,
    BenchFault.POOR_LINK: 0.005,
    BenchFault.WET_PLUG: 0.010,
    BenchFault.SLIP: 0.010,
    BenchFault.ELSEWHERE: 0.010,
}
# a digit or the point lost, or kilo for ohm: what was typed over what was meant
SLIPS = (1000.0, 0.001, 10.0, 0.1)


def from_counts(counts: Mapping[Fault, int], weight: float = 50.0) -> Mapping[Fault, float]:
    """Weights by what a shop has found: the mean of a Dirichlet that starts from `STATED`.

    `weight`: how many parts the stated weights count for, above 0. Raises ValueError for a negative count, or a
    weight that is not above 0.
    """
    if not 0 < weight < float("inf") or any(n < 0 for n in counts.values()):
        raise ValueError("counts can't be negative, and the stated weights must count for something")
    total = weight + sum(counts.values())
    return MappingProxyType({f: (weight * p + counts.get(f, 0)) / total for f, p in STATED.items()})
