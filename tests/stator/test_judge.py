"""From readings to the verdict of a sheet: which word goes before which."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.stator.parts import (
    COARSE,
    COARSE_PAIR,
    COLD,
    FINE_PAIR,
    GROUND,
    LOOP,
    METER,
    PROVED,
    SERIES,
    TWO_COILS,
    Shown,
    sheet,
    with_winding,
)
from tests.stator.strategies import conditions, edge_ends, meters, patterns
from workbench.stator.correct import Corrector
from workbench.stator.errors import FieldError
from workbench.stator.expect import Expectations
from workbench.stator.judge import SheetVerdict, Why, judge
from workbench.stator.meter import Meter, Range
from workbench.stator.pattern import CORE, Pair, Pattern
from workbench.stator.sheet import MOST_READINGS, Conditions, Proof, Reading, Sheet
from workbench.stator.verdict import Verdict, against_band, against_high, against_limit

GOOD, FAIL, NOT_PROVED, UNFINISHED = (
    SheetVerdict.GOOD,
    SheetVerdict.FAIL,
    SheetVerdict.NOT_PROVED,
    SheetVerdict.UNFINISHED,
)

IN: Shown = (FINE_PAIR, 245.0)
OUT: Shown = (FINE_PAIR, 300.0)
LEANS_IN: Shown = (FINE_PAIR, 268.0)
LEANS_OUT: Shown = (FINE_PAIR, 271.0)
COARSE_IN: Shown = (COARSE_PAIR, 31.0)
GROUND_OPEN: Shown = (GROUND, None)
GROUND_HIGH: Shown = (GROUND, 5e6)
PLAN = (FINE_PAIR, COARSE_PAIR)


@pytest.mark.parametrize(
    ("shown", "verdict"),
    [
        ((), UNFINISHED),
        ((IN,), UNFINISHED),
        ((IN, COARSE_IN), GOOD),
        ((LEANS_IN, COARSE_IN), GOOD),
        ((LEANS_OUT, COARSE_IN), NOT_PROVED),
        # an unread check goes before what is not proved
        ((LEANS_OUT,), UNFINISHED),
        # one outside reading is asked for again, also before what is not proved
        ((OUT, COARSE_IN), UNFINISHED),
        ((OUT, OUT, COARSE_IN), FAIL),
        # a failure goes before an unread check
        ((OUT, OUT), FAIL),
        ((OUT, OUT, (COARSE_PAIR, 34.5)), FAIL),
        # a struck outside reading is simply not handed over: what is left counts
        ((IN, IN, COARSE_IN), GOOD),
        # unplanned: can fail a sheet
        ((IN, COARSE_IN, (SERIES, 900.0), (SERIES, 900.0)), FAIL),
        ((IN, COARSE_IN, (GROUND, 3.0), (GROUND, 3.0)), FAIL),
        # but not hold it back
        ((IN, COARSE_IN, (SERIES, 305.0)), GOOD),
        ((IN, COARSE_IN, GROUND_HIGH), GOOD),
        # the reverse of a planned pair is the same check
        ((IN, (Pair("P.2", "P.3"), 31.0)), GOOD),
    ],
)
def test_precedence_of_a_sheets_verdicts(shown: tuple[Shown, ...], verdict: SheetVerdict) -> None:
    assert judge(sheet(*shown, checks=PLAN)).verdict is verdict


@pytest.mark.parametrize(
    ("shown", "checks", "proof", "verdict"),
    [
        ((IN, GROUND_OPEN), (FINE_PAIR, GROUND), PROVED, GOOD),
        ((IN, GROUND_OPEN), (FINE_PAIR, GROUND), Proof(stated=False), NOT_PROVED),
        ((IN, GROUND_HIGH), (FINE_PAIR, GROUND), PROVED, NOT_PROVED),
        ((IN, GROUND_OPEN), (FINE_PAIR,), Proof(stated=False), GOOD),
        ((IN, (GROUND, 40.0)), (FINE_PAIR, GROUND), PROVED, UNFINISHED),
        ((IN, (FINE_PAIR, None), (FINE_PAIR, None)), (FINE_PAIR,), PROVED, FAIL),
    ],
)
def test_opens_in_a_sheets_verdict(
    shown: tuple[Shown, ...], checks: tuple[Pair, ...], proof: Proof, verdict: SheetVerdict
) -> None:
    assert judge(sheet(*shown, checks=checks, proof=proof)).verdict is verdict


def test_outside_fails_at_once_only_when_told_so() -> None:
    once = sheet(OUT, COARSE_IN, checks=PLAN)
    asked, told = judge(once), judge(once, outside_counts_at_once=True)
    assert (asked.verdict, asked.awaiting, asked.failed) == (UNFINISHED, (FINE_PAIR,), ())
    assert (told.verdict, told.awaiting, told.failed) == (FAIL, (), (FINE_PAIR,))
    again = judge(sheet(OUT, COARSE_IN, OUT, checks=PLAN))
    assert (again.verdict, again.awaiting, again.failed) == (FAIL, (), (FINE_PAIR,))


def test_what_is_unread_and_what_is_doubtful_is_named() -> None:
    judged = judge(sheet(LEANS_OUT, GROUND_HIGH, checks=(FINE_PAIR, COARSE_PAIR, GROUND)))
    assert judged.unread == (COARSE_PAIR,)
    assert judged.doubtful == (FINE_PAIR, GROUND)


def test_the_plan_is_the_sheets_then_the_patterns_then_what_was_read() -> None:
    planned = replace(TWO_COILS, checks=(COARSE_PAIR,))
    assert sheet(IN, pattern=planned).plan == (COARSE_PAIR,)
    assert sheet(IN, pattern=planned, checks=(LOOP,)).plan == (LOOP,)
    assert sheet(IN, IN).plan == (FINE_PAIR,)


def test_rows_stand_in_the_order_of_the_readings_and_repeats_carry_the_mean() -> None:
    judged = judge(sheet((FINE_PAIR, 244.0), COARSE_IN, (Pair("P.3", "P.1"), 246.0)))
    assert [r.reading.pair for r in judged.rows] == [FINE_PAIR, COARSE_PAIR, Pair("P.3", "P.1")]
    assert judged.rows[0].corrected == judged.rows[2].corrected
    assert judged.rows[0].repeats == 2
    assert judged.rows_of(FINE_PAIR, Expectations(TWO_COILS)) == (judged.rows[0], judged.rows[2])


@pytest.mark.parametrize(
    ("shown", "why", "verdict"),
    [
        ((FINE_PAIR, None), Why.OPENS, Verdict.OUTSIDE),
        ((GROUND, None), Why.STAYS_OPEN, Verdict.INSIDE),
        ((GROUND, 999_000.0), Why.LEAKS, Verdict.OUTSIDE),
        ((GROUND, 1_000_000.0), Why.HIGH_OHMS, Verdict.UNDECIDED),
        ((LOOP, 0.1), Why.BAND, Verdict.INSIDE),
        ((LOOP, None), Why.OPENS, Verdict.OUTSIDE),
    ],
)
def test_why(shown: Shown, why: Why, verdict: Verdict) -> None:
    fine = Meter((Range(2, 0.001, 0.1, 3), *METER.ranges), 2e7)
    (row,) = judge(sheet(shown, meter=fine)).rows
    assert (row.why, row.verdict) == (why, verdict)


def test_an_overload_on_a_range_that_does_not_reach_tells_nothing_until_a_higher_one_does() -> None:
    low = Reading(GROUND, None, range_upto_ohms=2000)
    (row,) = judge(Sheet(TWO_COILS, METER, COLD, (low,), proof=PROVED)).rows
    assert (row.why, row.verdict) == (Why.SHORT_RANGE, Verdict.UNDECIDED)
    both = judge(Sheet(TWO_COILS, METER, COLD, (low, Reading(GROUND, None)), proof=PROVED)).rows
    assert [r.why for r in both] == [Why.STAYS_OPEN] * 2


def test_leakage_is_compared_as_it_stands_whatever_the_temperature() -> None:
    warm = replace(COLD, celsius=90.0)
    (row,) = judge(sheet((GROUND, 1_010_000.0), conditions=warm)).rows
    assert row.why is Why.HIGH_OHMS


@given(patterns(elements=True), meters, conditions, st.data())
def test_every_row_agrees_with_its_own_numbers(p: Pattern, meter: Meter, c: Conditions, data: st.DataObject) -> None:
    """The row's word is the word of (y, u) against its own band, whatever else is on the sheet."""
    pairs = data.draw(st.lists(edge_ends((*p.pins, CORE)).map(lambda e: Pair(*e)), max_size=6))
    shown = [(pair, data.draw(st.none() | st.floats(0, meter.top.upto_ohms))) for pair in pairs]
    judged = judge(sheet(*shown, pattern=p, meter=meter, conditions=c))
    ask = Expectations(p)
    for row in judged.rows:
        assert row.expected == ask.of(row.reading.pair) or row.expected.ohms == pytest.approx(
            ask.of(row.reading.pair).ohms, rel=1e-9
        )
        if row.why is Why.BAND:
            assert row.corrected is not None
            assert row.expected.high is not None
            y, u = row.corrected.ohms, row.corrected.u
            if row.expected.path == "links":
                assert row.decision == against_limit(y, u, row.expected.high)
            elif row.expected.is_under:
                assert row.decision == against_high(y, u, row.expected.high)
            else:
                assert row.expected.low is not None
                assert row.decision == against_band(y, u, row.expected.low, row.expected.high)
    if judged.verdict is GOOD:
        assert judged.failed + judged.awaiting + judged.unread + judged.doubtful == ()
    assert (judged.verdict is FAIL) == bool(judged.failed)


@pytest.mark.parametrize(
    ("ohms", "verdict"),
    [
        (0.3, Verdict.INSIDE),
        (0.0, Verdict.INSIDE),
        (4.6, Verdict.INSIDE),
        (4.8, Verdict.UNDECIDED),
        (6, Verdict.OUTSIDE),
    ],
)
def test_a_winding_of_which_a_high_limit_is_all_that_is_known(ohms: float, verdict: Verdict) -> None:
    """Under 5 ohm: a reading whose U reaches below 0 is in all the same, for nothing is too low here."""
    p = with_winding(TWO_COILS, replace(COARSE, ohms=2.5, tolerance_percent=100))
    judged = judge(sheet((COARSE_PAIR, ohms), (COARSE_PAIR, ohms), pattern=p, checks=[COARSE_PAIR]))
    assert [r.verdict for r in judged.rows] == [verdict] * 2
    assert judged.verdict is (FAIL if verdict is Verdict.OUTSIDE else GOOD)


def test_expectations_handed_in_change_nothing() -> None:
    s = sheet(IN, COARSE_IN, GROUND_OPEN)
    assert judge(s, Expectations(TWO_COILS)) == judge(s)


def test_a_sheet_refuses_more_than_it_may_hold() -> None:
    with pytest.raises(FieldError, match="readings"):
        sheet(*[IN] * (MOST_READINGS + 1))
    with pytest.raises(FieldError, match="checks"):
        sheet(IN, checks=[FINE_PAIR] * (MOST_READINGS + 1))


def test_the_corrector_of_a_sheet_is_the_patterns() -> None:
    k = Corrector(METER, replace(COLD, celsius=45.0), TWO_COILS.conductor, TWO_COILS.reference_celsius)
    (row,) = judge(sheet(IN, conditions=replace(COLD, celsius=45.0))).rows
    assert row.corrected == k.mean([Reading(*IN)])


@pytest.mark.parametrize(
    "shown",
    [
        ((FINE_PAIR, None), IN),  # open once, then a number that fits: a missed touch, or a loose contact
        (IN, (FINE_PAIR, None)),
        (IN, IN, (FINE_PAIR, None)),
        (OUT, IN),  # the mean's scatter would make it "continuous"
        (OUT, IN, IN, IN),
    ],
)
def test_readings_of_one_pair_that_contradict_each_other_prove_nothing(shown: tuple[Shown, ...]) -> None:
    judged = judge(sheet(*shown, checks=(FINE_PAIR,)))
    assert judged.verdict is NOT_PROVED
    assert judged.doubtful == (FINE_PAIR,)
    assert judged.awaiting == ()
    assert any(row.contradicted for row in judged.rows)
    # with the odd one struck out, what is left counts
    agreed = tuple(s for s in shown if s == IN)
    assert judge(sheet(*agreed, checks=(FINE_PAIR,))).verdict is GOOD


def test_an_overload_that_stays_fails_whatever_else_was_read() -> None:
    judged = judge(sheet(IN, (FINE_PAIR, None), (FINE_PAIR, None), checks=(FINE_PAIR,)))
    assert judged.verdict is FAIL
