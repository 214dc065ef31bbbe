"""Two revisions side by side: what came, what went, what was changed."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, fields, replace
from enum import StrEnum
from typing import Any

from workbench.stator.pattern import Cavity, Connector, Pair, Pattern, Winding

# a winding that lies under so many ohms is told by its one limit, not by what stands for it in these
_BAND = ("ohms", "tolerance_percent", "low_ohms", "high_ohms")


class Noun(StrEnum):
    PATTERN = "pattern"
    PLUG = "plug"
    PIN = "pin"
    WINDING = "winding"
    LINK = "link"
    CHECK = "check"
    COIL = "coil"


@dataclass(frozen=True, slots=True)
class Difference:
    """`field` of the `noun` called `name`; empty where the whole thing came (`before` None) or went (`after` None)."""

    noun: Noun
    name: str
    field: str
    before: object
    after: object


def compare(old: Pattern, new: Pattern) -> tuple[Difference, ...]:
    """In the order of the nouns; nothing just where they say the same, but for places that a row's cavities leave out.

    `field` "order": the same things stand in another order; before and after are their names. "band": a winding's,
    whole, where it has or had no low limit; before and after are the windings.
    """
    out: list[Difference] = []
    for field in ("name", "reference_celsius", "conductor", "open_limit_ohms"):
        out += _field(Noun.PATTERN, "", field, getattr(old, field), getattr(new, field))
    plugs = {p.name: p for p in old.connectors}, {p.name: p for p in new.connectors}
    out += _things(Noun.PLUG, *plugs, but=("cavities",))
    was, is_ = plugs
    for name in [n for n in was if n in is_]:
        out += _things(Noun.PIN, _pins(was[name]), _pins(is_[name]), but=("pin",))
    out += _things(Noun.WINDING, {w.name: w for w in old.windings}, {w.name: w for w in new.windings})
    out += _things(Noun.LINK, {x.name: x for x in old.links}, {x.name: x for x in new.links})
    if (old.checks is None) != (new.checks is None):
        out.append(Difference(Noun.CHECK, "", "planned", old.checks is not None, new.checks is not None))
    out += _checks(old.checks or (), new.checks or ())
    out += _coils(old, new)
    return tuple(out)


def _pins(plug: Connector) -> dict[str, Cavity]:
    """With their places written out: a row that says none is the same row."""
    placed = zip(plug.cavities, plug.places, strict=True)
    return {f"{plug.name}.{c.pin}": replace(c, x=x, y=y) for c, (x, y) in placed}


def _field(noun: Noun, name: str, field: str, before: object, after: object) -> Iterator[Difference]:
    if before != after:
        yield Difference(noun, name, field, before, after)


def _things(noun: Noun, old: dict[str, Any], new: dict[str, Any], but: Sequence[str] = ()) -> Iterator[Difference]:
    for name in dict.fromkeys((*old, *new)):
        a, b = old.get(name), new.get(name)
        if a is None or b is None:
            yield Difference(noun, name, "", a, b)
            continue
        whole = _BAND if isinstance(a, Winding) and (a.is_under or b.is_under) else ()
        if any(getattr(a, f) != getattr(b, f) for f in whole):
            yield Difference(noun, name, "band", a, b)
        for f in fields(a):
            if f.name != "name" and f.name not in (*but, *whole):
                yield from _field(noun, name, f.name, getattr(a, f.name), getattr(b, f.name))
    yield from _order(noun, tuple(old), tuple(new))


def _order(noun: Noun, old: tuple[Any, ...], new: tuple[Any, ...]) -> Iterator[Difference]:
    """Of what both have."""
    before, after = tuple(x for x in old if x in new), tuple(x for x in new if x in old)
    yield from _field(noun, "", "order", before, after)


def _checks(old: Sequence[Pair], new: Sequence[Pair]) -> Iterator[Difference]:
    was, is_ = {c.unordered for c in old}, {c.unordered for c in new}
    yield from (Difference(Noun.CHECK, str(c), "", c, None) for c in old if c.unordered not in is_)
    yield from (Difference(Noun.CHECK, str(c), "", None, c) for c in new if c.unordered not in was)
    if was == is_:
        yield from _field(Noun.CHECK, "", "order", tuple(old), tuple(new))


def _coils(old: Pattern, new: Pattern) -> Iterator[Difference]:
    for field in ("teeth", "facing"):
        values = (getattr(p.layout, field) if p.layout is not None else None for p in (old, new))
        yield from _field(Noun.COIL, "", field, *values)
    was, is_ = ((p.layout.coils if p.layout is not None else ()) for p in (old, new))
    yield from (Difference(Noun.COIL, c.winding, "", c, None) for c in was if c not in is_)
    yield from (Difference(Noun.COIL, c.winding, "", None, c) for c in is_ if c not in was)
    yield from _order(Noun.COIL, was, is_)
