"""Gauges by name and by measure, what a table lacks, and wire side by side."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbench.rewind.errors import RewindError
from workbench.rewind.tables import Span
from workbench.rewind.wire import (
    Build,
    Gauge,
    Scale,
    Wire,
    awg,
    equivalents,
    gauge,
    gauges,
    likely,
    measured,
    metric,
    nearest,
    stretched,
)

AWGS = st.sampled_from(gauges(Scale.AWG))
ANY = st.sampled_from(gauges(Scale.AWG) + gauges(Scale.METRIC))


@given(ANY)
def test_a_gauge_is_found_by_its_own_name(g: Gauge) -> None:
    assert gauge(g.name) == g
    assert gauge(g.name.lower()) == g


@pytest.mark.parametrize("text", ["", "AWG", "20", "AWG 200", "0.8", "20 AWG mm", "AWG -1", "0,8 mm"])
def test_other_names_are_refused_with_how_to_write_one(text: str) -> None:
    with pytest.raises(RewindError, match="AWG 20"):
        gauge(text)


@pytest.mark.parametrize(
    ("text", "says"), [("AWG 7", "AWG 8 to 46"), ("AWG 47", "AWG 8 to 46"), ("0.75 mm", "0.710 and 0.800")]
)
def test_a_size_off_the_table_is_refused_with_what_there_is(text: str, says: str) -> None:
    with pytest.raises(RewindError, match=says):
        gauge(text)


@pytest.mark.parametrize(
    ("g", "build"),
    [
        (awg(12), Build.HEAVY),
        (awg(45), Build.SINGLE),
        (awg(20), Build.GRADE_1),
        (metric(0.8), Build.HEAVY),
        (measured(0.75), Build.GRADE_2),
    ],
    ids=str,
)
def test_an_enamel_that_no_table_has_is_refused_never_guessed(g: Gauge, build: Build) -> None:
    with pytest.raises(RewindError, match="measure it over the enamel") as refused:
        g.overall(build)
    assert refused.value.field == "build"


@pytest.mark.parametrize("n", range(14, 24))
def test_what_a_table_lacks_in_part_stays_unknown(n: int) -> None:
    """The largest heavy diameter of 14 to 23 was not found; such a wire is laid by its nominal one."""
    heavy = Wire.of(awg(n), Build.HEAVY)
    assert heavy.overall.high is None
    assert heavy.placing_mm == heavy.overall.nominal
    single = Wire.of(awg(n), Build.SINGLE)
    assert single.placing_mm == single.overall.high


@given(AWGS, st.floats(-1, 1))
def test_a_diameter_measured_within_tolerance_is_of_its_gauge(g: Gauge, off: float) -> None:
    mm = g.mm * (1 + off * min(g.tolerance, 0.01))
    assert g in [c.gauge for c in likely(mm, 0.0005, Scale.AWG)]
    assert nearest(mm, Scale.AWG) == g


def test_a_poor_caliper_leaves_more_than_one_gauge() -> None:
    sharp = likely(0.81, 0.005, Scale.AWG)
    assert [c.gauge.name for c in sharp] == ["AWG 20"]
    assert sharp[0].off_mm == pytest.approx(0.81 - 0.8128)
    blunt = likely(0.77, 0.03, Scale.AWG)
    assert [c.gauge.name for c in blunt] == ["AWG 20", "AWG 21"]
    assert math.fsum(c.probability for c in blunt) == pytest.approx(1)
    assert blunt[0].probability < 0.7


def test_a_diameter_between_two_sizes_is_of_neither() -> None:
    assert likely(0.767, 0.002, Scale.AWG) == ()


def test_metric_for_awg() -> None:
    found = equivalents(awg(20).area_mm2, Scale.METRIC)
    assert (found[0].gauge, found[0].strands) == (metric(0.8), 1)
    assert found[0].area_ratio == pytest.approx((0.8 / 0.8128) ** 2)
    ratios = [abs(math.log(e.area_ratio)) for e in found]
    assert ratios == sorted(ratios)
    assert (metric(0.56), 2) in [(e.gauge, e.strands) for e in found]
    assert all(abs(e.area_ratio - 1) <= 0.01 for e in equivalents(1.0, Scale.AWG, (1, 2, 3, 4), within=0.01))


@given(ANY, st.integers(1, 8))
def test_strands_share_the_current(g: Gauge, n: int) -> None:
    one, many = (Wire(g, Span(None, None, g.mm * 1.1), strands=s) for s in (1, n))
    assert many.ohms_per_metre * n == pytest.approx(one.ohms_per_metre)
    assert many.grams_per_metre == pytest.approx(n * one.grams_per_metre)
    assert many.enamel_grams_per_metre == pytest.approx(n * one.enamel_grams_per_metre)


@pytest.mark.parametrize(
    ("overall", "strands", "field"),
    [
        (Span(), 1, "overall"),
        (Span(high=0.7), 1, "overall"),
        (Span(0.9, 0.88, 0.91), 1, "overall"),
        (Span(high=0.9), 0, "strands"),
    ],
)
def test_a_wire_that_can_not_be_is_refused(overall: Span, strands: int, field: str) -> None:
    with pytest.raises(RewindError) as refused:
        Wire(metric(0.8), overall, strands=strands)
    assert refused.value.field == field


@given(ANY, st.floats(0, 0.1))
def test_stretched_wire_keeps_its_copper(g: Gauge, share: float) -> None:
    assert stretched(g.mm, share) ** 2 * (1 + share) == pytest.approx(g.mm**2)
