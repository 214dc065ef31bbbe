"""`plugface rewind`, "substitute": what on the shelf could replace a coil's wire, as JSON."""

from typing import Any

from workbench.exchange.fields import Fields, under
from workbench.exchange.rewind_parts import number_or, optional_whole, whole, wholes, wire_from_json, wire_to_json
from workbench.rewind.shelf import AsWas, Duty, Question, Spool
from workbench.rewind.substitute import Ranking, Running, Substitute, substitutes

_SAME_NAME = (
    "turns", "ohms", "ohms_ratio", "area_ratio", "fill", "fill_ratio", "turns_fitting", "volts_ratio",
    "henries_ratio", "short_circuit_ratio", "copper_grams", "grams_needed", "grams_left", "short_grams",
)  # fmt: skip


def substitute_answer(f: Fields) -> dict[str, Any]:
    """The answer, but for its id, to an ask whose `id` and `ask` are taken already. Raises FieldError."""
    as_was = _as_was(f.take("as_was"))
    spools = tuple(_spool(value, at) for value, at in f.items("spools"))
    question = Question(
        as_was,
        spools,
        duty=_duty(f.take("duty")) if f.has("duty") else None,
        turns=wholes(f, "turns"),
        strands=wholes(f, "strands", (1, 2, 3)),
        most_fill=number_or(f, "most_fill", 0.50),
        tails_mm=number_or(f, "tails_mm", 300.0),
        spare=number_or(f, "spare", 0.10),
    )
    f.done()
    return ranking_to_json(substitutes(question))


def _as_was(value: Any) -> AsWas:
    f = Fields(value, "as_was", "the winding as it was")
    wire = wire_from_json(f.take("wire"), f.place("wire"))
    turns, mean_turn = whole(f, "turns"), f.number("mean_turn_mm")
    coils, paths, window = whole(f, "coils", 1), whole(f, "paths", 1), f.optional_number("window_mm2")
    f.done()
    return under("as_was", lambda: AsWas(wire, turns, mean_turn, coils, paths, window))


def _spool(value: Any, path: str) -> Spool:
    f = Fields(value, path, "a spool")
    name, wire, grams = f.text("name"), wire_from_json(f.take("wire"), f.place("wire")), f.number("grams")
    f.done()
    return under(path, lambda: Spool(name, wire, grams))


def _duty(value: Any) -> Duty:
    f = Fields(value, "duty", "where the current counts")
    idle, working, poles = f.number("idle_rpm"), f.number("working_rpm"), optional_whole(f, "poles")
    henries, volts = f.optional_number("henries"), f.optional_number("volts_per_krpm")
    load, celsius = number_or(f, "load_ohms", 0.0), number_or(f, "celsius", 20.0)
    f.done()
    return under("duty", lambda: Duty(idle, working, poles, henries, volts, load, celsius))


def ranking_to_json(r: Ranking) -> dict[str, Any]:
    return {
        "substitutes": [_substitute(s) for s in r.nearest],
        "at_idle": None if r.at_idle is None else list(r.at_idle),
        "at_working": None if r.at_working is None else list(r.at_working),
        "why_not": r.why_not,
    }


def _substitute(s: Substitute) -> dict[str, Any]:
    return {
        "wire": wire_to_json(s.wire),
        "spools": list(s.spools),
        **{name: getattr(s, name) for name in _SAME_NAME},
        "idle": _running(s.idle),
        "working": _running(s.working),
        "usable": s.usable,
        "cautions": [str(c) for c in s.cautions],
    }


def _running(r: Running | None) -> dict[str, Any] | None:
    if r is None:
        return None
    return {
        "rpm": r.rpm,
        "ratio": r.ratio,
        "density_ratio": r.density_ratio,
        "amps": r.amps,
        "amps_per_mm2": r.amps_per_mm2,
    }
