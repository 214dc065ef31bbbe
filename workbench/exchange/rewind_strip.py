"""`plugface rewind`, "strip": what was found of a stripped coil, and what that says, as JSON."""

from typing import Any

from workbench.exchange.fields import Fields, as_number
from workbench.exchange.rewind_parts import number_or, optional_whole, whole
from workbench.exchange.rewind_wire import likely_to_json
from workbench.rewind.errors import RewindError
from workbench.rewind.inferred import Inferred, Suspect, Worth, infer
from workbench.rewind.strip import StripRecord
from workbench.rewind.wire import Gauge, gauge
from workbench.stator.errors import FieldError


def strip_answer(f: Fields) -> dict[str, Any]:
    """The answer, but for its id, to an ask whose `id` and `ask` are taken already. Raises FieldError."""
    record = strip_from_fields(f)
    f.done()
    return inferred_to_json(infer(record))


def strip_from_fields(f: Fields) -> StripRecord:
    """Takes a record's fields, all of which may be missing. Raises FieldError."""
    return StripRecord(
        coils=whole(f, "coils", 1),
        turns=_numbers(f, "turns"),
        turns_u=f.optional_number("turns_u"),
        bare_mm=_numbers(f, "bare_mm"),
        bare_u_mm=f.optional_number("bare_u_mm"),
        overall_mm=_numbers(f, "overall_mm"),
        overall_u_mm=f.optional_number("overall_u_mm"),
        gauge=_gauge(f, "gauge"),
        strands=optional_whole(f, "strands"),
        mean_turn_mm=f.optional_number("mean_turn_mm"),
        mean_turn_u_mm=f.optional_number("mean_turn_u_mm"),
        width_mm=f.optional_number("width_mm"),
        height_mm=f.optional_number("height_mm"),
        build_mm=f.optional_number("build_mm"),
        sides_u_mm=f.optional_number("sides_u_mm"),
        ohms=f.optional_number("ohms"),
        ohms_u=f.optional_number("ohms_u"),
        celsius=number_or(f, "celsius", 20.0),
        celsius_u=number_or(f, "celsius_u", 3.0),
        lead_gauge=_gauge(f, "lead_gauge"),
        lead_mm=number_or(f, "lead_mm", 0.0),
        grams=f.optional_number("grams"),
        grams_u=f.optional_number("grams_u"),
        enamelled=f.flag("enamelled") if f.has("enamelled") else False,
        tails_mm=number_or(f, "tails_mm", 0.0),
    )


def _numbers(f: Fields, name: str) -> tuple[float, ...]:
    return tuple(as_number(value, at) for value, at in f.items(name)) if f.has(name) else ()


def _gauge(f: Fields, name: str) -> Gauge | None:
    if not f.has(name):
        return None
    text = f.text(name)
    try:
        return gauge(text)
    except RewindError as e:
        raise FieldError(f.place(name), e.sentence) from None


def inferred_to_json(found: Inferred) -> dict[str, Any]:
    return {
        "worths": {str(q): _worth(w) for q, w in found.worths.items()},
        "gauges": [{**likely_to_json(g.likely), "builds": [str(b) for b in g.builds]} for g in found.gauges],
        "agreement": {"chi_square": found.chi_square, "freedom": found.freedom, "chance": found.chance},
        "contradicts": found.contradicts,
        "liar": None if found.liar is None else str(found.liar),
        "suspects": [_suspect(s) for s in found.suspects],
        "notes": [str(n) for n in found.notes],
    }


def _worth(w: Worth) -> dict[str, Any]:
    return {"value": w.value, "u": w.u, "recorded": w.recorded}


def _suspect(s: Suspect) -> dict[str, Any]:
    others = s.others_say
    told = None if others is None else {"value": others.value, "u": others.u}
    return {"figure": str(s.figure), "others_say": told}
