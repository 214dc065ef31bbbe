"""A coil in its window: hand-worked ones, any one, and those that don't fit."""

import dataclasses
import math

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from tests.rewind.orders import BLOCK, HEAVY_20, LININGS, MANNERS, NOTHING, RING, ROUND, WIRES, cores, on_block
from workbench.rewind.coil import (
    Allowances,
    Caution,
    CoilOrder,
    CoilPlan,
    Fills,
    Fit,
    Manner,
    Room,
    mean_turn_mm,
    plan_coil,
)
from workbench.rewind.errors import MisfitError, RewindError
from workbench.rewind.rows import Lay, counted, rows
from workbench.rewind.tables import Span
from workbench.rewind.window import Core, Lining, Window, window_of
from workbench.rewind.wire import Build, Wire, area_mm2, awg, metric
from workbench.stator.layout import Facing


def test_a_block_full_of_square_stacked_wire() -> None:
    """20 x 5 mm and 1 mm wire: five layers of twenty. Nested, 20 + 19 + 20 + 19 + 20 lie 1 + 4 sqrt 0.75 mm high."""
    plan = plan_coil(on_block(100))
    assert plan.turns_per_layer == (20, 20, 20, 20, 20)
    assert (plan.fit, plan.nested) == (Fit.SQUARE, None)
    assert (plan.fits_low, plan.fits_high) == (98, 100)
    assert plan.build_mm == pytest.approx(5)
    assert plan.fill == pytest.approx(math.pi / 4)
    nested = plan_coil(on_block(98)).nested
    assert nested is not None
    assert [r.wires for r in nested.rows] == [20, 19, 20, 19, 20]
    assert nested.build_mm == pytest.approx(1 + 4 * math.sqrt(0.75))


def test_layers_are_wound_there_and_back() -> None:
    plan = plan_coil(on_block(45))
    first, second, third = plan.section.rows
    assert first.x_mm[:2] == pytest.approx((0.5, 1.5))
    assert second.x_mm[:2] == pytest.approx((19.5, 18.5))
    assert third.x_mm == pytest.approx((0.5, 1.5, 2.5, 3.5, 4.5))
    assert [r.y_mm for r in plan.section.rows] == pytest.approx([0.5, 1.5, 2.5])


def test_the_mean_turn_of_layers_all_alike() -> None:
    """2(w + h) + pi b = 75.7080 mm for 10, 20 and 5 mm: computed, the convention of corners rounded about the tooth.

    With sheets between the layers nothing nests, so that the plan has no other bound: 5.2 mm of build here.
    """
    assert mean_turn_mm(10, 20, 5) == pytest.approx(75.7080, abs=5e-5)
    deep = Core(Facing.STRAIGHT, 10, 20, 0, 20, gap_mm=10.4)
    plan = plan_coil(CoilOrder(ROUND, 100, deep, between_mm=0.05, allowances=NOTHING))
    assert plan.build_mm == pytest.approx(5.2)
    assert plan.mean_turn_mm == pytest.approx(60 + 5.2 * math.pi)
    assert plan.mean_turn_u_mm == pytest.approx(0, abs=1e-12)
    # 1/58 ohm mm2/m and 8.89 g/cm3: IEC 60028, by secondary reprint
    metres = 0.1 * (60 + 5.2 * math.pi)
    assert plan.metres == pytest.approx(metres)
    assert plan.ohms_20 == pytest.approx(metres / 58 / (math.pi / 4 * 0.81))
    assert plan.copper_grams == pytest.approx(metres * math.pi / 4 * 0.81 * 8.89)


def test_one_layer_is_exact() -> None:
    """25 m of AWG 18 (40.3 mil) are 0.52377 ohm and 182.90 g: computed from IEC 60028's constants."""
    wire = Wire.of(awg(18), Build.SINGLE)
    plan = plan_coil(
        on_block(10, wire, allowances=Allowances(0, 0, 25000 - 10 * (60 + math.pi * wire.placing_mm), 0, 0))
    )
    assert plan.metres == pytest.approx(25)
    assert plan.ohms_20 == pytest.approx(0.52377, abs=5e-6)
    assert plan.copper_grams == pytest.approx(182.90, abs=5e-3)


def test_lining_bulge_stretch_tails_and_spare_each_add_their_own() -> None:
    bare = plan_coil(on_block(10))
    lined = plan_coil(on_block(10, lining=Lining(0.25, 0.5)))
    assert lined.mean_turn_mm - bare.mean_turn_mm == pytest.approx(4 * 0.25 + 4 * 0.5)
    bulged = plan_coil(on_block(10, allowances=Allowances(0.1, 0, 0, 0, 0)))
    assert bulged.mean_turn_mm - bare.mean_turn_mm == pytest.approx(math.pi * 0.1)
    tailed = plan_coil(on_block(10, allowances=Allowances(0, 0, 250, 0, 0)))
    assert tailed.metres - bare.metres == pytest.approx(0.25)
    stretched = plan_coil(on_block(10, allowances=Allowances(0, 0.01, 0, 0, 0)))
    assert stretched.ohms_20 == pytest.approx(1.01 * bare.ohms_20)
    assert stretched.copper_grams == pytest.approx(bare.copper_grams / 1.01)
    spared = plan_coil(on_block(10, allowances=Allowances(0, 0, 0, 0.2, 0)))
    assert spared.buy_grams == pytest.approx(1.2 * bare.copper_grams)
    assert spared.buy_enamelled_grams > spared.buy_grams


def test_the_band_of_the_ohms() -> None:
    """Rectangular parts a / sqrt 3, in quadrature, k = 2 (JCGM 100, 4.3.7): 0.3 of 32.0 mil twice over, 0.5 % of
    stretch; of the mean turn, bulge and the tooth's own measures.
    """
    allow = Allowances(bulge=0.1, stretch=0.005, tails_mm=0, core_u_mm=0.2)
    plan = plan_coil(on_block(10, HEAVY_20, allowances=allow))
    wire, stretch = 2 * (0.3 / 32.0) / math.sqrt(3), 0.005 / math.sqrt(3)
    turn = math.hypot(2 * math.sqrt(2) * 0.2, math.pi * HEAVY_20.placing_mm * 0.1 / math.sqrt(3))
    assert plan.mean_turn_u_mm == pytest.approx(turn)
    assert plan.u == pytest.approx(math.hypot(wire, stretch, turn / plan.mean_turn_mm), rel=1e-6)
    at_20, warm = plan.ohms_at(20), plan.ohms_at(75)
    assert (at_20.low, at_20.high) == (
        pytest.approx(plan.ohms_20 * (1 - 2 * plan.u)),
        pytest.approx(plan.ohms_20 * (1 + 2 * plan.u)),
    )
    # 1.21611 from 20 to 75 C: k = 234.5, IEC 60228, by secondary reprint
    assert warm.nominal / at_20.nominal == pytest.approx(1.21611, rel=1e-5)


def test_a_scramble_coil_goes_by_fill() -> None:
    """Half of 100 mm2 is 63.66 wires of 1 mm; each 10 of them build 15.7 mm2 over 20 mm."""
    plan = plan_coil(on_block(63, manner=Manner.SCRAMBLE))
    assert (plan.fit, plan.fits_low, plan.fits_high) == (Fit.FILL, 63, 63)
    assert plan.build_mm == pytest.approx(63 * math.pi / 4 / 0.5 / 20, rel=1e-6)
    assert plan.mean_turn_mm == pytest.approx(60 + math.pi * plan.build_mm, rel=1e-6)
    assert counted(plan.section.rows) == 63
    with pytest.raises(MisfitError) as missed:
        plan_coil(on_block(65, manner=Manner.SCRAMBLE))
    assert (missed.value.turns, missed.value.fitting) == (2, 63)
    assert missed.value.mm == pytest.approx(65 * math.pi / 4 / 0.5 / 20 - 5, abs=1e-5)
    # a shop's own figure takes its place
    assert plan_coil(on_block(65, manner=Manner.SCRAMBLE, fills=Fills(scramble=0.55))).fits_low == 70


def test_fill_over_enamel_at_the_two_bounds() -> None:
    """0.74274 and 0.64323 of copper for 0.80 mm in 0.884 mm (IEC 60317-0-1 grade 2, secondary), of pi / (2 sqrt 3) and
    pi / 4: computed. No coil reaches the first.
    """
    wire = Wire.of(metric(0.8), Build.GRADE_2)
    side = 60 * wire.placing_mm
    window = Window(((0, 0), (side, 0), (side, side), (0, side)))
    copper = {lay: counted(rows(window, wire.placing_mm, lay)) * wire.gauge.area_mm2 / side**2 for lay in Lay}
    assert copper[Lay.SQUARE] == pytest.approx(0.64323, abs=5e-6)
    assert 0.72 < copper[Lay.NESTED] < 0.74274


def test_no_shops_fill_passes_the_lattices() -> None:
    with pytest.raises(RewindError, match=r"0\.907"):
        Fills(scramble=0.91)


def test_cautions() -> None:
    assert plan_coil(on_block(70)).cautions == (Caution.USUAL_TOLERANCE,)
    assert Caution.HIGH_FILL in plan_coil(on_block(80)).cautions
    assert plan_coil(on_block(80, fills=Fills(layered_warns=0.70))).cautions == (Caution.USUAL_TOLERANCE,)
    assert plan_coil(on_block(10, HEAVY_20)).cautions == (Caution.LAID_BY_NOMINAL,)
    high = Core(Facing.STRAIGHT, 10, 20, 0, 20.5, gap_mm=9.4)
    tight = plan_coil(CoilOrder(ROUND, 95, high))
    assert (tight.fit, tight.square) == (Fit.NESTED, None)
    assert Caution.NESTED_ONLY in tight.cautions


def test_too_many_turns_say_by_how_many_and_how_much() -> None:
    with pytest.raises(
        MisfitError, match=r"101 turns are 1 too many: 100 of 1\.000 mm wire go in layer by layer"
    ) as missed:
        plan_coil(on_block(101))
    assert (missed.value.turns, missed.value.fitting) == (1, 100)
    # a sixth nested layer: 1 + 5 sqrt 0.75 - 5
    assert missed.value.mm == pytest.approx(5 * math.sqrt(0.75) - 4, abs=1e-5)


def test_what_no_depth_would_hold_claims_no_millimetres() -> None:
    with pytest.raises(MisfitError) as missed:
        plan_coil(on_block(9000))
    assert missed.value.mm is None
    assert "deeper" not in missed.value.sentence


def test_wire_too_thick_for_the_window() -> None:
    with pytest.raises(MisfitError, match=r"3\.00 mm too thick") as missed:
        plan_coil(on_block(5, Wire(metric(2.0), Span(high=8.0))))
    assert missed.value.mm == pytest.approx(3, abs=1e-6)


@pytest.mark.parametrize(("flywheel", "left"), [(21.0, 1.0), (20.5, 0.5)])
def test_clearance_to_the_flywheel_of_a_straight_core(flywheel: float, left: float) -> None:
    assert plan_coil(on_block(20, room=Room(flywheel))).flywheel_mm == pytest.approx(left)


def test_the_corner_of_a_coil_comes_nearest_to_a_round_flywheel() -> None:
    plan = plan_coil(CoilOrder(ROUND, 20, RING, room=Room(flywheel_mm=37)))
    reach = max(math.hypot(x, r.y_mm + 4) for r in plan.section.rows for x in r.x_mm) + 0.5
    assert plan.flywheel_mm == pytest.approx(37 - reach)
    with pytest.raises(MisfitError, match="too close to the flywheel") as missed:
        plan_coil(CoilOrder(ROUND, 20, RING, room=Room(flywheel_mm=reach + 0.2)))
    assert missed.value.mm == pytest.approx(0.3)
    assert "0.20 mm is left where 0.5 mm must stay" in missed.value.sentence
    with pytest.raises(MisfitError, match=r"it would stand 0\.40 mm into it where 0\.5 mm must stay"):
        plan_coil(CoilOrder(ROUND, 20, RING, room=Room(flywheel_mm=reach - 0.4)))


def test_room_over_the_stack() -> None:
    order = on_block(100, room=Room(end_mm=6.0), lining=Lining(end_mm=0.25))
    assert plan_coil(order).end_mm == pytest.approx(0.75)
    with pytest.raises(MisfitError, match=r"0\.25 mm too close"):
        plan_coil(dataclasses.replace(order, room=Room(end_mm=5.5 - 1e-12)))


def test_the_bulge_takes_room_over_the_stack_too() -> None:
    order = on_block(100, room=Room(end_mm=6.0), allowances=Allowances(0.1, 0, 0, 0, 0))
    assert plan_coil(order).end_mm == pytest.approx(6 - 5 * 1.1)


def test_between_outward_teeth_the_rows_lie_against_the_tip() -> None:
    """Their slots taper at the root: rows that began there would end short of the tip, each by its own rest."""
    plan = plan_coil(CoilOrder(ROUND, 40, RING))
    assert plan.square is not None
    assert len(plan.square.rows) > 3
    assert all(max(r.x_mm) == pytest.approx(35 - 0.5) for r in plan.square.rows[:-1])


def test_outward_teeth_widen_and_inward_ones_narrow() -> None:
    out = window_of(RING, Lining())
    top = {x: y for x, y in out.corners if y > 1}
    # the slot's middle line: x tan(180 / teeth) less half a tooth
    assert top[35] == pytest.approx(35 * math.tan(math.pi / 12) - 4)
    inward = window_of(dataclasses.replace(RING, facing=Facing.INWARD, root_mm=35, tip_mm=18), Lining())
    assert max(y for x, y in inward.corners if x < 18.001) == pytest.approx(18 * math.tan(math.pi / 12) - 4)
    assert all(math.hypot(x, y + 4) <= 35 + 1e-9 for x, y in inward.corners)
    alone = window_of(dataclasses.replace(RING, neighbour_wound=False), Lining())
    assert alone.area_mm2 > 1.9 * out.area_mm2


def test_a_bobbins_flange_limits_the_coil() -> None:
    plan = plan_coil(on_block(60, lining=Lining(flange_mm=3.0)))
    assert (plan.fits_low, plan.fits_high) == (59, 60)


@pytest.mark.parametrize(
    "corners",
    [
        ((0, 0), (1, 0)),
        ((0, 0), (0, 1), (1, 1), (1, 0)),  # clockwise
        ((0, 0), (4, 0), (1, 1), (0, 4)),  # dented
        ((1, 0), (2, 0), (3, 2), (0, 2)),  # widens upwards
        ((0, -1), (1, -1), (1, 1), (0, 1)),
    ],
)
def test_a_window_that_can_not_be_is_refused(corners: tuple[tuple[float, float], ...]) -> None:
    with pytest.raises(RewindError):
        Window(corners)


@pytest.mark.parametrize(
    ("changed", "field"),
    [
        ({"teeth": 2}, "teeth"),
        ({"teeth": None}, "teeth"),
        ({"root_mm": 40.0}, "tip_mm"),
        ({"gap_mm": 3.0}, "gap_mm"),
        ({"facing": Facing.STRAIGHT}, "gap_mm"),
        ({"tooth_mm": 0.0}, "tooth_mm"),
    ],
)
def test_a_core_that_contradicts_itself_is_refused(changed: dict[str, object], field: str) -> None:
    with pytest.raises(RewindError) as refused:
        dataclasses.replace(RING, **changed)  # type: ignore[arg-type]
    assert refused.value.field == field


def test_a_slot_that_the_lining_fills_is_a_misfit() -> None:
    with pytest.raises(MisfitError, match="no room is left"):
        window_of(BLOCK, Lining(flank_mm=3, neighbour_mm=2.5))


def plan_of(wire: Wire, turns: int, core: Core, lining: Lining, manner: Manner) -> CoilPlan | None:
    try:
        return plan_coil(CoilOrder(wire, turns, core, lining, manner))
    except MisfitError:
        return None


def misfit_of(order: CoilOrder) -> MisfitError | None:
    try:
        plan_coil(order)
    except MisfitError as missed:
        return missed
    return None


@given(WIRES, st.integers(1, 120), cores(), LININGS, MANNERS)
def test_wires_never_overlap_nor_leave_their_half_of_the_slot(
    wire: Wire, turns: int, core: Core, lining: Lining, manner: Manner
) -> None:
    plan = plan_of(wire, turns, core, lining, manner)
    assume(plan is not None)
    assert plan is not None
    for laid in (plan.section, plan.square, plan.nested):
        if laid is None:
            continue
        at = np.array([(x, r.y_mm) for r in laid.rows for x in r.x_mm])
        assert len(at) == turns * wire.strands
        mm, r = laid.wire_mm, laid.wire_mm / 2
        apart = np.hypot(*(at[:, None] - at[None]).transpose(2, 0, 1)) + 2 * mm * np.eye(len(at))
        assert apart.min() >= mm - 1e-6
        for x, y in at.tolist():
            assert y - r >= lining.flank_mm - 1e-6
            low, high = core.ends_mm
            assert low + r + min(lining.root_mm, lining.tip_mm) - 1e-6 <= x <= high - r + 1e-6
            if core.facing is Facing.STRAIGHT:
                assert core.gap_mm is not None
                assert y + r <= core.gap_mm / (2 if core.neighbour_wound else 1) + 1e-6
                continue
            assert core.teeth is not None
            # seen from the ring's middle: short of the slot's middle line, or of the next tooth's iron
            away = math.hypot(x, y + core.tooth_mm / 2)
            angle = math.atan2(y + core.tooth_mm / 2, x)
            line = (1 if core.neighbour_wound else 2) * math.pi / core.teeth
            assert away * math.sin(line - angle) >= r + (0 if core.neighbour_wound else core.tooth_mm / 2) - 1e-6
            if core.facing is Facing.INWARD:
                assert away + r <= core.root_mm + 1e-6


@given(WIRES, st.integers(1, 150), cores(), LININGS, MANNERS)
def test_one_more_turn_never_reads_less(wire: Wire, turns: int, core: Core, lining: Lining, manner: Manner) -> None:
    more = plan_of(wire, turns + 1, core, lining, manner)
    assume(more is not None)
    fewer = plan_of(wire, turns, core, lining, manner)
    assert more is not None
    assert fewer is not None, "what takes more turns takes fewer"
    assert more.ohms_20 > fewer.ohms_20
    assert more.copper_grams > fewer.copper_grams
    assert more.mean_turn_mm >= fewer.mean_turn_mm - 1e-9


@given(cores(), LININGS, st.floats(0.1, 3), st.floats(1.0, 1.5))
def test_thicker_wire_never_lies_more_to_a_layer(core: Core, lining: Lining, mm: float, times: float) -> None:
    try:
        window = window_of(core, lining)
    except MisfitError:
        assume(False)
    thin, thick = (rows(window, d, Lay.SQUARE) for d in (mm, mm * times))
    assert len(thick) <= len(thin)
    assert all(b.wires <= a.wires for a, b in zip(thin, thick, strict=False))


@settings(max_examples=60)
@given(WIRES, st.integers(1, 300), cores(), LININGS, MANNERS)
def test_the_millimetres_that_lack_are_enough_and_on_a_straight_core_no_more(
    wire: Wire, turns: int, core: Core, lining: Lining, manner: Manner
) -> None:
    missed = misfit_of(CoilOrder(wire, turns, core, lining, manner))
    assume(missed is not None and missed.field == "turns" and missed.mm is not None)
    assert missed is not None
    assert missed.mm is not None
    assert missed.fitting is not None
    assert missed.turns == turns - missed.fitting
    window = window_of(core, lining)
    deeper = CoilOrder(wire, turns, core, lining, manner, window.deepened(missed.mm))
    assert plan_coil(deeper).fits_high >= turns
    # where a slot tapers, rows that begin elsewhere may take a wire more at some lesser depth
    if core.facing is Facing.STRAIGHT:
        assert misfit_of(dataclasses.replace(deeper, window=window.deepened(0.98 * missed.mm))) is not None
    if missed.fitting:
        fits = plan_coil(dataclasses.replace(deeper, turns=missed.fitting, window=window)).fits_high
        assert fits == missed.fitting


@given(WIRES, st.integers(1, 60), cores())
def test_fill_is_the_wires_share_of_the_window(wire: Wire, turns: int, core: Core) -> None:
    plan = plan_of(wire, turns, core, Lining(), Manner.LAYERED)
    assume(plan is not None)
    assert plan is not None
    assert plan.fill == pytest.approx(turns * wire.strands * area_mm2(wire.placing_mm) / plan.window.area_mm2)
    assert plan.fill < math.pi / (2 * math.sqrt(3))
    assert plan.fits_low <= plan.fits_high
