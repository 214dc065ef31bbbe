"""Coils judged as they are wound: against wire and turns, against each other, by what the meter can tell; senses."""

from dataclasses import replace

import numpy as np
import pytest

from tests.rewind.orders import BLOCK, HEAVY_20
from tests.rewind.wounds import AT, FINE, FOUR_WIRES, HANDHELD, MEAN, TURNS, WIRE, body, coil, in_order, pattern, want
from workbench.rewind.coil import CoilOrder, plan_coil
from workbench.rewind.errors import RewindError
from workbench.rewind.layout import coils_of
from workbench.rewind.record import WHOLE, Body, PlanWork
from workbench.rewind.shelf import AsWas, Question, Spool
from workbench.rewind.substitute import substitutes
from workbench.rewind.wound import (
    ALIKE,
    AskedCoil,
    Compared,
    asked_coils,
    compared,
    expected,
    held,
    judge_coil,
    mean_turn,
    megohms_at_40,
    standing_out,
)
from workbench.rewind.woundrecord import (
    Bake,
    CoilReading,
    CoilWound,
    Done,
    Insulation,
    Spot,
    UsedMeter,
    Way,
    WoundStep,
    WoundWire,
    WoundWork,
)
from workbench.stator.verdict import Verdict

TURN = mean_turn(body(None))


# ---- what a coil should read


def test_a_coil_should_read_what_its_wire_and_turns_say() -> None:
    """IEC 60028's 1/58 ohm mm2/m on AWG 18's rounded 1.024 mm (ASTM B258), 3.2 m of it, half a percent stretched."""
    by_hand = (TURNS * MEAN + 300) / 1000 / 58 / (np.pi / 4 * 1.024**2) * 1.005
    assert want().ohms == pytest.approx(by_hand, rel=2e-3)
    assert want(80).ohms > 1.8 * want().ohms


def test_a_coil_reads_what_the_shelf_says_it_would() -> None:
    """`substitutes` reckons without stretch."""
    was = AsWas(WIRE.wire, TURNS, MEAN)
    (found,) = substitutes(Question(was, (Spool("s", WIRE.wire, 1e4),), strands=(1,))).nearest
    assert want().ohms == pytest.approx(found.ohms * 1.005, rel=1e-9)


def test_the_plans_mean_turn_goes_before_the_old_coils() -> None:
    planned = plan_coil(CoilOrder(HEAVY_20, 24, BLOCK))
    work = PlanWork.of(planned, 4, 1)
    both = replace(body(None), plan=work)
    turn = mean_turn(both)
    assert turn is not None
    assert (turn.mm, turn.u_mm) == pytest.approx((planned.mean_turn_mm, planned.mean_turn_u_mm))
    found = expected(CoilWound(Spot(1), 24, WoundWire(HEAVY_20)), turn)
    assert found is not None
    assert (found.ohms, found.u) == pytest.approx((planned.ohms_20, planned.u))
    assert mean_turn(Body()) is None


@pytest.mark.parametrize("missing", [{"turns": None}, {"wire": None}])
def test_without_turns_or_wire_nothing_is_judged(missing: dict[str, None]) -> None:
    judged = judge_coil(replace(coil(1), **missing), TURN)
    assert (judged.expected, judged.decision) == (None, None)
    assert judged.corrected is not None
    assert judge_coil(coil(1), None).decision is None


# ---- the meter


@pytest.mark.parametrize(
    ("on", "times", "verdict"),
    [
        (FINE, 1.0, Verdict.INSIDE), (FINE, 0.9, Verdict.OUTSIDE), (FINE, 1.1, Verdict.OUTSIDE),
        (FOUR_WIRES, 1.0, Verdict.INSIDE), (FOUR_WIRES, 0.9, Verdict.OUTSIDE),
        (HANDHELD, 1.0, Verdict.CONTINUOUS),  # a tenth of an ohm is its last digit
    ],
)  # fmt: skip
def test_a_coil_is_judged_where_the_meter_can(on: UsedMeter, times: float, verdict: Verdict) -> None:
    judged = judge_coil(coil(1, times, on), TURN)
    assert judged.decision is not None
    assert judged.decision.verdict is verdict


def test_leads_and_warmth_are_taken_off() -> None:
    on = replace(FINE, lead_ohms=0.15)
    warm = judge_coil(coil(1, on=on, celsius=60.0), TURN)
    assert warm.corrected is not None
    assert warm.corrected.ohms == pytest.approx(want().ohms, rel=1e-9)
    assert warm.decision is not None
    assert warm.decision.verdict is Verdict.INSIDE


def test_how_many_missing_turns_the_meter_sees() -> None:
    fine, coarse = judge_coil(coil(1), TURN), judge_coil(coil(1, on=HANDHELD), TURN)
    assert fine.seen_turns == 2  # the band's 4 % of 40
    assert coarse.seen_turns is None
    lacking = coil(1, 1 - (fine.seen_turns + 0.1) / TURNS)
    decision = judge_coil(lacking, TURN).decision
    assert decision is not None
    assert decision.verdict is Verdict.OUTSIDE


def test_an_overload_is_open_only_where_the_meter_reaches_the_coil() -> None:
    def over(on: UsedMeter) -> Verdict | None:
        judged = judge_coil(replace(coil(1), reading=CoilReading(None, 20.0, 0.0, on)), TURN)
        return judged.decision.verdict if judged.decision else None

    assert over(HANDHELD) is Verdict.OUTSIDE
    short = replace(FINE, meter=replace(FINE.meter, open_above_ohms=0.5 * want().ohms))
    assert over(short) is Verdict.UNDECIDED


# ---- coils against each other


def test_one_that_lacks_a_turn_stands_out() -> None:
    coils = [coil(t, 1 + 0.001 * t) for t in range(1, 9)]
    assert standing_out([judge_coil(c, TURN) for c in coils]) == ()
    coils[4] = coil(5, 1.005 * (1 - 2 / TURNS))
    (one,) = standing_out([judge_coil(c, TURN) for c in coils])
    assert one.spot == Spot(5)
    assert one.turns == pytest.approx(-2, abs=0.2)


def test_two_that_stand_out_are_both_named_the_further_first() -> None:
    times = {3: 0.9, 7: 0.8}
    judged = [judge_coil(coil(t, times.get(t, 1.0)), TURN) for t in range(1, 13)]
    assert [a.spot.tooth for a in standing_out(judged)] == [7, 3]


def test_fewer_than_half_stand_out() -> None:
    judged = [judge_coil(coil(t, 0.8 if t % 2 else 1.0), TURN) for t in range(1, 9)]
    assert len(standing_out(judged)) <= 3


def test_of_two_that_differ_neither_stands_out() -> None:
    assert standing_out([judge_coil(coil(t, 1 - 0.2 * t), TURN) for t in (1, 2)]) == ()


def test_what_the_meter_can_not_tell_apart_stands_not_out() -> None:
    judged = [judge_coil(coil(t, 0.7 if t == 4 else 1.0, HANDHELD), TURN) for t in range(1, 13)]
    assert standing_out(judged) == ()


def test_a_gain_that_all_share_hides_no_missing_turn() -> None:
    """A meter a tenth off in gain reads them all a tenth off: the band is lost, the comparison is not."""
    ranges = (replace(FINE.meter.ranges[0], percent=10.0),)
    on = replace(FINE, meter=replace(FINE.meter, ranges=ranges))
    judged = [judge_coil(coil(t, 0.95 if t == 4 else 1.0, on), TURN) for t in range(1, 9)]
    assert [a.spot.tooth for a in standing_out(judged)] == [4]
    assert judged[3].decision is not None
    assert judged[3].decision.verdict is Verdict.CONTINUOUS


def test_turns_that_were_counted_are_allowed_for() -> None:
    judged = [judge_coil(coil(t, turns=50 if t == 4 else TURNS), TURN) for t in range(1, 9)]
    assert standing_out(judged) == ()


def test_chance_alone_seldom_stands_out() -> None:
    """Sets of twelve that differ as they may: simulated, seeded."""
    rng = np.random.default_rng(36)
    named = 0
    for _ in range(300):
        times = 1 + rng.uniform(-ALIKE, ALIKE, 12)
        named += bool(standing_out([judge_coil(coil(t, times[t - 1]), TURN) for t in range(1, 13)]))
    assert named <= 3


# ---- senses


@pytest.mark.parametrize(
    ("sense", "way", "said"),
    [
        (1, Way.CLOCKWISE, Compared.AGREES), (1, Way.ANTICLOCKWISE, Compared.DIFFERS),
        # current that is seen to go round clockwise makes a south pole of the face that is seen: right-hand rule
        (1, Way.SOUTH, Compared.AGREES), (1, Way.NORTH, Compared.DIFFERS),
        (-1, Way.NORTH, Compared.AGREES), (-1, Way.SOUTH, Compared.DIFFERS),
        (-1, Way.ANTICLOCKWISE, Compared.AGREES), (-1, None, Compared.UNTESTED), (None, Way.NORTH, Compared.NOTHING),
    ],
)  # fmt: skip
def test_a_sense_is_held_against_what_was_laid(sense: int | None, way: Way | None, said: Compared) -> None:
    assert compared(AskedCoil(Spot(1), 1, sense), way) is said


def test_coils_are_asked_for_as_laid_else_as_the_pattern_has_them() -> None:
    wye = pattern()
    laid = body(None).laid
    assert laid is not None
    assert [c.spot.tooth for c in asked_coils(wye, WHOLE, body(None))] == [c.tooth for c in laid.coils]
    by_pattern = asked_coils(wye, WHOLE, Body())
    assert [(c.spot.tooth, c.phase) for c in by_pattern[:5]] == [(1, 1), (4, 1), (7, 1), (10, 1), (2, 2)]
    assert wye.layout is not None
    assert len(by_pattern) == len(coils_of(wye.layout, ("phase 1", "phase 2", "phase 3")))
    bare = replace(wye, layout=None)
    assert asked_coils(bare, "phase 2", Body()) == (AskedCoil(Spot(0), 1, None),)
    assert [c.spot for c in asked_coils(bare, WHOLE, Body())] == [Spot(0, 0), Spot(0, 1), Spot(0, 2)]


def test_coils_beside_the_ring_are_asked_for_with_their_senses() -> None:
    beside = pattern("two pulsers on a common ground")
    assert beside.layout is not None
    one = next(c for c in beside.layout.coils if c.tooth is None)
    two = tuple(replace(one, sense=s, beside_degrees=d) for s, d in ((1, 90.0), (-1, 270.0)))
    both = replace(beside, layout=replace(beside.layout, coils=two))
    assert asked_coils(both, one.winding, Body()) == (AskedCoil(Spot(0, 0), 1, 1), AskedCoil(Spot(0, 1), 1, -1))


# ---- insulation


def test_insulation_is_taken_to_40_degrees() -> None:
    """500 megohm at 25 C are 177 at 40 by the halving rule, as a published example has it."""
    assert megohms_at_40(Insulation(500, 500, 25)) == pytest.approx(176.78, abs=0.01)
    assert (held(Insulation(500, 500, 25)), held(Insulation(500, 1, 20)), held(Insulation(500, 10, 20))) == (
        True, False, None
    )  # fmt: skip


# ---- what can't be


@pytest.mark.parametrize(
    ("make", "field"),
    [
        (lambda: Bake(300, 60), "celsius"),
        (lambda: Bake(120, 0), "minutes"),
        (lambda: Insulation(1000, 5, 20), "volts"),
        (lambda: Insulation(500, -1, 20), "megohms"),
        (lambda: WoundWork(varnish_lot="x" * 61), "varnish_lot"),
        (lambda: WoundWork(done=(Done(WoundStep.WIND, AT),)), "done"),
        (lambda: WoundWork(coils=(coil(1), coil(1))), "coils[1].spot"),
        (lambda: Done(WoundStep.LINER, AT.replace(tzinfo=None)), "at"),
        (lambda: coil(1, 1e5), "ohms"),
        (lambda: coil(1, -1), "ohms"),
        (lambda: coil(1, turns=0), "turns"),
        (lambda: replace(in_order(), sense=in_order().sense * 2), "sense[12].spot"),
    ],
)
def test_what_can_not_be_is_refused(make: object, field: str) -> None:
    with pytest.raises(RewindError) as refused:
        make()  # type: ignore[operator]
    assert refused.value.field == field


def test_steps_go_on_from_the_last() -> None:
    assert WoundWork().next_step is WoundStep.LINER
    assert in_order().next_step is None
