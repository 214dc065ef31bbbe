"""What the shop's own units make of a pattern's bands: corrected alike, counted once, accepted as a revision."""

from dataclasses import replace
from datetime import date
from uuid import UUID

import pytest

from tests.sitting.fakes import FOUR_WIRES, bench_file
from tests.sitting.pasts import COIL, FINE, past_sheet
from workbench.drafting.earned import Method, k_factor
from workbench.records import GoodSheet
from workbench.sitting.earnedbands import accepted, earned_views, is_earned
from workbench.stator.pattern import Pair, Pattern
from workbench.stator.sheet import Conditions

FILE = bench_file()
PATTERN = FILE.revision.pattern
DAY = date(2026, 11, 25)
SHOWN = (155.2, 153.1, 157.0, 154.4, 156.3, 152.0, 158.2, 155.9, 154.0, 156.8, 153.7)


def good(*shown: float, ran_well: bool = True, pattern: Pattern = PATTERN) -> list[GoodSheet]:
    revision = replace(FILE.revision, pattern=pattern)
    return [
        GoodSheet(UUID(int=i), f"T-{i}", ran_well, replace(past_sheet(FILE, i, i, {COIL: y}), revision=revision))
        for i, y in enumerate(shown, 1)
    ]


def test_the_band_is_made_of_what_was_read_less_its_leads() -> None:
    v = next(x for x in earned_views(PATTERN, good(*SHOWN)) if x.winding == "low-speed coil")
    ohms = [y - 0.2 for y in SHOWN]
    mean = sum(ohms) / 11
    s = (sum((r - mean) ** 2 for r in ohms) / 10) ** 0.5
    assert v.low == pytest.approx(mean - k_factor(11) * s)
    assert v.high == pytest.approx(mean + k_factor(11) * s)
    assert v.state == "11 units known good: firm."
    assert v.earned in v.spoken


def test_each_sheet_is_corrected_by_its_own_temperature_and_meter() -> None:
    warm = Conditions(40.0, 1.0, 0.0, 0.0)
    factor = (234.5 + 40) / (234.5 + 20)
    read = [
        past_sheet(FILE, i, i, {COIL: (y - 0.2) * factor}, conditions=warm, meter=FOUR_WIRES)
        for i, y in enumerate(SHOWN, 1)
    ]
    mixed = [replace(g, past=past) for g, past in zip(good(*SHOWN), read, strict=True)]
    cold = next(x for x in earned_views(PATTERN, good(*SHOWN)) if x.winding == "low-speed coil")
    hot = next(x for x in earned_views(PATTERN, mixed) if x.winding == "low-speed coil")
    assert hot.low == pytest.approx(cold.low or 0, rel=1e-3)
    assert hot.band.meter == FOUR_WIRES.name


def test_few_units_are_provisional_and_none_says_so() -> None:
    v = next(x for x in earned_views(PATTERN, good(*SHOWN[:4])) if x.winding == "low-speed coil")
    assert v.state == "4 units known good: provisional, 6 more for a firm one."
    none = next(x for x in earned_views(PATTERN, []) if x.winding == "low-speed coil")
    assert (none.low, none.earned, none.state) == (None, "", "0 units known good: none read yet.")
    order = next(x for x in earned_views(PATTERN, good(*SHOWN), Method.ORDER) if x.winding == "low-speed coil")
    assert (order.low, order.state) == (None, "11 units known good: 82 more for a band.")


def test_a_band_that_is_taken_says_where_it_came_from_and_never_feeds_itself() -> None:
    v = next(x for x in earned_views(PATTERN, good(*SHOWN)) if x.winding == "low-speed coil")
    taken = accepted(PATTERN, v, DAY)
    w = taken.winding("low-speed coil")
    assert is_earned(w)
    assert w.band_from == (
        "earned from 11 units known good, mean and spread, 95 % with 95 %, 2026-11-25, all on Counter handheld"
    )
    assert (w.low, w.high) == (pytest.approx(v.low, rel=1e-3), pytest.approx(v.high, rel=1e-3))
    assert [x for x in taken.windings if x.name != w.name] == [x for x in PATTERN.windings if x.name != w.name]
    # units judged by it since, and not seen to run, don't count; those seen to run do
    more = good(*SHOWN[:5], ran_well=False, pattern=taken)
    fed = [replace(g, unit_id=UUID(int=100 + i)) for i, g in enumerate(more)]
    after = next(x for x in earned_views(taken, [*good(*SHOWN), *fed]) if x.winding == w.name)
    assert (after.band.n, after.band.left_out) == (11, 5)
    assert "5 units passed by this very band alone don't count" in after.state
    ran = [replace(g, ran_well=True) for g in fed]
    assert next(x for x in earned_views(taken, [*good(*SHOWN), *ran]) if x.winding == w.name).band.n == 16


def test_a_provisional_one_says_so_and_none_can_not_be_taken() -> None:
    v = next(x for x in earned_views(PATTERN, good(*SHOWN[:4])) if x.winding == "low-speed coil")
    assert accepted(PATTERN, v, DAY).winding(v.winding).band_from.endswith("; provisional")
    with pytest.raises(ValueError, match="no earned band"):
        accepted(PATTERN, next(iter(earned_views(PATTERN, []))), DAY)


def test_units_that_a_coarse_meter_reads_alike_earn_no_band_finer_than_it_tells() -> None:
    """All at 17.2 shown on a display of tenths, 3 digits: U of its repeating itself is 2 x 0.3/sqrt(3) = 0.35 ohm."""
    alike = [
        replace(g, past=replace(past_sheet(FILE, i, i, {FINE: 17.2}), revision=g.past.revision))
        for i, g in enumerate(good(*SHOWN), 1)
    ]
    v = next(x for x in earned_views(PATTERN, alike) if x.winding == "high-speed coil")
    tells = 2 * 3 * 0.1 / 3**0.5
    assert (v.low, v.high) == (pytest.approx(17.0 - tells), pytest.approx(17.0 + tells))
    assert v.state == (
        "11 units known good: firm. They lie closer together than Counter handheld can tell: "
        "it is as wide as that, ± 0.35 Ω."
    )
    w = accepted(PATTERN, v, DAY).winding(v.winding)
    assert w.band_from.endswith("all on Counter handheld; as wide as its meter tells")
    assert w.low <= (v.low or 0)
    assert w.high >= (v.high or 0)
    # on two meters each has its own gain too, and the leads and the temperature are each sheet's own
    fine = past_sheet(FILE, 99, 99, {FINE: 17.2}, meter=replace(FOUR_WIRES, meter=FILE.sheet.meter))
    two = [*alike, replace(alike[0], unit_id=UUID(int=99), past=replace(fine, revision=FILE.revision))]
    both = next(x for x in earned_views(PATTERN, two) if x.winding == v.winding)
    assert both.band.widened > v.band.widened
    assert "than their meters can tell" in both.state


@pytest.mark.parametrize(("low", "high"), [(1555.93, 1556.47), (0.0123456, 0.7654321), (139.51, 170.56)])
def test_a_band_that_is_taken_is_never_narrower_for_its_round_figures(low: float, high: float) -> None:
    v = earned_views(PATTERN, good(*SHOWN))[0]
    w = accepted(PATTERN, replace(v, low=low, high=high), DAY).winding(v.winding)
    assert low - 0.011 * (high - low) <= w.low <= low
    assert high <= w.high <= high + 0.011 * (high - low)


def test_a_pair_of_a_delta_is_no_windings_own() -> None:
    delta = bench_file("three-phase delta").revision.pattern
    w = delta.windings[0]
    sheets = [
        replace(g, past=replace(past_sheet(FILE, i, i, only={Pair(w.start, w.finish): 0.9}), revision=g.past.revision))
        for i, g in enumerate(good(*SHOWN, pattern=delta), 1)
    ]
    assert all(v.band.n == 0 for v in earned_views(delta, sheets))
    single = replace(delta, windings=(w,), checks=None, layout=None)
    alone = [replace(g, past=replace(g.past, revision=replace(g.past.revision, pattern=single))) for g in sheets]
    assert [v.band.n for v in earned_views(single, alone)] == [len(SHOWN)]  # by itself it would be
