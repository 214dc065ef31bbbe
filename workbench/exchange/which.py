"""`plugface which`: sheets of unknown parts in, the patterns they may be of out, one JSON line each."""

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any, BinaryIO, TextIO

from workbench.exchange.fields import Fields, under
from workbench.exchange.lines import bounded_lines, object_in, refusal, sentence_of
from workbench.exchange.patterns import connector_from_json, pattern_from_json
from workbench.exchange.sheets import meter_and_leads, readings_from_json
from workbench.matching.library import Library, why_not_laid
from workbench.matching.weighing import Weighed, weigh
from workbench.stator.errors import FieldError
from workbench.stator.pattern import Connector, Pattern
from workbench.stator.sheet import Conditions

MOST_PATTERNS = 1000
# a pattern less likely than this is left out of an answer
_NEGLIGIBLE = 1e-6


class LibraryError(ValueError):
    """A library that can't be used: a sentence with the line's number and the field."""


def library_from_file(path: Path) -> Library:
    """Raises LibraryError."""
    try:
        with path.open("rb") as source:
            return Library.of(patterns_from_lines(source, str(path)))
    except OSError as e:
        why = e.strerror or str(e)
        raise LibraryError(f"The library {path} can't be read ({why}). Nothing was answered.") from None


def patterns_from_lines(source: BinaryIO, name: str) -> tuple[Pattern, ...]:
    """Blank lines are passed over. Raises LibraryError for the first line that can't be used."""
    on_line: dict[str, int] = {}
    out: list[Pattern] = []
    for number, line in enumerate(bounded_lines(source), 1):
        if line is not None and not line.strip():
            continue
        try:
            pattern = _pattern(line)
            if pattern.name in on_line:
                raise FieldError("name", f"{pattern.name!r} stands on line {on_line[pattern.name]} already")
            if len(out) == MOST_PATTERNS:
                raise FieldError("", f"more than the {MOST_PATTERNS:,} patterns that a library may have")
        except FieldError as e:
            raise LibraryError(
                f"Line {number} of the library {name} can't be used: {sentence_of(e)} Nothing was answered."
            ) from None
        on_line[pattern.name] = number
        out.append(pattern)
    if not out:
        raise LibraryError(f"The library {name} holds no pattern. Nothing was answered.")
    return tuple(out)


def _pattern(line: bytes | None) -> Pattern:
    pattern = pattern_from_json(object_in(line))
    why = why_not_laid(pattern.connectors)
    if why is not None:
        raise FieldError("connectors", why)
    return pattern


def which_lines(source: BinaryIO, answers: TextIO, library: Library) -> bool:
    """Answers every line, in order; blank lines are passed over. True if none was refused."""
    all_well = True
    for line in bounded_lines(source):
        if line is not None and not line.strip():
            continue
        answer, well = which_line(line, library)
        all_well &= well
        answers.write(json.dumps(answer, allow_nan=False) + "\n")
        answers.flush()
    return all_well


def which_line(line: bytes | None, library: Library) -> tuple[dict[str, Any], bool]:
    """The answer to one line (None: one that was too long to read), and whether it could be answered."""
    try:
        return _answer(object_in(line), library), True
    except FieldError as e:
        return refusal(line, e), False


def _answer(value: dict[str, Any], library: Library) -> dict[str, Any]:
    f = Fields(value, "", "a sheet")
    sheet_id = f.text("id")
    part = Fields(f.take("pattern"), "pattern", "a part")
    plugs = tuple(_connectors(part))
    part.done()
    meter, lead, lead_u = meter_and_leads(f)
    celsius, celsius_u = f.number("celsius"), f.number("celsius_uncertainty")
    conditions = under("", lambda: Conditions(celsius, celsius_u, lead, lead_u))
    readings = readings_from_json(f)
    f.done()
    candidates = under("pattern", lambda: library.candidates(plugs))
    return answer_to_json(sheet_id, library, weigh(candidates, meter, conditions, readings))


def _connectors(part: Fields) -> Iterator[Connector]:
    for value, at in part.items("connectors"):
        yield connector_from_json(value, at)


def answer_to_json(sheet_id: str, library: Library, w: Weighed) -> dict[str, Any]:
    named = [(library.patterns[r.pattern].name, r.probability) for r in w.ranked if r.probability >= _NEGLIGIBLE]
    both: list[tuple[str | None, float]] = sorted([*named, (None, w.none)], key=lambda n: -n[1])
    total = sum(p for _, p in both)
    return {
        "id": sheet_id,
        "patterns": [{"name": name, "probability": p / total} for name, p in both],
        "next": [{"from": n.pair.positive, "to": n.pair.negative, "bits": n.bits} for n in w.next],
    }
