"""A pattern as JSON (the published Schema `pattern-1.json`), read and written."""

from typing import Any

from workbench.exchange.fields import Fields, under
from workbench.exchange.layouts import layout_from_json, layout_to_json
from workbench.stator.copper import Conductor
from workbench.stator.errors import FieldError
from workbench.stator.pattern import (
    LINK_LIMIT_OHMS,
    OPEN_LIMIT_OHMS,
    Cavity,
    Connector,
    Element,
    KeyShape,
    Kind,
    Link,
    Outline,
    Pair,
    Pattern,
    Side,
    Terminal,
    Winding,
)

SCHEMA = "urn:plugface:schema:pattern-1"


def pattern_from_json(value: Any, path: str = "") -> Pattern:
    """Raises FieldError naming the field, from `path` on."""
    f = Fields(value, path, "a pattern")
    if f.has("$schema"):
        written_by = f.text("$schema")
        if written_by != SCHEMA:
            raise FieldError(f.place("$schema"), f"{written_by!r} is not the {SCHEMA!r} that this program reads")
    name = f.text("name")
    celsius = f.number("reference_celsius")
    conductor = f.code("conductor", Conductor, "conductor")
    connectors = tuple(connector_from_json(v, at) for v, at in f.items("connectors"))
    windings = tuple(winding_from_json(v, at) for v, at in f.items("windings")) if f.has("windings") else ()
    links = tuple(link_from_json(v, at) for v, at in f.items("links")) if f.has("links") else ()
    limit = f.number("open_limit_ohms") if f.has("open_limit_ohms") else OPEN_LIMIT_OHMS
    checks = pairs_from_json(f, "checks") if f.has("checks") else None
    layout = layout_from_json(f.take("layout"), f.place("layout")) if f.has("layout") else None
    f.done()
    return under(path, lambda: Pattern(name, connectors, windings, links, celsius, conductor, limit, checks, layout))


def pairs_from_json(f: Fields, name: str) -> tuple[Pair, ...]:
    out = []
    for value, at in f.items(name):
        if not (isinstance(value, list) and len(value) == 2 and all(isinstance(n, str) for n in value)):
            raise FieldError(at, "a check is a list of two nodes")
        out.append(Pair(*value))
    return tuple(out)


def connector_from_json(value: Any, path: str) -> Connector:
    f = Fields(value, path, "a connector")
    name = f.text("name")
    key = f.optional_code("key", Side, "side for a key", Side.BOTTOM)
    if key is None and f.has("key_shape"):
        raise FieldError(f.place("key_shape"), "a plug without a key has no shape of it")
    shape = f.code("key_shape", KeyShape, "shape of a key") if f.has("key_shape") else KeyShape.TAB
    outline = f.code("outline", Outline, "outline of a plug") if f.has("outline") else None
    cavities = tuple(_cavity(v, at) for v, at in f.items("cavities"))
    f.done()
    return Connector(name, cavities, key, shape, outline)


def _cavity(value: Any, path: str) -> Cavity:
    f = Fields(value, path, "a cavity")
    pin = f.text("pin")
    terminal = f.code("kind", Terminal, "kind of terminal") if f.has("kind") else Terminal.BLADE
    x, y = f.optional_number("x"), f.optional_number("y")
    colour = _note(f, "colour")
    f.done()
    return Cavity(pin, terminal, x, y, colour)


def _note(f: Fields, name: str) -> str:
    return f.text(name) if f.has(name) else ""


def winding_from_json(value: Any, path: str) -> Winding:
    f = Fields(value, path, "a winding")
    winding = Winding(
        name=f.text("name"),
        start=f.text("from"),
        finish=f.text("to"),
        kind=f.code("kind", Kind, "kind of winding") if f.has("kind") else Kind.OTHER,
        ohms=f.optional_number("ohms"),
        tolerance_percent=f.optional_number("tolerance_percent"),
        low_ohms=f.optional_number("low_ohms"),
        high_ohms=f.optional_number("high_ohms"),
        element=f.code("element", Element, "element") if f.has("element") else None,
        word=_note(f, "word"),
        wire=_note(f, "wire"),
        band_from=_note(f, "band_from"),
    )
    f.done()
    return winding


def link_from_json(value: Any, path: str) -> Link:
    f = Fields(value, path, "a link")
    link = Link(
        name=f.text("name"),
        start=f.text("from"),
        finish=f.text("to"),
        limit_ohms=f.number("limit_ohms") if f.has("limit_ohms") else LINK_LIMIT_OHMS,
    )
    f.done()
    return link


def pattern_to_json(p: Pattern) -> dict[str, Any]:
    """What `pattern_from_json` reads back as an equal pattern; defaults are written out only where they differ."""
    out: dict[str, Any] = {
        "name": p.name,
        "reference_celsius": p.reference_celsius,
        "conductor": str(p.conductor),
        "connectors": [connector_to_json(c) for c in p.connectors],
        "windings": [winding_to_json(w) for w in p.windings],
        "links": [link_to_json(link) for link in p.links],
    }
    if p.open_limit_ohms != OPEN_LIMIT_OHMS:
        out["open_limit_ohms"] = p.open_limit_ohms
    if p.checks is not None:
        out["checks"] = [list(c) for c in p.checks]
    if p.layout is not None:
        out["layout"] = layout_to_json(p.layout)
    return out


def connector_to_json(c: Connector) -> dict[str, Any]:
    cavities = []
    for cavity in c.cavities:
        one: dict[str, Any] = {"pin": cavity.pin}
        if cavity.terminal is not Terminal.BLADE:
            one["kind"] = str(cavity.terminal)
        if cavity.x is not None:
            one |= {"x": cavity.x, "y": cavity.y}
        if cavity.colour:
            one["colour"] = cavity.colour
        cavities.append(one)
    out: dict[str, Any] = {"name": c.name, "cavities": cavities}
    if c.key is not Side.BOTTOM:
        out["key"] = None if c.key is None else str(c.key)
    if c.key_shape is not KeyShape.TAB:
        out["key_shape"] = str(c.key_shape)
    if c.outline is not None:
        out["outline"] = str(c.outline)
    return out


def winding_to_json(w: Winding) -> dict[str, Any]:
    out: dict[str, Any] = {"name": w.name, "from": w.start, "to": w.finish, "kind": str(w.kind)}
    for name in ("ohms", "tolerance_percent", "low_ohms", "high_ohms"):
        if getattr(w, name) is not None:
            out[name] = getattr(w, name)
    if w.element is not None:
        out["element"] = str(w.element)
    for name in ("word", "wire", "band_from"):
        if getattr(w, name):
            out[name] = getattr(w, name)
    return out


def link_to_json(link: Link) -> dict[str, Any]:
    out: dict[str, Any] = {"name": link.name, "from": link.start, "to": link.finish}
    if link.limit_ohms != LINK_LIMIT_OHMS:
        out["limit_ohms"] = link.limit_ohms
    return out
