"""Drift between two sheets: JCGM 100, 5.2.2, against sums by hand and against chance."""

import math
import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbench.stator.copper import Conductor
from workbench.stator.correct import Corrected, Corrector
from workbench.stator.drift import drift
from workbench.stator.meter import Meter, Range
from workbench.stator.pattern import Pair
from workbench.stator.sheet import Conditions, Reading

METER = Meter((Range(200.0, 0.1, 0.8, 3.0), Range(2000.0, 1.0, 0.8, 3.0)), 2000.0)
PAIR = Pair("P.1", "P.2")
GAIN = 0.8 / 100 / math.sqrt(3)


def corrected(shown: float, *, celsius: float = 20.0, u: float = 0.0, meter: Meter = METER) -> Corrected:
    conditions = Conditions(celsius, u, 0.0, 0.0)
    return Corrector(meter, conditions, Conductor.COPPER, 20.0).mean([Reading(PAIR, shown)])


def test_the_same_meters_gain_on_the_same_range_falls_out() -> None:
    """By hand: 100.0 and 95.0 on the 200 range; digits 0.3 / sqrt 3 each; the gain's difference 0.8 % of 5 / sqrt 3."""
    d = drift(corrected(95.0), corrected(100.0), same_meter=True)
    digits = 0.3 / math.sqrt(3)
    assert d.change == pytest.approx(-5.0)
    assert d.expanded == pytest.approx(2 * math.sqrt(2 * digits**2 + (GAIN * 5.0) ** 2))
    assert d.flagged
    assert d.share == pytest.approx(-0.05)


def test_two_meters_share_nothing() -> None:
    d = drift(corrected(99.0), corrected(100.0), same_meter=False)
    digits = 0.3 / math.sqrt(3)
    assert d.expanded == pytest.approx(2 * math.sqrt(2 * digits**2 + (GAIN * 99) ** 2 + (GAIN * 100) ** 2))
    assert not d.flagged
    assert drift(corrected(98.8), corrected(100.0), same_meter=True).flagged, "which the same meter would have seen"
    assert not drift(corrected(98.8), corrected(100.0), same_meter=False).flagged


def test_two_ranges_of_one_meter_share_nothing() -> None:
    one, other = corrected(199.0), corrected(203.0)
    assert {top for top, _ in (*one.gain, *other.gain)} == {200.0, 2000.0}
    expected = drift(other, one, same_meter=False).expanded
    assert drift(other, one, same_meter=True).expanded == expected


def test_temperature_is_each_sheets_own() -> None:
    """By hand: 3 C on k + t = 254.5 is 1.179 % of 100 ohm, twice and independent, so it does not fall out."""
    d = drift(corrected(100.0, u=3.0), corrected(100.0, u=3.0), same_meter=True)
    temperature, digits = 100 * 3.0 / 254.5, 0.3 / math.sqrt(3)
    assert d.expanded == pytest.approx(2 * math.sqrt(2 * temperature**2 + 2 * digits**2))
    assert d.change == 0
    assert not d.flagged


def test_the_u_of_a_difference_covers_what_chance_does() -> None:
    """Ten thousand pairs of sheets on one meter: the spread of the difference is U / 2 (JCGM 101's way)."""
    rng = random.Random(5)
    top, true_then, true_now = 200.0, 120.0, 118.0
    on = METER.ranges[0]
    half = on.percent / 100
    differences = []
    for _ in range(10_000):
        gain = rng.uniform(-half, half)  # one meter: one gain for both sheets
        now, then = (
            v * (1 + gain) + rng.uniform(-1, 1) * on.digits * on.resolution_ohms for v in (true_now, true_then)
        )
        differences.append(now - then)
    mean = math.fsum(differences) / len(differences)
    spread = math.sqrt(math.fsum((d - mean) ** 2 for d in differences) / (len(differences) - 1))
    d = drift(corrected(true_now), corrected(true_then), same_meter=True)
    assert top == on.upto_ohms
    assert d.expanded / 2 == pytest.approx(spread, rel=0.03)


@given(st.floats(0.5, 1999), st.floats(0.5, 1999), st.floats(0, 5), st.booleans())
def test_a_difference_is_the_same_both_ways_and_never_less_than_the_digits(
    one: float, other: float, u: float, same: bool
) -> None:
    a, b = corrected(one, u=u), corrected(other, u=u)
    there, back = drift(a, b, same_meter=same), drift(b, a, same_meter=same)
    assert there.change == -back.change
    assert there.expanded == pytest.approx(back.expanded)
    assert there.flagged == back.flagged
    assert there.expanded >= 2 * math.hypot(a.digit, b.digit) * (1 - 1e-9)


def test_a_share_of_next_to_nothing_is_no_share() -> None:
    assert drift(corrected(0.4), corrected(0.1), same_meter=True).share is None
