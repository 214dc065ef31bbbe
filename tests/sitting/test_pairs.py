"""Every pair once, and each as the judge says."""

import pytest
from hypothesis import given, settings

from tests.sitting.fakes import TAPPED, TWO_COILS, WYE, bench_of, sound
from tests.stator.strategies import patterns
from workbench import words
from workbench.sitting.pairs import Cell, Pairs, PairsView, short_band
from workbench.stator.expect import Path
from workbench.stator.pattern import CORE, Pair, Pattern

COIL, GROUND, ACROSS = Pair("P.1", "P.3"), Pair("P.1", CORE), Pair("P.1", "L.1")


def cell_of(view: PairsView, pair: Pair) -> Cell:
    return next(c for c in view.cells if c.pair.unordered == pair.unordered)


@given(pattern=patterns())
@settings(max_examples=40)
def test_every_pair_of_a_plug_and_every_ground_appears_once(pattern: Pattern) -> None:
    bench, _ = bench_of(pattern)
    view = Pairs(bench).view()
    for plug, triangle in zip(pattern.connectors, view.triangles, strict=True):
        n = len(plug.cavities)
        inside = [c.pair.unordered for row in triangle.rows for c in row]
        assert len(inside) == len(set(inside)) == n * (n - 1) // 2 + n
        assert [len(row) for row in triangle.rows] == [*range(1, n), n]
        for row, header in zip(triangle.rows, triangle.headers, strict=True):
            for c, column in zip(row, triangle.columns, strict=False):
                ends = {f"{plug.name}.{column}", CORE if header == "gnd" else f"{plug.name}.{header}"}
                assert set(c.pair) == ends or header == column == "gnd"


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
    assert (first.current, first.offered) == (True, True)
    bench.enter("114.2")
    out = cell_of(pairs.view(), COIL)
    assert (out.hollow, out.again, out.word, out.times) == (True, True, "out", 1)
    assert "read it again" in out.spoken
    keeper.asked[0].ack()
    assert not cell_of(pairs.view(), COIL).hollow
    bench.enter("114.4")
    twice = cell_of(pairs.view(), COIL)
    assert (twice.times, twice.again, twice.text) == (2, False, "114")
    bench.strike(bench.lines.every[0].kept.id, "probe moved")
    assert cell_of(pairs.view(), COIL).times == 1


def test_pairs_across_plugs_are_listed_when_planned_or_read() -> None:
    bench, _ = bench_of(TWO_COILS)
    pairs = Pairs(bench)
    assert [c.pair for c in pairs.view().across] == [ACROSS]
    bench.enter("P2 L2 OL")
    assert [c.pair for c in pairs.view().across] == [ACROSS, Pair("P.2", "L.2")]
    bench.enter("L2 P2 OL")  # the same pair the other way round
    assert [c.times for c in pairs.view().across] == [0, 2]


def test_what_this_meter_cannot_judge_is_marked_before_it_is_touched() -> None:
    bench, _ = bench_of(TWO_COILS)
    view = Pairs(bench).view()
    assert [c.pair for c in view.cells if c.limited] == [Pair("L.1", "L.2")]
    assert "L 1 – 2" in view.limits
    assert "four wires" in view.limits


def test_no_number_is_wider_than_its_cell() -> None:
    bench, _ = bench_of(TWO_COILS)
    for c in Pairs(bench).view().cells:
        if bench.expectations.of(c.pair).path is not Path.NONE:
            assert len(c.text) <= 11
