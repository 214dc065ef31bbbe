"""A part's own past: its windings known from earlier good sheets, and a small loss seen where the band says nothing."""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import pytest

from tests.findings.parts import BENCH, chance, part, top
from workbench.findings.circuit import Known
from workbench.findings.evidence import TOUCH_MEAN, TOUCH_VARIANCE
from workbench.findings.explain import Explained
from workbench.findings.known import OWN_CHANGE, explain_knowing, known_of
from workbench.findings.leading import sound_leads
from workbench.findings.wiring import explain_on_the_bench
from workbench.stator.meter import Meter, Range
from workbench.stator.pattern import Pair, Pattern
from workbench.stator.sheet import Conditions, Reading, Sheet

THREE = part(
    "P:1234", ("main", "P.1", "P.2", 155.0, 10), ("fine", "P.2", "P.3", 20.0, 10), ("light", "P.4", "core", 0.9, 10)
)
EACH = (Pair("P.1", "P.2"), Pair("P.2", "P.3"), Pair("P.4", "core"))
OTHER = Meter((Range(400, 0.1, 1.0, 3), Range(2e7, 1e3, 1.0, 5)), open_above_ohms=2e7)


def sheet(
    ohms: Sequence[float], celsius: float = 20, meter: Meter = BENCH, pairs: Sequence[Pair] = EACH,
    pattern: Pattern = THREE, gain: float = 0.0,
) -> Sheet:  # fmt: skip
    """What the meter shows of pairs of so many ohms at 20 C, on a part as warm as the sheet says."""
    warm = (234.5 + celsius) / 254.5
    room = Conditions(celsius, 2.0, 0.1, 0.02)
    shown = [round((r * warm + 0.1 + TOUCH_MEAN) * (1 + gain), 2) for r in ohms]
    return Sheet(pattern, meter, room, tuple(Reading(p, y) for p, y in zip(pairs, shown, strict=True)))


def knowing(now: Sheet, *past: Sheet) -> Explained:
    known = known_of(now.pattern, past, now.meter)
    return explain_on_the_bench(now.pattern, now.meter, now.conditions, now.readings, known=known)


def shorted(x: Explained) -> float:
    return sum(f.probability for f in x.findings if f.fault == "shorted-turns")


def sds(known: Known) -> np.ndarray:
    return np.sqrt((known.root**2).sum(1))


SOUND = (150.0, 19.5, 0.88)
WINTER = sheet(SOUND, 16)


def test_one_sheet_tells_what_conditioning_a_normal_law_tells() -> None:
    """Against the conditional normal law (JCGM 101, 6.4.8) written out over windings, gains, leads and temperature."""
    past = sheet(SOUND, 20)
    known = known_of(THREE, [past], BENCH)
    assert known is not None
    ranges = [r.upto_ohms for r in BENCH.ranges]
    means = np.array([155.0, 20.0, 0.9])
    causes = np.diag(np.concatenate((0.05 * means, [0.01 / np.sqrt(3)] * len(ranges), [0.02, 2.0])) ** 2)
    shown = np.array([r.ohms for r in past.readings])
    on = [ranges.index(r.range_on(BENCH).upto_ohms) for r in past.readings]
    # at the answer itself the product of gain and ohms is as straight as it gets: three rounds, as by hand
    at = means.copy()
    for _ in range(3):
        x = at + 0.1 + TOUCH_MEAN
        h = np.zeros((3, len(causes)))
        h[range(3), range(3)] = 1
        h[range(3), [3 + i for i in on]] = x
        h[:, -2] = 1
        h[:, -1] = at / 254.5
        own = [TOUCH_VARIANCE + BENCH.ranges[i].digit ** 2 + BENCH.ranges[i].resolution_ohms ** 2 / 12 for i in on]
        pull = causes @ h.T @ np.linalg.inv(h @ causes @ h.T + np.diag(own))
        at = means + pull[:3] @ (shown - (means + 0.1 + TOUCH_MEAN))
    left = causes - pull @ h @ causes
    left[:3, :3] += np.diag((OWN_CHANGE * at) ** 2)  # a visit later
    assert known.ohms == pytest.approx(at, rel=2e-4)
    whole = np.vstack((known.root, known.gains))
    mine = whole @ whole.T
    n = len(mine)
    assert np.sqrt(mine.diagonal()) == pytest.approx(np.sqrt(left.diagonal()[:n]), rel=2e-2)
    assert mine[0, 1] == pytest.approx(left[0, 1], rel=5e-2)


def test_every_sheet_narrows_it_and_a_visit_loosens_it() -> None:
    one = known_of(THREE, [WINTER], BENCH)
    two = known_of(THREE, [WINTER, sheet(SOUND, 24)], BENCH)
    assert one is not None
    assert two is not None
    assert (sds(one)[:2] < 0.012 * one.ohms[:2]).all()  # the band's is 0.05
    assert (sds(two) < sds(one)).all()
    many = known_of(THREE, [WINTER] * 40, BENCH)
    assert many is not None
    assert sds(many)[0] > 0.3 * OWN_CHANGE * many.ohms[0]


def test_three_per_cent_since_last_winter_is_seen_where_the_band_says_nothing() -> None:
    now = sheet((0.97 * 150.0, 19.5, 0.88), 24)
    by_band, by_past = knowing(now), knowing(now, WINTER)
    assert top(by_band) == ("sound", "")
    assert chance(by_band, "shorted-turns", "main") < 0.1
    assert top(by_past) == ("shorted-turns", "main")
    assert by_past.findings[0].probability > 0.8
    (fraction,) = by_past.findings[0].parameters
    assert fraction.low < 0.03 < fraction.high < 0.06
    assert by_band.by_past is None
    assert by_past.by_past is not None
    assert by_past.by_past > 0.9


def test_sheets_a_sound_part_does_not_explain_are_left_out_and_a_change_unseen_begins_anew() -> None:
    fell, again = sheet((0.95 * 150.0, 19.5, 0.88), 22), sheet(SOUND, 18)
    known = known_of(THREE, [WINTER, fell, again], BENCH)
    assert known is not None
    assert known.sheets == (0, 2)
    rewound = sheet((161.0, 20.7, 0.94), 22)
    new = known_of(THREE, [WINTER, again, rewound], BENCH)
    assert new is not None
    assert new.sheets == (2,)
    assert new.ohms[:2] == pytest.approx([161.0, 20.7], rel=0.02)


def test_an_earlier_sheet_on_another_meter_is_held_against_the_past_as_that_meter_reads_it() -> None:
    known = known_of(THREE, [WINTER, sheet(SOUND, 22, meter=OTHER)], BENCH)
    assert known is not None
    assert known.sheets == (0, 1)
    assert knowing(sheet(SOUND, 22, meter=OTHER), WINTER).by_past is not None


def test_the_same_again_is_sound() -> None:
    found = knowing(sheet(SOUND, 24), WINTER)
    assert sound_leads(found)
    assert chance(found, "sound") > chance(knowing(sheet(SOUND, 24)), "sound")


def test_all_of_it_lower_by_as_much_is_the_temperature() -> None:
    found = knowing(sheet([0.985 * r for r in SOUND], 24), WINTER)
    assert sound_leads(found)


def test_windings_known_only_together_are_known_together() -> None:
    """Two read in series alone: neither is known well, their sum is."""
    both = (Pair("P.1", "P.3"),)
    past = sheet((170.0,), pairs=both)
    known = known_of(THREE, [past], BENCH)
    assert known is not None
    assert sds(known)[0] > 0.01 * 150
    whole = known.root @ known.root.T
    assert np.sqrt(whole[:2, :2].sum()) < 0.012 * 170
    found = knowing(sheet((0.93 * 170.0,), pairs=both), past)
    assert shorted(found) > 2 * shorted(knowing(sheet((0.93 * 170.0,), pairs=both)))


def test_its_own_meters_gain_falls_out_and_another_meters_does_not() -> None:
    """Half a per cent that both readings share says nothing; that one of two meters may have says a lot."""
    low = (0.97 * 150.0, 19.5, 0.88)
    same = knowing(sheet(low, 24, gain=0.005), sheet(SOUND, 16, gain=0.005))
    assert chance(same, "shorted-turns", "main") > 0.8
    other = knowing(sheet(low, 24), sheet(SOUND, 16, meter=OTHER))
    assert chance(other, "shorted-turns", "main") < chance(same, "shorted-turns", "main") - 0.1


def test_a_part_rewound_where_the_shop_did_not_see_it_is_not_called_faulty() -> None:
    now = sheet((161.0, 20.6, 0.94), 24)
    found = knowing(now, sheet(SOUND, 16), sheet(SOUND, 22))
    assert found.by_past is not None
    assert found.by_past < 0.5
    assert sound_leads(found)


def test_sound_parts_that_come_back_are_called_sound() -> None:
    rng = np.random.default_rng(31)
    wrong = 0
    for _ in range(120):
        ohms = np.array([155.0, 20.0, 0.9]) * (1 + 0.05 * rng.standard_normal(3))
        gains = 0.01 * (rng.uniform(-1, 1, len(BENCH.ranges)))
        sheets = []
        for change in (np.zeros(3), OWN_CHANGE * rng.standard_normal(3)):
            true = rng.normal(20, 2)
            warm = (234.5 + true) / 254.5
            x = ohms * (1 + change) * warm + 0.1 + np.abs(rng.normal(0, 0.02, 3))
            taken = []
            for pair, v in zip(EACH, x, strict=True):
                on = BENCH.covering(float(v))
                assert on is not None
                digits = rng.uniform(-1, 1) * on.digits * on.resolution_ohms
                shown = v * (1 + gains[BENCH.ranges.index(on)]) + digits
                taken.append(Reading(pair, round(float(shown), 2)))
            sheets.append(Sheet(THREE, BENCH, Conditions(20.0, 2.0, 0.1, 0.02), tuple(taken)))
        wrong += not sound_leads(knowing(sheets[1], sheets[0]))
    assert wrong <= 3


def test_what_speaks_for_it_and_what_to_read_next_follow_from_the_past_too() -> None:
    now = replace(sheet((0.97 * 150.0, 19.5, 0.88), 24))
    found = knowing(now, WINTER)
    said = {s.pair.unordered: s.bits for s in found.speeches(found.findings[0])}
    assert said["P.1", "P.2"] > 2
    assert found.next


def test_readings_this_pattern_does_not_join_are_left_out() -> None:
    assert known_of(THREE, [], BENCH) is None
    wild = Sheet(
        THREE, BENCH, Conditions(20, 2), (Reading(Pair("P.1", "core"), None), Reading(Pair("P.1", "P.4"), 9e5))
    )
    assert known_of(THREE, [wild], BENCH) is None
    older = part("P:1239", ("main", "P.1", "P.9", 155.0, 10))
    assert (
        known_of(THREE, [Sheet(older, BENCH, Conditions(20, 2), (Reading(Pair("P.1", "P.9"), 155.0),))], BENCH) is None
    )


def test_without_a_past_nothing_is_mixed() -> None:
    now = sheet(SOUND, 24)
    plain = explain_knowing(THREE, BENCH, now.conditions, now.readings, None)
    assert plain.by_past is None
