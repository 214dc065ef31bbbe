"""Edits of plugs: their shape, cavities, keys. Places are in steps of a grid, looking into the mating side, y up."""

import math
from collections.abc import Callable
from dataclasses import replace

from workbench.drafting.draft import Draft, cavity_of
from workbench.drafting.edits import EditError, free_name, new_name
from workbench.drafting.rewiring import with_nodes_renamed, without_nodes
from workbench.stator.pattern import CORE, MOST_CAVITIES, Cavity, Connector, KeyShape, Outline, Side, Terminal

Place = tuple[float, float]

# two cavities nearer than this, in steps of the grid, are on one place
NEAREST = 0.5
_MIRRORED = {Side.LEFT: Side.RIGHT, Side.RIGHT: Side.LEFT}
_LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"


# ---- shapes


def rows(counts: tuple[int, ...], *, staggered: bool = False) -> tuple[Place, ...]:
    """So many cavities in each row, the topmost first, each row about the middle.

    `staggered`: every other row lies half a step to the right. Row by row from the left, as plugs are counted.
    """
    high, wide = len(counts), max(counts, default=0)
    places = []
    for r, count in enumerate(counts):
        start = (wide - count) / 2 + (0.5 if staggered and r % 2 else 0.0)
        places += [(start + i, float(high - 1 - r)) for i in range(count)]
    return tuple(places)


def ring(count: int, *, middle: bool = False) -> tuple[Place, ...]:
    """Cavities in a circle, clockwise from the top, a step apart; `middle`: and one more in its middle."""
    around = max(count, 1)
    radius = max(0.5 / math.sin(math.pi / around) if around > 1 else 0.0, 1.0 if middle else 0.0)
    turns = [2 * math.pi * i / around for i in range(around)]
    places = [(round(radius * math.sin(t), 3), round(radius * math.cos(t), 3)) for t in turns]
    return (*places, (0.0, 0.0)) if middle else tuple(places)


# ---- plugs


def add_plug(
    draft: Draft, places: tuple[Place, ...], *, name: str = "", terminal: Terminal = Terminal.BLADE,
    key: Side | None = Side.BOTTOM, outline: Outline | None = None,
) -> Draft:  # fmt: skip
    """A further plug with a cavity at each place, pins counted from 1. Raises EditError."""
    taken = {p.name for p in draft.plugs}
    tidy = _plug_name(name, taken) if name else next((x for x in _LETTERS if x not in taken), free_name("plug", taken))
    _room(draft, len(places))
    cavities = tuple(Cavity(str(i), terminal, x, y) for i, (x, y) in enumerate(places, 1))
    plug = Connector(tidy, cavities, key, outline=outline)
    return replace(draft, plugs=(*draft.plugs, plug))


def drop_plug(draft: Draft, name: str) -> Draft:
    """With all that was joined to its pins."""
    gone = draft.plug(name)
    left = replace(draft, plugs=tuple(p for p in draft.plugs if p.name != name))
    return without_nodes(left, set(gone.nodes))


def rename_plug(draft: Draft, name: str, to: str) -> Draft:
    """Raises EditError."""
    if to == name:
        return draft
    tidy = _plug_name(to, {p.name for p in draft.plugs})
    pins = {f"{name}.{c.pin}": f"{tidy}.{c.pin}" for c in draft.plug(name).cavities}
    return with_nodes_renamed(_changed(draft, name, lambda p: replace(p, name=tidy)), pins)


def set_key(draft: Draft, name: str, side: Side | None, shape: KeyShape = KeyShape.TAB) -> Draft:
    """`side` None: no key, and then no shape of it."""
    shape = shape if side is not None else KeyShape.TAB
    return _changed(draft, name, lambda p: replace(p, key=side, key_shape=shape))


def set_outline(draft: Draft, name: str, outline: Outline | None) -> Draft:
    return _changed(draft, name, lambda p: replace(p, outline=outline))


def mirror(draft: Draft, name: str) -> Draft:
    """A drawing that was made from the wire side, as it looks from the mating side; and back."""
    return _changed(draft, name, mirrored)


def mirrored(plug: Connector) -> Connector:
    """Left and right exchanged; every pin keeps its cavity's name."""
    places = plug.places
    middle = max(x for x, _ in places) + min(x for x, _ in places) if places else 0.0
    cavities = tuple(replace(c, x=middle - x, y=y) for c, (x, y) in zip(plug.cavities, places, strict=True))
    key = _MIRRORED.get(plug.key, plug.key) if plug.key is not None else None
    return replace(plug, cavities=cavities, key=key)


# ---- cavities


def add_cavity(draft: Draft, name: str, place: Place, *, pin: str = "", terminal: Terminal | None = None) -> Draft:
    """`terminal` None: as the plug's last. Raises EditError where a cavity lies there already."""
    plug = _placed(draft.plug(name))
    _room(draft, 1)
    _free(plug, place, but="")
    taken = {c.pin for c in plug.cavities}
    tidy = new_name(pin, taken, "A pin") if pin else free_name("", taken)
    last = plug.cavities[-1].terminal if plug.cavities else Terminal.BLADE
    made = Cavity(tidy, terminal or last, *place)
    return _changed(draft, name, lambda _: replace(plug, cavities=(*plug.cavities, made)))


def move_cavity(draft: Draft, name: str, pin: str, place: Place) -> Draft:
    """Raises EditError where another one lies there."""
    plug = _placed(draft.plug(name))
    _free(plug, place, but=pin)
    return _changed(draft, name, lambda _: _with(plug, pin, lambda c: replace(c, x=place[0], y=place[1])))


def drop_cavity(draft: Draft, name: str, pin: str) -> Draft:
    """With all that was joined to its pin; the last one takes its plug with it."""
    plug = draft.plug(name)
    cavity_of(plug, pin)
    if len(plug.cavities) == 1:
        return drop_plug(draft, name)
    kept = tuple(c for c in _placed(plug).cavities if c.pin != pin)
    return without_nodes(_changed(draft, name, lambda p: replace(p, cavities=kept)), {f"{name}.{pin}"})


def rename_pin(draft: Draft, name: str, pin: str, to: str) -> Draft:
    """Raises EditError."""
    if to == pin:
        return draft
    plug = draft.plug(name)
    tidy = new_name(to, {c.pin for c in plug.cavities}, "A pin")
    renamed = _changed(draft, name, lambda p: _with(p, pin, lambda c: replace(c, pin=tidy)))
    return with_nodes_renamed(renamed, {f"{name}.{pin}": f"{name}.{tidy}"})


def set_terminal(draft: Draft, name: str, terminal: Terminal, pin: str | None = None) -> Draft:
    """Of one cavity, or of all of a plug."""
    return _changed(draft, name, lambda p: _with(p, pin, lambda c: replace(c, terminal=terminal)))


def set_colour(draft: Draft, name: str, pin: str, colour: str) -> Draft:
    """The wire's, as it was found."""
    tidy = " ".join(colour.split())
    return _changed(draft, name, lambda p: _with(p, pin, lambda c: replace(c, colour=tidy)))


# ---- inside


def _changed(draft: Draft, name: str, change: Callable[[Connector], Connector]) -> Draft:
    draft.plug(name)
    return replace(draft, plugs=tuple(change(p) if p.name == name else p for p in draft.plugs))


def _with(plug: Connector, pin: str | None, change: Callable[[Cavity], Cavity]) -> Connector:
    """`pin` None: all of them."""
    if pin is not None:
        cavity_of(plug, pin)
    return replace(plug, cavities=tuple(change(c) if pin in (None, c.pin) else c for c in plug.cavities))


def _placed(plug: Connector) -> Connector:
    """With its places written out, so that one more can be put anywhere."""
    cavities = tuple(replace(c, x=x, y=y) for c, (x, y) in zip(plug.cavities, plug.places, strict=True))
    return replace(plug, cavities=cavities)


def _free(plug: Connector, place: Place, *, but: str) -> None:
    for c, other in zip(plug.cavities, plug.places, strict=True):
        if c.pin != but and math.dist(place, other) < NEAREST:
            raise EditError(f"Cavity {c.pin} lies there already: choose another place.")


def _room(draft: Draft, more: int) -> None:
    if len(draft.pins) + more > MOST_CAVITIES:
        raise EditError(f"A pattern has at most {MOST_CAVITIES} cavities.")


def _plug_name(name: str, taken: set[str]) -> str:
    tidy = new_name(name, taken, "A plug")
    if "." in tidy or tidy == CORE:
        raise EditError(f"{tidy} can't name a plug: use a word without a dot, and not {CORE!r}.")
    return tidy
