"""What the readings say: explanations in shop sentences, the pair that tells most, and when it is settled."""

from collections.abc import Callable

import pytest

from tests.sitting.fakes import FakeKeeper, bench_file, sound
from workbench import words
from workbench.findings.explain import Explained
from workbench.sitting.bench import Bench
from workbench.sitting.says import says
from workbench.stator.judge import SheetVerdict
from workbench.stator.pattern import Pair


def at_once(work: Callable[[], Explained | None], then: Callable[[Explained | None], None]) -> None:
    then(work())


class Later:
    """Weighs when it is told to."""

    def __init__(self) -> None:
        self.waiting: list[tuple[Callable[[], Explained | None], Callable[[Explained | None], None]]] = []

    def __call__(self, work: Callable[[], Explained | None], then: Callable[[Explained | None], None]) -> None:
        self.waiting.append((work, then))

    def weigh(self) -> None:
        waiting, self.waiting = self.waiting, []
        for work, then in waiting:
            then(work())


def weighing() -> Bench:
    return Bench(bench_file(), FakeKeeper(), reckon=at_once)


def read(bench: Bench, pair: Pair, typed: str) -> None:
    bench.pick(pair)
    bench.enter(typed)
    if bench.said is not None and bench.said.choices:
        bench.enter(typed)


def read_all(bench: Bench, odd: dict[Pair, str] | None = None) -> None:
    for pair in bench.sheet().plan:
        typed = (odd or {}).get(pair, sound(bench, pair))
        read(bench, pair, typed)
        if pair in bench.judged.awaiting:
            read(bench, pair, typed)


def test_without_anything_that_weighs_there_are_no_explanations() -> None:
    bench = Bench(bench_file(), FakeKeeper())
    assert not bench.explains
    assert says(bench).rows == ()


def test_a_sound_part_is_sound_with_its_honest_probability() -> None:
    bench = weighing()
    read_all(bench)
    view = says(bench)
    assert view.rows[0].title == "Sound"
    assert 0.8 < view.rows[0].share < 1
    assert sum(r.share for r in view.rows) <= 1
    assert bench.judged.verdict is SheetVerdict.GOOD


def test_shorted_turns_are_named_and_sized_in_a_shop_sentence() -> None:
    bench = weighing()
    low, both = Pair("P.1", "P.3"), Pair("P.1", "P.2")
    read_all(bench, {low: "116.4", both: "133.5"})  # a quarter of the 155 ohm coil
    view = says(bench)
    assert view.rows[0].title == "Shorted turns in the low-speed coil"
    assert view.rows[0].detail.startswith("about a quarter of them, ")
    assert view.rows[0].detail.endswith(" %")
    assert bench.judged.verdict is SheetVerdict.FAIL


def test_the_pair_that_tells_most_is_offered_once_something_else_than_sound_leads() -> None:
    bench = weighing()
    first = bench.offered
    assert first == bench.sheet().plan[0]  # the plan's own order while nothing is wrong
    read(bench, Pair("P.1", "P.2"), "OL")
    read(bench, Pair("P.1", "P.2"), "OL")
    found = bench.explained
    assert found is not None
    assert found.findings[0].fault.value != "sound"
    assert bench.offered == found.next[0].pair
    assert bench.pair == bench.offered
    assert words.pair_words(bench.offered, bench.pattern) in says(bench).foot


def test_it_is_settled_when_one_explanation_stands_alone() -> None:
    bench = weighing()
    assert not says(bench).settled
    for _ in range(12):
        pair = bench.offered
        if pair is None or says(bench).settled:
            break
        broken = "P.3" in pair  # the wire at the common pin is broken: whatever is read with it is open
        read(bench, pair, "OL" if broken else sound(bench, pair))
    view = says(bench)
    assert view.settled
    assert view.rows[0].title == "Wire broken at P 3"
    assert view.foot.startswith("Settled: Wire broken at P 3")


def test_a_good_sheet_is_not_proved_while_something_else_is_likelier() -> None:
    bench = Bench(bench_file(), FakeKeeper(), reckon=later) if (later := Later()) else weighing()
    read_all(bench)
    assert bench.judged.verdict is SheetVerdict.GOOD
    later.weigh()
    assert not bench.judged.outweighed
    # every coil a little low, each within its band: together they speak for a part warmer or colder than stated
    bench = weighing()
    odd = {}
    for pair in bench.sheet().plan:
        expected = bench.expectations.of(pair)
        if expected.ohms is not None and expected.low and expected.ohms > 5:
            odd[pair] = f"{expected.high * 0.995 + 0.2:.1f}"
    read_all(bench, odd)
    found = bench.explained
    assert found is not None
    likelier = found.findings[0].fault.value != "sound"
    assert bench.judged.outweighed is likelier
    assert (bench.judged.verdict is SheetVerdict.NOT_PROVED) is likelier


def test_news_of_an_overtaken_sheet_is_dropped_and_the_hands_pick_is_left_alone() -> None:
    later = Later()
    bench = Bench(bench_file(), FakeKeeper(), reckon=later)
    later.weigh()
    read(bench, Pair("P.1", "P.2"), "OL")
    stale = list(later.waiting)
    read(bench, Pair("P.1", "P.2"), "OL")
    bench.press("P.4")  # the hands go to a pair of their own
    bench.press("P.5")
    for work, then in stale:
        then(work())
    later.weigh()
    assert bench.explained is not None
    assert bench.pair == Pair("P.4", "P.5")


@pytest.mark.parametrize("struck", [False, True])
def test_a_strike_is_weighed_anew(struck: bool) -> None:
    bench = weighing()
    read(bench, Pair("P.1", "P.2"), "OL")
    read(bench, Pair("P.1", "P.2"), "OL")
    if struck:
        bench.undo()
        bench.undo()
    view = says(bench)
    assert (view.rows == ()) is struck
