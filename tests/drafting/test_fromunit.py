"""A pattern's ohms taken over from a unit known good."""

import pytest
from hypothesis import HealthCheck, assume, given, settings

from tests.drafting.drawn import TWO, wired
from tests.stator.strategies import patterns
from workbench.drafting import windings
from workbench.drafting.draft import Draft
from workbench.drafting.edits import EditError
from workbench.drafting.fromunit import corrected_pairs, from_unit
from workbench.drafting.seeing import Seeing
from workbench.stator.copper import Conductor
from workbench.stator.correct import Corrected, Corrector
from workbench.stator.errors import FieldError
from workbench.stator.expect import Path
from workbench.stator.meter import Meter, Range
from workbench.stator.pattern import Pair, Pattern
from workbench.stator.sheet import Conditions, Reading


def bare(d: Draft) -> Draft:
    """Drawn, but nothing said of its ohms."""
    for w in d.windings:
        if w.element is None:
            d = windings.set_element(d, w.name, None)
    return d


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.filter_too_much, HealthCheck.too_slow])
@given(patterns(least_edges=1))
def test_from_all_its_pairs_every_winding_that_shows_comes_back(pattern: Pattern) -> None:
    assume(pattern.name.strip() and all(0.2 < w.nominal < 1500 for w in pattern.windings))
    seeing = Seeing(pattern)
    read = {p: seeing.ask.of(p).ohms or 0.0 for p in seeing.pairs if seeing.ask.of(p).path is Path.WINDINGS}
    assume(read)
    made = from_unit(bare(Draft.of(pattern)), read)
    assert made.misses == ()
    got = {w.name: w.ohms for w in made.draft.windings}
    again = Seeing(made.draft.pattern()) if made.draft.trouble is None else None
    for pair, ohms in read.items():
        if again is not None:
            assert again.ask.of(pair).ohms == pytest.approx(ohms, rel=3e-3)
    assert all(got[n] is None for n in made.untold)


def test_a_tap_read_end_to_end_tells_its_sum_alone() -> None:
    made = from_unit(bare(wired()), {Pair("P.1", "P.3"): 170.0})
    assert set(made.untold) == {"high", "low"}
    made = from_unit(bare(wired()), {Pair("P.1", "P.3"): 170.0, Pair("P.2", "P.3"): 21.0})
    assert made.untold == ()
    assert [w.ohms for w in made.draft.windings] == pytest.approx([149.0, 21.0], rel=1e-3)
    assert made.draft.windings[0].tolerance_percent == 10


def test_a_delta_is_told_by_its_three_pairs() -> None:
    d = TWO
    for a, b in (("P.1", "P.2"), ("P.2", "P.3"), ("P.1", "P.3")):
        d, _ = windings.connect(d, a, b)
    truth = d
    for w, r in zip(d.windings, (0.9, 1.0, 1.1), strict=True):
        truth = windings.set_percent(truth, w.name, r, 10)
    ask = Seeing(truth.pattern()).ask
    pairs = (Pair("P.1", "P.2"), Pair("P.2", "P.3"), Pair("P.1", "P.3"))
    made = from_unit(d, {p: ask.of(p).ohms or 0 for p in pairs})
    assert [w.ohms for w in made.draft.windings] == pytest.approx([0.9, 1.0, 1.1], rel=1e-3)


def test_readings_that_contradict_each_other_are_named() -> None:
    made = from_unit(bare(wired()), {Pair("P.1", "P.2"): 150.0, Pair("P.2", "P.3"): 20.0, Pair("P.1", "P.3"): 250.0})
    assert Pair("P.1", "P.3") in [p for p, _ in made.misses]


@pytest.mark.parametrize("read", [{}, {Pair("P.1", "core"): 150.0}])
def test_what_tells_nothing_is_refused(read: dict[Pair, float]) -> None:
    unlinked = windings.drop_edge(wired(), "ground")
    with pytest.raises(EditError):
        from_unit(bare(unlinked), read)
    with pytest.raises(EditError, match="Draw the windings first"):
        from_unit(TWO, {Pair("P.1", "P.2"): 150.0})


def test_a_wiring_that_is_not_whole_is_said_to_be_none() -> None:
    half, _ = windings.connect(TWO, "P.1", windings.inner_point(TWO))
    with pytest.raises(EditError, match="isn't whole yet: nothing else uses the inner point"):
        from_unit(half, {Pair("P.1", "P.2"): 150.0})


def test_a_sheet_is_corrected_and_its_surer_readings_weigh_more() -> None:
    """A tap read three ways: the small coil by itself on a coarse meter, and with and without it by a fine one."""
    coarse = Meter((Range(200, 0.1, 0.8, 3), Range(2000, 1, 0.8, 3)), 2000)
    warm = Conditions(30.0, 1.0, lead_ohms=0.2, lead_uncertainty_ohms=0.05)
    show = Corrector(coarse, warm, Conductor.COPPER, 20.0).shown
    shown = [("P.1", "P.2", 150.0), ("P.2", "P.3", 20.0), ("P.3", "P.2", 20.4), ("P.3", "P.1", 170.0)]
    readings = [Reading(Pair(a, b), round(show(r), 1)) for a, b, r in shown]
    readings.append(Reading(Pair("P.1", "core"), None))
    read = corrected_pairs(wired(), readings, coarse, warm)
    assert {p: v.ohms for p, v in read.items()} == {
        Pair("P.1", "P.2"): pytest.approx(150, abs=0.1),
        Pair("P.2", "P.3"): pytest.approx(20.2, abs=0.1),  # the mean of its two, either way round
        Pair("P.3", "P.1"): pytest.approx(170, abs=0.1),
    }
    made = from_unit(bare(wired()), read, band_from="one unit")
    assert [w.band_from for w in made.draft.windings] == ["one unit"] * 2

    def fine(ohms: float) -> Corrected:
        return Corrected(ohms, (), 1e-4 * ohms, 0, 0)

    rough = Corrected(26.0, (), 2.0, 0, 0)
    both = from_unit(
        bare(wired()), {Pair("P.1", "P.2"): fine(150), Pair("P.1", "P.3"): fine(170), Pair("P.2", "P.3"): rough}
    )
    assert [w.ohms for w in both.draft.windings] == pytest.approx([150, 20], rel=0.01)
    assert both.untold == ()
    assert [p for p, _ in both.misses] == [Pair("P.2", "P.3")]


def test_a_sheet_is_corrected_to_the_drafts_own_temperature_and_by_its_own_metal() -> None:
    """R (k + T_ref)/(k + T): k = 234.5 for copper (IEC 60228), 225 for aluminium (from memory)."""
    meter = Meter((Range(2000, 0.1, 0.8, 3),), 2000)
    pair, warm = Pair("P.1", "P.2"), Conditions(40.0, 1.0)
    for draft, factor in (
        (wired(), (234.5 + 20) / (234.5 + 40)),
        (wired().at_celsius(25.0), (234.5 + 25) / (234.5 + 40)),
        (wired().of_metal(Conductor.ALUMINIUM), (225 + 20) / (225 + 40)),
    ):
        read = corrected_pairs(draft, [Reading(pair, 160.0)], meter, warm)
        assert read[pair].ohms == pytest.approx(160 * factor)


def test_a_reading_that_no_such_meter_shows_is_refused() -> None:
    meter = Meter((Range(200, 0.1, 0.8, 3),), 200)
    with pytest.raises(FieldError):
        corrected_pairs(wired(), [Reading(Pair("P.1", "P.2"), 300.0)], meter, Conditions(20.0, 1.0))
