"""Faults beyond the model's eleven: what joins the windings, a wet plug, a slip of one reading."""

import math
from dataclasses import replace
from typing import Any

import pytest

from tests.findings.parts import part
from workbench.exchange.starters import starter_meters
from workbench.findings import wiring
from workbench.findings.elsewhere import taken_elsewhere
from workbench.findings.evidence import gather
from workbench.findings.explain import Explained, explain
from workbench.findings.faults import BenchFault, Fault
from workbench.findings.wiring import BENCH_PRIORS, MOST_TRIED, _log, explain_on_the_bench
from workbench.findingwords import detail_words, title_words
from workbench.stator.expect import Expectations
from workbench.stator.pattern import Pair, Pattern, Winding
from workbench.stator.sheet import Conditions, Reading

METER = dict(starter_meters())["Counter handheld"]
HELD = Conditions(20.0, 1.0, 0.2, 0.05)
SHARED_GROUND = part(
    "P:123", ("one", "P.1", "core", 120.0, 10), ("two", "P.2", "core", 90.0, 10), ("three", "P.3", "core", 60.0, 10)
)
LINKED = part(
    "P:1234", ("one", "P.1", "P.2", 120.0, 10), ("two", "P.3", "P.4", 90.0, 10), links=(("loop", "P.2", "P.3"),)
)
APART = part("P:1234", ("one", "P.1", "P.2", 120.0, 10), ("two", "P.3", "P.4", 90.0, 10))


def shown(of: Pattern, *pairs: Pair) -> list[Reading]:
    """What the meter shows of these pairs of a part that is wired like `of`."""
    ask = Expectations(of)
    out = []
    for pair in pairs:
        ohms = ask.of(pair).ohms
        on = METER.covering(ohms + 0.2) if ohms is not None else None
        step = on.resolution_ohms if on is not None else 0.0
        out.append(Reading(pair, round((ohms + 0.2) / step) * step if ohms and step else None))
    return out


def every(pattern: Pattern) -> list[Pair]:
    nodes = [*pattern.pins, "core"]
    return [Pair(a, b) for i, a in enumerate(nodes) for b in nodes[i + 1 :]]


def first(found: Explained) -> tuple[str, str]:
    return str(found.findings[0].fault), found.findings[0].where


def with_joint(pattern: Pattern, a: str, b: str, ohms: float) -> Pattern:
    joint = Winding("joint", a, b, ohms=ohms, tolerance_percent=1e-6)
    return replace(pattern, windings=(*pattern.windings, joint), checks=None, layout=None)


def moved(pattern: Pattern, joint: float | None) -> Pattern:
    """The shared ground lifted from the iron, or joined to it by so many ohms."""
    windings = tuple(replace(w, finish="point") for w in pattern.windings)
    lifted = replace(pattern, windings=windings, checks=None)
    return lifted if joint is None else with_joint(lifted, "point", "core", joint)


@pytest.mark.parametrize(("joint", "said"), [(None, "open-ground"), (8.0, "poor-ground"), (150.0, "poor-ground")])
def test_a_shared_ground_that_is_open_or_poor(joint: float | None, said: str) -> None:
    readings = shown(moved(SHARED_GROUND, joint), *every(SHARED_GROUND))
    found = explain_on_the_bench(SHARED_GROUND, METER, HELD, readings)
    assert first(found) == (said, "")
    assert found.findings[0].probability > 0.9
    if joint is not None:
        (ohms,) = found.findings[0].parameters
        assert ohms.low <= joint * 1.4
        assert ohms.high >= joint / 1.4


@pytest.mark.parametrize(("joint", "said"), [(None, "open-link"), (25.0, "poor-link")])
def test_a_link_that_is_open_or_poor(joint: float | None, said: str) -> None:
    wired = APART if joint is None else with_joint(APART, "P.2", "P.3", joint)
    found = explain_on_the_bench(LINKED, METER, HELD, shown(wired, *every(LINKED)))
    assert first(found) == (said, "loop")
    assert found.findings[0].probability > 0.9


def test_water_between_two_pins() -> None:
    wet = with_joint(APART, "P.2", "P.3", 18_000.0)
    found = explain_on_the_bench(APART, METER, HELD, shown(wet, *every(APART)))
    assert str(found.findings[0].fault) == "wet-plug"
    assert found.findings[0].where == "P.2|P.3"
    (ohms,) = found.findings[0].parameters
    assert ohms.low <= 18_000 <= ohms.high * 1.8


@pytest.mark.parametrize("factor", [1000.0, 10.0, 0.1])
def test_a_slip_of_one_reading(factor: float) -> None:
    readings = shown(APART, *every(APART))
    assert readings[0].ohms is not None
    readings[0] = Reading(readings[0].pair, readings[0].ohms * factor)
    found = explain_on_the_bench(APART, METER, HELD, readings)
    slip = next(f for f in found.findings if f.fault is BenchFault.SLIP)
    assert slip.where == "P.1|P.2"
    assert slip.parameters[0].value == pytest.approx(120.2, abs=0.2)
    assert slip.probability > 0.3
    assert first(found)[0] in ("slip", "resistive-lead", "unlisted", "shorted-turns")


THREE = part(
    "P:123456", ("one", "P.1", "P.2", 120.0, 10), ("two", "P.3", "P.4", 30.0, 10), ("three", "P.5", "P.6", 480.0, 10)
)
WOUND = [Pair("P.1", "P.2"), Pair("P.3", "P.4"), Pair("P.5", "P.6"), Pair("P.1", "core"), Pair("P.3", "core")]


def test_a_reading_with_the_probes_on_another_pair() -> None:
    readings = shown(THREE, *WOUND)
    readings[0] = Reading(readings[0].pair, readings[2].ohms)
    found = explain_on_the_bench(THREE, METER, HELD, readings)
    assert first(found) == ("elsewhere", "P.1|P.2")
    assert found.findings[0].probability > 0.5
    assert title_words(found.findings[0], THREE) == "1 – 2: probes on another pair"
    assert detail_words(found.findings[0], THREE) == "it fits 5 – 6"


def test_open_with_the_probes_on_any_of_the_pairs_that_nothing_joins() -> None:
    readings = shown(THREE, *WOUND)
    readings[0] = Reading(readings[0].pair, None)
    found = explain_on_the_bench(THREE, METER, HELD, readings)
    (stood,) = (f for f in found.findings if f.fault is BenchFault.ELSEWHERE and f.where == "P.1|P.2")
    assert detail_words(stood, THREE) == ""
    # beside a wire broken at P.1, by Bayes: both leave the other readings as on a sound part, and of the 20 other
    # pairs 18 read open
    lead = next(f for f in found.findings if (f.fault, f.where) == (Fault.OPEN_LEAD, "P.1"))
    eleven = explain(THREE, METER, HELD, readings)
    before = next(f for f in eleven.findings if (f.fault, f.where) == (Fault.OPEN_LEAD, "P.1")).probability
    kept = 1 - BENCH_PRIORS[BenchFault.SLIP] - BENCH_PRIORS[BenchFault.ELSEWHERE]
    rest = gather(METER, readings[1:])
    told = math.log(before) + eleven.log + math.log(kept)
    want = math.log(BENCH_PRIORS[BenchFault.ELSEWHERE] / 5 * 18 / 20) + _log(THREE, METER, HELD, rest) - told
    assert math.log(stood.probability / lead.probability) == pytest.approx(want)


def test_the_rest_of_the_sheet_tells_what_the_other_pair_should_read() -> None:
    # P.3 - P.4 was read as 33: were the probes of P.1 - P.2 there too, they read what it did and no other number
    readings = shown(THREE, *WOUND)
    readings[1] = Reading(WOUND[1], 33.0)

    def density(ohms: float) -> float:
        tries = taken_elsewhere(THREE, METER, HELD, [Reading(WOUND[0], ohms), *readings[1:]])[WOUND[0].unordered]
        return next(log for log, p in tries if p == WOUND[1])

    assert density(33.0) - density(31.0) > 10
    assert density(33.0) > max(density(32.5), density(33.5))
    # as a density it adds up to the rest's own likelihood
    step = METER.ranges[0].resolution_ohms
    whole = math.fsum(math.exp(density(33 + step * k)) * step for k in range(-80, 81))
    assert math.log(whole) == pytest.approx(_log(THREE, METER, HELD, gather(METER, readings[1:])), abs=0.02)


def test_a_pair_that_was_read_again_speaks_for_itself() -> None:
    readings = [*shown(THREE, *WOUND), Reading(WOUND[0], 480.2)]
    stood = taken_elsewhere(THREE, METER, HELD, readings)
    assert stood.keys() == {p.unordered for p in WOUND[1:]}


def test_with_nothing_read_the_odds_stay_as_they_are() -> None:
    often = {Fault.SOUND: 0.1, Fault.OPEN_LEAD: 0.9}
    found = explain_on_the_bench(SHARED_GROUND, METER, HELD, [], often)
    assert found.findings[0].fault is Fault.OPEN_LEAD
    assert found.findings == explain(SHARED_GROUND, METER, HELD, [], often).findings


def test_a_sound_part_is_not_asked_after_further() -> None:
    readings = shown(LINKED, *every(LINKED))
    found = explain_on_the_bench(LINKED, METER, HELD, readings)
    assert found.findings == explain(LINKED, METER, HELD, readings).findings
    assert first(found) == ("sound", "")


def test_the_shares_sum_to_one_and_the_elevens_odds_to_each_other_stay() -> None:
    readings = shown(LINKED, *every(LINKED))
    readings[0] = Reading(readings[0].pair, 60.1)
    few, more = (f(LINKED, METER, HELD, readings) for f in (explain, explain_on_the_bench))
    assert math.fsum(f.probability for f in more.findings) == pytest.approx(1)
    was = {(f.fault, f.where): f.probability for f in few.findings}
    now = {(f.fault, f.where): f.probability for f in more.findings if isinstance(f.fault, Fault)}
    scale = now[few.findings[0].fault, few.findings[0].where] / few.findings[0].probability
    assert now == pytest.approx({k: v * scale for k, v in was.items()})


def test_a_sound_parts_likelihood_is_that_of_the_whole_model() -> None:
    readings = shown(APART, Pair("P.1", "P.2"), Pair("P.3", "P.4"), Pair("P.1", "P.3"))
    whole = explain(APART, METER, HELD, readings)
    sound = whole.findings[0]
    assert sound.fault is Fault.SOUND
    # Bayes: p(sound | readings) = prior(sound) p(readings | sound) / p(readings)
    alone = _log(APART, METER, HELD, gather(METER, readings))
    assert sound.probability == pytest.approx(0.55 * math.exp(alone - whole.log), rel=1e-6)


def test_nine_pins_stay_within_what_a_bench_waits_for(monkeypatch: pytest.MonkeyPatch) -> None:
    """However many ways there are to have read it wrongly, so many are weighed and no more."""
    pins = "".join(str(n) for n in range(1, 10))
    windings = tuple((f"w{n}", f"P.{n}", f"P.{n + 1}", 50.0 + n, 10) for n in range(1, 9))
    pattern = part(f"P:{pins}", *windings)
    readings = shown(pattern, *every(pattern)[:30])
    readings[0] = Reading(readings[0].pair, 5.0)
    weighed: list[object] = []
    log = wiring._log

    def counted(*asked: Any) -> float:
        weighed.append(asked)
        return log(*asked)

    monkeypatch.setattr(wiring, "_log", counted)
    assert explain_on_the_bench(pattern, METER, HELD, readings).findings
    assert 60 < len(weighed) <= MOST_TRIED
    weighed.clear()
    monkeypatch.setattr(wiring, "MOST_TRIED", 60)
    assert explain_on_the_bench(pattern, METER, HELD, readings).findings
    assert len(weighed) == 60


def test_a_sound_part_reads_no_number_where_nothing_joins() -> None:
    readings = shown(APART, Pair("P.1", "P.2"))
    assert _log(APART, METER, HELD, gather(METER, [*readings, Reading(Pair("P.1", "core"), 55.0)])) == -math.inf
    assert _log(APART, METER, HELD, gather(METER, [*readings, Reading(Pair("P.1", "core"), None)])) > -math.inf
