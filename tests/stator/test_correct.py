"""Corrections and what they leave unsure."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.stator.parts import COLD, FINE_PAIR, METER
from tests.stator.strategies import conditions, meters
from workbench.stator.copper import Conductor
from workbench.stator.correct import Corrector, covariance
from workbench.stator.meter import Meter
from workbench.stator.sheet import Conditions, Reading

WARM = Conditions(35.0, 3.0, 0.3, 0.05)


def corrector(conditions: Conditions, meter: Meter = METER) -> Corrector:
    return Corrector(meter, conditions, Conductor.COPPER, 20.0)


@given(conditions, st.floats(0, 2e7), st.sampled_from(Conductor), st.floats(-60, 300))
def test_shown_corrected_shown(c: Conditions, shown: float, conductor: Conductor, reference: float) -> None:
    k = Corrector(METER, c, conductor, reference)
    corrected = k.mean([Reading(FINE_PAIR, shown)]).ohms
    assert k.shown(corrected) == pytest.approx(shown, rel=1e-12, abs=1e-12)


@given(conditions, meters, st.lists(st.floats(0, 1), min_size=1, max_size=8))
def test_covariance_is_one_and_its_diagonal_is_u_squared(c: Conditions, meter: Meter, shares: list[float]) -> None:
    values = [corrector(c, meter).mean([Reading(FINE_PAIR, s * meter.top.upto_ohms)]) for s in shares]
    cov = covariance(values)
    assert cov == pytest.approx(cov.T)
    assert np.diag(cov) == pytest.approx([v.u**2 for v in values], rel=1e-9)
    lowest = np.linalg.eigvalsh(cov)[0]
    assert lowest >= -1e-12 * np.trace(cov)


def test_what_two_readings_share_moves_them_together() -> None:
    k = corrector(WARM)
    a, b, far = (k.mean([Reading(FINE_PAIR, x)]) for x in (150.0, 180.0, 1500.0))
    f = 254.5 / 269.5
    gain = [f * 0.008 * x / math.sqrt(3) for x in (150, 180)]
    leads, warm = f * 0.05, 3 / 269.5
    cov = covariance([a, b, far])
    assert cov[0, 1] == pytest.approx(gain[0] * gain[1] + leads**2 + a.ohms * b.ohms * warm**2)
    # another range has a gain of its own
    assert cov[0, 2] == pytest.approx(leads**2 + a.ohms * far.ohms * warm**2)


def test_a_value_below_zero_moves_the_other_way_with_temperature() -> None:
    k = corrector(Conditions(35.0, 3.0, 0.3))
    below, above = k.mean([Reading(FINE_PAIR, 0.1)]), k.mean([Reading(FINE_PAIR, 100.0)])
    assert below.ohms < 0
    assert covariance([below, above])[0, 1] == pytest.approx(
        below.ohms * above.ohms * (3 / 269.5) ** 2 + below.gain[0][1] * above.gain[0][1]
    )


@given(st.floats(1, 199), st.integers(1, 20))
def test_repeats_alike_bring_down_only_the_digit_part(shown: float, n: int) -> None:
    k = corrector(WARM)
    one, many = k.mean([Reading(FINE_PAIR, shown)]), k.mean([Reading(FINE_PAIR, shown)] * n)
    assert many.ohms == pytest.approx(one.ohms)
    assert many.digit == pytest.approx(one.digit / math.sqrt(n))
    assert (many.leads, many.temperature) == pytest.approx((one.leads, one.temperature))
    assert dict(many.gain) == pytest.approx(dict(one.gain))


def test_a_scatter_larger_than_the_digits_counts() -> None:
    shown = [100.0, 101.0, 105.0]
    v = corrector(COLD).mean([Reading(FINE_PAIR, x) for x in shown])
    assert v.digit == pytest.approx(float(np.std(shown, ddof=1)) / math.sqrt(3))


def test_a_mean_over_two_ranges_takes_a_share_of_each_gain() -> None:
    v = corrector(COLD).mean([Reading(FINE_PAIR, 199.0), Reading(FINE_PAIR, 199.0, range_upto_ohms=2000)])
    each = 0.008 * 199 / math.sqrt(3) / 2
    assert dict(v.gain) == pytest.approx({200: each, 2000: each})
    assert v.digit == pytest.approx(math.hypot(0.3, 3.0) / math.sqrt(3) / 2)


def test_expanded_is_twice_u() -> None:
    v = corrector(WARM).mean([Reading(FINE_PAIR, 150.0)])
    assert v.expanded == 2 * v.u


def test_a_resistance_as_this_meter_would_read_it() -> None:
    k = corrector(WARM)
    v = k.at(245.0)
    assert v is not None
    assert v.ohms == pytest.approx(245.0)
    assert k.at(3e7) is None
    assert v.u == pytest.approx(k.mean([Reading(FINE_PAIR, k.shown(245.0))]).u)
