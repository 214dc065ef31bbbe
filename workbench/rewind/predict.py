"""What the finished windings of a rewind should read: by its plan, else by the wire that was taken."""

import math
from collections.abc import Sequence

from workbench.rewind.coil import Allowances
from workbench.rewind.errors import RewindError
from workbench.rewind.ofpattern import names_of
from workbench.rewind.record import Body, PlanWork, WireWork
from workbench.rewind.strip import MEAN_TURN_SHARE
from workbench.rewind.wire import Wire
from workbench.stator.copper import COPPER_K, factor
from workbench.stator.pattern import Pattern
from workbench.stator.predicted import Predicted

# a band reaches down to this share of its nominal at most
_LEAST_SHARE = 0.01


def predicted(pattern: Pattern, winding: str, body: Body, counted: float | None = None) -> tuple[Predicted, ...]:
    """Of the winding that is rewound, or of each of its phases; empty where neither a plan nor a wire tells.

    The plan's mean turn goes before the one that the winding had. What was really wound goes before what was planned:
    the coils' wire as it was noted, else the wire that was taken, and that wire's turns.

    `counted`: turns of a coil as wound, the mean over its coils; None: those that were meant. Raises RewindError for a
    counted number of turns that no coil has.
    """
    if counted is not None and not 0 < counted < math.inf:
        raise RewindError("counted", f"a coil has more than 0 turns, not {counted:g}")
    chosen = body.wire.chosen if body.wire is not None else None
    if body.plan is not None:
        turns = counted if counted is not None or chosen is None else chosen.turns
        ohms, u = _of_wires(used_wires(body), body.plan.order.wire, *_by_plan(body.plan, turns))
    elif body.wire is not None and body.wire.chosen is not None:
        ohms, u = _of_wires(used_wires(body), body.wire.chosen.wire, *_by_wire(body.wire, counted))
    else:
        return ()
    low, high = ohms * max(1 - 2 * u, _LEAST_SHARE), ohms * (1 + 2 * u)
    return tuple(Predicted(name, ohms, low, high) for name in names_of(pattern, winding))


def meant_turns(body: Body) -> int | None:
    """Turns of a coil as they are to be wound: of the wire that was taken, else as planned, else as many as it had."""
    wire = body.wire
    if wire is not None and wire.chosen is not None:
        return wire.chosen.turns
    if body.plan is not None:
        return body.plan.order.turns
    return wire.as_was.turns if wire is not None else None


def counted_turns(body: Body) -> float | None:
    """Turns of a coil as wound, the mean over those that were counted; None where none was."""
    counted = [c.turns for c in body.wound.coils if c.turns is not None] if body.wound is not None else []
    return math.fsum(counted) / len(counted) if counted else None


# Coils of one winding are wound off one spool, on alike teeth, by one hand: what is off in one of them is off in all.
# Uncertainties of what is common to all terms of a sum add linearly (JCGM 100, 5.2.2, note 1), so that coils in series,
# and groups of them side by side, have the relative uncertainty of one coil. Were they independent it would be less by
# the square root of their number; a band that is too narrow would call a good winding bad.


def _by_plan(plan: PlanWork, counted: float | None) -> tuple[float, float]:
    """Ohms at 20 C and their relative standard uncertainty."""
    per_path = plan.coils / plan.paths
    ohms = plan.ohms_20 * per_path / plan.paths
    return ohms * _by_turns(plan.order.turns, plan.metres, plan.order.allowances.tails_mm, counted), plan.u


def _by_wire(work: WireWork, counted: float | None) -> tuple[float, float]:
    """The same by the wire that was taken: its ohms know nothing of tension yet, and take the old mean turn for the
    new one. Stretch as usual; wire and stretch rectangular, joined with the mean turn as JCGM 100, 5.1 joins what is
    independent.
    """
    chosen, usual = work.chosen, Allowances()
    assert chosen is not None
    turns_mm = chosen.turns * work.as_was.mean_turn_mm
    metres = (turns_mm + usual.tails_mm) / 1000
    ohms = chosen.ohms * factor(chosen.celsius, 20.0, COPPER_K) * (1 + usual.stretch)
    u = math.hypot(
        _wire_u(chosen.wire),
        usual.stretch / math.sqrt(3),
        MEAN_TURN_SHARE * turns_mm / 1000 / metres,
    )
    return ohms * _by_turns(chosen.turns, metres, usual.tails_mm, counted), u


def used_wires(body: Body) -> list[Wire]:
    """The wires that the coils are of, as far as that was noted; else the one that was taken; else none."""
    noted = [c.wire.wire for c in body.wound.coils if c.wire is not None] if body.wound is not None else []
    chosen = body.wire.chosen if body.wire is not None else None
    return noted or ([chosen.wire] if chosen is not None else [])


def _of_wires(used: Sequence[Wire], meant: Wire, ohms: float, u: float) -> tuple[float, float]:
    """Of other wire than was meant: its ohms by the metre, its own tolerance, and a mean turn that is less sure."""
    others = [w for w in used if w != meant]
    if not others:
        return ohms, u
    mean = math.fsum(w.ohms_per_metre for w in used) / len(used)
    rest = math.sqrt(max(u**2 - _wire_u(meant) ** 2, 0.0))
    return ohms * mean / meant.ohms_per_metre, math.hypot(rest, max(map(_wire_u, used)), MEAN_TURN_SHARE)


def _wire_u(wire: Wire) -> float:
    """Of a metre's ohms, relative: the diameter's limits are rectangular, and the area goes by its square."""
    return 2 * wire.gauge.tolerance / math.sqrt(3)


def _by_turns(meant: int, metres: float, tails_mm: float, counted: float | None) -> float:
    """By how much the ohms differ where other turns were wound than were meant: the leads stay, the mean turn too."""
    if counted is None:
        return 1.0
    tails = min(tails_mm / 1000, metres)
    return (tails + (metres - tails) * counted / meant) / metres
