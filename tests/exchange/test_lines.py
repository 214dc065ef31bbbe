"""What may come down a pipe: long lines, blank ones, broken text, JSON that readers commonly let through."""

import json

import pytest

from tests.exchange.example import EXAMPLE, ask_lines, read, sheet
from workbench.exchange.lines import LONGEST_LINE

GOOD = json.dumps(EXAMPLE).encode()


def _padded(length: int, at: str = "long") -> bytes:
    """A good line of exactly so many bytes."""
    line = json.dumps(sheet(id=at)).encode()
    return line[:-1] + b" " * (length - len(line)) + b"}"


def test_the_longest_line_is_a_mebibyte() -> None:
    assert LONGEST_LINE == 1_048_576


@pytest.mark.parametrize("end", [b"\n", b"\r\n", b""])
def test_a_line_of_exactly_a_mebibyte_is_answered(end: bytes) -> None:
    line = _padded(LONGEST_LINE)
    assert len(line) == LONGEST_LINE
    answers, well = ask_lines([line + end])
    assert [a.get("verdict") for a in answers] == ["good"]
    assert well


@pytest.mark.parametrize("more", [1, 2, 3, LONGEST_LINE - 1, LONGEST_LINE, LONGEST_LINE + 1, 3 * LONGEST_LINE])
@pytest.mark.parametrize("end", [b"", b"\r"])
def test_a_longer_line_is_refused_once_and_the_next_is_answered(more: int, end: bytes) -> None:
    answers, well = ask_lines([GOOD, _padded(LONGEST_LINE + more) + end, GOOD])
    assert not well
    assert [a["id"] for a in answers] == ["sheet-1", None, "sheet-1"]
    assert "1 MiB" in answers[1]["error"]


def test_a_longer_last_line_without_an_end_is_refused_once() -> None:
    answers, _ = ask_lines([GOOD, _padded(LONGEST_LINE + 1)])
    assert ["error" in a for a in answers] == [False, True]


def test_blank_lines_are_passed_over() -> None:
    answers, well = ask_lines([b"", GOOD, b"   \t", b"\r", GOOD, b""])
    assert len(answers) == 2
    assert well
    assert ask_lines([]) == ([], True)


NOT_UTF8 = [b"\xff\xfe", b'{"id": "\xc3\x28"}', b"\xed\xa0\x80", GOOD[:-9] + b"\x80" + GOOD[-9:]]


@pytest.mark.parametrize("broken", NOT_UTF8)
def test_what_is_not_utf8_is_refused(broken: bytes) -> None:
    (refused, after), _ = ask_lines([broken, GOOD])
    assert "UTF-8" in refused["error"]
    assert after["verdict"] == "good"


def _nested(depth: int) -> bytes:
    """A sheet whose deepest list or object stands at `depth`, the sheet itself at 1."""
    return GOOD[:-1] + b', "deep": ' + b"[" * (depth - 1) + b"]" * (depth - 1) + b"}"


@pytest.mark.parametrize("depth", [33, 60, 990, 100_000])
def test_nesting_past_32_is_refused(depth: int) -> None:
    (refused, after), _ = ask_lines([_nested(depth), GOOD])
    assert "Nested deeper than 32" in refused["error"]
    assert after["verdict"] == "good"


def test_nesting_of_32_is_read() -> None:
    (refused,), _ = ask_lines([_nested(32)])
    assert refused["error"].startswith("deep: ")


@pytest.mark.parametrize("opening", [b"[", b'{"a":'])
def test_nothing_but_openings_is_refused(opening: bytes) -> None:
    (refused, after), _ = ask_lines([opening * (LONGEST_LINE // len(opening)), GOOD])
    assert set(refused) == {"id", "error"}
    assert after["verdict"] == "good"


@pytest.mark.parametrize(
    ("line", "field"),
    [
        (GOOD[:-1] + b', "celsius": 23}', "celsius"),
        (GOOD.replace(b'"ohms": 247', b'"ohms": 247, "ohms": 248'), "ohms"),
    ],
)
def test_a_key_that_stands_twice_is_refused(line: bytes, field: str) -> None:
    (refused,), _ = ask_lines([line])
    assert refused["id"] == "sheet-1"
    assert refused["error"].startswith(f"{field}: stands twice")


LARGE = [b"1e999", b"-1e999", b"NaN", b"Infinity", b"-Infinity", b"1" * 400, b"9" * 5000, b"1e19"]


@pytest.mark.parametrize("number", LARGE)
def test_a_number_too_large_to_be_one_names_its_field(number: bytes) -> None:
    (refused, after), _ = ask_lines([GOOD.replace(b'"ohms": 247', b'"ohms": ' + number), GOOD])
    assert refused["id"] == "sheet-1"
    assert refused["error"].startswith("readings[0].ohms: ")
    assert "finite" in refused["error"]
    assert after["verdict"] == "good"


@pytest.mark.parametrize("ohms", [b"1e-320", b"5e-324"])
def test_ohms_too_small_to_work_with_are_refused(ohms: bytes) -> None:
    tiny = {"from": "P.1", "to": "P.2", "tolerance_percent": 100, "ohms": float(ohms)}
    windings = [tiny | {"name": name} for name in ("a", "b")]
    line = json.dumps(read(("P.1", "P.2", 0.2), pattern=EXAMPLE["pattern"] | {"windings": windings}))
    (refused, after), _ = ask_lines([line.encode(), GOOD])
    assert refused["error"].startswith("pattern: ")
    assert after["verdict"] == "good"


def test_lone_surrogates_come_back_as_they_came() -> None:
    line = GOOD.replace(b'"sheet-1"', b'"\\ud800"').replace(b'"fine"', b'"\\udfff"')
    (answer, refused), _ = ask_lines([line, line.replace(b"245.0", b"-1")])
    assert answer["id"] == refused["id"] == "\ud800"
    assert answer["verdict"] == "good"


def test_names_in_any_script_are_read_as_they_are() -> None:
    (answer,), well = ask_lines([json.dumps(sheet(id="Ω über 磁石"), ensure_ascii=False).encode()])
    assert answer["id"] == "Ω über 磁石"
    assert well
