"""Edits of what joins the pins: windings, elements, links, inner points."""

import math
from dataclasses import replace
from typing import Any

from workbench.drafting.draft import Draft
from workbench.drafting.edits import EditError, free_name, new_name
from workbench.drafting.rewiring import with_nodes_renamed, without_strange_coils
from workbench.stator.pattern import CORE, MOST_LINKS, MOST_WINDINGS, Element, Kind, Link, Winding


def connect(draft: Draft, a: str, b: str, kind: Kind = Kind.OTHER) -> tuple[Draft, str]:
    """A winding between two nodes, and its name; its ohms are still to be said. Raises EditError."""
    _two(a, b)
    if len(draft.windings) >= MOST_WINDINGS:
        raise EditError(f"A pattern has at most {MOST_WINDINGS} windings.")
    name = free_name("winding" if kind is Kind.OTHER else str(kind), _names(draft))
    return replace(draft, windings=(*draft.windings, Winding(name, a, b, kind))), name


def link(draft: Draft, a: str, b: str) -> tuple[Draft, str]:
    """A plain wire between two nodes, and its name. Raises EditError."""
    _two(a, b)
    if len(draft.links) >= MOST_LINKS:
        raise EditError(f"A pattern has at most {MOST_LINKS} links.")
    name = free_name("link", _names(draft))
    return replace(draft, links=(*draft.links, Link(name, a, b))), name


def inner_point(draft: Draft) -> str:
    """A name for a node that no pin reaches; it is there once something is joined to it."""
    return free_name("point", {*draft.inner_points, CORE, *draft.pins})


def drop_edge(draft: Draft, name: str) -> Draft:
    """A winding, with its coils, or a link."""
    draft.edge(name)
    left = replace(
        draft,
        windings=tuple(w for w in draft.windings if w.name != name),
        links=tuple(x for x in draft.links if x.name != name),
    )
    return without_strange_coils(left)


def rename_edge(draft: Draft, name: str, to: str) -> Draft:
    """Its coils follow. Raises EditError."""
    if to == name:
        return draft
    tidy = new_name(to, _names(draft), "A winding or link")
    out = _edited(draft, name, name=tidy)
    if out.layout is None:
        return out
    coils = tuple(replace(c, winding=tidy) if c.winding == name else c for c in out.layout.coils)
    return replace(out, layout=replace(out.layout, coils=coils))


def rename_point(draft: Draft, point: str, to: str) -> Draft:
    """Raises EditError."""
    if to == point:
        return draft
    return with_nodes_renamed(draft, {point: may_name_point(draft, to)})


def may_name_point(draft: Draft, name: str) -> str:
    """The name, its spaces tidied. Raises EditError where no inner point can have it."""
    tidy = new_name(name, {*draft.inner_points, CORE}, "An inner point")
    if "." in tidy:
        raise EditError(f"{tidy} can't name an inner point: a dot belongs to a pin.")
    return tidy


def move_end(draft: Draft, name: str, *, start: str | None = None, finish: str | None = None) -> Draft:
    """Raises EditError where both ends would lie on one node."""
    e = draft.edge(name)
    a, b = start or e.start, finish or e.finish
    _two(a, b)
    return _edited(draft, name, start=a, finish=b)


def set_kind(draft: Draft, name: str, kind: Kind, word: str | None = None) -> Draft:
    """`word`: the shop's own for it; None: as it was."""
    more = {} if word is None else {"word": " ".join(word.split())}
    return _edited(draft, name, kind=kind, **more)


def set_wire(draft: Draft, name: str, wire: str) -> Draft:
    """What it is wound of, in the shop's words."""
    return _edited(draft, name, wire=" ".join(wire.split()))


def set_element(draft: Draft, name: str, element: Element | None) -> Draft:
    """An element has no ohms; a winding's are said anew."""
    return _edited(draft, name, element=element, **_NO_BAND)


def set_percent(draft: Draft, name: str, ohms: float, percent: float, band_from: str = "") -> Draft:
    """Raises EditError."""
    _above("ohms", ohms)
    if not 0 < percent <= 100:
        raise EditError(f"A tolerance lies above 0 and up to 100 per cent, not at {percent:g}.")
    return _edited(draft, name, **_NO_BAND | {"ohms": ohms, "tolerance_percent": percent, "band_from": band_from})


def set_limits(
    draft: Draft, name: str, low: float, high: float, ohms: float | None = None, band_from: str = ""
) -> Draft:
    """`ohms` None: their middle. Raises EditError."""
    _above("lower limit", low)
    _above("upper limit", high)
    if not low < high:
        raise EditError(f"The lower limit ({low:g}) must lie below the upper one ({high:g}).")
    if ohms is not None and not low <= ohms <= high:
        raise EditError(f"{ohms:g} ohm lies outside its own band of {low:g} to {high:g}.")
    band = {"ohms": ohms, "low_ohms": low, "high_ohms": high, "band_from": band_from}
    return _edited(draft, name, **_NO_BAND | band)


def set_under(draft: Draft, name: str, high: float) -> Draft:
    """All that is known is what it lies below: from nothing up to there, 100 per cent about the half of it. Raises
    EditError."""
    _above("upper limit", high)
    return set_percent(draft, name, high / 2, 100)


def set_link_limit(draft: Draft, name: str, ohms: float) -> Draft:
    """Raises EditError."""
    _above("limit", ohms)
    return _edited(draft, name, limit_ohms=ohms)


# ---- inside

_NO_BAND: dict[str, Any] = {
    "ohms": None, "tolerance_percent": None, "low_ohms": None, "high_ohms": None, "band_from": "",
}  # fmt: skip


def _edited(draft: Draft, edge: str, **changes: Any) -> Draft:
    draft.edge(edge)
    return replace(
        draft,
        windings=tuple(replace(w, **changes) if w.name == edge else w for w in draft.windings),
        links=tuple(replace(x, **changes) if x.name == edge else x for x in draft.links),
    )


def _names(draft: Draft) -> set[str]:
    return {e.name for e in draft.edges}


def _two(a: str, b: str) -> None:
    if a == b:
        raise EditError("Both ends lie on one place: choose two.")


def _above(what: str, ohms: float) -> None:
    if not (math.isfinite(ohms) and ohms > 0):
        raise EditError(f"The {what} must lie above 0, not at {ohms:g}.")
