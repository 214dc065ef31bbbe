"""What a rewind says its finished windings will read, and the pattern that expects so."""

import math
from dataclasses import replace
from uuid import UUID

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.rewind.orders import BLOCK, HEAVY_20, WIRES, on_block
from workbench.exchange.starters import starter_patterns
from workbench.rewind.coil import Allowances, CoilOrder, plan_coil
from workbench.rewind.errors import RewindError
from workbench.rewind.layout import Connection
from workbench.rewind.ofpattern import phases_of
from workbench.rewind.predict import predicted
from workbench.rewind.record import WHOLE, Body, Chosen, Draw, PlanWork, WireWork
from workbench.rewind.shelf import AsWas
from workbench.rewind.wire import Build, Wire, awg
from workbench.rewind.woundrecord import CoilWound, Spot, WoundWire, WoundWork
from workbench.stator.copper import Conductor
from workbench.stator.errors import FieldError
from workbench.stator.expect import Expectations
from workbench.stator.pattern import Pair, Pattern
from workbench.stator.predicted import Predicted, with_predicted

STARTERS = {p.name: p for p in starter_patterns()}
WYE, COILS = STARTERS["three-phase wye"], STARTERS["two ignition coils on a common pin"]
DELTA = next(p for p in STARTERS.values() if (phases_of(p) or ((), None))[1] is Connection.DELTA)
FIRST = COILS.windings[0].name
MEANT = on_block(50).wire
OUTPUT = ("phase 1", "phase 2", "phase 3")
CHOOSABLE = st.sampled_from(tuple(STARTERS.values()))


def planned(turns: int = 50, coils: int = 6, paths: int = 1) -> Body:
    return Body(plan=PlanWork.of(plan_coil(on_block(turns)), coils, paths))


def taken(wire: Wire = HEAVY_20, turns: int = 60, ohms: float = 0.8, celsius: float = 20.0) -> Body:
    chosen = Chosen(wire, turns, ohms, celsius, 100.0, (Draw(UUID(int=1), "top shelf", 110.0),))
    return Body(wire=WireWork(AsWas(HEAVY_20, 60, 80.0, coils=6), chosen=chosen))


def only(found: tuple[Predicted, ...]) -> Predicted:
    (one,) = found
    return one


def u_of(p: Predicted) -> float:
    return (p.high_20 - p.ohms_20) / 2 / p.ohms_20


# ---- by the plan


def test_six_coils_in_series_and_in_two_groups_side_by_side() -> None:
    """6 R, and 3 R beside 3 R."""
    of_one = plan_coil(on_block(50)).ohms_20
    assert only(predicted(WYE, "phase 1", planned())).ohms_20 == pytest.approx(6 * of_one)
    assert only(predicted(WYE, "phase 1", planned(paths=2))).ohms_20 == pytest.approx(1.5 * of_one)


def test_coils_of_one_spool_share_what_is_off() -> None:
    """JCGM 100, 5.2.2, note 1: common to all terms of a sum, uncertainties add linearly; not by the root of six."""
    one = CoilOrder(HEAVY_20, 30, BLOCK)
    plan = plan_coil(one)
    for coils, paths in ((1, 1), (6, 1), (6, 3)):
        p = only(predicted(WYE, "phase 1", Body(plan=PlanWork.of(plan, coils, paths))))
        assert (p.low_20, p.high_20) == pytest.approx((p.ohms_20 * (1 - 2 * plan.u), p.ohms_20 * (1 + 2 * plan.u)))


def test_the_whole_is_each_of_its_phases() -> None:
    found = predicted(WYE, WHOLE, planned())
    assert tuple(p.winding for p in found) == OUTPUT
    assert len({p.ohms_20 for p in found}) == 1


def test_a_plan_goes_before_the_wire_taken_as_long_as_that_is_the_planned_one() -> None:
    both = replace(taken(wire=MEANT, turns=50), plan=planned().plan)
    assert only(predicted(WYE, "phase 1", both)).ohms_20 == pytest.approx(
        only(predicted(WYE, "phase 1", planned())).ohms_20
    )
    more = replace(taken(wire=MEANT, turns=60), plan=planned().plan)
    assert predicted(WYE, "phase 1", more) == predicted(WYE, "phase 1", planned(), 60)


def test_other_wire_than_planned_reads_by_its_own_ohms_a_metre() -> None:
    """Of the same turns on the same mean turn; by how much that is off is taken as 2 %, common practice, no source."""
    other = Wire.of(awg(22), Build.HEAVY)
    as_planned = only(predicted(WYE, "phase 1", planned()))
    wound = (CoilWound(Spot(1), 50, WoundWire(other)),)
    for body in (
        replace(taken(wire=other, turns=50), plan=planned().plan),
        replace(taken(turns=50), plan=planned().plan, wound=WoundWork(coils=wound)),
    ):
        found = only(predicted(WYE, "phase 1", body))
        assert found.ohms_20 / as_planned.ohms_20 == pytest.approx(other.ohms_per_metre / MEANT.ohms_per_metre)
        assert u_of(found) > 0.02
    half = (CoilWound(Spot(1), 50, WoundWire(other)), CoilWound(Spot(2), 50, WoundWire(MEANT)))
    both = only(predicted(WYE, "phase 1", replace(planned(), wound=WoundWork(coils=half))))
    mean = (other.ohms_per_metre + MEANT.ohms_per_metre) / 2
    assert both.ohms_20 / as_planned.ohms_20 == pytest.approx(mean / MEANT.ohms_per_metre)


# ---- by the wire


def test_by_the_wire_that_was_taken() -> None:
    """Warm ohms back to 20 C by (k + t), k = 234.5 (IEC 60228 Annex B, by secondary reprint), and stretched by 0.5 %.

    AWG 20 is 32.0 mil, 0.3 either way (ASTM B258): 2 x 0.3 / 32 / sqrt 3 of the ohms; 2 % of the mean turn on 4.8 m of
    5.1 m and the stretch's half width over sqrt 3: common practice, no source.
    """
    warm = only(predicted(WYE, "phase 1", taken(celsius=90.0)))
    assert warm.ohms_20 == pytest.approx(0.8 * 254.5 / 324.5 * 1.005)
    tolerance = HEAVY_20.gauge.tolerance
    parts = (2 * tolerance / math.sqrt(3), 0.005 / math.sqrt(3), 0.02 * 4.8 / 5.1)
    assert u_of(warm) == pytest.approx(math.hypot(*parts))


def test_nothing_is_told_of_nothing() -> None:
    assert predicted(WYE, WHOLE, Body()) == ()
    assert predicted(WYE, WHOLE, Body(wire=replace(taken().wire, chosen=None))) == ()  # type: ignore[type-var]


# ---- turns


@given(WIRES, st.integers(1, 40), st.integers(0, 40), st.integers(1, 3))
def test_more_turns_never_read_fewer_ohms(wire: Wire, turns: int, more: int, coils: int) -> None:
    deep = replace(BLOCK, gap_mm=500.0)
    few, many = (
        only(predicted(COILS, FIRST, Body(plan=PlanWork.of(plan_coil(CoilOrder(wire, n, deep)), coils, 1))))
        for n in (turns, turns + more)
    )
    assert many.ohms_20 >= few.ohms_20 * (1 - 1e-12)
    assert few.low_20 < few.ohms_20 < few.high_20


@given(st.floats(1, 200), st.floats(0, 50), st.sampled_from(["plan", "wire"]))
def test_more_turns_counted_never_read_fewer_ohms(turns: float, more: float, by: str) -> None:
    body = planned() if by == "plan" else taken()
    few, many = (only(predicted(COILS, FIRST, body, n)) for n in (turns, turns + more))
    assert many.ohms_20 >= few.ohms_20
    assert u_of(many) == pytest.approx(u_of(few))


def test_counted_as_meant_is_as_meant() -> None:
    for body, turns in ((planned(50), 50), (taken(turns=60), 60)):
        as_meant, counted = (only(predicted(COILS, FIRST, body, n)) for n in (None, turns))
        assert counted.ohms_20 == pytest.approx(as_meant.ohms_20)


def test_a_tenth_more_turns_leave_the_leads_as_they_are() -> None:
    order = on_block(50, allowances=Allowances(0, 0, 300.0, 0, 0))
    body = Body(plan=PlanWork.of(plan_coil(order), 1, 1))
    assert body.plan is not None
    by = only(predicted(COILS, FIRST, body, 55)).ohms_20 / body.plan.ohms_20
    assert by == pytest.approx(1 + 0.1 * (body.plan.metres - 0.3) / body.plan.metres)


@pytest.mark.parametrize("counted", [0, -3, math.inf, math.nan])
def test_turns_that_no_coil_has_are_refused(counted: float) -> None:
    with pytest.raises(RewindError):
        predicted(COILS, FIRST, planned(), counted)


# ---- the pattern


@given(CHOOSABLE, st.data())
def test_all_else_of_the_pattern_stays(pattern: Pattern, data: st.DataObject) -> None:
    names = [w.name for w in pattern.windings if w.element is None]
    some = data.draw(st.lists(st.sampled_from(names), unique=True)) if names else []
    new = with_predicted(pattern, [Predicted(n, 7.0, 6.5, 7.5) for n in some], "its rewind")
    assert replace(new, windings=pattern.windings) == pattern
    for old, w in zip(pattern.windings, new.windings, strict=True):
        if w.name in some:
            band = ("ohms", "tolerance_percent", "low_ohms", "high_ohms", "band_from")
            assert replace(w, **{name: getattr(old, name) for name in band}) == old
            assert w.band_from == "its rewind"
        else:
            assert w == old


@pytest.mark.parametrize("conductor", Conductor)
def test_copper_at_the_patterns_temperature(conductor: Conductor) -> None:
    """10 ohm at 20 C are 11.9646 at 70 (k = 234.5: 304.5 / 254.5), whatever the pattern's own windings were."""
    warm = replace(COILS, reference_celsius=70.0, conductor=conductor)
    w = with_predicted(warm, [Predicted(FIRST, 10.0, 9.5, 10.5)]).winding(FIRST)
    assert (w.nominal, w.low, w.high) == pytest.approx((11.96464, 11.36640, 12.56287), abs=1e-5)


def test_a_winding_that_is_not_there_is_refused() -> None:
    with pytest.raises(FieldError, match="no winding of wire named 'coil 9'"):
        with_predicted(COILS, [Predicted("coil 9", 1.0, 0.9, 1.1)])


def test_an_exact_figure_still_has_a_band() -> None:
    w = with_predicted(COILS, [Predicted(FIRST, 5.0, 5.0, 5.0)]).winding(FIRST)
    assert w.low < 5.0 < w.high


def pair_ohms(pattern: Pattern, names: tuple[str, ...]) -> list[float]:
    pins = [n for n in pattern.pins if any(n in (w.start, w.finish) for w in pattern.windings if w.name in names)]
    net = Expectations(pattern)
    return [e.ohms for a in pins for b in pins if a < b and (e := net.of(Pair(a, b))).ohms is not None]


def test_two_phases_of_a_wye_in_series() -> None:
    some = predicted(WYE, WHOLE, planned())
    found = pair_ohms(with_predicted(WYE, some), OUTPUT)
    assert found == pytest.approx([2 * some[0].ohms_20] * 3)


def test_a_deltas_phase_beside_the_other_two() -> None:
    """R beside 2 R: two thirds of R."""
    some = predicted(DELTA, WHOLE, planned())
    assert len(some) == 3
    found = pair_ohms(with_predicted(DELTA, some), tuple(p.winding for p in some))
    assert found == pytest.approx([2 / 3 * some[0].ohms_20] * 3)


def test_a_rewound_phase_beside_two_that_were_not() -> None:
    """Its two pairs change by as much as it does, the third pair not at all."""
    before = Expectations(WYE)
    w = WYE.winding("phase 1")
    after = Expectations(with_predicted(WYE, [Predicted("phase 1", w.nominal + 1, w.nominal + 0.9, w.nominal + 1.1)]))
    pins = [n for n in WYE.pins if any(n in (x.start, x.finish) for x in WYE.windings if x.name in OUTPUT)]
    changes = sorted(
        (after.of(Pair(a, b)).ohms or 0) - (before.of(Pair(a, b)).ohms or 0) for a in pins for b in pins if a < b
    )
    assert WYE.reference_celsius == 20.0
    assert changes == pytest.approx([0, 1, 1], abs=1e-9)


# ---- the record


@pytest.mark.parametrize(
    ("coils", "paths", "field"), [(0, 1, "coils"), (97, 1, "coils"), (6, 4, "paths"), (6, 0, "paths")]
)
def test_coils_that_can_not_be_dealt_are_refused(coils: int, paths: int, field: str) -> None:
    with pytest.raises(RewindError) as refused:
        PlanWork.of(plan_coil(on_block(10)), coils, paths)
    assert refused.value.field == field
