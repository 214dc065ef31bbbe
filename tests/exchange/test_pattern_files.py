"""Pattern files: what is written comes back, and what can't be used is named with its file, line and field."""

import json
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from jsonschema import Draft202012Validator

import resources
from tests.exchange.example import EXAMPLE
from tests.exchange.test_schemas import schema
from tests.stator.strategies import patterns
from workbench.exchange.fieldlines import line_of
from workbench.exchange.fields import parse
from workbench.exchange.patternfiles import MOST_PATTERNS, WriteError, file_names, read_patterns, write_patterns
from workbench.exchange.patterns import SCHEMA, pattern_from_json, pattern_to_json
from workbench.exchange.starters import starter_patterns, starter_revisions
from workbench.exchange.which import library_from_file
from workbench.stator.errors import FieldError
from workbench.stator.pattern import Pattern

PATTERN = Draft202012Validator(schema("pattern"))
GOOD: dict[str, Any] = EXAMPLE["pattern"]


def refusals(*paths: Path) -> list[str]:
    found, bad = read_patterns(paths)
    assert not found
    return [str(b) for b in bad]


# ---- round trips


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow], max_examples=50)
@given(patterns(elements=True, laid_out=True))
def test_a_file_comes_back_as_the_pattern_it_was(tmp_path: Path, p: Pattern) -> None:
    p = replace(p, name=p.name if p.name.strip() else "a part")
    for name in ("one.json", "many.jsonl"):
        (file,) = write_patterns([p], tmp_path / name, replace=True)
        text = file.read_text("utf-8")
        PATTERN.validate(json.loads(text))
        assert json.loads(text)["$schema"] == SCHEMA
        ((found,), bad) = read_patterns([file])
        assert (found.pattern, bad) == (p, ())
        write_patterns([found.pattern], file)  # the same to the byte, so nothing is in the way
        assert file.read_text("utf-8") == text


def test_the_starters_come_back_from_a_folder_and_from_lines_that_which_takes_too(tmp_path: Path) -> None:
    files = write_patterns(starter_patterns(), tmp_path / "new" / "shelf")
    assert len({f.name for f in files}) == len(starter_patterns())
    found, bad = read_patterns([tmp_path / "new" / "shelf"])
    assert bad == ()
    assert {f.pattern for f in found} == set(starter_patterns())
    (lines,) = write_patterns(starter_patterns(), tmp_path / "shelf.jsonl")
    found, bad = read_patterns([lines])
    assert bad == ()
    assert tuple(f.pattern for f in found) == starter_patterns()
    assert [f.place.line for f in found] == list(range(1, len(found) + 1))
    assert library_from_file(lines).patterns == starter_patterns()


def test_a_folder_is_read_with_revisions_oldest_first() -> None:
    found, bad = read_patterns([Path(resources.__file__).parent / "patterns"])
    assert bad == ()
    assert tuple(f.pattern for f in found) == starter_revisions()


def test_a_file_without_a_version_is_one_of_this_version_and_a_later_one_is_refused() -> None:
    plain = pattern_from_json(GOOD)
    assert pattern_from_json({"$schema": SCHEMA} | GOOD) == plain
    assert "$schema" not in pattern_to_json(plain)
    for other in ("urn:plugface:schema:pattern-2", 1, None):
        later = {"$schema": other} | GOOD
        assert not PATTERN.is_valid(later)
        with pytest.raises(FieldError) as refused:
            pattern_from_json(later)
        assert refused.value.field == "$schema"


# ---- refused


BAD = """{
 "name": "two coils",
 "reference_celsius": 20,
 "conductor": "copper",
 "connectors": [{"name": "P", "cavities": [
  {"pin": "1"},
  {"pin": "2"}]}],
 "windings": [
  {"name": "a", "from": "P.1", "to": "P.2", "ohms": 3, "tolerance_percent": 5},
  {"name": "b", "from": "P.1", "to": "core",
   "ohms": %s,
   "tolerance_percent": 10}
 ]
}
"""


@pytest.mark.parametrize(
    ("old", "new", "line", "field"),
    [
        ("%s", "-5", 11, "windings[1].ohms: "),
        ("%s", '"5"', 11, "windings[1].ohms: "),
        ("%s", "NaN", 11, "windings[1].ohms: "),
        ('{"pin": "2"}', '{"pin": "1"}', 7, "connectors[0].cavities[1].pin: "),
        ('"conductor"', '"metal"', 1, "conductor: is missing"),
        ('"tolerance_percent": 10', '"tolerance": 10', 12, "windings[1].tolerance: "),
        ("%s", '5, "from": "P.2"', 11, "from: stands twice"),
        ('"two coils"', '" "', 2, "name: "),
        ('"two coils"', '"a\\nb"', 2, "name: "),
        ('"b"', '"\\ud800"', 10, "windings[1].name: holds half"),
        ("%s", '5,\n"new": [1', None, "Not JSON (Expecting ',' delimiter: line 13 "),
        ("{", "3 ", None, "Not JSON"),
    ],
)
def test_what_cant_be_used_is_named_with_its_line_and_field(
    tmp_path: Path, old: str, new: str, line: int | None, field: str
) -> None:
    file = tmp_path / "two.json"
    file.write_text(BAD.replace(old, new, 1).replace("%s", "5"))
    (said,) = refusals(file)
    where = str(file) if line is None else f"{file}, line {line}"
    assert said.startswith(f"{where}: {field}"), said


def test_of_lines_the_number_is_said_and_all_bad_ones_are(tmp_path: Path) -> None:
    file = tmp_path / "shelf.jsonl"
    lines = [json.dumps(GOOD), "", json.dumps(GOOD | {"conductor": "tin"}), "[]", "x" * ((1 << 20) + 1)]
    file.write_text("\n".join(lines))
    found, bad = read_patterns([file])
    assert [(f.place.line, f.pattern.name) for f in found] == [(1, GOOD["name"])]
    assert [b.place.line for b in bad] == [3, 4, 5]
    assert bad[0].sentence.startswith("conductor: ")


def test_what_is_no_file_of_patterns_is_said(tmp_path: Path) -> None:
    (tmp_path / "empty").mkdir()
    (tmp_path / "empty.jsonl").write_text("\n\n")
    (tmp_path / "bytes.json").write_bytes(b"\xff\xfe")
    (tmp_path / "long.json").write_bytes(b" " * ((1 << 20) + 1))
    said = refusals(*(tmp_path / n for n in ("none.json", "empty", "empty.jsonl", "bytes.json", "long.json")))
    for words, line in zip(("can't be read", "no pattern file", "no pattern", "UTF-8", "longer"), said, strict=True):
        assert words in line


def test_a_mark_of_byte_order_is_no_hindrance(tmp_path: Path) -> None:
    file = tmp_path / "marked.json"
    file.write_bytes(b"\xef\xbb\xbf" + json.dumps(GOOD).encode())
    assert read_patterns([file])[0][0].pattern == pattern_from_json(GOOD)


def test_there_is_a_most_at_once(tmp_path: Path) -> None:
    file = tmp_path / "shelf.jsonl"
    file.write_text((json.dumps(GOOD) + "\n") * (MOST_PATTERNS + 1))
    found, (bad,) = read_patterns([file])
    assert (len(found), bad.place.line) == (MOST_PATTERNS, MOST_PATTERNS + 1)


@given(patterns(elements=True, laid_out=True))
def test_every_field_of_a_text_is_found_on_its_line(p: Pattern) -> None:
    """Held to the text itself: with every value on a line of its own, the line ends with what stands in the field."""
    text = json.dumps(pattern_to_json(p), indent=1)
    lines = text.split("\n")

    def walk(value: Any, path: str) -> None:
        inner = value.items() if isinstance(value, dict) else enumerate(value)
        for key, one in inner:
            at = f"{path}[{key}]" if isinstance(key, int) else f"{path}.{key}" if path else key
            said = lines[line_of(text, at) - 1].strip().rstrip(",")
            if isinstance(one, dict | list):
                assert said.endswith(("{", "[", "[]", "{}"))
                walk(one, at)
            else:
                assert parse(said.removeprefix(f'"{key}": ')) == one

    walk(json.loads(text), "")


# ---- written


def test_what_stands_there_is_not_written_over_unless_told(tmp_path: Path) -> None:
    first, second, *_ = starter_patterns()
    (there,) = write_patterns([first], tmp_path / "a.json")
    with pytest.raises(WriteError, match="--replace"):
        write_patterns([second], there)
    assert read_patterns([there])[0][0].pattern == first
    write_patterns([second], there, replace=True)
    assert read_patterns([there])[0][0].pattern == second


def test_nothing_is_written_where_one_of_them_cant_be(tmp_path: Path) -> None:
    several = starter_patterns()[:3]
    last = file_names([p.name for p in several])[-1]
    (tmp_path / last).mkdir()
    for over in (False, True):
        with pytest.raises(WriteError, match="Nothing was"):
            write_patterns(several, tmp_path, replace=over)
        assert [f.name for f in tmp_path.iterdir()] == [last]
    with pytest.raises(WriteError, match=r"\.jsonl"):
        write_patterns(several, tmp_path / "one.json")
    (tmp_path / "file").write_text("")
    with pytest.raises(WriteError, match="can't be written"):
        write_patterns(several, tmp_path / "file" / "under")


def test_files_of_alike_names_are_told_apart() -> None:
    assert file_names(["A b", "a-b", "a/b", "..", "Ωλ", "x" * 300]) == (
        "a-b.json", "a-b-2.json", "a-b-3.json", "pattern.json", "ωλ.json", "x" * 80 + ".json",
    )  # fmt: skip
