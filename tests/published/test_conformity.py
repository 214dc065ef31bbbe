"""The probability of conformity: JCGM 106:2012, and ILAC-G8:09/2019's decision rules.

p_c = Phi((T_U - y) / u) - Phi((T_L - y) / u). All results are computed from the formula; the inputs of
JCGM 106's examples are from memory and are asserted of nobody's standard.
"""

import math
from statistics import NormalDist

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbench.stator.verdict import Verdict, against_band, against_limit, normal_below, probability_inside

TO_FIVE = 6e-6  # the values are printed to five decimals


@pytest.mark.parametrize(
    ("y", "u", "low", "high", "p"),
    [
        (-5.47, 0.05, None, -5.40, 0.91924),
        (509.7, 8.6, 490, math.inf, 0.98901),
        (13.6, 1.8, 12.5, 16.3, 0.66263),
        (0.465, 0.010, 0.40, 0.48, 0.93319),
        (0.479, 0.004, 0.40, 0.48, 0.59871),
        (0.481, 0.004, 0.40, 0.48, 0.40129),
        (0.44, 0.02, 0.40, 0.48, 0.95450),
    ],
)
def test_probability_of_conformity(y: float, u: float, low: float | None, high: float, p: float) -> None:
    assert probability_inside(y, u, low, high) == pytest.approx(p, abs=TO_FIVE)


@pytest.mark.parametrize(("p", "z"), [(0.80, 0.8416), (0.90, 1.2816), (0.95, 1.6449), (0.99, 2.3263), (0.999, 3.0902)])
def test_how_far_inside_a_single_limit(p: float, z: float) -> None:
    assert probability_inside(-z, 1.0, None, 0.0) == pytest.approx(p, abs=2e-5)


@pytest.mark.parametrize(
    ("r", "accepted"), [(0, 0.5), (0.83, 0.048457), (1, 0.022750), (1.5, 0.0013499), (3, 9.8659e-10)]
)
def test_the_risk_that_is_left_behind_a_guard_band(r: float, accepted: float) -> None:
    """ILAC-G8: w = r U, U = 2 u; 1 - Phi(2 r) of the items just accepted lie outside."""
    assert normal_below(-2 * r) == pytest.approx(accepted, rel=5e-5)
    assert 1 - probability_inside(-2 * r, 1.0, None, 0.0) == pytest.approx(accepted, rel=5e-5, abs=1e-12)


def test_a_guard_band_of_u_leaves_977_in_a_thousand_at_a_single_limit() -> None:
    d = against_limit(0.30, 0.1, 0.5)
    assert d.verdict is Verdict.INSIDE
    assert d.probability == pytest.approx(0.97725, abs=TO_FIVE)


@pytest.mark.parametrize(
    ("y", "u", "verdict", "leans_in"),
    [
        # w = U fails, ILAC-G8's conditional pass
        (0.465, 0.010, Verdict.UNDECIDED, True),
        (0.479, 0.004, Verdict.UNDECIDED, True),
        # conditional fail
        (0.481, 0.004, Verdict.UNDECIDED, False),
        (0.489, 0.004, Verdict.OUTSIDE, False),
        (0.471, 0.004, Verdict.INSIDE, True),
    ],
)
def test_the_winding_from_400_to_480_milliohms(y: float, u: float, verdict: Verdict, leans_in: bool) -> None:
    d = against_band(y, u, 0.40, 0.48)
    assert (d.verdict, d.leans_in) == (verdict, leans_in)


@given(st.floats(-9, 9))
def test_the_normal_distribution_is_the_standard_librarys(z: float) -> None:
    assert normal_below(z) == pytest.approx(NormalDist().cdf(z), abs=1e-15, rel=1e-9)
