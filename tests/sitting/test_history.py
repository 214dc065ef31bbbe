"""One check through all a unit's sheets: corrected alike, compared, told in words."""

from dataclasses import replace
from datetime import UTC, timedelta, timezone
from uuid import uuid4

import pytest

from tests.sitting.fakes import FOUR_WIRES, HANDHELD, bench_file
from tests.sitting.pasts import COIL, FINE, LIGHTING, SOUND, TO_IRON, bench_reading, past_sheet, sheet_id
from workbench import words
from workbench.records import PastSheet
from workbench.sitting.bench import Bench
from workbench.sitting.history import (
    FIRST_TIME,
    LOOKING,
    NEVER_READ,
    NO_PAIR,
    NOT_BY_OHMS,
    HistoryView,
    earlier,
    history,
    remember,
    short_by_past,
)
from workbench.stator.judge import SheetVerdict
from workbench.stator.pattern import Element, Pair
from workbench.stator.reach import smallest_short
from workbench.stator.sheet import Conditions

FILE = bench_file()
WARM = Conditions(60.0, 1.0, 0.2, 0.05)


def seen(bench: Bench, *past: PastSheet, pair: Pair | None = COIL) -> HistoryView:
    return history(bench, pair, remember(past), UTC)


def test_points_stand_oldest_first_and_the_bench_last() -> None:
    view = seen(bench_reading(FILE, coil="155.2"), past_sheet(FILE, 1, 402), past_sheet(FILE, 2, 37))
    assert [(p.job_number, p.when, p.is_current) for p in view.points] == [
        (1, "26 Jan 2025", False),
        (2, "26 Jan 2026", False),
        (7, "4 Mar 2026", True),
    ]
    assert [p.sheet_id for p in view.points] == [sheet_id(1), sheet_id(2), FILE.sheet.id]
    assert [p.value for p in view.points] == ["155.0 ± 1.9 Ω"] * 3
    assert [p.word for p in view.points] == ["in"] * 3
    assert view.title == "P 1 – 3 at 20 °C"
    assert (view.low, view.high) == pytest.approx((139.5, 170.5))


def test_every_sheet_is_corrected_by_its_own_leads_meter_and_temperature() -> None:
    """By hand: (179.6 - 0.2) (234.5 + 20) / (234.5 + 60) = 155.04 ohm; the bench meter needs no lead taken off."""
    shown = 155.0 * 294.5 / 254.5 + 0.2
    warm = past_sheet(FILE, 1, 400, {COIL: shown}, conditions=WARM)
    wires = past_sheet(FILE, 2, 300, {COIL: 155.0}, meter=FOUR_WIRES, conditions=Conditions(20.0, 1.0, 0.0, 0.0002))
    view = seen(bench_reading(FILE, coil="155.2"), warm, wires)
    assert [p.ohms for p in view.points] == pytest.approx([155.0, 155.0, 155.0])
    finest = min(view.points, key=lambda p: p.expanded or 0.0)
    assert finest.sheet_id == sheet_id(2)


def test_repeats_on_a_sheet_are_averaged() -> None:
    once = past_sheet(FILE, 1, 400, only={COIL: 154.0})
    again = once.readings[0]
    second = replace(again, id=uuid4(), place=2, reading=replace(again.reading, ohms=156.0))
    twice = replace(once, readings=(again, second))
    (point,) = (p for p in seen(bench_reading(FILE), twice).points if not p.is_current)
    assert point.ohms == pytest.approx(154.8)


def test_an_open_is_a_point_without_a_number() -> None:
    view = seen(bench_reading(FILE, coil="155.2"), past_sheet(FILE, 1, 400, {COIL: None}))
    first = view.points[0]
    assert (first.ohms, first.expanded, first.value) == (None, None, "open")
    assert view.sentence == "155.0 ± 1.9 Ω; on 28 Jan 2025 it read open."
    assert not view.drifted


def test_an_open_that_stays_open_is_said_to_be_as_it_was() -> None:
    view = seen(bench_reading(FILE, coil="155.2", to_iron="OL"), past_sheet(FILE, 1, 400), pair=TO_IRON)
    assert view.sentence == "As on 28 Jan 2025: open."
    assert (view.low, view.high) == (None, None)


def test_drift_beyond_the_readings_is_said_with_its_share_and_date() -> None:
    view = seen(bench_reading(FILE, coil="148.0"), past_sheet(FILE, 1, 400), past_sheet(FILE, 2, 90))
    assert view.sentence == "4.6 % below 4 Dec 2025, more than the readings can explain."
    assert view.drifted
    view = seen(bench_reading(FILE, coil="160.4"), past_sheet(FILE, 1, 400))
    assert view.sentence == "3.4 % above 28 Jan 2025, more than the readings can explain."


def test_drift_within_the_readings_is_said_to_be_none() -> None:
    view = seen(bench_reading(FILE, coil="155.9"), past_sheet(FILE, 1, 400))
    assert view.sentence == "As on 28 Jan 2025, as far as the readings can tell."
    assert not view.drifted


def test_one_meter_tells_what_two_can_not() -> None:
    """153.0 and 155.0 ohm: 2 ohm apart; 0.8 % of either by itself is more than that, and falls out on one meter."""
    own = past_sheet(FILE, 1, 400, meter=HANDHELD)
    twin = past_sheet(FILE, 1, 400, meter=replace(HANDHELD, id=uuid4()))
    newer = past_sheet(FILE, 1, 400, meter=replace(HANDHELD, meter=replace(HANDHELD.meter, open_above_ohms=1.9e7)))
    bench = bench_reading(FILE, coil="153.0")
    assert seen(bench, own).drifted
    assert not seen(bench, twin).drifted
    assert not seen(bench, newer).drifted, "a meter with other figures is another meter"


def test_it_compares_with_the_last_visit_rather_than_with_the_hour_before() -> None:
    before = past_sheet(FILE, 1, 400, {COIL: 160.4})
    same_job = past_sheet(FILE, 2, 0.02, job=FILE.job.number)
    view = seen(bench_reading(FILE, coil="155.2"), before, same_job)
    assert view.sentence.startswith("3.2 % below 28 Jan 2025")
    alone = seen(bench_reading(FILE, coil="155.2"), same_job)
    assert alone.sentence == "As on the sheet before, as far as the readings can tell."


def test_a_share_of_next_to_nothing_is_told_in_ohms() -> None:
    view = seen(bench_reading(FILE, lighting="1.9"), past_sheet(FILE, 1, 400, {LIGHTING: 0.3}), pair=LIGHTING)
    assert view.sentence == "1.6 Ω above 28 Jan 2025, more than the readings can explain."


def test_the_first_time_in_the_shop_there_is_nothing_to_compare_with() -> None:
    bench = bench_reading(FILE, coil="155.2")
    for past in ((), (past_sheet(FILE, 1, 1, only={}),)):
        view = seen(bench, *past)
        assert (view.empty, view.sentence, view.spoken) == (True, FIRST_TIME, FIRST_TIME)
    here = PastSheet(7, bench.head, bench.revision, tuple(x.kept for x in bench.lines.every))
    assert seen(bench, here).empty, "the sheet on the bench is no past of itself"


def test_other_empty_states_say_why() -> None:
    bench = bench_reading(FILE, coil="155.2")
    assert seen(bench, past_sheet(FILE, 1, 9, only={FINE: 17.2})).sentence == NEVER_READ
    assert seen(bench, past_sheet(FILE, 1, 9), pair=None).sentence == NO_PAIR
    diode = replace(FILE.revision.pattern.windings[0], ohms=None, tolerance_percent=None, element=Element.DIODE)
    pattern = replace(FILE.revision.pattern, windings=(diode, *FILE.revision.pattern.windings[1:]))
    file = replace(FILE, revision=replace(FILE.revision, pattern=pattern))
    view = seen(bench_reading(file, coil="155.2"), past_sheet(file, 1, 9))
    assert (view.sentence, view.points) == (NOT_BY_OHMS, ())


def test_until_the_store_has_answered_it_does_not_say_first_time() -> None:
    view = history(bench_reading(FILE, coil="155.2"), COIL, None, UTC)
    assert (view.empty, view.sentence) == (True, LOOKING)


def test_a_check_not_read_yet_shows_what_it_read_before() -> None:
    view = seen(bench_reading(FILE), past_sheet(FILE, 1, 400))
    assert [p.is_current for p in view.points] == [False]
    assert view.sentence == "Not read on this sheet yet; 155.0 ± 1.9 Ω on 28 Jan 2025."


def test_an_old_sheet_on_the_bench_stands_among_what_came_after() -> None:
    past = [past_sheet(FILE, n, 400 - 100 * n) for n in (1, 2, 3)]
    file = replace(FILE, sheet=past[1].head, readings=past[1].readings)
    view = seen(bench_reading(file), *past)
    assert [(p.sheet_id, p.is_current) for p in view.points] == [
        (sheet_id(1), False), (sheet_id(2), True), (sheet_id(3), False),
    ]  # fmt: skip
    assert view.sentence.startswith("As on 8 May 2025")


def test_what_is_not_compared_is_not_called_the_same() -> None:
    """A sheet with only later ones after it; a leak, which is not copper and no drift of it."""
    past = [past_sheet(FILE, 1, 400), past_sheet(FILE, 2, 100, {COIL: 140.0})]
    file = replace(FILE, sheet=past[0].head, readings=past[0].readings)
    assert seen(bench_reading(file), *past).sentence == "139.8 ± 1.7 Ω on 24 Nov 2025."
    leaks = past_sheet(FILE, 1, 400, {TO_IRON: 5000.0})
    view = seen(bench_reading(FILE, to_iron="900"), leaks, pair=TO_IRON)
    assert view.sentence == "5000 ± 70 Ω on 28 Jan 2025."
    assert not view.drifted


def test_a_sheet_of_another_pattern_is_not_compared() -> None:
    """It is said what it was read as, where it was read at all."""
    bench = bench_reading(FILE, coil="155.2")
    elsewhere = replace(FILE.revision, pattern_id=uuid4(), pattern=replace(FILE.revision.pattern, name="three coils"))
    other, blank = past_sheet(FILE, 1, 400, revision=elsewhere), past_sheet(FILE, 2, 3, only={}, revision=elsewhere)
    assert seen(bench, blank).sentence == FIRST_TIME
    view = seen(bench, other, blank)
    assert view.empty
    assert view.sentence == "Read before as three coils only: other pins, nothing to compare."
    assert not seen(bench, other, past_sheet(FILE, 3, 1)).empty


def test_an_earlier_revision_keeps_its_verdict_and_says_so_and_the_band_is_the_new_ones() -> None:
    narrow = replace(FILE.revision.pattern.windings[0], tolerance_percent=2.0)
    pattern = replace(FILE.revision.pattern, windings=(narrow, *FILE.revision.pattern.windings[1:]))
    older = replace(FILE.revision, id=uuid4(), number=1, pattern=pattern)
    shown: dict[Pair, float | None] = {COIL: 165.2}
    view = seen(bench_reading(FILE, coil="165.2"), past_sheet(FILE, 1, 400, shown, revision=older))
    assert [p.word for p in view.points] == ["out", "in"]
    assert view.points[0].note == "judged by revision 1"
    assert (view.low, view.high) == pytest.approx((139.5, 170.5))


def test_a_reference_temperature_that_was_changed_moves_the_past_with_it() -> None:
    at_25 = replace(FILE.revision, id=uuid4(), number=1, pattern=replace(FILE.revision.pattern, reference_celsius=25.0))
    view = seen(bench_reading(FILE, coil="155.2"), past_sheet(FILE, 1, 400, revision=at_25))
    assert view.points[0].ohms == pytest.approx(155.0)


def test_a_pin_that_an_earlier_revision_had_not_is_not_looked_for() -> None:
    plugs = tuple(c for c in FILE.revision.pattern.connectors if c.name == "P")
    less = replace(
        FILE.revision.pattern,
        connectors=plugs,
        windings=FILE.revision.pattern.windings[:2],
        checks=(COIL, FINE),
        layout=None,
    )
    older = replace(FILE.revision, id=uuid4(), number=1, pattern=less)
    past = past_sheet(FILE, 1, 400, only={COIL: 155.2, FINE: 17.2}, revision=older)
    assert seen(bench_reading(FILE, lighting="0.6"), past, pair=LIGHTING).sentence == NEVER_READ


def test_the_day_is_the_shops_own() -> None:
    late = past_sheet(FILE, 1, 400 - 14 / 24)  # 23:30 UTC
    bench = bench_reading(FILE, coil="155.2")
    days = {history(bench, COIL, remember([late]), z).points[0].when for z in (UTC, timezone(timedelta(hours=2)))}
    assert days == {"28 Jan 2025", "29 Jan 2025"}


def test_all_is_said_for_those_who_can_not_see_it() -> None:
    view = seen(bench_reading(FILE, coil="148.0"), past_sheet(FILE, 1, 400, {COIL: None}), past_sheet(FILE, 2, 90))
    assert view.spoken == (
        "P 1 – 3 at 20 °C. 4.6 % below 4 Dec 2025, more than the readings can explain. "
        "28 Jan 2025, job 1: open out; 4 Dec 2025, job 2: 155.0 ± 1.9 Ω in; this sheet: 147.8 ± 1.8 Ω in"
    )


def test_the_latest_good_sheet_is_what_a_short_is_seen_against() -> None:
    good = past_sheet(FILE, 1, 400, {COIL: 156.0, Pair("P.1", "P.2"): 173.0})
    bad = past_sheet(FILE, 2, 90, {COIL: None})
    bench = bench_reading(FILE)
    found = earlier(bench, remember([good, bad]))
    assert found is not None
    sheet, values = found
    assert (sheet.past.head.id, sheet.judged.verdict) == (sheet_id(1), SheetVerdict.GOOD)
    assert values[COIL].ohms == pytest.approx(155.8)
    assert set(values) == {c for c, ohms in SOUND.items() if ohms is not None}
    assert smallest_short(bench.sheet(), bench.expectations, "low-speed coil", values) is not None
    assert earlier(bench, remember([bad])) is None


def test_a_parts_own_past_shows_a_smaller_short_than_the_band() -> None:
    bench = bench_reading(FILE)
    band = smallest_short(bench.sheet(), bench.expectations, "low-speed coil")
    assert band is not None
    assert band.fraction > 0.1
    for shown in (145.2, 155.2, 165.2):  # wherever in the band this part's own coil stands
        good = past_sheet(FILE, 1, 400, {COIL: shown, Pair("P.1", "P.2"): shown + 17.0})
        assert short_by_past(bench, COIL, remember([good]), UTC) == (
            "Against its own good sheet of 28 Jan 2025: 3 % of the turns."
        )
    assert short_by_past(bench, COIL, (), UTC) == ""
    assert short_by_past(bench, TO_IRON, remember([good]), UTC) == ""


def test_the_words_of_a_drift() -> None:
    said = words.drift_words("3.1 %", above=False, when="19 Oct 2025", explained=False)
    assert said == "3.1 % below 19 Oct 2025, more than the readings can explain."
