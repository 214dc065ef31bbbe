"""What a finished rewind left behind: the winding that the next one replaces."""

from workbench.rewind.predict import counted_turns, meant_turns, used_wires
from workbench.rewind.record import Body
from workbench.rewind.shelf import AsWas
from workbench.rewind.wound import mean_turn


def as_left(body: Body) -> AsWas | None:
    """None where it was not all of one wire, or its turns or mean turn are not known."""
    wires, turn, counted = set(used_wires(body)), mean_turn(body), counted_turns(body)
    turns = round(counted) if counted is not None else meant_turns(body)
    if len(wires) != 1 or turn is None or turns is None:
        return None
    was = body.wire.as_was if body.wire is not None else None
    coils, paths = (body.plan.coils, body.plan.paths) if body.plan is not None else (1, 1)
    if was is not None:
        coils, paths = was.coils, was.paths
    return AsWas(wires.pop(), turns, turn.mm, coils, paths, was.window_mm2 if was is not None else None)
