"""What was stripped, joined: what nobody counted, what contradicts, and who lies."""

import dataclasses
import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy import stats

from tests.rewind.orders import LININGS, RING, WIRES, cores
from workbench.rewind.coil import Allowances, CoilOrder, CoilPlan, plan_coil
from workbench.rewind.errors import MisfitError, RewindError
from workbench.rewind.inferred import Inferred, Note, Quantity, Worth, builds_of, infer
from workbench.rewind.joining import chi_square_tail
from workbench.rewind.strip import Figure, StripRecord
from workbench.rewind.window import Core, Lining
from workbench.rewind.wire import Build, Wire, awg, grams_per_metre, metric, ohms_per_metre
from workbench.stator.copper import factor

# 200 turns of AWG 20 (32.0 mil), 90 mm a turn: 18 m, 0.59812 ohm, 83.03 g (computed from IEC 60028's constants)
WIRE = awg(20)
SOUND = StripRecord(
    turns=(200,),
    bare_mm=(0.811, 0.813, 0.814),
    overall_mm=(0.878,),
    strands=1,
    mean_turn_mm=90,
    ohms=0.59812,
    grams=83.03,
)


def but(**changed: object) -> StripRecord:
    return dataclasses.replace(SOUND, **changed)  # type: ignore[arg-type]


def near(worth: Worth | None, value: float, k: float = 2.0) -> bool:
    return worth is not None and abs(worth.value - value) <= k * worth.u


def test_nothing_recorded_is_nothing_known_and_no_error() -> None:
    found = infer(StripRecord())
    assert (found.worths, found.gauges, found.suspects, found.notes) == ({}, (), (), ())
    assert not found.contradicts
    assert found.freedom == 0


def test_the_length_without_the_diameter() -> None:
    """sqrt(R m / (rho delta)) whatever the diameter and the strands: 18.0 m of AWG 20 (IEC 60028's constants)."""
    found = infer(StripRecord(ohms=0.59812, grams=83.03))
    assert found.worths.keys() == {Quantity.LENGTH, Quantity.OHMS, Quantity.GRAMS}
    length = found.worths[Quantity.LENGTH]
    assert length.value == pytest.approx(18.0, rel=1e-4)
    assert length.value == pytest.approx(math.sqrt(0.59812 * 83.03 / (8.89 / 58)), rel=1e-6)
    # half of each one's share: 1 % of the ohms, 3 K of 254.5 K, 1 % of the grams
    assert length.u / length.value == pytest.approx(math.hypot(0.01, 3 / 254.5, 0.01) / 2, rel=1e-4)
    assert not length.recorded


def test_the_gauge_from_ohms_and_mass() -> None:
    found = infer(StripRecord(ohms=0.59812, grams=83.03, strands=1))
    assert found.worths[Quantity.BARE].value == pytest.approx(0.8128, rel=1e-4)
    assert [g.likely.gauge for g in found.gauges] == [awg(20), metric(0.8)]


def test_the_turns_that_nobody_counted() -> None:
    found = infer(but(turns=()))
    assert near(found.worths[Quantity.TURNS], 200)
    assert not found.worths[Quantity.TURNS].recorded
    assert found.worths[Quantity.TURNS].u < 5
    several = infer(but(turns=(), coils=4))
    assert several.worths[Quantity.TURNS].value == pytest.approx(found.worths[Quantity.TURNS].value / 4)


def test_the_strands_that_nobody_noted() -> None:
    """Three of 0.50 mm, 20 m: 0.58540 ohm (computed)."""
    grams = 3 * 20 * grams_per_metre(0.5)
    strands = infer(StripRecord(bare_mm=(0.5,), ohms=0.58540, grams=grams)).worths[Quantity.STRANDS]
    assert near(strands, 3)
    assert strands.u < 0.2


def test_more_figures_are_surer_than_fewer() -> None:
    few, many = infer(but(grams=None)).worths, infer(SOUND).worths
    assert all(many[q].u <= few[q].u * 1.0001 for q in few)
    # counted turns stay what they are: the surest of all
    assert many[Quantity.TURNS].value == pytest.approx(200, abs=0.5)


def test_places_that_differ_make_their_mean_less_sure() -> None:
    """u of the caliper, and s / sqrt n (JCGM 100, 4.2.3)."""
    assert but(bare_mm=(0.81,)).figure(Figure.BARE) == (0.81, pytest.approx(0.005))
    scattered = but(bare_mm=(0.80, 0.82), bare_u_mm=0.003).figure(Figure.BARE)
    assert scattered == (pytest.approx(0.81), pytest.approx(math.hypot(0.003, 0.01)))


def test_warm_ohms_with_a_loom_in_them() -> None:
    """0.45 m of AWG 18 leads, at 31 C: R (234.5 + 31)/254.5, IEC 60228's k."""
    loom = 0.45 * awg(18).ohms_per_metre
    record = but(ohms=(0.59812 + loom) / factor(31, 20, 234.5), celsius=31, lead_gauge=awg(18), lead_mm=450)
    assert record.figure(Figure.OHMS) == (pytest.approx(0.59812), pytest.approx(0.0094, rel=0.2))
    assert infer(record).chance > 0.5
    assert infer(dataclasses.replace(record, celsius=-40)).contradicts


def test_mass_with_its_enamel_on() -> None:
    wire = Wire.of(WIRE, Build.HEAVY)
    weighed = 18 * (wire.grams_per_metre + wire.enamel_grams_per_metre)
    assert weighed > 1.02 * 83.03
    enamelled = but(grams=weighed, enamelled=True, overall_mm=(wire.nominal_mm,), bare_mm=(0.8128,))
    assert infer(enamelled).chi_square < 0.01
    assert infer(enamelled).worths[Quantity.GRAMS].value == pytest.approx(83.03, rel=1e-3)
    # a diameter that nobody measured leaves the enamel's share less sure
    unsure = infer(StripRecord(ohms=0.59812, grams=weighed, enamelled=True)).worths[Quantity.LENGTH]
    assert unsure.value == pytest.approx(18.0, rel=5e-3)
    assert unsure.u > infer(StripRecord(ohms=0.59812, grams=83.03)).worths[Quantity.LENGTH].u


def test_tails_are_wire_but_no_turns() -> None:
    with_tails = StripRecord(strands=1, mean_turn_mm=90, ohms=0.59812, grams=83.03, tails_mm=900)
    assert infer(with_tails).worths[Quantity.TURNS].value == pytest.approx((18000 - 900) / 90, rel=1e-4)


def test_builds_by_the_diameter_over_enamel() -> None:
    """AWG 20 single 32.9 to 33.9 mil, heavy from 34.0 (NEMA MW 1000, by secondary reprint)."""
    assert builds_of(awg(20), 33.4 * 0.0254, 0.003) == (Build.SINGLE,)
    assert builds_of(awg(20), 34.6 * 0.0254, 0.003) == (Build.HEAVY,)
    assert builds_of(awg(20), 33.95 * 0.0254, 0.003) == (Build.SINGLE, Build.HEAVY)
    # 0.500 mm: grade 1 from 0.524 to 0.544, grade 2 to 0.566 (IEC 60317-0-1, by secondary reprint)
    assert builds_of(metric(0.5), 0.535, 0.003) == (Build.GRADE_1,)
    assert builds_of(metric(0.5), 0.558, 0.003) == (Build.GRADE_2,)
    assert builds_of(metric(0.8), 0.870, 0.003) == (Build.GRADE_2,)
    assert builds_of(awg(20), 1.2, 0.003) == ()


def test_a_sound_record_agrees() -> None:
    found = infer(SOUND)
    assert found.chance > 0.5
    assert (found.contradicts, found.liar, found.suspects) == (False, None, ())
    assert found.freedom == 2
    (gauge, _) = found.gauges
    assert (gauge.likely.gauge, gauge.builds) == (awg(20), (Build.HEAVY,))


def test_the_liar_is_the_one_whose_removal_lets_the_rest_agree() -> None:
    found = infer(but(ohms=0.9))
    assert found.contradicts
    assert found.liar is Figure.OHMS
    assert near(found.suspects[0].others_say, 0.59812)
    # and what is told is told without it
    assert found.worths[Quantity.TURNS].value == pytest.approx(200, abs=0.5)
    assert near(found.worths[Quantity.OHMS], 0.59812)


def test_of_two_that_would_do_none_is_named() -> None:
    found = infer(but(turns=(150,)))
    assert found.contradicts
    assert {s.figure for s in found.suspects} == {Figure.TURNS, Figure.MEAN_TURN}
    assert found.liar is None
    # either would do, so that what hangs on them is told as unsure, and nothing else is
    assert all(near(found.worths[Quantity.TURNS], n) for n in (150, 200))
    assert found.worths[Quantity.LENGTH].u < 0.2
    assert [g.likely.gauge for g in found.gauges] == [awg(20), metric(0.8)]
    # a mean turn by another way settles it
    settled = infer(but(turns=(150,), width_mm=11.0, height_mm=25.0, build_mm=18 / math.pi))
    assert settled.liar is Figure.TURNS
    assert near(settled.suspects[0].others_say, 200)


def test_where_nothing_would_be_left_to_check_none_is_named() -> None:
    """One figure too many: without any of those that bear on each other the rest can't but agree."""
    found = infer(StripRecord(ohms=0.59812, grams=166.0, strands=1, bare_mm=(0.813,)))
    assert found.freedom == 1
    assert found.liar is None
    assert {s.figure for s in found.suspects} == {Figure.OHMS, Figure.GRAMS, Figure.STRANDS, Figure.BARE}


def test_a_contradiction_that_no_single_figure_explains_widens_what_is_told() -> None:
    found = infer(but(ohms=1.4, turns=(120,)))
    assert (found.contradicts, found.suspects, found.liar) == (True, (), None)
    ratio = found.worths[Quantity.TURNS].u / infer(SOUND).worths[Quantity.TURNS].u
    assert ratio > 5


def test_less_than_one_strand_was_never_wound() -> None:
    """A slip of the point in the bare diameter: by all others a hundredth of a strand, which can't be what lies."""
    found = infer(but(bare_mm=(8.13,), overall_mm=()))
    assert found.contradicts
    assert found.liar is Figure.BARE
    assert near(found.suspects[0].others_say, 0.8128)


def test_what_nothing_else_bears_on_is_never_suspected() -> None:
    found = infer(but(ohms=0.9, overall_mm=(3.0,)))
    assert Figure.OVERALL not in {s.figure for s in found.suspects}


def test_a_written_gauge_is_a_figure_like_others() -> None:
    assert infer(but(gauge=awg(20))).freedom == 3
    wrong = infer(but(gauge=awg(22)))
    assert wrong.liar is Figure.GAUGE


def test_notes_of_figures_that_are_uneven() -> None:
    assert infer(but(bare_mm=(0.80, 0.83))).notes == (Note.UNEVEN_BARE,)
    assert infer(but(overall_mm=(0.86, 0.91))).notes == (Note.UNEVEN_OVERALL,)
    assert infer(but(turns=(200, 204))).notes == (Note.UNEVEN_TURNS,)
    assert infer(but(overall_mm=(0.80,))).notes == (Note.THINNER,)


@pytest.mark.parametrize(
    ("changed", "field"),
    [
        ({"turns": (200, 0)}, "turns[1]"),
        ({"bare_mm": (-0.8,)}, "bare_mm[0]"),
        ({"strands": 0}, "strands"),
        ({"coils": 0}, "coils"),
        ({"lead_mm": 300}, "lead_gauge"),
        ({"lead_mm": 9e4, "lead_gauge": awg(24)}, "ohms"),
        ({"grams": 0}, "grams"),
        ({"bare_mm": (0.8,) * 101}, "bare_mm"),
    ],
)
def test_what_no_coil_can_have_is_refused(changed: dict[str, object], field: str) -> None:
    with pytest.raises(RewindError) as refused:
        but(**changed)
    assert refused.value.field == field


@given(st.floats(0, 80), st.integers(1, 12))
def test_the_tail_of_chi_square_is_scipys(value: float, freedom: int) -> None:
    assert chi_square_tail(value, freedom) == pytest.approx(float(stats.chi2.sf(value, freedom)), rel=1e-9, abs=1e-300)


def stripped(plan: CoilPlan, coils: int = 1) -> StripRecord:
    """All that a record could hold of these coils, without error."""
    wire, allow = plan.order.wire, plan.order.allowances
    bare = wire.gauge.mm / math.sqrt(1 + allow.stretch)
    return StripRecord(
        coils=coils,
        turns=(plan.order.turns,),
        bare_mm=(bare,),
        overall_mm=(wire.nominal_mm,),
        strands=wire.strands,
        mean_turn_mm=plan.mean_turn_mm,
        ohms=coils * plan.ohms_20,
        grams=coils * plan.copper_grams,
        tails_mm=coils * allow.tails_mm,
    )


LOSABLE = ("turns", "bare_mm", "mean_turn_mm", "grams", "strands")


@given(WIRES, st.integers(5, 120), cores(), LININGS, st.integers(1, 6), st.sampled_from(LOSABLE), st.integers(0, 2**30))
def test_a_plan_stripped_again_tells_itself(
    wire: Wire, turns: int, core: Core, lining: Lining, coils: int, lost: str, seed: int
) -> None:
    """Whichever figure is lost, and each of the others off by its own u at random: within 4 u, and no liar is named
    among sound figures without any error.
    """
    try:
        plan = plan_coil(CoilOrder(wire, turns, core, lining, allowances=Allowances(stretch=0.01, tails_mm=200)))
    except MisfitError:
        assume(False)
    assume(plan.copper_grams * coils > 1)
    whole = stripped(plan, coils)
    assert infer(whole).chi_square < 1e-3
    empty = () if isinstance(getattr(whole, lost), tuple) else None
    record = dataclasses.replace(whole, **{lost: empty})
    truth = {
        Quantity.TURNS: plan.order.turns,
        Quantity.BARE: whole.bare_mm[0],
        Quantity.STRANDS: wire.strands,
        Quantity.MEAN_TURN: plan.mean_turn_mm,
        Quantity.LENGTH: coils * plan.metres,
        Quantity.OHMS: coils * plan.ohms_20,
        Quantity.GRAMS: coils * plan.copper_grams,
    }
    exact = infer(record)
    for q, value in truth.items():
        assert exact.worths[q].value == pytest.approx(value, rel=1e-4), q
    noisy = infer(dataclasses.replace(record, **shaken(record, seed)))
    assert noisy.chance > 1e-6
    for q, value in truth.items():
        assert near(noisy.worths[q], value, k=4) or noisy.contradicts, q


def shaken(record: StripRecord, seed: int) -> dict[str, object]:
    """Each figure off by a triangular amount up to 2 u, turns and strands as counted."""
    out: dict[str, object] = {}
    for i, (name, figure) in enumerate(
        (("bare_mm", Figure.BARE), ("mean_turn_mm", Figure.MEAN_TURN), ("ohms", Figure.OHMS), ("grams", Figure.GRAMS))
    ):
        seen = record.figure(figure)
        if seen is None:
            continue
        off = ((seed >> (7 * i)) % 128 / 127 - 0.5) * 3 * seen[1]
        out[name] = (seen[0] + off,) if name == "bare_mm" else seen[0] + off
    return out


def test_a_planned_ring_coil_is_recovered_by_its_gauge() -> None:
    plan = plan_coil(CoilOrder(Wire.of(awg(20), Build.HEAVY), 40, RING))
    found: Inferred = infer(dataclasses.replace(stripped(plan), bare_mm=(), turns=()))
    assert found.gauges[0].likely.gauge == awg(20)
    assert Build.HEAVY in found.gauges[0].builds
    assert near(found.worths[Quantity.TURNS], 40)
    assert ohms_per_metre(found.worths[Quantity.BARE].value) == pytest.approx(awg(20).ohms_per_metre, rel=0.02)
