"""`plugface judge`: sheets in, answers out, one JSON line each, within a bound of time and memory a line."""

import json
from collections.abc import Callable, Iterator, Mapping
from typing import Any, BinaryIO, TextIO

from workbench.exchange.fields import parse
from workbench.exchange.sheets import PatternByName, answer_to_json, sheet_from_json
from workbench.findings.explain import explain
from workbench.findings.faults import STATED, Fault
from workbench.stator.errors import FieldError
from workbench.stator.judge import judge
from workbench.stator.pattern import Pattern

PriorsOf = Callable[[Pattern], Mapping[Fault, float]]

LONGEST_LINE = 1 << 20  # bytes, without its line end


def as_stated(pattern: Pattern) -> Mapping[Fault, float]:
    return STATED


def judge_lines(source: BinaryIO, answers: TextIO, by_name: PatternByName, priors_of: PriorsOf = as_stated) -> bool:
    """Answers every line, in order; blank lines are passed over. True if none was refused.

    `priors_of`: the odds that a line's pattern has before anything is read.
    """
    all_well = True
    for line in bounded_lines(source):
        if line is not None and not line.strip():
            continue
        answer, well = answer_line(line, by_name, priors_of)
        all_well &= well
        answers.write(json.dumps(answer, allow_nan=False) + "\n")
        answers.flush()
    return all_well


def answer_line(
    line: bytes | None, by_name: PatternByName, priors_of: PriorsOf = as_stated
) -> tuple[dict[str, Any], bool]:
    """The answer to one line (None: one that was too long to read), and whether it could be judged."""
    try:
        value = object_in(line)
        sheet = sheet_from_json(value, by_name)
        judged = judge(sheet, outside_counts_at_once=True)
        priors = priors_of(sheet.pattern)
        explained = explain(sheet.pattern, sheet.meter, sheet.conditions, sheet.readings, priors)
        return answer_to_json(value["id"], judged, explained), True
    except FieldError as e:
        return refusal(line, e), False


def object_in(line: bytes | None) -> dict[str, Any]:
    """The JSON object of one line (None: one that was too long to read). Raises FieldError."""
    if line is None:
        raise FieldError("", f"the line is longer than {LONGEST_LINE} bytes (1 MiB)")
    try:
        text = line.decode("utf-8")
    except UnicodeDecodeError:
        raise FieldError("", "the line is not UTF-8 text") from None
    value = parse(text)
    if not isinstance(value, dict):
        raise FieldError("", "the line is not a JSON object")
    return value


def refusal(line: bytes | None, e: FieldError) -> dict[str, Any]:
    """The answer to a line that can't be used."""
    return {"id": id_in(line), "error": sentence_of(e)}


def id_in(line: bytes | None) -> str | None:
    """The id of a refused line, read as leniently as can be; None where it has none."""
    try:
        value = json.loads(line or b"", parse_int=float)
    except (ValueError, RecursionError):
        return None
    found = value.get("id") if isinstance(value, dict) else None
    return found if isinstance(found, str) else None


def sentence_of(e: FieldError) -> str:
    """Field and words, as they are shown."""
    text = f"{e.field}: {e.sentence}" if e.field else e.sentence
    return text[0].upper() + text[1:] + "." if not e.field else text + "."


def bounded_lines(source: BinaryIO) -> Iterator[bytes | None]:
    """Line by line; None for one longer than `LONGEST_LINE`, which is never held whole."""
    while line := source.readline(LONGEST_LINE + 2):
        if len(line.rstrip(b"\r\n")) <= LONGEST_LINE and (line.endswith(b"\n") or len(line) <= LONGEST_LINE):
            yield line
            continue
        while line and not line.endswith(b"\n"):
            line = source.readline(LONGEST_LINE)
        yield None
