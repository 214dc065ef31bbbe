"""As much of a coil as goes in, for one that doesn't: what is drawn beside the number by which it misses."""

from workbench.rewind.coil import CoilOrder, Manner
from workbench.rewind.errors import MisfitError
from workbench.rewind.section import Section, laid_in_layers, scattered
from workbench.rewind.window import Window, window_of


def as_far(order: CoilOrder) -> tuple[Window | None, Section | None]:
    """The window, None where lining and neighbour leave none, and the turns in it by the bound that takes more: all of
    them where it is something else that the coil comes too close to; None where not one goes in.
    """
    try:
        window = order.window or window_of(order.core, order.lining)
    except MisfitError:
        return None, None
    turns = order.turns
    try:
        return window, _laid(order, window, turns)
    except MisfitError as e:
        turns = e.fitting or 0
    return window, _laid(order, window, turns) if turns else None


def _laid(order: CoilOrder, window: Window, turns: int) -> Section:
    if order.manner is Manner.SCRAMBLE:
        return scattered(window, order.wire, turns, order.fills.scramble)[0]
    both = laid_in_layers(window, order.wire, turns, order.between_mm)
    # as a plan does: square-stacked where all of them go in so
    return next(laid for laid, fitting in both.values() if fitting >= turns)
