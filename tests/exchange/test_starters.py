"""What ships, as files: read as a user's own file would be, told apart from all others, laid out as can be wound."""

import cmath
import itertools
import json
import pathlib
import re
from collections.abc import Iterator

import pytest
from jsonschema import Draft202012Validator

import resources
from workbench.exchange.patterns import pattern_from_json, pattern_to_json
from workbench.exchange.starters import starter_meters, starter_pattern, starter_patterns, starter_revisions
from workbench.sitting.faceplan import face_plan
from workbench.stator.expect import Expectations, Expected
from workbench.stator.layout import Facing
from workbench.stator.pattern import CORE, Connector, Kind, Pair, Pattern

RESOURCES = pathlib.Path(resources.__file__).parent
FILES = sorted((RESOURCES / "patterns").glob("*.json"))
REVISIONS = [pytest.param(p, id=f"{p.name} #{i}") for i, p in enumerate(starter_revisions())]
PATTERNS = [pytest.param(p, id=p.name) for p in starter_patterns()]
PHASES = ("phase 1", "phase 2", "phase 3")


def document(file: pathlib.Path) -> object:
    def once(pairs: list[tuple[str, object]]) -> dict[str, object]:
        names = [name for name, _ in pairs]
        assert len(set(names)) == len(names), names
        return dict(pairs)

    return json.loads(file.read_text(encoding="utf-8"), object_pairs_hook=once)


def test_there_are_starters() -> None:
    assert len(starter_patterns()) >= 20
    assert starter_meters()[0][0] == "Counter handheld"


# ---- files


@pytest.mark.parametrize("file", FILES, ids=lambda f: f.stem)
def test_each_file_is_read_as_a_users_own_would_be_and_comes_back_the_same(file: pathlib.Path) -> None:
    schema = json.loads((RESOURCES / "schemas" / "pattern-1.json").read_text(encoding="utf-8"))
    value = document(file)
    Draft202012Validator(schema).validate(value)
    pattern = pattern_from_json(value)
    assert pattern in starter_revisions()
    written = json.loads(json.dumps(pattern_to_json(pattern)))
    assert pattern_from_json(written) == pattern
    assert pattern_to_json(pattern_from_json(written)) == written


def test_revisions_are_files_numbered_from_one_under_one_name() -> None:
    named: dict[str, list[tuple[int, str]]] = {}
    for file in FILES:
        stem, _, number = file.stem.partition(".")
        value = document(file)
        assert isinstance(value, dict)
        named.setdefault(value["name"], []).append((int(number or 1), stem))
    for name, found in named.items():
        assert sorted(n for n, _ in found) == list(range(1, len(found) + 1)), name
        assert len({stem for _, stem in found}) == 1, name


def test_the_newest_revision_is_the_one_a_name_stands_for() -> None:
    half_wave = [p for p in starter_revisions() if p.name == "lighting half-wave, later floated"]
    assert len(half_wave) == 2
    as_built, floated = half_wave
    assert starter_pattern(floated.name) is floated
    assert [p for p in starter_patterns() if p.name == floated.name] == [floated]
    ground = Pair("L.1", CORE)
    assert Expectations(as_built).of(ground).has_band
    assert not Expectations(floated).of(ground).has_band
    assert face_plan(as_built.connectors[0]) == face_plan(floated.connectors[0])


@pytest.mark.parametrize("pattern", PATTERNS)
def test_names_are_the_trades_words_and_no_models(pattern: Pattern) -> None:
    assert len(pattern.name) <= 37  # so that the bench's heading shows it whole, with its revision
    assert re.fullmatch(r"[a-z][a-z ,-]*", pattern.name)
    for e in pattern.edges:
        assert re.fullmatch(r"[a-z][a-z -]*( [1-9AB])?", e.name), e.name


# ---- plugs


@pytest.mark.parametrize("pattern", REVISIONS)
def test_every_pin_is_used(pattern: Pattern) -> None:
    assert {n for e in pattern.edges for n in (e.start, e.finish)} >= set(pattern.pins)


@pytest.mark.parametrize("pattern", REVISIONS)
def test_cavities_and_key_lie_apart_inside_their_plug(pattern: Pattern) -> None:
    for c in pattern.connectors:
        plan = face_plan(c)
        for spot in plan.spots:
            assert plan.body.holds(spot.x, spot.y, 1.0), spot.node
            if plan.key_box is not None:
                box = plan.key_box
                dx = max(box.x - spot.x, 0, spot.x - box.x - box.width)
                dy = max(box.y - spot.y, 0, spot.y - box.y - box.height)
                assert abs(complex(dx, dy)) > 1.0, spot.node
        for one, other in itertools.combinations(plan.spots, 2):
            assert abs(complex(one.x - other.x, one.y - other.y)) > 2.5, (one.node, other.node)


def face(c: Connector) -> tuple[object, ...]:
    """What a hand sees of a plug, key down: not its name, nor how its pins are numbered."""
    plan = face_plan(c)
    places = sorted((round(s.x, 1), round(s.y, 1), s.terminal) for s in plan.spots)
    return (plan.key, c.key_shape if plan.key else None, tuple(places))


def nodes_by_face(plugs: tuple[Connector, ...]) -> list[str]:
    found = [s.node for c in plugs for s in sorted(face_plan(c).spots, key=lambda s: (s.x, s.y))]
    return [*found, CORE]


def matched(one: Pattern, other: Pattern) -> Iterator[dict[str, str]]:
    """Every way to lay the plugs of one on like plugs of another, as what each node then is called."""
    if len(one.connectors) != len(other.connectors):
        return
    for plugs in itertools.permutations(other.connectors):
        if [face(c) for c in one.connectors] == [face(c) for c in plugs]:
            yield dict(zip(nodes_by_face(one.connectors), nodes_by_face(plugs), strict=True))


def told_apart(one: Expected, other: Expected) -> bool:
    if one.low is None or one.high is None or other.low is None or other.high is None:
        return one.path is not other.path
    return one.high < other.low or other.high < one.low


def test_no_two_patterns_have_the_same_faces_and_the_same_readings() -> None:
    for one, other in itertools.combinations(starter_revisions(), 2):
        first, second = Expectations(one), Expectations(other)
        for called in matched(one, other):
            pairs = [Pair(a, b) for a, b in itertools.combinations(called, 2)]
            there = [Pair(called[p.positive], called[p.negative]) for p in pairs]
            apart = [told_apart(first.of(p), second.of(q)) for p, q in zip(pairs, there, strict=True)]
            assert any(apart), (one.name, other.name)


def test_between_them_they_have_every_kind_of_face() -> None:
    plugs = [c for p in starter_patterns() for c in p.connectors]
    assert {c.key for c in plugs} == {"bottom", "top", "left", "right", None}
    assert {c.key_shape for c in plugs} == {"tab", "rib", "flat"}
    assert {len(p.connectors) for p in starter_patterns()} == {1, 2, 3}
    assert {len(c.cavities) for c in plugs} >= {1, 2, 3, 4, 5, 6, 9}
    assert {face_plan(c).round for c in plugs if len(c.cavities) > 1} == {True, False}
    assert {t for c in plugs for t in {v.terminal for v in c.cavities}} == {"blade", "socket"}
    assert {p.layout.facing for p in starter_patterns() if p.layout} == set(Facing)


# ---- coils


@pytest.mark.parametrize("pattern", REVISIONS)
def test_every_winding_has_its_coils_on_a_core_that_is_wound_all_round(pattern: Pattern) -> None:
    layout = pattern.layout
    assert layout is not None
    # a wound field stands behind the ring or turns in it, where a sketch of the teeth has no place for it
    wound = {w.name for w in pattern.windings if w.element is None and w.kind is not Kind.FIELD}
    assert wound <= set(layout.windings) <= {w.name for w in pattern.windings}
    if layout.facing is not Facing.STRAIGHT:
        assert {c.tooth for c in layout.coils if c.tooth} == set(range(1, layout.teeth + 1))


def emf(pattern: Pattern, winding: str, pairs: int) -> complex:
    """The sum of a winding's coils in the star of slots, as a share of all of them in phase."""
    assert pattern.layout is not None
    coils = [c for c in pattern.layout.of(winding) if c.tooth]
    turn = 2 * cmath.pi * pairs / pattern.layout.teeth
    return sum(((c.sense or 0) * cmath.exp(1j * turn * (c.tooth or 0)) for c in coils), 0j) / len(coils)


@pytest.mark.parametrize("pattern", REVISIONS)
def test_under_some_flywheel_no_coil_works_against_its_own_winding_and_phases_balance(pattern: Pattern) -> None:
    # star of slots; the shares are this test's own choice
    layout = pattern.layout
    assert layout is not None
    if layout.facing is Facing.STRAIGHT:
        assert max(len({c.tooth for c in layout.of(w)}) for w in layout.windings) == 1
        return
    on_teeth = [w for w in layout.windings if any(c.tooth for c in layout.of(w))]

    def works(pairs: int) -> bool:
        sums = {w: emf(pattern, w, pairs) for w in on_teeth}
        if not set(PHASES) <= set(sums):
            return min(abs(s) for s in sums.values()) > 0.95
        a, b, c = (sums[p] for p in PHASES)
        balanced = abs(a + b + c) < 1e-9 and min(abs(a), abs(b), abs(c)) > 0.95
        return balanced and all(abs(s) > 0.6 for s in sums.values())

    assert any(works(pairs) for pairs in range(1, layout.teeth))
