"""A meter's limits as uncertainty: JCGM 100 (GUM) 4.3.7, a rectangular +-a has u = a / sqrt 3.

The table takes a specification as one sum, the bound for one that can't be split; here percent and digits
are two independent parts, which can never come out larger. Its values are computed from the formula.
"""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbench.stator.copper import Conductor
from workbench.stator.correct import Corrected, Corrector, covariance
from workbench.stator.meter import Meter, Range
from workbench.stator.pattern import Pair
from workbench.stator.sheet import Conditions, Reading

ANY = Pair("P.1", "P.2")
AT_REFERENCE = Conditions(20.0, 0.0)


def read(ohms: float, on: Range) -> Corrected:
    return Corrector(Meter((on,), on.upto_ohms), AT_REFERENCE, Conductor.COPPER, 20.0).mean([Reading(ANY, ohms)])


@pytest.mark.parametrize(
    ("shown", "percent", "digits", "resolution", "a", "u"),
    [
        (0.45, 0.5, 3, 0.01, 0.03225, 0.018620),
        (0.3, 0.8, 5, 0.1, 0.5024, 0.290061),
        (12.34, 0.5, 2, 0.01, 0.0817, 0.047170),
        (0.4500, 0.05, 4, 0.0001, 0.000625, 0.00036084),
    ],
)
def test_the_split_stays_within_the_bound_of_the_sum(
    shown: float, percent: float, digits: float, resolution: float, a: float, u: float
) -> None:
    assert percent / 100 * shown + digits * resolution == pytest.approx(a, rel=1e-9)
    assert a / math.sqrt(3) == pytest.approx(u, rel=5e-5)
    ours = read(shown, Range(20, resolution, percent, digits)).u
    assert ours == pytest.approx(math.hypot(percent / 100 * shown, digits * resolution) / math.sqrt(3), rel=1e-12)
    assert ours < u


@given(st.floats(0.001, 200), st.just(0.0) | st.floats(0.01, 5), st.just(0.0) | st.floats(0.1, 20), st.floats(1e-4, 1))
def test_the_split_is_never_larger(shown: float, percent: float, digits: float, resolution: float) -> None:
    ours = read(shown, Range(200, resolution, percent, digits)).u
    bound = (percent / 100 * shown + digits * resolution) / math.sqrt(3)
    assert ours <= bound * (1 + 1e-12)
    if not percent or not digits:
        assert ours == pytest.approx(bound, rel=1e-12)


@pytest.mark.parametrize(("digits", "u"), [(0, 0.001299), (0.5, 0.004284)])
def test_the_difference_of_two_readings_on_one_range(digits: float, u: float) -> None:
    """Leads taken off by reading them: x = 0.65, l = 0.20, +-0.5 %, resolution 0.01 (JCGM 100, 5.2.2).

    The gain is common: alone it leaves 0.001299; with an independent half digit each, 0.004284.
    """
    on = Range(20, 0.01, 0.5, digits)
    cov = covariance([read(0.65, on), read(0.20, on)])
    assert math.sqrt(cov[0, 0] + cov[1, 1] - 2 * cov[0, 1]) == pytest.approx(u, abs=5e-7)


def test_forgetting_what_they_share_would_be_far_too_careful() -> None:
    """Independent, each as one sum, +-(0.5 % + 3): 0.026246; ours stays below it and above the gain alone."""
    on = Range(20, 0.01, 0.5, 3)
    sums = [(0.005 * x + 0.03) / math.sqrt(3) for x in (0.65, 0.20)]
    assert math.hypot(*sums) == pytest.approx(0.026246, abs=5e-7)
    cov = covariance([read(0.65, on), read(0.20, on)])
    ours = math.sqrt(cov[0, 0] + cov[1, 1] - 2 * cov[0, 1])
    assert 0.001299 < ours < 0.026246
