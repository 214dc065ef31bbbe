"""What the shelf offers instead, by cases worked by hand, and how it is ranked."""

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbench.rewind.errors import RewindError
from workbench.rewind.shelf import AsWas, Duty, Question, Spool
from workbench.rewind.substitute import Caution, Ranking, Substitute, substitutes
from workbench.rewind.tables import Span
from workbench.rewind.wire import Build, Wire, awg, measured, metric

# bare wire of 1 mm and 2 mm2, so that ohms, areas and grams can be done by hand
ONE_MM2 = Wire(measured(2 / math.sqrt(math.pi)), Span(high=1.2))
HALF_MM2 = Wire(measured(math.sqrt(2 / math.pi)), Span(high=0.85))
PLENTY = Spool("plenty", ONE_MM2, 5000)
HALF = Spool("half", HALF_MM2, 5000)
# 58 m of 1 mm2 is 1 ohm: 580 turns of 100 mm
WAS = AsWas(ONE_MM2, 580, 100)
BARE = Question(WAS, (PLENTY, HALF), tails_mm=0, spare=0)
DUTY = Duty(1200, 6000, poles=10, henries=0.01, volts_per_krpm=20)


def only(q: Question) -> Substitute:
    (s,) = substitutes(q).nearest
    return s


def named(r: Ranking, spool: str, strands: int = 1, turns: int = 580) -> Substitute:
    return next(
        s for s in r.nearest if s.spools == (spool,) and (s.wire.strands, s.turns) == (strands, turns)
    )  # fmt: skip


def test_the_same_wire_changes_nothing() -> None:
    s = named(substitutes(replace(BARE, duty=DUTY)), "plenty")
    assert s.ohms == pytest.approx(1)
    ratios = (s.ohms_ratio, s.area_ratio, s.fill_ratio, s.volts_ratio, s.henries_ratio, s.short_circuit_ratio)
    assert ratios == pytest.approx((1,) * 6)
    assert s.idle is not None
    assert s.working is not None
    assert (s.idle.ratio, s.working.ratio, s.working.density_ratio) == pytest.approx((1, 1, 1))
    assert s.copper_grams == pytest.approx(58 * 8.89)


def test_two_of_half_the_copper_in_hand_are_one_but_for_their_enamel() -> None:
    s = named(substitutes(replace(BARE, as_was=replace(WAS, window_mm2=2000.0))), "half", 2)
    assert (s.ohms, s.ohms_ratio, s.copper_grams) == pytest.approx((1, 1, 58 * 8.89))
    # 2 x 0.85^2 to 1.2^2; 580 turns of pi/2 x 0.85^2 mm2 in 2000
    assert s.fill_ratio == pytest.approx(1.445 / 1.44)
    assert s.fill == pytest.approx(580 * math.pi / 2 * 0.7225 / 2000)
    assert Caution.STRANDS_TOGETHER in s.cautions


def test_half_the_copper_doubles_the_ohms_and_says_that_it_runs_hotter() -> None:
    s = named(substitutes(BARE), "half")
    assert (s.ohms, s.area_ratio) == pytest.approx((2, 0.5))
    assert Caution.HOTTER in s.cautions
    assert Caution.STRANDS_TOGETHER not in s.cautions
    assert Caution.HOTTER not in named(substitutes(BARE), "half", 2).cautions


def test_what_is_hotter_at_either_speed_is_hotter() -> None:
    """Half the copper, 2 ohm for 1: half the current at a crawl, and so as many amperes to the mm2; fast, where
    reactance rules, the same current, and so twice.
    """
    s = named(substitutes(replace(BARE, duty=replace(DUTY, idle_rpm=1, henries=0.1))), "half")
    assert s.idle is not None
    assert s.working is not None
    assert (s.idle.ratio, s.working.ratio) == pytest.approx((0.5, 1), abs=2e-3)
    assert (s.idle.density_ratio, s.working.density_ratio) == pytest.approx((1, 2), abs=4e-3)
    assert Caution.HOTTER in s.cautions


def test_changed_turns_change_volts_by_themselves_and_inductance_by_their_square() -> None:
    s = only(replace(BARE, spools=(PLENTY,), strands=(1,), turns=(870,)))
    assert (s.volts_ratio, s.henries_ratio, s.short_circuit_ratio, s.ohms) == pytest.approx((1.5, 2.25, 2 / 3, 1.5))


def test_current_at_idle_and_at_working_speed() -> None:
    """50 Hz and 500 Hz of 10 poles at 600 and 6000 rpm; E/(R + R_load + jwL), put together as complex numbers."""
    duty = Duty(600, 6000, poles=10, henries=0.01, volts_per_krpm=20, load_ohms=2)
    s = only(replace(BARE, spools=(PLENTY,), strands=(1,), turns=(870,), duty=duty))
    for running, volts, hertz in ((s.idle, 12, 50), (s.working, 120, 500)):
        assert running is not None
        was = abs(volts / complex(1 + 2, 2 * math.pi * hertz * 0.01))
        now = abs(1.5 * volts / complex(1.5 + 2, 2 * math.pi * hertz * 0.0225))
        assert running.amps == pytest.approx(now)
        assert running.amps_per_mm2 == pytest.approx(now)
        assert running.ratio == pytest.approx(now / was)
        assert running.density_ratio == pytest.approx(now / was)


def test_warm_copper_counts() -> None:
    """(234.5 + 120)/(234.5 + 20) on 1 ohm."""
    s = named(substitutes(replace(BARE, duty=Duty(1200, 6000, celsius=120))), "plenty")
    assert s.ohms == pytest.approx(354.5 / 254.5)


def test_coils_in_series_and_groups_side_by_side() -> None:
    """Six coils of 1 ohm: 6 ohm in series; two groups of three are 1.5, and each carries half."""
    six = replace(BARE, spools=(PLENTY,), strands=(1,), duty=DUTY)
    series = only(replace(six, as_was=replace(WAS, coils=6)))
    groups = only(replace(six, as_was=replace(WAS, coils=6, paths=2)))
    assert (series.ohms, groups.ohms) == pytest.approx((6, 1.5))
    assert series.copper_grams == pytest.approx(6 * 58 * 8.89)
    assert groups.idle is not None
    assert groups.idle.amps is not None
    assert groups.idle.amps_per_mm2 == pytest.approx(groups.idle.amps / 2)


def test_leads_and_spare_are_counted() -> None:
    s = only(replace(BARE, spools=(PLENTY,), strands=(1,), tails_mm=5800, spare=0.1))
    assert s.ohms == pytest.approx(1.1)
    assert s.copper_grams == pytest.approx(63.8 * 8.89)
    # an enamel ring of pi/4 x 1.2^2 less 1 mm2, at 1.4 g/cm3
    enamel = 63.8 * 1.4 * (math.pi / 4 * 1.44 - 1)
    assert s.grams_needed == pytest.approx(1.1 * (63.8 * 8.89 + enamel))


def test_more_turns_give_more_slow_and_less_fast() -> None:
    """A load of 10 ohm, that hides the ohms of the winding."""
    loaded = replace(DUTY, idle_rpm=50, load_ohms=10)
    r = substitutes(replace(BARE, spools=(PLENTY,), strands=(1,), turns=(400, 580, 800), duty=loaded))
    assert r.at_idle is not None
    assert r.at_working is not None
    assert [r.nearest[i].turns for i in r.at_idle] == [800, 580, 400]
    assert [r.nearest[i].turns for i in r.at_working] == [400, 580, 800]


@given(st.integers(200, 1500), st.floats(0, 5))
def test_short_circuit_current_tends_to_one_over_turns(turns: int, load: float) -> None:
    fast = Duty(1000, 1e5, poles=20, henries=0.5, load_ohms=load)
    s = only(replace(BARE, spools=(PLENTY,), strands=(1,), turns=(turns,), duty=fast))
    assert s.working is not None
    assert s.working.ratio == pytest.approx(s.short_circuit_ratio, rel=1e-4)


@given(st.lists(st.integers(300, 1200), min_size=2, max_size=8, unique=True), st.floats(0.0001, 0.1))
def test_ranks_go_by_current_and_nearest_by_the_larger_change(turns: list[int], henries: float) -> None:
    duty = replace(DUTY, henries=henries, load_ohms=3)
    r = substitutes(replace(BARE, turns=tuple(turns), duty=duty))
    assert r.why_not is None
    assert r.at_idle is not None
    assert r.at_working is not None
    for rank, at in ((r.at_idle, "idle"), (r.at_working, "working")):
        ratios = [getattr(r.nearest[i], at).ratio for i in rank]
        assert ratios == sorted(ratios, reverse=True)
    assert sorted(r.at_idle) == sorted(r.at_working) == [i for i, s in enumerate(r.nearest) if s.usable]

    def change(s: Substitute) -> float:
        assert s.idle is not None
        assert s.working is not None
        return max(abs(math.log(s.idle.ratio)), abs(math.log(s.working.ratio)))

    changes = [change(s) for s in r.nearest]
    assert changes == pytest.approx(sorted(changes), abs=1e-8)


@pytest.mark.parametrize(
    ("duty", "words"),
    [
        (None, "without idle and working speed, poles and inductance"),
        (replace(DUTY, henries=None), "without inductance"),
        (replace(DUTY, poles=None), "without the poles"),
    ],
)
def test_without_inductance_or_poles_current_is_not_ranked_but_ohms_are(duty: Duty | None, words: str) -> None:
    r = substitutes(replace(BARE, duty=duty))
    assert r.why_not is not None
    assert words in r.why_not
    assert (r.at_idle, r.at_working) == (None, None)
    assert all((s.idle, s.working) == (None, None) for s in r.nearest)
    # the same wire, two of half in hand, then what changes the ohms by 1.5 and by 2
    order = [(s.spools[0], s.wire.strands) for s in r.nearest]
    assert order[:3] == [("plenty", 1), ("half", 2), ("half", 3)]
    assert set(order[3:]) == {("plenty", 2), ("half", 1)}


def test_without_volts_currents_are_compared_all_the_same() -> None:
    s = named(substitutes(replace(BARE, duty=replace(DUTY, volts_per_krpm=None))), "half")
    assert s.idle is not None
    assert (s.idle.amps, s.idle.amps_per_mm2) == (None, None)
    assert s.idle.ratio < 1


# ---- the shelf


def test_a_spool_that_would_run_out_is_said_and_comes_after_what_is_enough() -> None:
    grams = only(replace(BARE, spools=(PLENTY,), strands=(1,))).grams_needed
    r = substitutes(replace(BARE, spools=(Spool("rest", ONE_MM2, grams - 1), HALF), strands=(1,), duty=DUTY))
    assert [s.spools for s in r.nearest] == [("half",), ("rest",)]
    assert r.at_idle == (0,)
    assert Caution.RUNS_OUT in r.nearest[1].cautions
    assert r.nearest[1].short_grams == pytest.approx(grams)
    enough = only(replace(BARE, spools=(Spool("rest", ONE_MM2, grams),), strands=(1,)))
    assert (enough.short_grams, enough.usable) == (0, True)


def test_each_strand_in_hand_takes_its_own_wire() -> None:
    """58 m of 0.5 mm2 and its enamel, a ring of pi/4 x 0.85^2 less 0.5 mm2 at 1.4 g/cm3: twice of two in hand."""
    strand = 58 * (0.5 * 8.89 + 1.4 * (math.pi / 4 * 0.7225 - 0.5))
    two = replace(BARE, strands=(2,))
    assert only(replace(two, spools=(HALF,))).grams_needed == pytest.approx(2 * strand)
    s = only(replace(two, spools=(Spool("rest", HALF_MM2, 1.5 * strand),)))
    assert s.short_grams == pytest.approx(strand)


def test_spools_of_one_wire_count_together_but_a_coil_is_of_one_piece() -> None:
    one = only(replace(BARE, spools=(PLENTY,), strands=(1,))).grams_needed
    three = replace(BARE, as_was=replace(WAS, coils=3), strands=(1,))
    s = only(replace(three, spools=(Spool("a", ONE_MM2, 2.5 * one), Spool("b", ONE_MM2, 1.2 * one))))
    assert s.spools == ("a", "b")
    assert s.grams_left == pytest.approx(3.7 * one)
    assert s.short_grams == 0
    s = only(replace(three, spools=(Spool("a", ONE_MM2, 2.5 * one), Spool("b", ONE_MM2, 0.9 * one))))
    assert s.grams_left > s.grams_needed
    assert s.short_grams == pytest.approx(one)


def test_what_overfills_says_how_many_turns_go_in() -> None:
    """1.2 mm over the enamel, 0.50 of 1000 mm2: 442.1 turns."""
    s = only(replace(BARE, as_was=replace(WAS, window_mm2=1000.0), spools=(PLENTY,), strands=(1,)))
    assert s.turns_fitting == 442
    assert Caution.OVERFILLED in s.cautions
    assert not s.usable
    fits = only(replace(BARE, as_was=replace(WAS, window_mm2=1000.0), spools=(PLENTY,), strands=(1,), turns=(442,)))
    assert fits.usable


def test_without_a_window_fill_is_only_compared() -> None:
    s = named(substitutes(BARE), "plenty")
    assert (s.fill, s.turns_fitting) == (None, None)
    assert Caution.FILL_UNKNOWN in s.cautions


def test_metric_for_awg_and_two_of_three_sizes_finer() -> None:
    """32.0 and 22.6 mil of ASTM B258, and 0.8 mm: (0.8/0.8128)^2, 2 x (22.6/32)^2."""
    was = AsWas(Wire.of(awg(20), Build.HEAVY), 100, 80)
    spools = (
        Spool("metric", Wire.of(metric(0.8), Build.GRADE_2), 500),
        Spool("finer", Wire.of(awg(23), Build.HEAVY), 500),
    )
    r = substitutes(Question(was, spools))
    metric_one = named(r, "metric", 1, 100)
    assert metric_one.area_ratio == pytest.approx((0.8 / 0.8128) ** 2)
    assert named(r, "finer", 2, 100).area_ratio == pytest.approx(2 * (22.6 / 32) ** 2)
    assert r.nearest[0].spools == ("finer",)


def test_three_in_hand_of_half_a_millimetre() -> None:
    """20 m of 3 x 0.50 mm is 0.58540 ohm: IEC 60028's copper, by the formula."""
    was = AsWas(Wire.of(metric(0.9), Build.GRADE_1), 200, 100)
    spool = Spool("half", Wire.of(metric(0.5), Build.GRADE_1), 1000)
    s = only(Question(was, (spool,), tails_mm=0, strands=(3,)))
    assert s.ohms == pytest.approx(0.58540, abs=5e-6)
    assert s.ohms_ratio == pytest.approx(0.81 / 0.75)


# ---- what is refused


def test_a_shelf_with_nothing_near_is_refused_with_what_to_do() -> None:
    thin = Spool("thin", Wire.of(awg(36), Build.SINGLE), 100)
    with pytest.raises(RewindError, match=r"nothing on the shelf.*more strands, or order wire") as refused:
        substitutes(replace(BARE, spools=(thin,)))
    assert refused.value.field == "spools"


REFUSED = {
    "no spools": (lambda: replace(BARE, spools=()), "spools", "from 1 to 200"),
    "too many spools": (lambda: replace(BARE, spools=(HALF,) * 201), "spools", "not 201"),
    "no turns": (lambda: replace(BARE, turns=(100, 0)), "turns[1]", "from 1 to 30,000"),
    "too many turns": (lambda: replace(BARE, turns=tuple(range(1, 10))), "turns", "at most 8"),
    "no strands": (lambda: replace(BARE, strands=()), "strands", "from 1 to 8"),
    "too many strands": (lambda: replace(BARE, strands=(1, 33)), "strands[1]", "from 1 to 32"),
    "no fill": (lambda: replace(BARE, most_fill=1.0), "most_fill", "0.05 to 0.907"),
    "spare": (lambda: replace(BARE, spare=-0.1), "spare", "from 0 to 1"),
    "tails": (lambda: replace(BARE, tails_mm=-1), "tails_mm", "from 0"),
    "two on a spool": (lambda: Spool("x", replace(HALF_MM2, strands=2), 1), "wire", "single wire"),
    "less than nothing": (lambda: Spool("x", HALF_MM2, -1), "grams", "from 0"),
    "was without turns": (lambda: replace(WAS, turns=0), "turns", "from 1"),
    "no mean turn": (lambda: replace(WAS, mean_turn_mm=0), "mean_turn_mm", "from 1 to 10000"),
    "no coils": (lambda: replace(WAS, coils=0), "coils", "from 1"),
    "more paths than coils": (lambda: replace(WAS, coils=2, paths=3), "paths", "from 1 to 2"),
    "uneven paths": (lambda: replace(WAS, coils=5, paths=2), "paths", "can't be dealt into 2"),
    "no window": (lambda: replace(WAS, window_mm2=0.0), "window_mm2", "from 0.01"),
    "no idle": (lambda: replace(DUTY, idle_rpm=0), "idle_rpm", "from 1"),
    "slower than idle": (lambda: replace(DUTY, working_rpm=1000), "working_rpm", "from 1200"),
    "odd poles": (lambda: replace(DUTY, poles=7), "poles", "even number"),
    "no henries": (lambda: replace(DUTY, henries=0.0), "henries", "from 1e-09"),
    "no volts": (lambda: replace(DUTY, volts_per_krpm=0.0), "volts_per_krpm", "from 1e-06"),
    "load": (lambda: replace(DUTY, load_ohms=math.nan), "load_ohms", "from 0"),
    "too hot": (lambda: replace(DUTY, celsius=301), "celsius", "from -60 to 300"),
}  # fmt: skip


@pytest.mark.parametrize("case", REFUSED)
def test_a_question_that_cannot_be_meant_is_refused_by_its_field(case: str) -> None:
    ask, field, words = REFUSED[case]
    with pytest.raises(RewindError, match=words) as refused:
        ask()
    assert refused.value.field == field
