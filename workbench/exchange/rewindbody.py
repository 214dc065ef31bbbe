"""A rewind's body as JSON, `{"v": 1}`: its parts by name; one that isn't known here is kept as it is."""

import json
from collections.abc import Iterator
from typing import Any
from uuid import UUID

from workbench.exchange.fields import Fields, as_number, parse, under
from workbench.exchange.rewind_parts import as_whole, optional_whole, whole, wholes, wire_from_json, wire_to_json
from workbench.exchange.rewindbody_found import found_from_json, found_to_json
from workbench.exchange.rewindbody_plan import plan_from_json, plan_to_json
from workbench.exchange.rewindbody_wound import wound_from_json, wound_to_json
from workbench.rewind.layout import Connection, Scheme, ToothCoil, hold
from workbench.rewind.record import Body, Chosen, Draw, Laid, WireWork
from workbench.rewind.shelf import AsWas, Duty
from workbench.stator.errors import FieldError
from workbench.stator.layout import Facing

VERSION = 1
EMPTY = '{"v":1}'


def body_to_text(body: Body) -> str:
    parts: dict[str, Any] = {"v": VERSION}
    if body.laid is not None:
        parts["steps"] = _laid_to_json(body.laid)
    if body.wire is not None:
        parts["wire"] = _wire_to_json(body.wire)
    if body.plan is not None:
        parts["plan"] = plan_to_json(body.plan)
    if body.wound is not None:
        parts["wound"] = wound_to_json(body.wound)
    if body.found is not None:
        parts["found"] = found_to_json(body.found)
    return json.dumps(parts | dict(body.others), separators=(",", ":"), ensure_ascii=False)


def body_from_text(text: str) -> Body:
    """Raises FieldError for what `body_to_text` never writes, and for a body of a newer program."""
    value = parse(text)
    if not isinstance(value, dict):
        raise FieldError("", "a rewind's body must be an object")
    rest = dict(value)
    version = as_whole(rest.pop("v", 0), "v")
    if version != VERSION:
        raise FieldError("v", f"shape {version} is a newer program's; this one knows {VERSION}")
    steps, wire, plan, wound, found = (rest.pop(n, None) for n in ("steps", "wire", "plan", "wound", "found"))
    return Body(
        None if steps is None else _laid(steps),
        None if wire is None else _wire(wire),
        plan=None if plan is None else plan_from_json(plan),
        wound=None if wound is None else wound_from_json(wound),
        found=None if found is None else found_from_json(found),
        others=tuple(rest.items()),
    )


# ---- steps


def _laid_to_json(laid: Laid) -> dict[str, Any]:
    s = laid.scheme
    return {
        "teeth": s.teeth,
        "facing": str(laid.facing),
        "poles": s.poles,
        "phases": s.phases,
        "connection": str(s.connection),
        "coils_per_phase": s.coils_per_phase,
        "layers": s.layers,
        "paths": s.paths,
        "free": sorted(s.free),
        "as_found": laid.as_found,
        "coils": [[c.tooth, c.phase, c.sense, c.path, c.place] for c in laid.coils],
        "ticked": sorted(laid.ticked),
    }


def _laid(value: Any) -> Laid:
    f = Fields(value, "steps", "the steps")
    facing = f.code("facing", Facing, "facing")
    fields = {name: whole(f, name) for name in ("teeth", "phases", "layers", "paths")}
    maybe = {name: optional_whole(f, name) for name in ("poles", "coils_per_phase")}
    connection, free = f.code("connection", Connection, "connection"), frozenset(wholes(f, "free"))
    as_found, ticked = f.flag("as_found"), frozenset(wholes(f, "ticked"))
    coils = tuple(_coil(v, at) for v, at in f.items("coils"))
    f.done()

    def make() -> Laid:
        scheme = Scheme(connection=connection, free=free, **fields, **maybe)  # type: ignore[arg-type]  # by name
        hold(scheme, coils)
        return Laid(scheme, facing, coils, as_found, ticked)

    laid = under("steps", make)
    if not ticked <= {s.number for s in laid.steps}:
        raise FieldError("steps.ticked", "names a step that there isn't")
    return laid


def _coil(value: Any, path: str) -> ToothCoil:
    if not isinstance(value, list) or len(value) != 5:
        raise FieldError(path, "must be a list of tooth, phase, sense, path and place")
    tooth, phase, sense, group, place = (as_whole(v, f"{path}[{i}]") for i, v in enumerate(value))
    return ToothCoil(tooth, phase, sense, 1, group, place)


# ---- wire


def _wire_to_json(w: WireWork) -> dict[str, Any]:
    was, duty = w.as_was, w.duty
    return {
        "as_was": {
            "wire": wire_to_json(was.wire),
            **{n: getattr(was, n) for n in ("turns", "mean_turn_mm", "coils", "paths", "window_mm2")},
        },
        "duty": None if duty is None else {n: getattr(duty, n) for n in _DUTY},
        "turns": list(w.turns),
        "chosen": None if w.chosen is None else _chosen_to_json(w.chosen),
    }


_DUTY = ("idle_rpm", "working_rpm", "poles", "henries", "volts_per_krpm", "load_ohms", "celsius")


def _chosen_to_json(c: Chosen) -> dict[str, Any]:
    return {
        "wire": wire_to_json(c.wire),
        **{n: getattr(c, n) for n in ("turns", "ohms", "celsius", "copper_grams")},
        "draws": [{"spool": str(d.spool), "name": d.name, "grams": d.grams} for d in c.draws],
    }


def _wire(value: Any) -> WireWork:
    f = Fields(value, "wire", "the wire")
    was = Fields(f.take("as_was"), "wire.as_was", "the winding as it was")
    wire = wire_from_json(was.take("wire"), "wire.as_was.wire")
    turns, mean = whole(was, "turns"), was.number("mean_turn_mm")
    coils, paths, window = whole(was, "coils"), whole(was, "paths"), _maybe(was, "window_mm2")
    was.done()
    as_was = under("wire.as_was", lambda: AsWas(wire, turns, mean, coils, paths, window))
    duty, chosen, tried = f.take("duty"), f.take("chosen"), wholes(f, "turns")
    f.done()
    return WireWork(as_was, None if duty is None else _duty(duty), tried, None if chosen is None else _chosen(chosen))


def _duty(value: Any) -> Duty:
    f = Fields(value, "wire.duty", "where the current counts")
    idle, working, poles = f.number("idle_rpm"), f.number("working_rpm"), optional_whole(f, "poles")
    henries, volts = _maybe(f, "henries"), _maybe(f, "volts_per_krpm")
    load, celsius = f.number("load_ohms"), f.number("celsius")
    f.done()
    return under("wire.duty", lambda: Duty(idle, working, poles, henries, volts, load, celsius))


def _chosen(value: Any) -> Chosen:
    f = Fields(value, "wire.chosen", "the wire that was taken")
    wire, turns = wire_from_json(f.take("wire"), "wire.chosen.wire"), whole(f, "turns")
    ohms, celsius, grams = f.number("ohms"), f.number("celsius"), f.number("copper_grams")
    draws = tuple(_draws(f))
    f.done()
    return Chosen(wire, turns, ohms, celsius, grams, draws)


def _draws(f: Fields) -> Iterator[Draw]:
    for value, at in f.items("draws"):
        d = Fields(value, at, "what a spool gives")
        spool, name, grams = d.text("spool"), d.text("name"), d.number("grams")
        d.done()
        yield Draw(_uuid(spool, f"{at}.spool"), name, grams)


def _uuid(text: str, place: str) -> UUID:
    try:
        return UUID(text)
    except ValueError:
        raise FieldError(place, "is no spool's id") from None


def _maybe(f: Fields, name: str) -> float | None:
    """None for null."""
    value = f.take(name)
    return None if value is None else as_number(value, f.place(name))
