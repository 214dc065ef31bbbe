"""What a story of the demo shop is made of, all of it invented; days count back from the date it is built for."""

from dataclasses import dataclass, field

from demo_shop.faults import Fault
from workbench.records import Outcome

SHOP_NAME = "Sandpiper Lane Cycle & Sled"
BENCH_TAG = "SL-0147"
HANDHELD, FOUR_WIRES = "Counter handheld", "Bench, four wires"


@dataclass(frozen=True, slots=True)
class Struck:
    """A reading that is struck out at once, before the good one of the check `at`; `typed` None: the point slipped."""

    at: int
    reason: str
    typed: str | None = None


@dataclass(frozen=True, slots=True)
class FalseStart:
    """The first `checks` of a sheet (None: all) read with so much more in the leads, then all struck out."""

    reason: str
    checks: int | None = None
    more_ohms: float = 0.0


@dataclass(frozen=True, slots=True)
class Decision:
    """`found`, `found_where`: what it was found to have, as codes, where the part's own faults don't say it."""

    outcome: Outcome
    note: str = ""
    found: str = ""
    found_where: str = ""


@dataclass(frozen=True, slots=True)
class Sitting:
    """One sheet: how the part was, what was stated of it and done with it. The verdict is nobody's to say here.

    `shares`: what is left of each winding's own ohms, by its name. `warmer`: how far the part is above the stated
    temperature. `revision`: number of the pattern's revision (None: the latest). `read`: how many checks (None: all).
    `later`: days after the job was opened.
    """

    meter: str = HANDHELD
    faults: tuple[Fault, ...] = ()
    shares: dict[str, float] = field(default_factory=dict)
    celsius: float = 20.0
    warmer: float = 0.0
    iron: bool = True
    read: int | None = None
    struck: tuple[Struck, ...] = ()
    false_start: FalseStart | None = None
    again: bool = True  # whether it is read on after a false start
    pattern: str | None = None  # None: the unit's own
    revision: int | None = None
    note: str = ""
    decision: Decision | None = None
    later: int = 0


@dataclass(frozen=True, slots=True)
class Visit:
    """One job, `after` so many days from the unit's first one."""

    complaint: str
    sittings: tuple[Sitting, ...]
    after: int = 0
    seen: str = ""
    approved: str = ""
    found: str = ""
    done: str = ""


@dataclass(frozen=True, slots=True)
class Tale:
    """All visits of a unit. `watch`: the winding that it is about."""

    visits: tuple[Visit, ...]
    watch: str | None = None


@dataclass(frozen=True, slots=True)
class Story:
    """A unit with its tale, which begins `first` days before the date. `own`: each winding's share of its nominal."""

    tag: str
    label: str
    pattern: str
    kind: str
    first: int
    tale: Tale
    own: dict[str, float] = field(default_factory=dict)
