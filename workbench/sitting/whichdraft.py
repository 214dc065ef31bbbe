"""A part without papers as the draft that is kept of it, and back."""

import json
from dataclasses import replace
from datetime import datetime
from typing import Any
from uuid import UUID

from workbench.exchange.fields import Fields, parse
from workbench.exchange.meters import meter_from_json, meter_to_json
from workbench.exchange.patterns import connector_from_json, connector_to_json
from workbench.records import NamedMeter, SheetHead, TemperatureSource, new_id
from workbench.sitting.counter import room_head
from workbench.sitting.whichpart import Part, Seen
from workbench.stator.errors import FieldError
from workbench.stator.pattern import Pair
from workbench.stator.sheet import Conditions, Reading


def fresh_head(meter: NamedMeter) -> SheetHead:
    """Of a part that no job and no pattern is known of."""
    return room_head(new_id(), new_id(), meter)


def body_of(part: Part) -> str:
    """JSON."""
    return json.dumps(
        {
            "head": _head_to_json(part.head),
            "plugs": [connector_to_json(p) for p in part.plugs],
            "readings": [_seen_to_json(s) for s in part.seen],
        }
    )


def part_from(body: str) -> Part:
    """Raises FieldError for what can't be read."""
    f = Fields(parse(body), "", "a draft")
    plugs = tuple(connector_from_json(v, at) for v, at in f.items("plugs"))
    part = Part(_head(f.take("head")), plugs, tuple(_seen(v, at) for v, at in f.items("readings")))
    for s in part.seen:
        why = part.misfit(s.reading, part.head) if part.plugs else "there is no plug"
        if why:
            raise FieldError("readings", why)
    return part


def _head_to_json(h: SheetHead) -> dict[str, Any]:
    c = h.conditions
    return {
        "celsius": c.celsius,
        "celsius_uncertainty": c.celsius_uncertainty,
        "lead_ohms": c.lead_ohms,
        "lead_uncertainty_ohms": c.lead_uncertainty_ohms,
        "source": str(h.source),
        "zeroed": h.meter_zeroed,
        "celsius_assumed": h.celsius_assumed,
        "leads_assumed": h.leads_assumed,
        "iron_ohms": h.iron_ohms,
        "meter_id": str(h.meter_id),
        "meter_name": h.meter_name,
        "meter": meter_to_json(h.meter),
    }


def _head(value: Any) -> SheetHead:
    f = Fields(value, "head", "a head")
    numbers = (f.number(n) for n in ("celsius", "celsius_uncertainty", "lead_ohms", "lead_uncertainty_ohms"))
    conditions = Conditions(*numbers)
    meter = NamedMeter(_id(f, "meter_id"), f.text("meter_name"), meter_from_json(f.take("meter")))
    iron = f.take("iron_ohms")
    return replace(
        fresh_head(meter),
        conditions=conditions,
        source=f.code("source", TemperatureSource, "source of a temperature"),
        meter_zeroed=f.flag("zeroed"),
        celsius_assumed=f.flag("celsius_assumed") if f.has("celsius_assumed") else False,
        leads_assumed=f.flag("leads_assumed") if f.has("leads_assumed") else False,
        iron_ohms=None if iron is None else float(iron),
    )


def _seen_to_json(s: Seen) -> dict[str, Any]:
    r = s.reading
    return {
        "id": str(s.id),
        "from": r.pair.positive,
        "to": r.pair.negative,
        "ohms": r.ohms,
        "typed": s.typed,
        "taken_at": s.taken_at.isoformat(),
        "struck": s.struck,
    }


def _seen(value: Any, at: str) -> Seen:
    f = Fields(value, at, "a reading")
    pair = Pair(f.text("from"), f.text("to"))
    ohms = f.take("ohms")
    try:
        taken_at = datetime.fromisoformat(f.text("taken_at"))
    except ValueError:
        raise FieldError(f.place("taken_at"), "is no moment") from None
    reading = Reading(pair, None if ohms is None else float(ohms))
    return Seen(_id(f, "id"), reading, f.text("typed"), taken_at, f.text("struck"))


def _id(f: Fields, name: str) -> UUID:
    try:
        return UUID(f.text(name))
    except ValueError:
        raise FieldError(f.place(name), "is no id") from None
