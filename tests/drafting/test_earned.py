"""Bands a shop earns: who counts, when it is provisional, when it is none; the factors stand in tests/published."""

import math
from collections.abc import Sequence

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbench.drafting.earned import (
    FIRM,
    EarnedBand,
    Goodness,
    Method,
    UnitValue,
    earned_band,
    k_factor,
    order_needs,
)


def units(*ohms: float, goodness: Goodness = Goodness.RAN_WELL, meter: str = "handheld") -> list[UnitValue]:
    return [UnitValue(f"u{i}", r, goodness, meter) for i, r in enumerate(ohms)]


def test_mean_and_k_standard_deviations_of_what_was_read() -> None:
    ohms = (150.0, 152.0, 154.0, 151.0, 153.0, 149.0, 155.0, 152.5, 151.5, 150.5)
    band = earned_band(units(*ohms))
    reach = 3.3934 * np.std(ohms, ddof=1)  # ISO 16269-6, 95/95, n = 10
    assert (band.low, band.high) == (
        pytest.approx(np.mean(ohms) - reach, abs=2e-4), pytest.approx(np.mean(ohms) + reach, abs=2e-4),
    )  # fmt: skip
    assert (band.n, band.more, band.provisional, band.meter) == (10, 0, False, "handheld")


def test_below_ten_it_is_provisional_and_below_three_there_is_none() -> None:
    band = earned_band(units(150, 152, 154))
    assert band.provisional
    assert band.more == FIRM - 3
    assert earned_band(units(150, 152)) == EarnedBand(None, None, 2, 0, Method.NORMAL, 8, "handheld")
    assert earned_band([]) == EarnedBand(None, None, 0, 0, Method.NORMAL, 10, "")


def test_units_that_only_this_band_passed_feed_nothing() -> None:
    known = units(150, 152, 154, 153)
    fed = [UnitValue(f"x{i}", 170.0, Goodness.THIS_BAND, "handheld") for i in range(9)]
    assert earned_band([*known, *fed]).left_out == 9
    assert (earned_band([*known, *fed]).low, earned_band([*known, *fed]).n) == (earned_band(known).low, 4)


def test_a_unit_counts_once_by_its_last_value() -> None:
    twice = [*units(150, 152, 154), UnitValue("u0", 151.0, Goodness.OTHER_BAND, "handheld")]
    assert earned_band(twice).n == 3
    assert earned_band(twice) == earned_band(units(151, 152, 154))


def test_several_meters_are_said_to_be_several() -> None:
    assert earned_band([*units(150, 152, 154), UnitValue("v", 151, Goodness.RAN_WELL, "other")]).meter == ""


def test_from_least_to_greatest_wants_ninety_three_units() -> None:
    few = earned_band(units(*np.linspace(150, 160, 92).tolist()), Method.ORDER)
    assert (few.low, few.more) == (None, 1)
    enough = earned_band(units(*np.linspace(150, 160, 93).tolist()), Method.ORDER)
    assert (enough.low, enough.high, enough.more, enough.provisional) == (150.0, 160.0, 0, False)


def test_values_that_make_no_band_make_none() -> None:
    assert earned_band(units(150, 150, 150)).low is None  # nothing varies: a stuck digit, not a band
    assert earned_band(units(1, 150, 3000)).low is None  # and one that would reach below nothing


READ = st.lists(st.floats(100, 120), min_size=3, max_size=30)
METHODS = st.sampled_from(list(Method))


def read_on(ohms: Sequence[float], repeat: float, u: float, *meters: str) -> list[UnitValue]:
    names = meters or ("handheld",)
    return [
        UnitValue(f"u{i}", r, Goodness.RAN_WELL, names[i % len(names)], repeat, u) for i, r in enumerate(ohms)
    ]  # fmt: skip


@given(READ, st.floats(0.001, 20), st.floats(1, 5), st.booleans(), METHODS)
def test_no_band_is_narrower_than_what_its_meters_tell(
    ohms: list[float], repeat: float, more: float, several: bool, method: Method
) -> None:
    """Of one meter that is its repeatability, U = 2 u (JCGM 100, 6.2.1); of several all of their uncertainty."""
    ohms = ohms * 31 if method is Method.ORDER else ohms
    band = earned_band(read_on(ohms, repeat, repeat * more, *("a", "b")[: 1 + several]), method)
    if band.low is not None:
        assert band.high is not None
        tells = 2 * repeat * (more if several else 1)
        assert band.high - band.low >= 2 * tells * (1 - 1e-9)
        assert band.widened == pytest.approx(tells) or band.widened == 0


@given(READ, st.floats(0.0, 20), METHODS)
def test_what_the_meters_tell_only_ever_widens_a_band(ohms: list[float], repeat: float, method: Method) -> None:
    ohms = ohms * 31 if method is Method.ORDER else ohms
    sharp, coarse = earned_band(read_on(ohms, 0, 0), method), earned_band(read_on(ohms, repeat, repeat), method)
    if sharp.low is None or coarse.low is None or sharp.high is None or coarse.high is None:
        return
    assert coarse.low <= sharp.low * (1 + 1e-9)
    assert coarse.high >= sharp.high * (1 - 1e-9)
    if not coarse.widened:
        assert (coarse.low, coarse.high) == (sharp.low, sharp.high)


@given(st.floats(5, 150), st.sampled_from([0.01, 0.1, 1.0]), st.integers(1, 5), st.integers(3, 40))
def test_a_part_lies_in_the_band_of_its_likes_however_coarse_the_meter(
    true: float, step: float, digits: int, n: int
) -> None:
    """Parts that are all alike, read on a display of whole steps: the band holds what they are, not what it showed."""
    shown = round(true / step) * step
    band = earned_band(read_on([shown] * n, digits * step / math.sqrt(3), 0))
    if band.low is not None:
        assert band.high is not None
        assert band.low <= true <= band.high
        assert band.widened > 0
    else:
        assert 2 * digits * step / math.sqrt(3) >= shown  # it tells nothing of so few ohms


def test_one_coarse_reading_among_many_fine_ones_weighs_as_one() -> None:
    fine = read_on([150 + 0.01 * i for i in range(20)], 0.001, 0.001, "four wires")
    coarse = UnitValue("old", 150.1, Goodness.RAN_WELL, "handheld", 0.17, 0.17)
    alone, mixed = earned_band(fine), earned_band([*fine, coarse])
    assert alone.widened == mixed.widened == 0
    assert mixed.low == pytest.approx(alone.low or 0, abs=0.01)


@pytest.mark.parametrize("n", [5, 12])
def test_the_interval_holds_what_it_promises(n: int) -> None:
    """By drawing: in about 95 of 100 samples at least 95 % of all is covered."""
    rng = np.random.default_rng(5)
    x = rng.standard_normal((4000, n))
    mean, reach = x.mean(1), k_factor(n) * x.std(1, ddof=1)
    from scipy.special import ndtr

    held = ndtr(mean + reach) - ndtr(mean - reach) >= 0.95
    assert held.mean() == pytest.approx(0.95, abs=0.014)


def test_two_values_at_least() -> None:
    with pytest.raises(ValueError, match="two values"):
        k_factor(1)
    assert order_needs() == 93
