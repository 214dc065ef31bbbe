"""Bands a shop earns: who counts, when it is provisional, when it is none; the factors stand in tests/published."""

import numpy as np
import pytest

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
