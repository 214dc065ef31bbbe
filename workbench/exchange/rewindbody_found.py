"""A winding as it was found, as JSON: what isn't known is left out; a strip record's fields are named as in an ask."""

from collections.abc import Iterator
from dataclasses import fields
from typing import Any

from workbench.exchange.fields import Fields, under
from workbench.exchange.rewind_parts import as_whole
from workbench.exchange.rewind_strip import strip_from_fields
from workbench.rewind.found import NOTHING, AsFound
from workbench.rewind.strip import StripRecord
from workbench.rewind.wire import Gauge
from workbench.stator.errors import FieldError

_PLACE = "found"
_WORDS = ("photos", "start", "finish", "crossovers", "liner")


def found_to_json(found: AsFound) -> dict[str, Any]:
    """What `found_from_json` reads back as an equal record."""
    words = {name: text for name in _WORDS if (text := getattr(found, name))}
    senses = {"senses": [[tooth, sense] for tooth, sense in found.senses]} if found.senses else {}
    return {**words, **senses, "record": _strip_to_json(found.record)}


def found_from_json(value: Any) -> AsFound:
    """Raises FieldError, from `found` on, for what `found_to_json` never writes."""
    f = Fields(value, _PLACE, "what was found")
    words = {name: f.text(name) for name in _WORDS if f.has(name)}
    senses = tuple(_senses(f)) if f.has("senses") else ()
    of_strip = f.take("record")
    f.done()
    record = under(f"{_PLACE}.record", lambda: _strip(of_strip))
    return under(_PLACE, lambda: AsFound(record, senses=senses, **words))


def _senses(f: Fields) -> Iterator[tuple[int, int]]:
    for value, at in f.items("senses"):
        if not isinstance(value, list) or len(value) != 2:
            raise FieldError(at, "must be a list of tooth and sense")
        yield as_whole(value[0], f"{at}[0]"), as_whole(value[1], f"{at}[1]")


def _strip_to_json(record: StripRecord) -> dict[str, Any]:
    named = ((f.name, getattr(record, f.name)) for f in fields(StripRecord))
    return {name: _plain(v) for name, v in named if v != getattr(NOTHING, name)}


def _plain(value: Any) -> Any:
    if isinstance(value, Gauge):
        return value.name
    return list(value) if isinstance(value, tuple) else value


def _strip(value: Any) -> StripRecord:
    f = Fields(value, "", "the strip record")
    record = strip_from_fields(f)
    f.done()
    return record
