"""A series that is not the sum of its parts."""

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.stator.parts import COARSE_PAIR, COLD, FINE_PAIR, METER, SERIES, TWO_COILS, sheet
from workbench.stator.clash import Clash
from workbench.stator.judge import judge
from workbench.stator.meter import Meter, Range
from workbench.stator.pattern import Pair, Winding
from workbench.stator.sheet import Conditions

# one range for all three, so that the range's gain is shared
ONE_RANGE = Meter((Range(2000, 0.1, 0.8, 3),), 2000)


def clash(
    fine: float, coarse: float, series: float, meter: Meter = ONE_RANGE, c: Conditions = COLD
) -> tuple[Clash, ...]:
    return judge(sheet((FINE_PAIR, fine), (COARSE_PAIR, coarse), (SERIES, series), meter=meter, conditions=c)).clashes


def test_a_series_that_is_the_sum_is_no_clash() -> None:
    assert clash(245, 31, 276) == ()
    assert clash(247, 30, 277.2) == ()


def test_a_series_that_is_not_the_sum_is_one() -> None:
    (found,) = clash(245, 31, 290)
    assert found.whole.unordered == SERIES.unordered
    assert {p.unordered for p in found.parts} == {FINE_PAIR.unordered, COARSE_PAIR.unordered}
    assert (found.sum, found.read, found.excess) == pytest.approx((276, 290, 14))
    assert not found.looks_like_leads


def test_its_uncertainty_is_that_of_the_difference_not_of_three_strangers() -> None:
    (found,) = clash(245, 31, 290)
    digit = 0.3 / math.sqrt(3)
    gain = 0.008 * (290 - 245 - 31) / math.sqrt(3)
    assert found.expanded == pytest.approx(2 * math.sqrt(gain**2 + 3 * digit**2 + 3 * 0.03**2))


@given(st.floats(0.7, 5))
def test_a_forgotten_zero_looks_like_leads(leads: float) -> None:
    (found,) = clash(245 + leads, 31 + leads, 276 + leads)
    assert found.looks_like_leads
    assert found.excess == pytest.approx(-leads, rel=1e-6)


def test_leads_that_are_known_to_be_unsure_are_no_clash() -> None:
    unsure = Conditions(20.0, 0.0, 0.0, 1.0)
    assert clash(246, 32, 277) != ()
    assert clash(246, 32, 277, c=unsure) == ()


def test_either_sense_and_any_order_of_reading_tells_the_same() -> None:
    turned = sheet(
        (Pair("P.2", "P.1"), 290), (Pair("P.2", "P.3"), 31), (Pair("P.3", "P.1"), 245), meter=ONE_RANGE
    )  # fmt: skip
    (found,) = judge(turned).clashes
    assert found.excess == pytest.approx(14)


def test_only_pairs_that_the_pattern_puts_in_series_are_added() -> None:
    delta = replace(
        TWO_COILS, windings=(*TWO_COILS.windings, Winding("third", "P.1", "P.2", ohms=50, tolerance_percent=10))
    )
    s = sheet((FINE_PAIR, 60), (COARSE_PAIR, 28), (SERIES, 42), pattern=delta, meter=METER)
    assert judge(s).clashes == ()


def test_repeats_are_held_by_their_mean() -> None:
    s = sheet((FINE_PAIR, 244), (FINE_PAIR, 246), (COARSE_PAIR, 31), (SERIES, 276), meter=ONE_RANGE)
    assert judge(s).clashes == ()
