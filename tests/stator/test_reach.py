"""What the meter in hand can tell, held against readings drawn from its own error."""

from dataclasses import replace

import numpy as np
import pytest

from tests.stator.parts import COARSE_PAIR, FINE_PAIR, GROUND, LOOP, METER, SERIES, TWO_COILS, sheet, with_winding
from workbench.exchange.starters import starter_meters, starter_pattern
from workbench.stator.copper import COPPER_K
from workbench.stator.correct import Corrected
from workbench.stator.expect import Expectations
from workbench.stator.judge import judge
from workbench.stator.meter import Meter, Range
from workbench.stator.pattern import Element, Pair, Pattern, Winding
from workbench.stator.reach import Reach, SmallestShort, corrector_of, reach, smallest_short
from workbench.stator.sheet import Conditions, Reading, Sheet
from workbench.stator.verdict import Verdict

ASK = Expectations(TWO_COILS)
METERS = dict(starter_meters())
HANDHELD, FOUR_WIRES = METERS["Counter handheld"], METERS["Bench, four wires"]
BENCH = Conditions(23.0, 2.0, 0.2, 0.05)
ZEROED = Conditions(23.0, 1.0, 0.0, 0.0002)
DRAWS = 4000


def starter(name: str) -> Pattern:
    found = starter_pattern(name)
    assert found is not None
    return found


def test_an_ordinary_handheld_judges_hundreds_of_ohms_and_opens() -> None:
    at = sheet(checks=(FINE_PAIR, GROUND))
    assert reach(at, ASK, FINE_PAIR) is Reach.JUDGES
    assert reach(at, ASK, GROUND) is Reach.JUDGES


def test_a_winding_of_tenths_is_continuity_only_on_a_handheld_and_judged_with_four_wires() -> None:
    p = starter("lighting grounded with a tap")
    ask, whole = Expectations(p), Pair("L.1", "L.2")
    assert reach(Sheet(p, HANDHELD, BENCH), ask, whole) is Reach.CONTINUITY
    assert reach(Sheet(p, FOUR_WIRES, ZEROED), ask, whole) is Reach.JUDGES


@pytest.mark.parametrize("wide", [False, True])
def test_a_check_above_every_range_and_an_open_out_of_reach(wide: bool) -> None:
    small = Meter((Range(200, 0.1, 0.8, 3),), open_above_ohms=2e7 if wide else 200)
    at = sheet(meter=small)
    assert reach(at, ASK, FINE_PAIR) is Reach.ABOVE_RANGES
    assert reach(at, ASK, GROUND) is Reach.NO_OPEN
    assert reach(at, ASK, COARSE_PAIR) is Reach.JUDGES


def test_the_leads_may_lift_a_check_above_the_ranges() -> None:
    up_to_it = Meter((Range(245.1, 0.1, 0.1, 1),), open_above_ohms=245.1)
    assert reach(sheet(meter=up_to_it), ASK, FINE_PAIR) is Reach.JUDGES
    long_leads = Conditions(20.0, 0.0, lead_ohms=0.2)
    assert reach(sheet(meter=up_to_it, conditions=long_leads), ASK, FINE_PAIR) is Reach.ABOVE_RANGES


def test_an_element_is_not_judged_by_ohms_and_a_link_is_one_sided() -> None:
    diode = replace(TWO_COILS, windings=(Winding("d", "P.1", "P.3", element=Element.DIODE),))
    assert reach(sheet(pattern=diode), Expectations(diode), FINE_PAIR) is Reach.NOT_BY_OHMS
    assert reach(sheet(), ASK, LOOP) is Reach.JUDGES
    worse = Meter((Range(200, 0.1, 0.8, 5),), open_above_ohms=200)
    assert reach(sheet(meter=worse), ASK, LOOP) is Reach.CONTINUITY


CASES = [
    (TWO_COILS, METER, Conditions(20.0, 0.0), "fine", (FINE_PAIR,)),
    (TWO_COILS, HANDHELD, BENCH, "fine", (FINE_PAIR, COARSE_PAIR, SERIES)),
    (TWO_COILS, HANDHELD, BENCH, "coarse", (FINE_PAIR, COARSE_PAIR, SERIES)),
    (starter("three-phase wye"), FOUR_WIRES, ZEROED, "phase 3", None),
    (starter("lighting grounded with a tap"), FOUR_WIRES, ZEROED, "main part", None),
]


def draw_shown(at: Sheet, ohms: float, rng: np.random.Generator, *, rectangular: bool) -> np.ndarray:
    """Displays of a resistance (ohm at the reference), by the model: gain, digits, leads and warmth each off.

    Each part has the uncertainty that JCGM 100 gives it: `rectangular` within its limits, else normal.
    """

    def off(u: float, meters_own: bool) -> np.ndarray:
        limit = u * 3**0.5
        return rng.uniform(-limit, limit, DRAWS) if rectangular and meters_own else rng.normal(0, u, DRAWS)

    c = at.conditions
    celsius = c.celsius + off(c.celsius_uncertainty, False)
    true = ohms * (COPPER_K + celsius) / (COPPER_K + at.pattern.reference_celsius)
    true += c.lead_ohms + off(c.lead_uncertainty_ohms, False)
    on = at.meter.covering(float(np.median(true)))
    assert on is not None
    return true * (1 + off(on.percent / 100 / 3**0.5, True)) + off(on.digit, True)  # type: ignore[no-any-return]


def share_outside(at: Sheet, ask: Expectations, pair: Pair, shown: np.ndarray) -> float:
    out = [
        judge(replace(at, readings=(Reading(pair, float(x)),), checks=()), ask).rows[0].verdict is Verdict.OUTSIDE
        for x in shown
    ]
    return sum(out) / len(out)


@pytest.mark.parametrize(("pattern", "meter", "conditions", "winding", "checks"), CASES)
def test_the_smallest_short_is_seen_in_95_of_100_readings_and_a_smaller_one_in_clearly_fewer(
    pattern: Pattern, meter: Meter, conditions: Conditions, winding: str, checks: tuple[Pair, ...] | None
) -> None:
    """Monte Carlo (JCGM 101) against the figure that the program gives."""
    ask, at = Expectations(pattern), Sheet(pattern, meter, conditions, checks=checks)
    found = smallest_short(at, ask, winding)
    assert found is not None
    rng = np.random.default_rng(20)

    def seen(fraction: float, rectangular: bool = False) -> float:
        ohms = float(ask.shorted([found.pair], winding, np.array([fraction]))[0, 0])
        return share_outside(at, ask, found.pair, draw_shown(at, ohms, rng, rectangular=rectangular))

    assert seen(found.fraction) == pytest.approx(0.95, abs=0.02)
    assert seen(found.fraction, rectangular=True) > 0.93  # a rectangle's tail is shorter: seen a little more often
    assert seen(0.9 * found.fraction) < 0.9


def test_the_pair_that_shows_a_short_best_is_named() -> None:
    """A short in one coil is a larger share of its own pair than of the series; one in the other is lost in that."""
    at = sheet(checks=(SERIES, FINE_PAIR, COARSE_PAIR))
    found = smallest_short(at, ASK, "fine")
    assert found is not None
    assert found.pair == FINE_PAIR
    assert smallest_short(sheet(checks=(SERIES,)), ASK, "coarse") is None
    alone = smallest_short(sheet(checks=(SERIES,)), ASK, "fine")
    assert alone is not None
    assert alone.fraction > found.fraction


def test_against_an_earlier_reading_a_finer_short_is_seen_than_against_the_band() -> None:
    at = sheet(checks=(FINE_PAIR, COARSE_PAIR, SERIES), conditions=BENCH, meter=FOUR_WIRES)
    value = corrector_of(at).at(245.0)
    assert value is not None
    band = smallest_short(at, ASK, "fine")
    own = smallest_short(at, ASK, "fine", {FINE_PAIR: value})
    assert band is not None
    assert own is not None
    assert own.pair == FINE_PAIR
    assert own.fraction < band.fraction / 2
    # below it by the U of the difference and 1.645 of this reading's own u (JCGM 106), solved by hand
    at_f = corrector_of(at).at(245.0 * (1 - own.fraction))
    assert at_f is not None
    apart = 2 * (at_f.u**2 + value.u**2) ** 0.5 + 1.6449 * at_f.u
    assert value.ohms - at_f.ohms == pytest.approx(apart, rel=2e-3)


@pytest.mark.parametrize("off", [0.94, 1.06])
def test_the_share_is_of_what_this_unit_read_itself(off: float) -> None:
    at = sheet(checks=(FINE_PAIR,), conditions=BENCH, meter=FOUR_WIRES)
    corrector = corrector_of(at)
    value = corrector.at(off * 245.0)
    assert value is not None
    own = smallest_short(at, ASK, "fine", {FINE_PAIR: value})
    assert own is not None
    at_f = corrector.at(value.ohms * (1 - own.fraction))
    assert at_f is not None
    apart = 2 * (at_f.u**2 + value.u**2) ** 0.5 + 1.6449 * at_f.u
    assert value.ohms - at_f.ohms == pytest.approx(apart, rel=2e-3)


def test_an_earlier_reading_of_a_pair_that_is_not_planned_is_no_help() -> None:
    value = Corrected(31.0, (), 0.1, 0.0, 0.0)
    assert smallest_short(sheet(checks=(FINE_PAIR,)), ASK, "fine", {COARSE_PAIR: value}) is None


def test_none_where_no_short_can_be_seen() -> None:
    p = starter("two ignition coils on a common pin")
    assert smallest_short(Sheet(p, HANDHELD, BENCH), Expectations(p), "lighting") is None
    assert smallest_short(sheet(checks=(LOOP, GROUND)), ASK, "fine") is None  # no planned pair reads across it
    above = Meter((Range(20, 0.1, 0.8, 3),), open_above_ohms=20)
    assert smallest_short(sheet(checks=(FINE_PAIR,), meter=above), ASK, "fine") == SmallestShort(
        pytest.approx(1 - 20 / 245, abs=0.001),
        FINE_PAIR,  # type: ignore[arg-type]
    )  # only once it comes down into the one range


def test_a_wider_band_hides_a_larger_short() -> None:
    shares = []
    for percent in (5, 10, 20):
        p = with_winding(TWO_COILS, Winding("fine", "P.1", "P.3", ohms=245.0, tolerance_percent=percent))
        found = smallest_short(sheet(checks=(FINE_PAIR,), pattern=p), Expectations(p), "fine")
        assert found is not None
        assert found.fraction > percent / 100  # a short within the band is never seen against it
        shares.append(found.fraction)
    assert shares == sorted(shares)
