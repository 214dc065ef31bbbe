"""A draft as JSON: the shape of `pattern-1.json`, where anything may still be missing or contradict itself."""

from typing import Any

from workbench.drafting.draft import Draft
from workbench.exchange.fields import Fields
from workbench.exchange.layouts import layout_from_json, layout_to_json
from workbench.exchange.patterns import (
    connector_from_json,
    connector_to_json,
    link_from_json,
    link_to_json,
    pairs_from_json,
    winding_from_json,
    winding_to_json,
)
from workbench.stator.copper import Conductor


def draft_to_json(d: Draft) -> dict[str, Any]:
    return {
        "name": d.name,
        "reference_celsius": d.reference_celsius,
        "conductor": str(d.conductor),
        "connectors": [connector_to_json(c) for c in d.plugs],
        "windings": [winding_to_json(w) for w in d.windings],
        "links": [link_to_json(x) for x in d.links],
        "open_limit_ohms": d.open_limit_ohms,
        "checks": None if d.checks is None else [list(c) for c in d.checks],
        "layout": None if d.layout is None else layout_to_json(d.layout),
    }


def draft_from_json(value: Any) -> Draft:
    """What `draft_to_json` wrote. Raises FieldError for what it never writes."""
    f = Fields(value, "", "a draft")
    checks, layout = f.take("checks"), f.take("layout")
    made = Draft(
        name=f.text("name"),
        plugs=tuple(connector_from_json(v, at) for v, at in f.items("connectors")),
        windings=tuple(winding_from_json(v, at) for v, at in f.items("windings")),
        links=tuple(link_from_json(v, at) for v, at in f.items("links")),
        reference_celsius=f.number("reference_celsius"),
        conductor=f.code("conductor", Conductor, "conductor"),
        open_limit_ohms=f.number("open_limit_ohms"),
        checks=None if checks is None else pairs_from_json(Fields({"checks": checks}, "", "a draft"), "checks"),
        layout=None if layout is None else layout_from_json(layout, "layout"),
    )
    f.done()
    return made
