"""What the readings say: explanations in shop sentences, the pair that tells most, and when it is settled."""

from collections.abc import Callable
from dataclasses import replace

import pytest

from tests.sitting.fakes import FakeKeeper, bench_file, sound
from workbench import words
from workbench.findings.explain import Explained
from workbench.findings.faults import BenchFault, Fault
from workbench.findings.records import Finding, Parameter
from workbench.sitting import views
from workbench.sitting.bench import Bench
from workbench.sitting.pairs import Pairs
from workbench.sitting.says import STRANGE, says
from workbench.stator.judge import SheetVerdict
from workbench.stator.pattern import Pair
from workbench.stator.sheet import Reading


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


def told(*findings: Finding) -> Bench:
    """A bench whose readings somebody else has weighed otherwise."""

    def otherwise(work: Callable[[], Explained | None], then: Callable[[Explained | None], None]) -> None:
        found = work()
        assert found is not None
        said = {(f.fault, f.where) for f in findings}
        others = tuple(replace(f, probability=0.0) for f in found.findings if (f.fault, f.where) not in said)
        then(replace(found, findings=(*findings, *others), next=()))

    return Bench(bench_file(), FakeKeeper(), reckon=otherwise)


SOUND = Fault.SOUND
SHORTED = Fault.SHORTED_TURNS


@pytest.mark.parametrize(("sound_share", "verdict"), [(0.51, SheetVerdict.GOOD), (0.45, SheetVerdict.NOT_PROVED)])
def test_a_good_sheet_is_not_proved_while_something_else_is_likelier(sound_share: float, verdict: SheetVerdict) -> None:
    other = Finding(SHORTED, "lighting", 1 - sound_share)
    sheet = (Finding(SOUND, "", sound_share), other)
    bench = told(*(sheet if sound_share > 0.5 else sheet[::-1]))
    read_all(bench)
    assert bench.judged.verdict is verdict
    assert bench.judged.outweighed is (verdict is SheetVerdict.NOT_PROVED)
    told_why = views.heading(bench).progress == "something is likelier than sound"
    assert told_why is bench.judged.outweighed


def test_sound_is_settled_only_once_every_planned_check_is_read() -> None:
    bench = told(Finding(SOUND, "", 0.99), Finding(Fault.UNLISTED, "", 0.01))
    read(bench, bench.sheet().plan[0], sound(bench, bench.sheet().plan[0]))
    assert not says(bench).settled
    assert says(bench).foot == "Nothing is likelier than sound so far; 8 checks to read."
    read_all(bench)
    assert says(bench).settled
    assert "what ohms can't tell: warm and flexed" in says(bench).foot


def test_where_ohms_can_tell_no_more_it_says_what_could() -> None:
    bench = told(Finding(SHORTED, "lighting", 0.6, (Parameter("fraction", 0.33, 0.21, 0.45),)), Finding(SOUND, "", 0.4))
    read_all(bench)
    view = says(bench)
    assert view.rows[0].detail == "about a third of them, 21 to 45 %"
    assert view.foot == "Ohms can tell no more. What could: L and Q beside a known-good twin, or a run at speed."


def test_news_of_an_overtaken_sheet_is_dropped_and_the_hands_pick_is_left_alone() -> None:
    later = Later()
    bench = Bench(bench_file(), FakeKeeper(), reckon=later)
    later.weigh()
    read(bench, Pair("P.1", "P.2"), "OL")
    stale = [(work(), then) for work, then in later.waiting]  # weighed already, but not told yet
    read(bench, Pair("P.1", "P.2"), "OL")
    bench.press("P.4")  # the hands go to a pair of their own
    bench.press("P.5")
    for weighed, then in stale:
        then(weighed)
    assert bench.explained is None
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


def test_pointing_at_an_explanation_lights_what_speaks_for_it_and_against_it() -> None:
    bench = weighing()
    low, both, high = Pair("P.1", "P.3"), Pair("P.1", "P.2"), Pair("P.3", "P.2")
    read_all(bench, {low: "116.4", both: "133.5"})
    first = says(bench).rows[0].finding
    assert first is not None
    bench.point(first)
    assert {p for p in bench.sheet().plan if bench.speaks_of(p) == 1} == {low, both}
    assert says(bench).foot == "For it: P 1 – 3, P 1 – 2."
    lines = {v.pair.unordered: v.speaks for v in views.face_lines(bench)}
    cells = {c.pair.unordered: c.speaks for c in Pairs(bench).view().cells}
    assert lines[low.unordered] == cells[low.unordered] == 1
    assert lines[high.unordered] == cells[high.unordered] == 0
    assert "speaks for it" in next(c.spoken for c in Pairs(bench).view().cells if c.pair == low)
    assert bench.explained is not None
    touching = next(f for f in bench.explained.findings if f.where == "high-speed coil|low-speed coil")
    bench.point(touching)
    assert bench.speaks_of(high) == -1
    assert f"Against it: {words.pair_words(high, bench.pattern)}" in says(bench).foot
    bench.point(None)
    assert says(bench).foot.startswith("Settled")


def test_a_further_reading_puts_the_light_out() -> None:
    bench = weighing()
    low = Pair("P.1", "P.3")
    read(bench, low, "116.4")
    read(bench, low, "116.4")
    bench.point(says(bench).rows[0].finding)
    assert bench.speaks_of(low) == 1
    read(bench, Pair("P.3", "P.2"), "17.4")
    assert bench.pointed is None
    assert bench.speaks_of(low) == 0


def test_what_no_reading_tells_apart_is_said_with_what_could() -> None:
    bench = weighing()
    for pair in bench.sheet().plan:  # the low-speed coil has pin 1 to itself: its break and its wire's read alike
        typed = "OL" if "P.1" in pair else sound(bench, pair)
        read(bench, pair, typed)
        read(bench, pair, typed)
    foot = says(bench).foot
    assert "A break inside the low-speed coil" in foot
    assert "Wire broken at P 1" in foot
    assert "no reading at the plugs tells which" in foot


def test_two_faults_at_once_or_another_settles_nothing() -> None:
    bench = told(Finding(Fault.UNLISTED, "", 0.99), Finding(SOUND, "", 0.01))
    read_all(bench)
    view = says(bench)
    assert not view.settled
    assert view.foot.startswith("Ohms can tell no more. What could: part it at the plug")


def test_while_checks_are_unread_ohms_are_not_given_up() -> None:
    bench = told(Finding(Fault.UNLISTED, "", 0.99), Finding(SOUND, "", 0.01))
    read(bench, bench.sheet().plan[0], "0")
    left = len(bench.waiting)
    assert says(bench).foot == f"No one pair would tell most; {left} checks to read."


def test_a_part_that_hardly_fits_may_be_of_another_pattern() -> None:
    bench = told(Finding(Fault.UNLISTED, "", 0.99), Finding(SOUND, "", 0.01))
    *others, last = bench.sheet().plan[:3]
    for pair in (*others, last):
        assert says(bench).foot != STRANGE
        read(bench, pair, "401")
        read(bench, pair, "401")
    assert len(bench.judged.failed) == 3
    assert says(bench).foot == STRANGE


def test_a_reading_taken_elsewhere_is_to_be_read_again() -> None:
    bench = told(Finding(BenchFault.ELSEWHERE, "P.1|P.2", 0.7), Finding(SOUND, "", 0.3))
    read_all(bench)
    assert says(bench).foot.startswith("No other pair can tell. What could: set the probes by the picture of the plug")


def test_a_sound_second_reading_does_not_settle_a_fault_on_the_mean_of_both() -> None:
    bench = weighing()
    low, high, both = Pair("P.1", "P.3"), Pair("P.2", "P.3"), Pair("P.1", "P.2")
    read(bench, both, sound(bench, low))  # the probes stood on 1 - 3
    read(bench, low, sound(bench, low))
    read(bench, high, sound(bench, high))
    assert says(bench).rows[0].title == "P 1 – 2: probes on another pair"
    read(bench, both, sound(bench, both))
    view = says(bench)
    assert view.rows[0].title == "P 1 – 2: probes on another pair"
    assert view.rows[0].detail == "155.2 Ω fits P 1 – 3"
    assert view.foot == "P 1 – 2 was read again and reads otherwise: strike out the 155.2 Ω, or read it once more."
    assert not [r for r in view.rows if "touches" in r.title]
    for pair in bench.sheet().plan:
        if pair not in (low, high, both):
            read(bench, pair, sound(bench, pair))
    assert bench.judged.verdict is SheetVerdict.NOT_PROVED
    wrong = bench.lines.counted[0].kept
    assert wrong.reading.pair == both
    bench.strike(wrong.id, "probes on another pair")
    assert says(bench).rows[0].title == "Sound"
    assert bench.judged.verdict is SheetVerdict.GOOD


def test_a_slip_that_is_settled_says_which_reading_to_strike_out() -> None:
    wrong = Reading(Pair("P.1", "P.2"), 155.0)
    bench = told(Finding(BenchFault.ELSEWHERE, "P.1|P.2", 0.97, slipped=wrong), Finding(SOUND, "", 0.03))
    read_all(bench)
    assert says(bench).foot == "Settled: P 1 – 2: probes on another pair; strike out the 155 Ω."
