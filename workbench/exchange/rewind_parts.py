"""What the asks of a rewind share in JSON: whole numbers, and wire."""

from typing import Any

from workbench.exchange.fields import Fields, as_number
from workbench.rewind.errors import RewindError
from workbench.rewind.tables import Span
from workbench.rewind.wire import Build, Scale, Wire, gauge, measured
from workbench.stator.errors import FieldError


def whole(f: Fields, name: str, absent: int | None = None) -> int:
    """Raises FieldError where it is missing, unless `absent` is given."""
    if absent is not None and not f.has(name):
        return absent
    return as_whole(f.take(name), f.place(name))


def optional_whole(f: Fields, name: str) -> int | None:
    """None where it isn't there, or null."""
    value = f.take(name) if f.has(name) else None
    return None if value is None else as_whole(value, f.place(name))


def wholes(f: Fields, name: str, absent: tuple[int, ...] = ()) -> tuple[int, ...]:
    if not f.has(name):
        return absent
    return tuple(as_whole(value, at) for value, at in f.items(name))


def as_whole(value: Any, place: str) -> int:
    number = as_number(value, place)
    if not number.is_integer():
        raise FieldError(place, f"must be a whole number, not {number:g}")
    return int(number)


def number_or(f: Fields, name: str, absent: float) -> float:
    return f.number(name) if f.has(name) else absent


def wire_from_json(value: Any, path: str) -> Wire:
    """A gauge by name (`AWG 20`, `0.8 mm`) or a bare diameter as measured (`mm`); over the enamel by `build` of its
    table or as measured (`overall_mm`). Raises FieldError.
    """
    f = Fields(value, path, "a wire")
    if f.has("gauge") == f.has("mm"):
        raise FieldError(f.place("gauge"), "a wire is named by its gauge or by its mm, one of them")
    if f.has("build") == f.has("overall_mm"):
        raise FieldError(f.place("build"), "a wire needs its build or its overall_mm, one of them")
    named, mm = (f.text("gauge"), None) if f.has("gauge") else (None, f.number("mm"))
    build = f.code("build", Build, "build") if f.has("build") else None
    over, strands = f.optional_number("overall_mm"), whole(f, "strands", 1)
    f.done()

    def make() -> Wire:
        g = measured(mm) if mm is not None else gauge(named or "")
        return Wire.of(g, build, strands) if build is not None else Wire(g, Span(nominal=over), None, strands)

    try:
        return make()
    except RewindError as e:
        # the record's own names of these two fields are others
        name = {"overall": "overall_mm", "gauge": "mm" if mm is not None else "gauge"}.get(e.field, e.field)
        raise FieldError(f.place(name), e.sentence) from None


def wire_to_json(wire: Wire) -> dict[str, Any]:
    """What `wire_from_json` reads back as an equal wire."""
    bare = {"mm": wire.gauge.mm} if wire.gauge.scale is Scale.MEASURED else {"gauge": wire.gauge.name}
    over = {"overall_mm": wire.nominal_mm} if wire.build is None else {"build": str(wire.build)}
    return bare | over | {"strands": wire.strands}
