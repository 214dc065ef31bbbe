"""What ships, on the bench: no fault escapes the planned checks, and a sound part comes out good."""

import itertools
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import pytest

from demo_shop.part import Part
from workbench.exchange.starters import starter_meters, starter_revisions
from workbench.stator.correct import Corrector
from workbench.stator.expect import Expectations, Path
from workbench.stator.judge import JudgedSheet, SheetVerdict, judge
from workbench.stator.meter import Meter
from workbench.stator.pattern import CORE, Kind, Link, Pair, Pattern, Winding
from workbench.stator.sheet import Conditions, Proof, Reading, Sheet

# all that is inside is potted: every path takes its electronics, and ohms prove nothing of them (methods of the bench)
NOTHING_TO_JUDGE = "potted ignition module"
REVISIONS = [pytest.param(p, id=f"{p.name} #{i}") for i, p in enumerate(starter_revisions())]
JUDGED = [r for r in REVISIONS if not str(r.id).startswith(NOTHING_TO_JUDGE)]
METERS = [pytest.param(m, id=name) for name, m in starter_meters()]
FOUR_WIRES = dict(starter_meters())["Bench, four wires"]

# ohms that belong in the kind of coil, at 20 C: common practice, no source; wide on purpose
PLAUSIBLE = {
    Kind.LIGHTING: (0.3, 1.5), Kind.CHARGING: (0.1, 1.5), Kind.EXCITER: (20, 500), Kind.IGNITION: (10, 500),
    Kind.PULSER: (80, 250), Kind.FIELD: (3, 5), Kind.PRIMARY: (0.3, 2), Kind.SECONDARY: (2000, 15000),
}  # fmt: skip


# ---- faults


def without(pattern: Pattern, name: str) -> Pattern | None:
    """One winding or link gone."""
    return loose(pattern, [e for e in pattern.edges if e.name != name])


def lead_off(pattern: Pattern, pin: str) -> Pattern | None:
    """The wire of a pin broken close to it: what met there still meets, but not the pin."""
    ends = [["broken off" if n == pin else n for n in (e.start, e.finish)] for e in pattern.edges]
    return loose(pattern, [replace(e, start=a, finish=b) for e, (a, b) in zip(pattern.edges, ends, strict=True)])


def loose(pattern: Pattern, edges: Sequence[Winding | Link]) -> Pattern | None:
    """The pattern of these, less those that hang on an inner point alone; None where nothing is left."""
    reached = {*pattern.pins, CORE}
    left, before = list(edges), -1
    while len(left) != before:
        before = len(left)
        uses = Counter(n for e in left for n in (e.start, e.finish))
        left = [e for e in left if all(n in reached or uses[n] > 1 for n in (e.start, e.finish))]
    windings = tuple(e for e in left if isinstance(e, Winding))
    links = tuple(e for e in left if isinstance(e, Link))
    return replace(pattern, windings=windings, links=links, layout=None) if left else None


def path_in(ask: Expectations | None, pair: Pair) -> Path:
    return Path.NONE if ask is None else ask.of(pair).path


def seen(pattern: Pattern, faulty: Pattern | None) -> list[Pair]:
    """The planned checks that read otherwise: joined where they weren't, or the reverse, or outside their band."""
    sound, now = Expectations(pattern), Expectations(faulty) if faulty else None

    def otherwise(check: Pair) -> bool:
        before = sound.of(check)
        if (before.path is Path.NONE) != (path_in(now, check) is Path.NONE):
            return True
        after = now.of(check).ohms if now else None
        if after is None or before.low is None or before.high is None:
            return False
        return not before.low <= after <= before.high

    return [c for c in pattern.checks or () if otherwise(c)]


@pytest.mark.parametrize("pattern", REVISIONS)
def test_a_winding_or_link_that_is_gone_is_seen(pattern: Pattern) -> None:
    for e in pattern.edges:
        assert seen(pattern, without(pattern, e.name)), e.name


@pytest.mark.parametrize("pattern", REVISIONS)
def test_a_lead_that_is_off_its_pin_is_seen(pattern: Pattern) -> None:
    for pin in pattern.pins:
        assert seen(pattern, lead_off(pattern, pin)), pin


@pytest.mark.parametrize("pattern", REVISIONS)
def test_a_winding_shorted_to_the_core_is_seen(pattern: Pattern) -> None:
    ask = Expectations(pattern)
    for node in {n for e in pattern.edges for n in (e.start, e.finish)} - {CORE}:
        expected = ask.of(Pair(node, CORE))
        if expected.path in (Path.LINKS, Path.ELEMENT):
            continue  # grounded as it is by a wire of its own, or not to be judged by ohms
        assert seen(pattern, replace(pattern, links=(*pattern.links, Link("short", node, CORE)))), node


@pytest.mark.parametrize("pattern", JUDGED)
def test_half_a_winding_shorted_moves_some_check_out_of_its_band(pattern: Pattern) -> None:
    ask = Expectations(pattern)
    joined = [c for c in pattern.checks or () if ask.of(c).path is Path.WINDINGS]
    for w in pattern.windings:
        if w.element is not None or in_series_with_an_element(pattern, w):
            continue
        reads = ask.shorted(joined, w.name, np.array([0.0, 0.5]))[1]
        assert any(r < (ask.of(c).low or 0) for r, c in zip(reads, joined, strict=True)), w.name


def in_series_with_an_element(pattern: Pattern, w: Winding) -> bool:
    """Whether every pair that this winding's loss would open reads through an element."""
    ask, less = Expectations(pattern), without(pattern, w.name)
    now = Expectations(less) if less else None
    pairs = [Pair(*p) for p in itertools.combinations((*pattern.pins, CORE), 2)]
    opened = [p for p in pairs if ask.of(p).path is not Path.NONE and path_in(now, p) is Path.NONE]
    return bool(opened) and all(ask.of(p).path is Path.ELEMENT for p in opened)


@pytest.mark.parametrize("pattern", REVISIONS)
def test_every_link_is_read_by_a_check_of_its_own(pattern: Pattern) -> None:
    ask = Expectations(pattern)
    for link in pattern.links:
        less = without(pattern, link.name)
        checks = [c for c in pattern.checks or () if ask.of(c).path is Path.LINKS]
        assert any(path_in(Expectations(less) if less else None, c) is not Path.LINKS for c in checks), link.name


@pytest.mark.parametrize("pattern", REVISIONS)
def test_no_check_is_planned_twice(pattern: Pattern) -> None:
    checks = pattern.checks or ()
    keys = [Expectations(pattern).key(c) for c in checks]
    assert len(set(keys)) == len(keys)


@pytest.mark.parametrize("pattern", REVISIONS)
def test_ohms_belong_to_the_kind_of_coil(pattern: Pattern) -> None:
    for w in pattern.windings:
        if w.element is None:
            low, high = PLAUSIBLE[w.kind]
            assert low <= w.nominal <= high, w.name


# ---- sound and broken parts


def read(pattern: Pattern, meter: Meter, part: Part, times: int = 1) -> JudgedSheet:
    leads = 0.2 if meter.ranges[0].resolution_ohms >= 0.01 else 0.0
    conditions = Conditions(21.0, 1.0, leads, meter.ranges[0].resolution_ohms / 3**0.5)
    readings = []
    for pair in pattern.checks or ():
        for _ in range(times):
            shown = part.shows(pair, meter, conditions)
            readings.append(Reading(pair, None if shown == "OL" else float(shown)))
    return judge(Sheet(pattern, meter, conditions, tuple(readings), proof=Proof(iron=True)))


@pytest.mark.parametrize("pattern", JUDGED)
@pytest.mark.parametrize("meter", METERS)
@pytest.mark.parametrize("seed", range(5))
def test_a_sound_part_comes_out_good(pattern: Pattern, meter: Meter, seed: int) -> None:
    judged = read(pattern, meter, Part(pattern, {}, seed))
    assert judged.verdict is SheetVerdict.GOOD, [(str(r.reading.pair), r.verdict) for r in judged.rows]
    assert judged.clashes == ()


@pytest.mark.parametrize("pattern", JUDGED)
@pytest.mark.parametrize("meter", METERS)
def test_a_part_at_its_nominal_values_comes_out_good(pattern: Pattern, meter: Meter) -> None:
    shares: dict[str, float | None] = {w.name: 1.0 for w in pattern.windings if w.element is None}
    assert read(pattern, meter, Part(pattern, shares, 3)).verdict is SheetVerdict.GOOD


@pytest.mark.parametrize("pattern", JUDGED)
@pytest.mark.parametrize("seed", range(8))
def test_a_part_anywhere_well_within_its_bands_comes_out_good_with_four_wires(pattern: Pattern, seed: int) -> None:
    drawn = np.random.default_rng(seed)

    def somewhere(w: Winding) -> Winding:
        if w.element is not None:
            return w
        middle, half = (w.low + w.high) / 2, (w.high - w.low) / 2
        ohms = middle + float(drawn.uniform(-0.85, 0.85)) * half
        return replace(w, ohms=ohms, tolerance_percent=1.0, low_ohms=None, high_ohms=None)

    true = Expectations(replace(pattern, windings=tuple(map(somewhere, pattern.windings))))
    conditions = Conditions(21.0, 1.0)
    corrector = Corrector(FOUR_WIRES, conditions, pattern.conductor, pattern.reference_celsius)
    ohms = {c: true.of(c).ohms for c in pattern.checks or ()}
    shown = tuple(Reading(c, None if r is None else corrector.shown(r)) for c, r in ohms.items())
    judged = judge(Sheet(pattern, FOUR_WIRES, conditions, shown, proof=Proof(iron=True)))
    assert judged.verdict is SheetVerdict.GOOD, [(str(r.reading.pair), r.verdict) for r in judged.rows]
    assert judged.clashes == ()


@pytest.mark.parametrize("meter", METERS)
def test_where_everything_is_potted_nothing_is_proved(meter: Meter) -> None:
    (pattern,) = [p for p in starter_revisions() if p.name == NOTHING_TO_JUDGE]
    judged = read(pattern, meter, Part(pattern, {}, 1))
    assert judged.verdict is SheetVerdict.NOT_PROVED
    assert {r.verdict for r in judged.rows} == {None}


@pytest.mark.parametrize("pattern", JUDGED)
@pytest.mark.parametrize("meter", METERS)
def test_a_broken_winding_fails_once_it_was_read_twice(pattern: Pattern, meter: Meter) -> None:
    ask = Expectations(pattern)
    for w in pattern.windings:
        less = without(pattern, w.name)
        now = Expectations(less) if less else None
        opens = [c for c in pattern.checks or () if ask.of(c).has_band and path_in(now, c) is Path.NONE]
        # a group beside another opens nothing, and its tenths of an ohm are more than a handheld can tell
        if w.element is not None or in_series_with_an_element(pattern, w) or not (opens or meter is FOUR_WIRES):
            continue
        part = Part(pattern, {w.name: None}, 1)
        assert read(pattern, meter, part).verdict is not SheetVerdict.GOOD, w.name
        assert read(pattern, meter, part, times=2).verdict is SheetVerdict.FAIL, w.name
