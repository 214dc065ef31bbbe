"""A small engine's stator as benches know it: common practice, no source.

A lighting winding under 1 ohm (0.3 to 0.5 as a rule), a low-speed ignition coil of about 155 ohm, a
high-speed one of about 15 to 18, both in series about 173, on an ordinary handheld meter.
"""

import pytest

from workbench.stator.judge import SheetVerdict, judge
from workbench.stator.meter import Meter, Range
from workbench.stator.pattern import CORE, Cavity, Connector, Kind, Pair, Pattern, Winding
from workbench.stator.sheet import Conditions, Proof, Reading, Sheet
from workbench.stator.verdict import Verdict

LOW, HIGH, BOTH, LIGHT, GROUND = (
    Pair("P.1", "P.2"), Pair("P.2", "P.3"), Pair("P.1", "P.3"), Pair("P.4", "P.5"), Pair("P.1", CORE)
)  # fmt: skip
STATOR = Pattern(
    "two ignition coils in series, a lighting winding",
    (Connector("P", tuple(Cavity(pin) for pin in "12345")),),
    (
        Winding("low speed", "P.1", "P.2", Kind.IGNITION, ohms=155, tolerance_percent=10),
        Winding("high speed", "P.2", "P.3", Kind.IGNITION, low_ohms=15, high_ohms=18),
        Winding("lighting", "P.4", "P.5", Kind.LIGHTING, low_ohms=0.3, high_ohms=0.5),
    ),
    checks=(LOW, HIGH, BOTH, LIGHT, GROUND),
)
# a handheld: 0.8 % and a few digits, the lowest range up to 200 ohm by tenths
HANDHELD = Meter(
    (
        Range(200, 0.1, 0.8, 3),
        Range(2000, 1, 0.8, 3),
        Range(2e4, 10, 0.8, 3),
        Range(2e6, 1000, 0.8, 3),
        Range(2e7, 1e4, 1, 3),
    ),
    open_above_ohms=2e7,
)
LEADS = Conditions(21.0, 3.0, lead_ohms=0.2, lead_uncertainty_ohms=0.05)


def bench(shown: dict[Pair, float | None]) -> Sheet:
    readings = tuple(Reading(pair, ohms) for pair, ohms in shown.items())
    return Sheet(STATOR, HANDHELD, LEADS, readings, proof=Proof(iron=True))


SOUND: dict[Pair, float | None] = {LOW: 156.2, HIGH: 16.9, BOTH: 173.0, LIGHT: 0.6, GROUND: None}


def test_a_sound_stator_comes_out_good_on_a_handheld() -> None:
    judged = judge(bench(SOUND))
    assert judged.verdict is SheetVerdict.GOOD
    assert judged.clashes == ()
    words = {row.reading.pair: row.verdict for row in judged.rows}
    assert words[LOW] is words[HIGH] is words[BOTH] is words[GROUND] is Verdict.INSIDE
    # this meter can't judge three tenths of an ohm: it conducts, and that is all
    assert words[LIGHT] is Verdict.CONTINUOUS


@pytest.mark.parametrize(
    ("light", "verdict"), [(0.5, SheetVerdict.GOOD), (0.8, SheetVerdict.GOOD), (4.0, SheetVerdict.UNFINISHED)]
)
def test_a_lighting_winding_is_only_ever_too_high_on_a_handheld(light: float, verdict: SheetVerdict) -> None:
    assert judge(bench(SOUND | {LIGHT: light})).verdict is verdict


def test_a_series_reading_that_is_not_the_sum_is_explained() -> None:
    judged = judge(bench(SOUND | {BOTH: 182.0}))
    (clash,) = judged.clashes
    assert clash.whole == BOTH
    assert clash.excess == pytest.approx((182 - 156.2 - 16.9 + 0.2) * 254.5 / 255.5)
    assert not clash.looks_like_leads


def test_leads_that_were_never_zeroed_are_explained_as_leads() -> None:
    """Two ohms of tired leads on every reading: each coil carries them, the series only once."""
    (clash,) = judge(bench({pair: None if ohms is None else ohms + 2.0 for pair, ohms in SOUND.items()})).clashes
    assert clash.looks_like_leads
    assert clash.excess == pytest.approx(-2.0, abs=0.2)
