"""What the finished windings of a rewind should read: by its plan, else by the wire that was taken."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from workbench.rewind.coil import Allowances
from workbench.rewind.errors import RewindError
from workbench.rewind.ofpattern import names_of
from workbench.rewind.record import Body, PlanWork, WireWork
from workbench.rewind.strip import MEAN_TURN_SHARE
from workbench.stator.copper import COPPER_K, factor
from workbench.stator.pattern import Pattern

# a band reaches down to this share of its nominal at most, and is never narrower than that either way
_LEAST_SHARE, _LEAST_WIDTH = 0.01, 1e-6


@dataclass(frozen=True, slots=True)
class Predicted:
    """Ohms of one winding of a pattern at 20 C, of copper; `low_20` and `high_20`: 2 standard uncertainties away."""

    winding: str
    ohms_20: float
    low_20: float
    high_20: float


def predicted(pattern: Pattern, winding: str, body: Body, counted: float | None = None) -> tuple[Predicted, ...]:
    """Of the winding that is rewound, or of each of its phases; empty where neither a plan nor a wire tells.

    `counted`: turns of a coil as wound, the mean over its coils; None: those that were meant. Raises RewindError for a
    counted number of turns that no coil has.
    """
    if counted is not None and not 0 < counted < math.inf:
        raise RewindError("counted", f"a coil has more than 0 turns, not {counted:g}")
    if body.plan is not None:
        ohms, u = _by_plan(body.plan, counted)
    elif body.wire is not None and body.wire.chosen is not None:
        ohms, u = _by_wire(body.wire, counted)
    else:
        return ()
    low, high = ohms * max(1 - 2 * u, _LEAST_SHARE), ohms * (1 + 2 * u)
    return tuple(Predicted(name, ohms, low, high) for name in names_of(pattern, winding))


def with_predicted(pattern: Pattern, some: Sequence[Predicted], band_from: str = "") -> Pattern:
    """The same pattern, but that these windings should read so. `band_from`: what is said of where their bands come
    from, since what was said of the old ones holds no longer.

    The wire is copper, whatever the pattern's other windings are, and goes to the pattern's temperature as copper does.
    Raises RewindError for a winding that the pattern hasn't, or that is no wire.
    """
    by_name = {p.winding: p for p in some}
    wire = {w.name for w in pattern.windings if w.element is None}
    for name in by_name:
        if name not in wire:
            raise RewindError("winding", f"the pattern has no winding of wire named {name!r}")
    warm = factor(20.0, pattern.reference_celsius, COPPER_K)
    out = []
    for w in pattern.windings:
        p = by_name.get(w.name)
        if p is not None:
            ohms = p.ohms_20 * warm
            low = min(p.low_20 * warm, ohms * (1 - _LEAST_WIDTH))
            high = max(p.high_20 * warm, ohms * (1 + _LEAST_WIDTH))
            w = replace(w, ohms=ohms, tolerance_percent=None, low_ohms=low, high_ohms=high, band_from=band_from)
        out.append(w)
    return replace(pattern, windings=tuple(out))


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
        2 * chosen.wire.gauge.tolerance / math.sqrt(3),
        usual.stretch / math.sqrt(3),
        MEAN_TURN_SHARE * turns_mm / 1000 / metres,
    )
    return ohms * _by_turns(chosen.turns, metres, usual.tails_mm, counted), u


def _by_turns(meant: int, metres: float, tails_mm: float, counted: float | None) -> float:
    """By how much the ohms differ where other turns were wound than were meant: the leads stay, the mean turn too."""
    if counted is None:
        return 1.0
    tails = min(tails_mm / 1000, metres)
    return (tails + (metres - tails) * counted / meant) / metres
