"""Every pair once, and each as the judge says."""

from dataclasses import replace
from uuid import UUID

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.sitting.fakes import FOUR_WIRES, HANDHELD, TAPPED, TWO_COILS, WYE, bench_of, sound
from tests.stator.strategies import pairs_of, patterns
from workbench import words
from workbench.records import NamedMeter
from workbench.sitting.bench import Bench
from workbench.sitting.pairs import MOST_CELLS, Cell, Pairs, PairsView, short_band, short_value
from workbench.stator.expect import Expected, Path
from workbench.stator.judge import judge
from workbench.stator.meter import Meter, Range
from workbench.stator.pattern import CORE, Cavity, Connector, Element, Link, Pair, Pattern, Winding

COIL, GROUND, ACROSS = Pair("P.1", "P.3"), Pair("P.1", CORE), Pair("P.1", "L.1")
COARSE = NamedMeter(UUID(int=9), "coarse", Meter((Range(20.0, 1.0, 1.0, 2),), open_above_ohms=20.0))


def cell_of(view: PairsView, pair: Pair) -> Cell:
    return next(c for c in view.cells if c.pair.unordered == pair.unordered)


def line_of(n: int, *more: Winding) -> Pattern:
    plug = Connector("A", tuple(Cavity(str(i + 1)) for i in range(n)))
    coil = Winding("coil", "A.1", "A.2", ohms=10.0, tolerance_percent=10)
    return Pattern("line", (plug,), (coil, *more), checks=(Pair("A.1", "A.2"), Pair("A.1", CORE)))


def take(bench: Bench, pair: Pair, typed: str) -> None:
    """Keeps what was typed, whatever it is asked about."""
    bench.pick(pair)
    before = len(bench.lines)
    bench.enter(typed)
    if len(bench.lines) == before:
        bench.enter(typed)


@given(pattern=patterns(elements=True))
@settings(max_examples=40)
def test_every_pair_of_a_plug_and_every_ground_appears_once(pattern: Pattern) -> None:
    bench, _ = bench_of(pattern)
    view = Pairs(bench).view()
    for plug, triangle in zip(pattern.connectors, view.triangles, strict=True):
        n = len(plug.cavities)
        inside = [c.pair.unordered for row in triangle.rows for c in row]
        assert len(inside) == len(set(inside)) == n * (n - 1) // 2 + n
        assert [len(row) for row in triangle.rows] == [*range(1, n), n]
        for i, row in enumerate(triangle.rows):
            below = plug.nodes[i + 1] if i + 1 < n else CORE
            assert [set(c.pair) for c in row] == [{above, below} for above in plug.nodes[: len(row)]]


@given(data=st.data())
@settings(max_examples=60, deadline=None)
def test_states_agree_with_the_judge(data: st.DataObject) -> None:
    pattern = data.draw(patterns(elements=True))
    bench, _ = bench_of(pattern)
    pairs = Pairs(bench)
    few = data.draw(st.lists(st.sampled_from(pairs_of(pattern)), min_size=1, max_size=3))
    for pair in data.draw(st.lists(st.sampled_from(few), max_size=7)):
        nominal = bench.expectations.of(pair).ohms or 50.0
        shown = f"{nominal * data.draw(st.sampled_from((0.5, 0.93, 1.0, 1.3))) + 0.2:.1f}"
        take(bench, pair, data.draw(st.sampled_from((shown, shown, "OL"))))
        pairs.view()
    ask, judged = bench.expectations, judge(bench.sheet())
    keys = [ask.key(c.pair) for c in pairs.view().cells]
    assert len(keys) == len(set(keys))
    assert {ask.key(p) for p in (*judged.sheet.plan, *(r.reading.pair for r in judged.rows))} <= set(keys)
    for cell in pairs.view().cells:
        k, rows = ask.key(cell.pair), judged.rows_of(cell.pair, ask)
        assert cell.times == len(rows)
        assert cell.word == (words.verdict_word(rows[-1]) if rows else "")
        assert cell.again == (k in map(ask.key, judged.awaiting))
        assert cell.contradicted == any(r.contradicted for r in rows)
        assert cell.planned == (k in map(ask.key, judged.sheet.plan))
        assert cell.current == (bench.pair is not None and k == ask.key(bench.pair))
        assert cell.offered == (bench.offered is not None and k == ask.key(bench.offered))


@pytest.mark.parametrize("pattern", [TWO_COILS, TAPPED, WYE])
def test_cells_say_what_the_judge_says(pattern: str) -> None:
    bench, _ = bench_of(pattern)
    pairs = Pairs(bench)
    for check in bench.pattern.checks or ():
        before = cell_of(pairs.view(), check)
        assert (before.read, before.word, before.planned) == (False, "", True)
        assert before.text == short_band(bench.expectations.of(check))
        bench.enter(sound(bench, check))
        after = cell_of(pairs.view(), check)
        row = bench.last_row(check)
        assert row is not None
        assert (after.times, after.word) == (1, words.verdict_word(row))
    assert pairs.view().progress == f"{len(bench.pattern.checks or ())} of {len(bench.pattern.checks or ())} read"


def test_states_of_a_cell() -> None:
    bench, keeper = bench_of(at_once=False)
    pairs = Pairs(bench)
    first = cell_of(pairs.view(), COIL)
    assert (first.current, first.offered, first.below) == (True, True, "")
    bench.enter("114.2")
    out = cell_of(pairs.view(), COIL)
    assert (out.hollow, out.again, out.word, out.times, out.below) == (True, True, "out", 1, "out, again")
    assert out.spoken.endswith("planned, being kept, read it again")
    keeper.asked[0].ack()
    assert not cell_of(pairs.view(), COIL).hollow
    bench.enter("114.4")
    twice = cell_of(pairs.view(), COIL)
    assert (twice.times, twice.again, twice.text, twice.below) == (2, False, "114", "out ×2")
    bench.strike(bench.lines.every[0].kept.id, "probe moved")
    assert cell_of(pairs.view(), COIL).times == 1


def test_readings_that_contradict_each_other_are_at_odds() -> None:
    bench, _ = bench_of()
    pairs = Pairs(bench)
    take(bench, COIL, "OL")
    take(bench, COIL, "155.2")
    cell = cell_of(pairs.view(), COIL)
    assert (cell.contradicted, cell.again, cell.below) == (True, False, "at odds ×2")
    assert "its readings contradict each other" in cell.spoken


def test_a_reading_that_could_not_be_kept_does_not_count() -> None:
    bench, keeper = bench_of(at_once=False)
    pairs = Pairs(bench)
    bench.enter("155.2")
    assert cell_of(pairs.view(), COIL).read
    keeper.asked[0].fail()
    assert not cell_of(pairs.view(), COIL).read


def test_only_what_changed_is_made_anew() -> None:
    bench, _ = bench_of(line_of(12))
    pairs = Pairs(bench)
    before = pairs.view().cells
    bench.enter("10.2")
    after = pairs.view().cells
    changed = {a.pair for a, b in zip(before, after, strict=True) if a is not b}
    assert changed == {Pair("A.1", "A.2"), Pair("A.1", CORE)}  # the one read, and the one offered next


def test_another_meter_says_anew_what_it_can_judge() -> None:
    bench, _ = bench_of(TWO_COILS)
    pairs = Pairs(bench)
    assert cell_of(pairs.view(), Pair("L.1", "L.2")).reach == "cont. only"
    no_leads = replace(bench.head.conditions, lead_ohms=0.0, lead_uncertainty_ohms=0.0)
    head = replace(bench.head, meter_name=FOUR_WIRES.name, meter=FOUR_WIRES.meter, conditions=no_leads)
    bench.change_conditions(head)
    assert cell_of(pairs.view(), Pair("L.1", "L.2")).reach == ""
    assert pairs.view().limits == ""


def test_pairs_across_plugs_are_listed_when_planned_read_or_picked() -> None:
    bench, _ = bench_of(TWO_COILS)
    pairs = Pairs(bench)
    assert [c.pair for c in pairs.view().others] == [ACROSS]
    assert pairs.view().others_title == "Plug to plug"
    bench.pick(Pair("P.2", "L.2"))
    assert [(c.pair, c.current) for c in pairs.view().others] == [(ACROSS, False), (Pair("P.2", "L.2"), True)]
    bench.enter("OL")
    assert [c.pair for c in pairs.view().others] == [ACROSS, Pair("P.2", "L.2")]
    bench.enter("L2 P2 OL")  # the same pair the other way round
    assert [c.times for c in pairs.view().others] == [0, 2]


def test_a_diode_keeps_both_ways_of_the_leads() -> None:
    diode = Winding("diode", "A.1", "A.3", element=Element.DIODE)
    pattern = replace(line_of(3, diode), checks=(Pair("A.3", "A.1"), Pair("A.1", CORE)))
    bench, _ = bench_of(pattern)
    pairs = Pairs(bench)
    view = pairs.view()
    cell = view.triangles[0].rows[1][0]
    assert (cell.pair, cell.planned, cell.text) == (Pair("A.3", "A.1"), True, "not by ohms")  # as it is planned
    assert view.others == ()
    take(bench, Pair("A.1", "A.3"), "OL")
    view = pairs.view()
    assert not view.triangles[0].rows[1][0].read
    assert [(c.pair, c.text, c.word) for c in view.others] == [(Pair("A.1", "A.3"), "open", "not by ohms")]
    assert view.others_title == "Leads swapped"


def test_what_this_meter_cannot_judge_is_marked_before_it_is_touched() -> None:
    bench, _ = bench_of(TWO_COILS)
    pairs = Pairs(bench)
    view = pairs.view()
    assert [(c.pair, c.below) for c in view.cells if c.reach] == [(Pair("L.1", "L.2"), "cont. only")]
    assert view.limits == "This meter can't tell shorted turns on L 1 – 2: four wires, L and Q, or a run can."
    take(bench, Pair("L.1", "L.2"), "0.6")
    assert cell_of(pairs.view(), Pair("L.1", "L.2")).reach == ""  # its verdict says it now
    assert pairs.view().limits == view.limits


def test_each_way_a_meter_falls_short_has_its_sentence() -> None:
    coil = Winding("large", "A.2", "A.3", ohms=300.0, tolerance_percent=10)
    checks = (Pair("A.1", "A.2"), Pair("A.2", "A.3"), Pair("A.3", "A.4"), Pair("A.1", CORE))
    pattern = replace(line_of(4, coil), links=(Link("loop", "A.3", "A.4"),), checks=checks)
    bench, _ = bench_of(pattern, meter=COARSE)
    view = Pairs(bench).view()
    assert [cell_of(view, c).reach for c in checks] == ["cont. only", "off range", "cont. only", "no proof"]
    assert view.limits == (
        "This meter can't tell shorted turns on 1 – 2: four wires, L and Q, or a run can. "
        "This meter can't tell a poor wire on 3 – 4: four wires can. "
        "Above this meter's ranges: 2 – 3. No range of this meter proves an open."
    )


@pytest.mark.parametrize(
    ("shown", "text"), [("17.4", "17.2"), ("155.2", "155"), ("0.3", "0.10"), ("1234", "1234"), ("17000", "17.0k"),
                        ("2500000", "2.50M"), ("0.2", "0.00"), ("OL", "open")]
)  # fmt: skip
def test_a_value_is_as_fine_as_its_uncertainty_and_its_cell_allow(shown: str, text: str) -> None:
    bench, _ = bench_of(TWO_COILS, meter=HANDHELD)
    take(bench, GROUND, shown)
    row = bench.last_row(GROUND)
    assert row is not None
    assert short_value(row) == text


@pytest.mark.parametrize(
    ("expected", "text"),
    [
        (Expected(Path.WINDINGS, 412, 371, 453), "371–453"),
        (Expected(Path.WINDINGS, 155, 139.5, 170.5), "139.5–170.5"),
        (Expected(Path.WINDINGS, 12e3, 10.8e3, 13.2e3), "10.8–13.2k"),
        (Expected(Path.WINDINGS, 5.0, 5e-9, 10.0), "0–10"),
        (Expected(Path.WINDINGS, 1e12, 0.9e12, 1.1e12), "900000–1100000M"),
        (Expected(Path.WINDINGS, 2.5, 0.0, 5.0), "< 5"),
        (Expected(Path.WINDINGS, 6e3, 0.0, 12e3), "< 12k"),
        (Expected(Path.LINKS, 0.02, 0.0, 0.5), "≤ 0.5"),
        (Expected(Path.NONE), "open"),
        (Expected(Path.ELEMENT), "not by ohms"),
    ],
)
def test_a_band_in_short(expected: Expected, text: str) -> None:
    assert short_band(expected) == text


def test_a_plug_of_more_pins_than_anyone_reads_is_listed() -> None:
    n = 45
    assert n * (n + 1) // 2 > MOST_CELLS
    bench, _ = bench_of(line_of(n))
    pairs = Pairs(bench)
    take(bench, Pair("A.40", "A.41"), "OL")
    view = pairs.view()
    assert view.triangles == ()
    listed = {c.pair for c in view.others if c.planned or c.read}
    assert listed == {Pair("A.1", "A.2"), Pair("A.1", CORE), Pair("A.40", "A.41")}
    assert view.others_title == "Other pairs"
