"""What can be wrong with a part, as it stands in the copper; and how that is wired into the part's own network."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from workbench.findings.faults import BenchFault
from workbench.findings.faults import Fault as Known
from workbench.stator.pattern import CORE, LINK_OHMS, Pattern


@dataclass(frozen=True, slots=True)
class Open:
    """A winding broken somewhere inside."""

    winding: str


@dataclass(frozen=True, slots=True)
class Shorted:
    """A share of a winding's turns bypassed: they take their own share off its ohms."""

    winding: str
    fraction: float


@dataclass(frozen=True, slots=True)
class ToCore:
    """A winding down to the iron: at `position` (0 at its start, 1 at its finish), through `ohms`."""

    winding: str
    position: float
    ohms: float


@dataclass(frozen=True, slots=True)
class LeadOff:
    """The wire of a pin broken close to it: what meets behind it still meets."""

    pin: str


@dataclass(frozen=True, slots=True)
class BadLead:
    """A green or loose terminal: so many ohms in series with a pin."""

    pin: str
    ohms: float


@dataclass(frozen=True, slots=True)
class Swapped:
    """Two terminals in each other's cavities."""

    pin: str
    other: str


@dataclass(frozen=True, slots=True)
class Wet:
    """Water in a plug: so many ohms from each of its pins to the next one and to the iron."""

    plug: str
    ohms: float


Fault = Open | Shorted | ToCore | LeadOff | BadLead | Swapped | Wet


def named(fault: Fault) -> tuple[str, str]:
    """The code a finding has for it, and its place."""
    match fault:
        case Open(w):
            return Known.OPEN_WINDING, w
        case Shorted(w, _):
            return Known.SHORTED_TURNS, w
        case ToCore(w, _, _):
            return Known.WINDING_TO_CORE, w
        case LeadOff(pin):
            return Known.OPEN_LEAD, pin
        case BadLead(pin, _):
            return Known.RESISTIVE_LEAD, pin
        case Swapped(a, b):
            return Known.SWAPPED_PINS, "|".join(sorted((a, b)))
        case Wet():
            return BenchFault.WET_PLUG, ""


@dataclass(frozen=True, slots=True)
class Branch:
    """So many ohms between two nodes at the reference temperature; `copper`: they rise as it warms."""

    start: str
    finish: str
    ohms: float
    copper: bool = False


@dataclass(frozen=True, slots=True)
class Wiring:
    """A part's own branches, and the node that a probe in each cavity really touches."""

    branches: tuple[Branch, ...]
    touched: dict[str, str]


def wired(pattern: Pattern, ohms: dict[str, float], faults: Sequence[Fault]) -> Wiring:
    """`ohms`: of each winding that is whole, at the reference temperature. Elements are left out."""
    gone = {f.winding for f in faults if isinstance(f, Open)}
    left = {w: r for w, r in ohms.items() if w not in gone}
    for f in faults:
        if isinstance(f, Shorted) and f.winding in left:
            left[f.winding] *= 1 - f.fraction
    behind = {f.pin: f"behind {f.pin}" for f in faults if isinstance(f, LeadOff | BadLead)}

    def end(node: str) -> str:
        return behind.get(node, node)

    grounded = {f.winding: f for f in faults if isinstance(f, ToCore)}
    branches: list[Branch] = []
    for w in pattern.windings:
        r, down = left.get(w.name), grounded.get(w.name)
        if r is None:
            continue
        if down is None:
            branches.append(Branch(end(w.start), end(w.finish), r, copper=True))
            continue
        place = f"in {w.name}"
        share = min(max(down.position, 0.01), 0.99)
        branches += [
            Branch(end(w.start), place, r * share, copper=True),
            Branch(place, end(w.finish), r * (1 - share), copper=True),
            Branch(place, CORE, down.ohms),
        ]
    branches += [Branch(end(x.start), end(x.finish), LINK_OHMS) for x in pattern.links]
    touched = {node: node for node in (*pattern.pins, CORE)}
    for f in faults:
        match f:
            case BadLead(pin, more):
                branches.append(Branch(pin, end(pin), more))
            case Swapped(one, other):
                touched[one], touched[other] = touched[other], touched[one]
            case Wet(plug, leak):
                nodes = next(c.nodes for c in pattern.connectors if c.name == plug)
                branches += [Branch(a, b, leak) for a, b in pairwise(nodes)]
                branches += [Branch(node, CORE, leak * 1.3) for node in nodes]
    return Wiring(tuple(branches), touched)
