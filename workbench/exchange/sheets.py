"""A sheet as JSON (`sheet-1.json`), read; its answer (`answer-1.json`), written."""

from collections.abc import Callable
from typing import Any

from workbench.exchange.fields import Fields, under
from workbench.exchange.meters import ranges_from_json
from workbench.exchange.patterns import pairs_from_json, pattern_from_json
from workbench.findings.explain import Explained
from workbench.findings.records import Finding
from workbench.stator.errors import FieldError
from workbench.stator.judge import JudgedSheet, Row, Why
from workbench.stator.meter import Meter
from workbench.stator.pattern import Pair, Pattern
from workbench.stator.sheet import MOST_READINGS, Conditions, Proof, Reading, Sheet

PatternByName = Callable[[str], Pattern | None]


def sheet_from_json(value: Any, by_name: PatternByName) -> Sheet:
    """Raises FieldError naming the field. `by_name` finds a pattern that the sheet only names."""
    f = Fields(value, "", "a sheet")
    f.text("id")
    pattern = _pattern(f, by_name)
    meter, lead, lead_u = meter_and_leads(f)
    celsius, celsius_u = f.number("celsius"), f.number("celsius_uncertainty")
    conditions = under("", lambda: Conditions(celsius, celsius_u, lead, lead_u))
    checks = pairs_from_json(f, "checks") if f.has("checks") else None
    proof = Proof(stated=f.flag("contacts_proved") if f.has("contacts_proved") else True)
    readings = readings_from_json(f)
    f.done()
    return Sheet(pattern, meter, conditions, readings, checks, proof)


def _pattern(f: Fields, by_name: PatternByName) -> Pattern:
    value = f.take("pattern")
    if not isinstance(value, str):
        return pattern_from_json(value, "pattern")
    pattern = by_name(value)
    if pattern is None:
        raise FieldError("pattern", f"there is no pattern named {value!r} in the library")
    return pattern


def meter_and_leads(f: Fields) -> tuple[Meter, float, float]:
    """A sheet's meter, the resistance of its leads (ohm) and that one's standard uncertainty (ohm)."""
    m = Fields(f.take("meter"), "meter", "a meter")
    ranges = ranges_from_json(m)
    top = max((r.upto_ohms for r in ranges), default=0.0)
    open_above = m.number("open_above_ohms") if m.has("open_above_ohms") else top
    leads = [m.number(n) if m.has(n) else 0.0 for n in ("lead_ohms", "lead_uncertainty_ohms")]
    m.done()
    meter = Meter(ranges, open_above)
    for name, ohms in zip(("lead_ohms", "lead_uncertainty_ohms"), leads, strict=True):
        if ohms < 0:
            raise FieldError(f"meter.{name}", f"must be from 0, not {ohms:g}")
    return meter, leads[0], leads[1]


def readings_from_json(f: Fields) -> tuple[Reading, ...]:
    out: list[Reading] = []
    for value, at in f.items("readings"):
        if len(out) == MOST_READINGS:
            raise FieldError("readings", f"more than the {MOST_READINGS} that a sheet may have")
        out.append(_reading(value, at))
    return tuple(out)


def _reading(value: Any, path: str) -> Reading:
    f = Fields(value, path, "a reading")
    pair = Pair(f.text("from"), f.text("to"))
    ohms = f.optional_number("ohms")
    is_open = f.flag("open") if f.has("open") else False
    upto = f.optional_number("range_upto_ohms")
    f.done()
    if is_open and ohms is not None:
        raise FieldError(f.place("open"), "a reading is either open or a number of ohms, not both")
    if not is_open and ohms is None:
        raise FieldError(f.place("ohms"), "is missing, and the reading isn't open")
    return Reading(pair, ohms, upto)


def answer_to_json(sheet_id: str, judged: JudgedSheet, explained: Explained) -> dict[str, Any]:
    return {
        "id": sheet_id,
        "verdict": str(judged.verdict),
        "readings": [_row_to_json(r) for r in judged.rows],
        "findings": [_finding_to_json(f) for f in explained.findings],
        "next": [{"from": n.pair.positive, "to": n.pair.negative, "bits": n.bits} for n in explained.next],
    }


def _finding_to_json(f: Finding) -> dict[str, Any]:
    known = {p.name: p.value for p in f.parameters}
    return {"fault": str(f.fault), "where": f.where, "probability": f.probability} | known


def _row_to_json(row: Row) -> dict[str, Any]:
    value, decision, e = row.corrected, row.decision, row.expected
    out: dict[str, Any] = {
        "from": row.reading.pair.positive,
        "to": row.reading.pair.negative,
        "ohms_corrected": value.ohms if value else None,
        "uncertainty": value.u if value else None,
        "expanded": value.expanded if value else None,
        "expected_ohms": e.ohms,
        "low": e.low,
        "high": e.high,
        "verdict": str(decision.verdict) if decision else None,
        "probability_inside": decision.probability if decision else None,
    }
    if row.why is Why.ELEMENT:
        out["note"] = "a diode or electronics lies on this path: not to be judged by ohms"
    return out
