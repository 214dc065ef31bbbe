"""The words of a reading's verdict and which goes before which."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbench.stator.verdict import UNPROVED, Verdict, against_band, against_high, against_limit, probability_inside

INSIDE, CONTINUOUS, UNDECIDED, OUTSIDE = Verdict.INSIDE, Verdict.CONTINUOUS, Verdict.UNDECIDED, Verdict.OUTSIDE


@pytest.mark.parametrize(
    ("y", "u", "verdict"),
    [
        # band 100 to 200; U = 2 u
        (150, 10, INSIDE),
        (120, 10, INSIDE),  # y - U on the limit still lies in the band
        (180, 10, INSIDE),
        (119, 10, UNDECIDED),
        (181, 10, UNDECIDED),
        (80, 10, UNDECIDED),  # y + U on the limit is not beyond it
        (220, 10, UNDECIDED),
        (79, 10, OUTSIDE),
        (221, 10, OUTSIDE),
        # 2 U >= high - low: this meter can't judge the band, wherever y lies
        (150, 25, CONTINUOUS),
        (150, 24.9, INSIDE),
        (100, 25, CONTINUOUS),
        (240, 25, CONTINUOUS),
        (60, 25, CONTINUOUS),
        # outside goes before continuous
        (251, 25, OUTSIDE),
        (49, 25, OUTSIDE),
        (1000, 100, OUTSIDE),
        (150, 0, INSIDE),
        (99.999, 0, OUTSIDE),
    ],
)
def test_precedence_of_a_bands_verdicts(y: float, u: float, verdict: Verdict) -> None:
    assert against_band(y, u, 100, 200).verdict is verdict


@pytest.mark.parametrize(
    ("y", "u", "verdict"),
    [
        (0.3, 0.1, INSIDE),
        (0.31, 0.1, CONTINUOUS),
        (0.69, 0.1, CONTINUOUS),
        (0.71, 0.1, OUTSIDE),
        (-5, 1, INSIDE),
        (0, 9, CONTINUOUS),
    ],
)
def test_a_link_is_one_sided(y: float, u: float, verdict: Verdict) -> None:
    assert against_limit(y, u, 0.5).verdict is verdict


@given(st.floats(-10, 10), st.floats(0, 5), st.floats(0.1, 2))
def test_less_is_never_wrong_with_a_link(y: float, u: float, limit: float) -> None:
    order = [INSIDE, CONTINUOUS, OUTSIDE]
    now, less = against_limit(y, u, limit), against_limit(y - 0.5, u, limit)
    assert order.index(less.verdict) <= order.index(now.verdict)


@given(st.floats(-50, 350), st.floats(0, 60))
def test_the_two_limits_are_alike(y: float, u: float) -> None:
    one, other = against_band(y, u, 100, 200), against_band(300 - y, u, 100, 200)
    assert one.verdict is other.verdict
    assert one.probability == pytest.approx(other.probability, abs=1e-9)


@given(st.floats(-50, 350), st.floats(0.001, 60))
def test_the_word_agrees_with_the_probability(y: float, u: float) -> None:
    d = against_band(y, u, 100, 200)
    assert d.probability is not None
    assert 0 <= d.probability <= 1
    if d.verdict is OUTSIDE:
        assert d.probability < 0.0228
    if d.verdict is INSIDE:
        assert d.probability > 0.954


@pytest.mark.parametrize(
    ("y", "u", "verdict"),
    [
        # under 100; U = 2 u
        (50, 10, INSIDE),
        (80, 10, INSIDE),  # y + U on the limit
        (5, 10, INSIDE),  # nothing is too low, be it not even told from 0
        (81, 10, UNDECIDED),
        (120, 10, UNDECIDED),
        (121, 10, OUTSIDE),
        # 2 U >= 100: not to be told from all that it may be, but where it surely lies under the limit
        (70, 25, CONTINUOUS),
        (70, 24.9, UNDECIDED),
        (40, 25, INSIDE),
        (151, 25, OUTSIDE),
        (100, 0, INSIDE),
    ],
)
def test_precedence_where_only_a_high_limit_is_known(y: float, u: float, verdict: Verdict) -> None:
    assert against_high(y, u, 100).verdict is verdict


def test_a_single_limit_has_a_single_term() -> None:
    """JCGM 106, 7: what lies below 0 is not taken off the chance of lying under the limit."""
    p = against_high(1, 10, 100).probability
    assert p is not None
    assert p == pytest.approx(1.0, abs=1e-9)


@pytest.mark.parametrize(("y", "leans_in"), [(195, True), (200, True), (201, False), (99, False), (100.001, True)])
def test_undecided_leans(y: float, leans_in: bool) -> None:
    d = against_band(y, 5, 100, 200)
    assert d.verdict is UNDECIDED
    assert d.leans_in is leans_in


def test_what_is_not_proved_leans_out() -> None:
    assert UNPROVED.verdict is UNDECIDED
    assert UNPROVED.probability is None
    assert not UNPROVED.leans_in


@pytest.mark.parametrize(("y", "p"), [(99, 0), (100, 1), (150, 1), (200, 1), (201, 0)])
def test_without_uncertainty_the_probability_is_sure(y: float, p: float) -> None:
    assert probability_inside(y, 0.0, 100, 200) == p
    assert probability_inside(y, 0.0, None, 200) == (y <= 200)
