"""Readings of one pair that contradict each other: one party is right, the rest were slips."""

import math
import random
import time

import pytest

from tests.findings.generate import sheets
from tests.findings.test_wiring import APART, HELD, METER, THREE, WOUND, every, first, shown
from workbench.findings.evidence import own_variance
from workbench.findings.explain import Explained, explain
from workbench.findings.faults import BenchFault, Fault
from workbench.findings.records import Finding
from workbench.findings.repeats import explain_apart
from workbench.findings.wiring import explain_on_the_bench
from workbench.findingwords import detail_words, proof_words, title_words
from workbench.stator.pattern import CORE, Pair
from workbench.stator.sheet import Reading

FIRST = WOUND[0]


def explained(readings: list[Reading]) -> Explained:
    return explain_on_the_bench(THREE, METER, HELD, readings)


def found_of(x: Explained, fault: Fault | BenchFault, where: str) -> Finding:
    return next(f for f in x.findings if (f.fault, f.where) == (fault, where))


@pytest.mark.parametrize("sound_first", [False, True])
def test_a_sound_second_reading_shows_that_the_probes_stood_elsewhere(sound_first: bool) -> None:
    right = shown(THREE, *every(THREE))
    wrong = Reading(FIRST, 480.2)
    found = explained([*right, wrong] if sound_first else [wrong, *right])
    said = found.findings[0]
    assert (said.fault, said.where) == (BenchFault.ELSEWHERE, "P.1|P.2")
    assert said.slipped == wrong
    assert said.instead == Pair("P.5", "P.6")
    assert said.probability > 0.9
    assert detail_words(said, THREE) == "480.2 Ω fits 5 – 6"
    assert proof_words(said) == "strike out the 480.2 Ω"
    assert math.fsum(f.probability for f in found.findings) == pytest.approx(1)


def test_a_wrong_point_is_known_by_the_reading_that_came_after() -> None:
    readings = [Reading(FIRST, 1202.0), *shown(THREE, *every(THREE))]
    said = explained(readings).findings[0]
    assert (said.fault, said.where) == (BenchFault.SLIP, "P.1|P.2")
    assert said.slipped == readings[0]
    assert said.parameters[0].value == pytest.approx(120.2)
    assert said.probability > 0.9
    assert detail_words(said, THREE) == "120.2 Ω would fit in place of 1202 Ω"


def test_a_number_that_fits_nothing_is_a_slip_all_the_same() -> None:
    readings = [Reading(FIRST, 77.7), *shown(THREE, *every(THREE))]
    said = explained(readings).findings[0]
    assert (said.fault, said.where, said.parameters) == (BenchFault.SLIP, "P.1|P.2", ())
    assert said.slipped == readings[0]
    assert title_words(said, THREE).startswith("A slip: 1 – 2")
    assert detail_words(said, THREE) == "77.7 Ω doesn’t go with its other reading"


def test_two_that_agree_outweigh_one_that_does_not() -> None:
    right = shown(THREE, *every(THREE))
    low = [Reading(FIRST, 90.1), Reading(FIRST, 90.2)]
    found = explained([*low, *right])
    assert first(found) == (Fault.SHORTED_TURNS, "one")
    one = explained([Reading(FIRST, 60.1), *right, right[0]])
    assert first(one) == (BenchFault.SLIP, "P.1|P.2")
    assert found_of(one, Fault.SHORTED_TURNS, "one").probability < 0.05


def test_a_number_where_nothing_joins_leaves_with_the_overload_after_it() -> None:
    right = shown(THREE, *every(THREE))
    found = explained([Reading(Pair("P.1", CORE), 120.2), *right])
    said = found.findings[0]
    assert (said.fault, said.where) == (BenchFault.ELSEWHERE, "P.1|core")
    assert said.instead == FIRST
    assert not [f for f in found.findings if f.fault is Fault.WINDING_TO_CORE and f.probability > 0.02]


def test_an_overload_before_a_number_that_is_out_was_a_missed_touch() -> None:
    right = shown(THREE, *every(THREE))
    low = [Reading(FIRST, None), Reading(FIRST, 90.1), Reading(FIRST, 90.1)]
    assert first(explained([*low, *right[1:]])) == (Fault.SHORTED_TURNS, "one")


def test_a_fault_beside_a_slip_is_still_found() -> None:
    readings = [Reading(FIRST, 480.2), *shown(THREE, *every(THREE))]
    at = next(i for i, r in enumerate(readings) if r.pair == WOUND[1])
    readings[at] = Reading(WOUND[1], 21.0)
    assert first(explained(readings)) == (Fault.SHORTED_TURNS, "two")


def test_what_the_meter_may_repeat_by_is_taken_together() -> None:
    right = shown(THREE, *every(THREE))[1:]

    def asked(apart: float) -> list[int]:
        seen: list[int] = []

        def rest(readings: object) -> Explained:
            assert isinstance(readings, list)
            seen.append(len(readings))
            return explained(readings)

        pair = [Reading(FIRST, 90.1), Reading(FIRST, 90.1 + apart)]
        explain_apart(THREE, METER, HELD, [*pair, *right], explained(right), rest)
        return seen

    own = own_variance(METER, METER.ranges.index(Reading(FIRST, 90.1).range_on(METER)))
    least = 5 * math.sqrt(2 * own)
    assert asked(0.98 * least) == []
    assert asked(1.02 * least) == [len(right) + 1] * 2


def test_other_ranges_gain_is_no_contradiction() -> None:
    right = shown(THREE, *every(THREE))
    on = METER.ranges.index(Reading(FIRST, 120.2).range_on(METER))
    wider = METER.ranges[on + 1]
    readings = [Reading(FIRST, 120.2), Reading(FIRST, 129.6, wider.upto_ohms), *right[1:]]
    assert explain_apart(THREE, METER, HELD, readings, explained(right), explained) is None  # type: ignore[arg-type]


def test_each_account_of_a_slip_weighs_what_bayes_rule_gives_it() -> None:
    # a sound part of one pair: what is left out is even over e-folds, its own reading's density falls away
    wrong, right = Reading(FIRST, 77.7), shown(THREE, *every(THREE))
    found = explained([wrong, *right])
    slip = found_of(found, BenchFault.SLIP, "P.1|P.2").probability
    fault = found_of(found, Fault.SHORTED_TURNS, "three").probability
    alone = explained(right)
    sound, other = (found_of(alone, f, w).probability for f, w in ((Fault.SOUND, ""), (Fault.SHORTED_TURNS, "three")))
    assert slip / fault == pytest.approx(sound / other, rel=0.01)


def test_a_pair_read_many_times_with_as_many_numbers_stays_within_a_wait() -> None:
    numbers = [Reading(FIRST, 20.0 + 7 * k) for k in range(40)]
    also = [Reading(WOUND[1], 3.0 + 2 * k) for k in range(40)]
    start = time.perf_counter()
    found = explained([*numbers, *also, *shown(THREE, *every(THREE))[2:]])
    assert time.perf_counter() - start < 3
    assert math.fsum(f.probability for f in found.findings) == pytest.approx(1)


def test_sound_on_the_mean_of_two_that_contradict_is_not_plainly_sound() -> None:
    right = shown(THREE, *every(THREE))
    mean = [Reading(FIRST, 85.0), Reading(FIRST, 155.0), *right[1:]]  # their mean, 120, is what it should read
    assert explain(THREE, METER, HELD, mean).findings[0].fault is Fault.SOUND
    found = explained(mean)
    assert found.findings[0].fault is not Fault.SOUND
    assert found_of(found, Fault.SOUND, "").probability == 0


def test_sound_by_either_of_two_readings_is_sound() -> None:
    right = shown(THREE, *every(THREE))
    both = [Reading(FIRST, 115.0), Reading(FIRST, 126.0), *right[1:]]
    assert explained(both).findings == explain(THREE, METER, HELD, both).findings
    assert first(explained(both)) == (Fault.SOUND, "")


def test_readings_that_repeat_say_what_they_said() -> None:
    readings = shown(APART, *every(APART))
    low = [Reading(readings[0].pair, 91.0), Reading(readings[0].pair, 91.1), *readings[1:]]
    assert (
        explain_apart(
            APART, METER, HELD, low, explain_on_the_bench(APART, METER, HELD, low), lambda _: pytest.fail("asked")
        )
        is None
    )


def test_over_drawn_sheets_one_wrong_reading_beside_a_right_one_settles_nothing_wrong() -> None:
    rng = random.Random(17)
    right = tried = 0
    for d in sheets(991, 60):
        finite = [r for r in d.readings if r.ohms is not None]
        r = rng.choice(finite or [Reading(FIRST, 0.0)])
        elsewhere = [x.ohms for x in finite if abs((x.ohms or 0) - (r.ohms or 0)) > 1 + 0.1 * (r.ohms or 0)]
        wrong = rng.choice([*elsewhere[:2], 10 * (r.ohms or 0), 0.1 * (r.ohms or 0), 0.6 * (r.ohms or 0)])
        if not wrong or d.meter.covering(wrong) is None:
            continue
        said = explain_on_the_bench(d.pattern, d.meter, d.conditions, d.readings).findings[0]
        also = explain_on_the_bench(d.pattern, d.meter, d.conditions, [Reading(r.pair, wrong), *d.readings]).findings[0]
        tried += 1
        slips = said.fault is Fault.SOUND and also.slipped is not None and also.slipped.pair == r.pair
        same = (also.fault, also.where) == (said.fault, said.where) or slips
        right += same
        assert same or also.probability < 0.95, (d.pattern, r, wrong)
    assert tried > 40
    assert right / tried > 0.9  # below an ohm this meter's digits can't tell
