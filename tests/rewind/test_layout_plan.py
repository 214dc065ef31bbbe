"""Which tooth belongs to which phase, in what sense; what balances, what is refused and why."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.rewind.schemes import one_phase, three_phase
from workbench.rewind.electrical import Note, electrical, pair_ohms
from workbench.rewind.errors import RewindError
from workbench.rewind.layout import Connection, Scheme, ToothCoil, of_phase
from workbench.rewind.layoutplan import Plan, plan, poles_that_balance
from workbench.rewind.star import winding_factor

WYE, DELTA, SERIES, PARALLEL = Connection.WYE, Connection.DELTA, Connection.SERIES, Connection.PARALLEL


def signed(p: Plan, phase: int) -> list[int]:
    """The teeth of a phase in the order they are wound, below nought when anticlockwise."""
    return [c.tooth * c.sense for c in of_phase(p.coils, phase)]


def test_every_third_tooth_one_way_round_where_three_teeth_span_two_poles() -> None:
    p = plan(Scheme(12, 8, 3, WYE))
    assert [signed(p, k) for k in (1, 2, 3)] == [[1, 4, 7, 10], [2, 5, 8, 11], [3, 6, 9, 12]]
    assert p.electrical is not None
    assert [x.factor for x in p.electrical.phases] == pytest.approx([0.8660254] * 3)


def test_neighbours_against_each_other_where_teeth_and_poles_nearly_agree() -> None:
    p = plan(Scheme(12, 10, 3, WYE))
    assert [signed(p, k) for k in (1, 2, 3)] == [[1, -2, -7, 8], [-3, 4, 9, -10], [5, -6, -11, 12]]


def test_a_group_that_lies_across_the_first_tooth_is_wound_without_a_crossover_around_the_ring() -> None:
    assert signed(plan(Scheme(9, 8, 3, WYE)), 1) == [-9, 1, -2]


@given(three_phase())
def test_a_plan_balances(scheme: Scheme) -> None:
    found = plan(scheme).electrical
    assert found is not None
    assert found.balance is not None
    assert found.balance.within(1e-12, 1e-9)
    assert found.ohms_departure == 0
    assert found.balanced


@given(three_phase())
def test_a_plan_winds_each_tooth_once_and_shares_them_alike(scheme: Scheme) -> None:
    p = plan(scheme)
    assert sorted(c.tooth for c in p.coils) == list(range(1, scheme.teeth + 1))
    assert {len(of_phase(p.coils, k)) for k in (1, 2, 3)} == {scheme.teeth // 3}
    assert p.coils[[c.tooth for c in p.coils].index(1)] == ToothCoil(1, 1, 1)


@given(three_phase(), st.integers(0, 40), st.permutations([1, 2, 3]), st.sampled_from([1, 3, 5]))
def test_turning_the_core_or_exchanging_phases_leaves_the_factor(
    scheme: Scheme, by: int, names: list[int], harmonic: int
) -> None:
    assert scheme.poles is not None
    coils = plan(scheme).coils
    moved = [replace(c, tooth=(c.tooth - 1 + by) % scheme.teeth + 1, phase=names[c.phase - 1]) for c in coils]
    for phase in (1, 2, 3):
        was = [c.around for c in of_phase(coils, phase)]
        now = [c.around for c in of_phase(moved, names[phase - 1])]
        expected = winding_factor(was, scheme.teeth, scheme.poles, harmonic)
        assert winding_factor(now, scheme.teeth, scheme.poles, harmonic) == pytest.approx(expected, abs=1e-12)
    found = electrical(scheme, moved, scheme.poles)
    assert found.balance is not None
    assert found.balance.within(1e-12, 1e-9)


@given(three_phase(), st.data())
def test_fewer_coils_still_balance_and_lose_the_weakest(scheme: Scheme, data: st.DataObject) -> None:
    asked = data.draw(st.integers(1, scheme.teeth // 3))
    fewer, full = plan(replace(scheme, coils_per_phase=asked)), plan(scheme)
    assert fewer.electrical is not None
    assert full.electrical is not None
    assert fewer.electrical.balanced
    assert [x.coils for x in fewer.electrical.phases] == [asked] * 3
    assert fewer.electrical.phases[0].factor >= full.electrical.phases[0].factor - 1e-9
    assert len(fewer.unwound) == scheme.teeth - 3 * asked


def test_teeth_kept_for_an_exciter_stay_empty_and_the_rest_balances() -> None:
    p = plan(Scheme(18, 12, 3, DELTA, free=frozenset({8, 9, 10})))
    assert p.unwound == (8, 9, 10)
    assert p.electrical is not None
    assert p.electrical.balanced
    assert [x.coils for x in p.electrical.phases] == [5, 5, 5]


def test_coils_left_out_lie_together_for_another_winding() -> None:
    assert plan(Scheme(18, 12, 3, WYE, coils_per_phase=5)).unwound == (16, 17, 18)


def test_one_layer_winds_every_second_tooth() -> None:
    assert plan(Scheme(12, 10, 3, WYE, layers=1)).unwound == (2, 4, 6, 8, 10, 12)
    assert plan(Scheme(12, 10, 3, WYE, layers=1, free=frozenset({1}), coils_per_phase=1)).unwound[:2] == (1, 3)


def test_groups_side_by_side_have_the_same_volts() -> None:
    p = plan(Scheme(12, 10, 3, WYE, paths=2))
    assert [c.path for c in of_phase(p.coils, 1)] == [1, 1, 2, 2]
    assert p.electrical is not None
    assert [x.spread for x in p.electrical.phases] == pytest.approx([0, 0, 0], abs=1e-12)
    series = plan(Scheme(12, 10, 3, WYE)).electrical
    assert series is not None
    assert [abs(x.emf) for x in p.electrical.phases] == pytest.approx([abs(x.emf) / 2 for x in series.phases])


def test_the_first_tooth_that_is_wound_is_wound_clockwise() -> None:
    """Tooth 2 lies 150 degrees from tooth 1: its belt alone would turn it the other way."""
    assert signed(plan(Scheme(12, 10, 3, WYE, layers=1, free=frozenset({1}))), 1) == [2, -8]


# ---- one phase


def test_a_coil_for_every_pole_takes_turns() -> None:
    p = plan(Scheme(6, 6, 1, SERIES))
    assert signed(p, 1) == [1, -2, 3, -4, 5, -6]
    assert p.electrical is not None
    assert p.electrical.balance is None
    assert p.electrical.phases[0].factor == pytest.approx(1)


@given(one_phase())
def test_no_turned_coil_would_give_one_phase_more_volts(scheme: Scheme) -> None:
    assert scheme.poles is not None
    coils = [c.around for c in plan(scheme).coils]
    best = winding_factor(coils, scheme.teeth, scheme.poles)
    for i, c in enumerate(coils):
        other = [*coils[:i], replace(c, sense=-c.sense), *coils[i + 1 :]]
        assert winding_factor(other, scheme.teeth, scheme.poles) <= best + 1e-9


def test_fewer_coils_of_one_phase_keep_those_nearest_in_step() -> None:
    """12 teeth under 10 poles: directions 30 degrees apart, two teeth in each once turned; those of the best two."""
    found = plan(Scheme(12, 10, 1, SERIES, coils_per_phase=4)).electrical
    assert found is not None
    assert found.phases[0].factor == pytest.approx(0.9330127)


def test_groups_in_parallel_are_neighbours_and_nothing_circulates() -> None:
    p = plan(Scheme(8, 8, 1, PARALLEL, paths=2))
    assert [(c.tooth, c.path) for c in p.coils] == [(t, 1 if t < 5 else 2) for t in range(1, 9)]
    assert p.remarks == ()


def test_parallel_groups_of_unlike_volts_are_wound_and_said_to_circulate() -> None:
    p = plan(Scheme(9, 8, 1, PARALLEL, paths=3))
    (remark,) = p.remarks
    assert (remark.note, remark.phase) == (Note.CIRCULATES, 1)
    assert remark.share == pytest.approx(0.357, abs=1e-3)


def test_unknown_poles_of_one_phase_are_taken_as_one_a_tooth_and_it_is_said() -> None:
    p = plan(Scheme(6, None, 1, SERIES))
    assert signed(p, 1) == [1, -2, 3, -4, 5, -6]
    assert p.electrical is None
    assert [r.note for r in p.remarks] == [Note.POLES_ASSUMED]


# ---- what is said


def test_a_delta_whose_third_harmonic_goes_round_says_so() -> None:
    """sin(3 x 75 degrees) and cos(3 x 15 degrees) are 0.7071 each: 0.5 to 0.9330."""
    (remark,) = plan(Scheme(12, 10, 3, DELTA)).remarks
    assert remark.note is Note.THIRD_CIRCULATES
    assert remark.share == pytest.approx(0.5 / 0.9330127)
    assert plan(Scheme(12, 10, 3, WYE)).remarks == ()
    # three times 60 degrees is a half turn: none is left
    assert plan(Scheme(12, 8, 3, DELTA)).remarks == ()


@pytest.mark.parametrize(("connection", "paths", "factor"), [(WYE, 1, 2), (DELTA, 1, 2 / 3), (WYE, 2, 0.5)])
def test_what_each_pair_of_leads_reads(connection: Connection, paths: int, factor: float) -> None:
    """Four coils of 50 turns at 0.01 ohm a turn are 2 ohm; a wye reads two phases, a delta two thirds of one."""
    p = plan(Scheme(12, 8, 3, connection, paths=paths, turns=50))
    assert pair_ohms(p.scheme, p.coils, 0.01) == pytest.approx([2.0 * factor] * 3)


def test_an_unequal_delta_is_read_phase_by_phase() -> None:
    """0.6, 0.9 and 1.5 ohm around: 12/25, 63/100 and 3/4, solved by hand."""
    coils = [ToothCoil(t, t, 1, turns) for t, turns in ((1, 60), (2, 90), (3, 150))]
    assert pair_ohms(Scheme(3, 2, 3, DELTA), coils, 0.01) == pytest.approx([0.48, 0.63, 0.75])


# ---- what is refused

REFUSED: dict[str, tuple[dict[str, object], str, str]] = {
    "poles unknown": ({"poles": None}, "poles", "8, 10, 14 and 16 poles.*lay it as it was found"),
    "too many coils": ({"coils_per_phase": 5}, "coils_per_phase", "want 15 teeth; 12 can be wound"),
    "a tooth free": ({"free": frozenset({1})}, "free", "11 teeth that can be wound are not a multiple of 3"),
    "a phase short": ({"free": frozenset({1, 2, 4})}, "free", "teeth 1, 2 and 4 free the phases have 2, 3 and 4 teeth"),
    "one free, asked for all": ({"free": frozenset({1}), "coils_per_phase": 4}, "coils_per_phase", "want 12 teeth; 11"),
    "all free": ({"free": frozenset(range(1, 13))}, "free", "no tooth is left"),
    "uneven groups": ({"paths": 3}, "paths", "4 coils a phase can't be dealt into 3 groups"),
    "unlike groups": ({"teeth": 9, "poles": 8, "paths": 3}, "paths", "current would go round"),
    "not 3": ({"teeth": 10}, "teeth", "multiple of 3"),
    "odd poles": ({"poles": 7}, "poles", "can't alternate"),
    "no poles": ({"poles": 0}, "poles", "from 2 to 192"),
    "two phases": ({"phases": 2}, "phases", "1 phase or 3"),
    "three in series": ({"connection": SERIES}, "connection", "it is wye or delta"),
    "one in wye": ({"phases": 1}, "connection", "it is series or parallel"),
    "lone parallel": ({"phases": 1, "connection": PARALLEL}, "paths", "2 groups or more"),
    "series side by side": ({"phases": 1, "connection": SERIES, "paths": 2}, "paths", "in parallel, not in series"),
    "odd ring of one layer": ({"teeth": 9, "poles": 8, "layers": 1}, "layers", "even number"),
    "three layers": ({"layers": 3}, "layers", "1 layer or 2"),
    "no such tooth": ({"free": frozenset({13})}, "free", "no tooth 13"),
    "no turns": ({"turns": 0}, "turns", "from 1 to"),
    "too many teeth": ({"teeth": 97}, "teeth", "from 1 to 96"),
    "no volts": ({"teeth": 6, "poles": 12, "phases": 1, "connection": SERIES}, "poles", "no volts"),
    "odd and unknown": ({"teeth": 7, "poles": None, "phases": 1, "connection": SERIES}, "poles", "can't take turns"),
}  # fmt: skip


@pytest.mark.parametrize("case", REFUSED)
def test_what_cannot_be_wound_is_refused_with_the_reason(case: str) -> None:
    changes, field, words = REFUSED[case]
    asked: dict[str, object] = {"teeth": 12, "poles": 10, "phases": 3, "connection": WYE} | changes
    with pytest.raises(RewindError, match=words) as refused:
        plan(Scheme(**asked))  # type: ignore[arg-type]
    assert refused.value.field == field


@given(st.integers(1, 32).map(lambda n: 3 * n))
def test_pole_counts_that_are_offered_instead_do_balance(teeth: int) -> None:
    offered = poles_that_balance(teeth)
    assert offered
    for poles in offered:
        found = plan(Scheme(teeth, poles, 3, WYE)).electrical
        assert found is not None
        assert found.balanced
