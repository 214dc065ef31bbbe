"""What ships: every starter pattern sees every winding, and a sound part can come out good on every starter meter."""

import json
import pathlib
from dataclasses import replace

import numpy as np
import pytest
from jsonschema import Draft202012Validator

import resources
from demo_shop.part import Part
from workbench.exchange.starters import starter_meters, starter_patterns
from workbench.stator.expect import Expectations, Path
from workbench.stator.judge import JudgedSheet, SheetVerdict, judge
from workbench.stator.meter import Meter
from workbench.stator.pattern import Pattern
from workbench.stator.sheet import Conditions, Proof, Reading, Sheet

RESOURCES = pathlib.Path(resources.__file__).parent
FILES = sorted((RESOURCES / "patterns").glob("*.json"))
PATTERNS = [pytest.param(p, id=p.name) for p in starter_patterns()]
METERS = [pytest.param(m, id=name) for name, m in starter_meters()]


def read(pattern: Pattern, meter: Meter, part: Part, times: int = 1) -> JudgedSheet:
    leads = 0.2 if meter.ranges[0].resolution_ohms >= 0.01 else 0.0
    conditions = Conditions(21.0, 1.0, leads, meter.ranges[0].resolution_ohms / 3**0.5)
    readings = []
    for pair in pattern.checks or ():
        for _ in range(times):
            shown = part.shows(pair, meter, conditions)
            readings.append(Reading(pair, None if shown == "OL" else float(shown)))
    return judge(Sheet(pattern, meter, conditions, tuple(readings), proof=Proof(iron=True)))


def test_there_are_starters() -> None:
    assert len(starter_patterns()) >= 3
    assert starter_meters()[0][0] == "Counter handheld"


@pytest.mark.parametrize("pattern", PATTERNS)
def test_every_winding_moves_some_check(pattern: Pattern) -> None:
    ask = Expectations(pattern)
    joined = [c for c in pattern.checks or () if ask.of(c).path is Path.WINDINGS]
    for w in pattern.windings:
        reads = ask.shorted(joined, w.name, np.array([0.0, 0.5]))
        assert np.max(np.abs(reads[1] / reads[0] - 1)) > 0.1, w.name


@pytest.mark.parametrize("pattern", PATTERNS)
@pytest.mark.parametrize("meter", METERS)
@pytest.mark.parametrize("seed", range(5))
def test_a_sound_part_comes_out_good(pattern: Pattern, meter: Meter, seed: int) -> None:
    judged = read(pattern, meter, Part(pattern, {}, seed))
    assert judged.verdict is SheetVerdict.GOOD, [(str(r.reading.pair), r.verdict) for r in judged.rows]
    assert judged.clashes == ()


@pytest.mark.parametrize("pattern", PATTERNS)
@pytest.mark.parametrize("meter", METERS)
def test_a_broken_winding_fails_once_it_was_read_twice(pattern: Pattern, meter: Meter) -> None:
    for w in pattern.windings:
        part = Part(pattern, {w.name: None}, 1)
        assert read(pattern, meter, part).verdict is not SheetVerdict.GOOD, w.name
        assert read(pattern, meter, part, times=2).verdict is SheetVerdict.FAIL, w.name


@pytest.mark.parametrize("pattern", PATTERNS)
def test_every_link_is_read_by_a_check_that_would_open_without_it(pattern: Pattern) -> None:
    for link in pattern.links:
        without = Expectations(replace(pattern, links=tuple(x for x in pattern.links if x != link)))
        opened = [c for c in pattern.checks or () if without.of(c).path is Path.NONE]
        assert any(Expectations(pattern).of(c).path is not Path.NONE for c in opened), link.name


@pytest.mark.parametrize("file", FILES, ids=lambda f: f.stem)
def test_each_file_keeps_the_published_schema(file: pathlib.Path) -> None:
    schema = json.loads((RESOURCES / "schemas" / "pattern-1.json").read_text(encoding="utf-8"))
    Draft202012Validator(schema).validate(json.loads(file.read_text(encoding="utf-8")))


@pytest.mark.parametrize("pattern", PATTERNS)
def test_every_winding_has_its_coils_on_a_core_that_is_wound_all_round(pattern: Pattern) -> None:
    assert pattern.layout is not None
    assert set(pattern.layout.windings) == {w.name for w in pattern.windings}
    assert {c.tooth for c in pattern.layout.coils} == set(range(1, pattern.layout.teeth + 1))
