"""`plugface judge`: sheets in, answers out, one JSON line each, within a bound of time and memory a line."""

import json
from collections.abc import Iterator
from typing import Any, BinaryIO, TextIO

from workbench.exchange.fields import parse
from workbench.exchange.sheets import PatternByName, answer_to_json, sheet_from_json
from workbench.findings.explain import explain
from workbench.stator.errors import FieldError
from workbench.stator.judge import judge

LONGEST_LINE = 1 << 20  # bytes, without its line end


def judge_lines(source: BinaryIO, answers: TextIO, by_name: PatternByName) -> bool:
    """Answers every line, in order; blank lines are passed over. True if none was refused."""
    all_well = True
    for line in _bounded_lines(source):
        if line is not None and not line.strip():
            continue
        answer, well = answer_line(line, by_name)
        all_well &= well
        answers.write(json.dumps(answer, allow_nan=False) + "\n")
        answers.flush()
    return all_well


def answer_line(line: bytes | None, by_name: PatternByName) -> tuple[dict[str, Any], bool]:
    """The answer to one line (None: one that was too long to read), and whether it could be judged."""
    try:
        if line is None:
            raise FieldError("", f"the line is longer than {LONGEST_LINE} bytes (1 MiB)")
        try:
            text = line.decode("utf-8")
        except UnicodeDecodeError:
            raise FieldError("", "the line is not UTF-8 text") from None
        value = parse(text)
        if not isinstance(value, dict):
            raise FieldError("", "the line is not a JSON object")
        sheet = sheet_from_json(value, by_name)
        judged = judge(sheet, outside_counts_at_once=True)
        explained = explain(sheet.pattern, sheet.meter, sheet.conditions, sheet.readings)
        return answer_to_json(value["id"], judged, explained), True
    except FieldError as e:
        return {"id": _id_in(line), "error": _sentence(e)}, False


def _id_in(line: bytes | None) -> str | None:
    """The id of a refused line, read as leniently as can be; None where it has none."""
    try:
        value = json.loads(line or b"", parse_int=float)
    except (ValueError, RecursionError):
        return None
    found = value.get("id") if isinstance(value, dict) else None
    return found if isinstance(found, str) else None


def _sentence(e: FieldError) -> str:
    text = f"{e.field}: {e.sentence}" if e.field else e.sentence
    return text[0].upper() + text[1:] + "." if not e.field else text + "."


def _bounded_lines(source: BinaryIO) -> Iterator[bytes | None]:
    while line := source.readline(LONGEST_LINE + 2):
        if len(line.rstrip(b"\r\n")) <= LONGEST_LINE and (line.endswith(b"\n") or len(line) <= LONGEST_LINE):
            yield line
            continue
        while line and not line.endswith(b"\n"):
            line = source.readline(LONGEST_LINE)
        yield None
