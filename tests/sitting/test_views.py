"""What the panels show and a screen reader says of a sitting, and the facts of its card."""

from dataclasses import replace

import pytest

from tests.sitting.fakes import AT, FOUR_WIRES, TAPPED, TWO_COILS, bench_of, sound, starter
from workbench.records import Outcome
from workbench.sitting import views
from workbench.sitting.bench import Bench
from workbench.sitting.card import card_facts
from workbench.sitting.lines import Keeping
from workbench.stator.expect import Path
from workbench.stator.meter import Meter, Range
from workbench.stator.pattern import CORE, Element, Pair, Winding

LOW, HIGH, LOOP, LIGHT = Pair("P.1", "P.3"), Pair("P.3", "P.2"), Pair("P.4", "P.5"), Pair("L.1", "L.2")
GROUND = Pair("P.1", CORE)


def check(bench: Bench, pair: Pair) -> views.CheckView:
    return next(c for c in views.checks(bench) if c.pair == pair)


def test_the_heading_says_what_holds_for_the_sheet() -> None:
    bench, _ = bench_of(iron=None)
    h = views.heading(bench)
    assert (h.tag, h.label, h.job) == ("T-0001", "red sled", "job 7: no spark")
    assert h.pattern == "two ignition coils on a common pin, revision 2"
    assert h.meter == "Counter handheld"
    assert h.leads == "leads 0.2 Ω, iron not proved"
    assert h.part == "20 °C, u 1 °C"
    zeroed, _ = bench_of(zeroed=True)
    assert views.heading(zeroed).leads == "meter zeroed on its leads, iron proved"


def test_the_progress_says_what_the_sheet_waits_for() -> None:
    bench, _ = bench_of()
    assert (views.heading(bench).verdict, views.heading(bench).progress) == ("UNFINISHED", "0 of 9 checks read")
    bench.enter("114.2")
    assert views.heading(bench).progress == "read P 1 – 3 again"
    bench.undo()
    while bench.offered is not None:
        bench.enter(sound(bench, bench.offered))
    assert (views.heading(bench).verdict, views.heading(bench).progress) == ("GOOD", "all 9 checks read")
    doubtful, _ = bench_of(iron=None)
    while doubtful.offered is not None:
        doubtful.enter(sound(doubtful, doubtful.offered))
    assert views.heading(doubtful).verdict == "NOT PROVED"
    assert views.heading(doubtful).progress == "P 1 – ground can't be decided"


def test_the_checks_stand_in_the_plans_order_and_then_what_was_read_beside_it() -> None:
    bench, _ = bench_of()
    plan = list(bench.pattern.checks or ())
    assert [c.pair for c in views.checks(bench)] == plan
    bench.enter("2 4 OL")
    bench.enter("3 1 155.4")  # in reverse: a planned check, read
    assert [c.pair for c in views.checks(bench)] == [*plan, Pair("P.2", "P.4")]
    assert check(bench, LOW).value == "155.2 ± 1.9 Ω"
    assert [c.pair for c in views.checks(bench) if c.current] == [bench.offered]


@pytest.mark.parametrize(
    ("pair", "note"),
    [(LOW, ""), (LIGHT, "this meter: continuity only"), (GROUND, "")],
)
def test_what_this_meter_cannot_judge_is_noted_before_the_reading(pair: Pair, note: str) -> None:
    bench, _ = bench_of()
    assert check(bench, pair).note == note
    bench.pick(pair)
    bench.enter(sound(bench, pair))
    assert check(bench, pair).note == ""  # what was read speaks for itself


def test_ranges_and_elements_are_noted_too() -> None:
    small = Meter((Range(100, 0.1, 0.8, 3),), open_above_ohms=100)
    bench, _ = bench_of(meter=small)
    assert check(bench, LOW).note == "above this meter's ranges"
    assert check(bench, GROUND).note == "this meter can't prove an open"
    alone = (Winding("d", "P.1", "P.3", element=Element.DIODE),)
    diode = replace(bench.pattern, windings=alone, checks=(LOW,), layout=None)
    bench, _ = bench_of(diode)
    assert check(bench, LOW).note == "not to be judged by ohms"
    assert views.band(bench, LOW).note == "Not to be judged by ohms."
    bench.enter("0.5")
    assert check(bench, LOW).spoken == "P 1 – 3: 0.5 Ω as shown not by ohms, should be not by ohms"


def test_what_is_spoken_says_value_verdict_band_and_what_to_do() -> None:
    bench, _ = bench_of()
    assert check(bench, LOW).spoken == "P 1 – 3: not read, should be 139.5 … 170.5 Ω"
    assert check(bench, LIGHT).spoken == "L 1 – 2: not read, should be 0.32 … 0.48 Ω, this meter: continuity only"
    assert check(bench, GROUND).spoken == "P 1 – ground: not read, should be open"
    assert check(bench, LOOP).spoken == "P 4 – 5: not read, should be up to 0.5 Ω"
    bench.enter("114.2")
    assert check(bench, LOW).spoken == "P 1 – 3: 114.0 ± 1.4 Ω out, should be 139.5 … 170.5 Ω, read it again"
    bench.undo()
    bench.enter("155.4")
    assert check(bench, LOW).spoken == "P 1 – 3: 155.2 ± 1.9 Ω in, should be 139.5 … 170.5 Ω"
    bench.enter("1 core *")
    assert check(bench, GROUND).spoken == "P 1 – ground: open in, should be open"


def test_readings_are_listed_newest_first_with_how_safe_they_are() -> None:
    bench, keeper = bench_of(at_once=False)
    for text in ("155.4", "17.2", "172.4"):
        bench.enter(text)
    first, second, _ = keeper.waiting
    first.ack()
    second.fail()
    bench.strike(first.record.id, "wrong pin")
    third, lost, struck = views.readings(bench)
    assert [third.typed, lost.typed, struck.typed] == ["172.4", "17.2", "155.4"]
    assert (third.keeping, third.word, third.can_strike) == (Keeping.HOLLOW, "in", True)
    assert (lost.keeping, lost.word, lost.can_strike) == (Keeping.LOST, "", False)
    assert (struck.struck, struck.value, struck.can_strike) == ("wrong pin", "", False)


def test_the_face_shows_the_newest_of_each_pair_that_counts() -> None:
    bench, keeper = bench_of(at_once=False)
    bench.enter("114.2")
    bench.enter("114.4")
    bench.enter("1 core OL")
    bench.enter("4 5 0.3")
    bench.undo()
    keeper.waiting[0].ack()
    low, ground = views.face_lines(bench)
    assert (low.pair, low.text, low.word, low.safe) == (LOW, "114.4", "out", False)
    assert (ground.pair, ground.text, ground.word) == (GROUND, "open", "in")
    keeper.waiting[0].ack()
    assert views.face_lines(bench)[0].safe
    bench.pick(Pair(CORE, "P.1"))
    assert [x.chosen for x in views.face_lines(bench)] == [False, True]


def test_the_band_of_a_pair_before_and_after_its_reading() -> None:
    bench, _ = bench_of()
    before = views.band(bench, LOW)
    assert before.title == "P 1 – 3 at 20 °C"
    assert (before.path, before.low, before.high, before.nominal) == (
        Path.WINDINGS, pytest.approx(139.5), pytest.approx(170.5), pytest.approx(155))  # fmt: skip
    assert (before.value, before.word, before.band_text) == (None, "", "139.5 … 170.5 Ω")
    assert before.note == "low-speed coil: the smallest short this meter shows is 12 % of the turns."
    bench.enter("155.4")
    after = views.band(bench, LOW)
    assert after.value == pytest.approx(155.2)
    assert after.expanded == pytest.approx(1.9, abs=0.05)
    assert (after.value_text, after.word, after.note) == ("155.2 ± 1.9 Ω", "in", "Inside 139.5 … 170.5 Ω.")
    assert after.origin == "from the pattern, revision 2"


def test_a_band_with_no_low_limit_shows_no_nominal_and_says_that_no_short_shows() -> None:
    pattern = starter(TWO_COILS)
    w = pattern.windings[0]
    under = replace(w, ohms=100.0, tolerance_percent=100, low_ohms=None, high_ohms=None)
    bench, _ = bench_of(replace(pattern, windings=(under, *pattern.windings[1:])))
    pair = Pair(w.start, w.finish)
    before = views.band(bench, pair)
    assert (before.low, before.high, before.nominal, before.band_text) == (0, 200, None, "under 200 Ω")
    assert before.note == f"{w.name}: no low limit is known, so that no short shows by ohms."
    assert check(bench, pair).wanted == "under 200 Ω"


def test_the_band_of_what_is_no_winding() -> None:
    bench, _ = bench_of()
    assert views.band(bench, None).note == "Pick two pins to see what they should read."
    assert views.band(bench, GROUND).note == "Should be open: an overload on the highest range."
    assert views.band(bench, LOOP).note == "A plain wire."
    assert views.band(bench, LIGHT).note == "This meter: continuity only."


def test_where_no_short_can_be_shown_it_is_said() -> None:
    bench, _ = bench_of()
    assert views.short_words(bench, LIGHT) == "lighting: no short is large enough for this meter to show."
    assert views.short_words(bench, GROUND) == ""
    four, _ = bench_of(TAPPED, meter=FOUR_WIRES)
    assert "main part: the smallest short this meter shows" in views.short_words(four, Pair("L.1", "L.2"))


def test_the_cards_facts_are_those_of_the_bench() -> None:
    bench, keeper = bench_of(TWO_COILS)
    bench.enter("114.2")
    bench.strike(keeper.of("reading")[0].id, "probe moved")
    bench.enter("155.4")
    bench.decide(Outcome.PASS, "plug cleaned")
    facts = card_facts(bench, AT, copy=3, first_made_at=AT)
    assert (facts.tag, facts.label, facts.job_number, facts.complaint) == ("T-0001", "red sled", 7, "no spark")
    assert (facts.pattern_name, facts.pattern_revision) == (TWO_COILS, 2)
    assert (facts.sheet_id, facts.judged) == (bench.head.id, bench.judged)
    assert facts.struck == ((LOW, "114.2", "probe moved"),)
    assert (facts.meter_name, facts.source, facts.meter_zeroed, facts.iron_ohms) == (
        "Counter handheld", bench.head.source, False, 0.3)  # fmt: skip
    assert (facts.outcome, facts.note, facts.made_at, facts.copy) == (Outcome.PASS, "plug cleaned", AT, 3)
    undecided, _ = bench_of()
    assert (card_facts(undecided, AT).outcome, card_facts(undecided, AT).note) == (None, "")


def test_a_part_with_one_plug_is_named_by_pins_alone() -> None:
    bench, _ = bench_of(TAPPED)
    assert [c.title for c in views.checks(bench)] == ["1 – 3", "2 – 3", "1 – 2", "3 – ground"]


def test_a_number_above_every_range_is_told_as_it_was_typed() -> None:
    bench, _ = bench_of()
    bench.enter("99999999999")
    assert bench.said is not None
    assert bench.said.sentence.startswith("Not kept: 99999999999 lies above every range of the meter")


def test_a_fresh_sheet_says_what_to_do_with_the_probes_until_something_is_read() -> None:
    bench, _ = bench_of()
    assert views.hint(bench).startswith("touch both with the probes")
    bench.enter("155.4")
    assert views.hint(bench) == ""
    practised, _ = bench_of()
    practised.shows = lambda pair: "155.4"
    assert views.hint(practised) == "the practice part's meter shows 155.4"
