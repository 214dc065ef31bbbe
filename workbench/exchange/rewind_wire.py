"""`plugface rewind`, "wire": a gauge by name or by measure, and what stands in for it, as JSON."""

from typing import Any

from workbench.exchange.fields import Fields
from workbench.exchange.rewind_parts import number_or, whole
from workbench.rewind.errors import RewindError
from workbench.rewind.strip import CALIPER_U_MM
from workbench.rewind.tables import Span
from workbench.rewind.wire import MOST_STRANDS, TABLED, Build, Gauge, Likely, equivalents, gauge, likely, measured
from workbench.stator.copper import COPPER_K, factor
from workbench.stator.errors import FieldError

LONGEST_METRES = 1e6


def wire_answer(f: Fields) -> dict[str, Any]:
    """The answer, but for its id, to an ask whose `id` and `ask` are taken already. Raises FieldError."""
    if f.has("gauge") == f.has("mm"):
        raise FieldError("gauge", "a wire is named by its gauge or by its mm, one of them")
    by_name = f.has("gauge")
    mm, u = (None, None) if by_name else (f.number("mm"), number_or(f, "u_mm", CALIPER_U_MM))
    name = f.text("gauge") if by_name else None
    build = f.code("build", Build, "build") if f.has("build") else None
    strands, metres = whole(f, "strands", 1), f.optional_number("metres")
    celsius = number_or(f, "celsius", 20.0)
    f.done()
    _bounds(u, strands, metres, celsius)
    g = gauge(name or "") if mm is None else _measured(mm)
    builds = g.builds if build is None else (build,)
    area, per_metre = strands * g.area_mm2, g.ohms_per_metre / strands * factor(20.0, celsius, COPPER_K)
    grams = strands * g.grams_per_metre
    found = [] if mm is None or u is None else [c for scale in TABLED for c in likely(mm, u, scale)]
    return {
        "gauge": None if name is None else g.name,
        "mm": g.mm,
        "bare": span_to_json(g.bare),
        "tolerance": g.tolerance,
        "tolerance_known": g.tolerance_known,
        "strands": strands,
        "area_mm2": area,
        "celsius": celsius,
        "ohms_per_metre": per_metre,
        "grams_per_metre": grams,
        "length": None if metres is None else {"metres": metres, "ohms": metres * per_metre, "grams": metres * grams},
        "overall": [{"build": str(b), **span_to_json(g.overall(b))} for b in builds],
        "likely": [likely_to_json(c) for c in found],
        "equivalents": _equivalents(g, strands),
    }


def _bounds(u: float | None, strands: int, metres: float | None, celsius: float) -> None:
    if u is not None and not 1e-6 <= u <= 10:
        raise RewindError("u_mm", f"must lie from 1e-06 to 10 mm, not at {u:g} mm")
    if not 1 <= strands <= MOST_STRANDS:
        raise RewindError("strands", f"from 1 to {MOST_STRANDS} go in hand, not {strands}")
    if metres is not None and not 0 <= metres <= LONGEST_METRES:
        raise RewindError("metres", f"must lie from 0 to {LONGEST_METRES:g} m, not at {metres:g} m")
    if not -60 <= celsius <= 300:
        raise RewindError("celsius", f"must lie from -60 to 300 degrees Celsius, not at {celsius:g}")


def _measured(mm: float) -> Gauge:
    try:
        return measured(mm)
    except RewindError as e:
        raise FieldError("mm", e.sentence) from None


def _equivalents(g: Gauge, strands: int) -> list[dict[str, Any]]:
    """Of both tables, one to three in hand; not itself."""
    some = (e for scale in TABLED for e in equivalents(strands * g.area_mm2, scale))
    return [
        {"gauge": e.gauge.name, "strands": e.strands, "area_ratio": e.area_ratio}
        for e in some
        if (e.gauge, e.strands) != (g, strands)
    ]


def span_to_json(span: Span) -> dict[str, Any]:
    return {"low": span.low, "nominal": span.nominal, "high": span.high}


def likely_to_json(c: Likely) -> dict[str, Any]:
    return {"gauge": c.gauge.name, "probability": c.probability, "off_mm": c.off_mm}
