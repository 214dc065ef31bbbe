"""Layouts given by hand: reversed coils are found and named, unequal phases said, unknown poles guessed at."""

from collections.abc import Sequence
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.rewind.schemes import three_phase
from workbench.exchange.starters import starter_pattern
from workbench.rewind.electrical import Note
from workbench.rewind.errors import RewindError
from workbench.rewind.layout import Connection, Scheme, ToothCoil, coils_of, layout_of
from workbench.rewind.layoutcheck import Checked, Fault, check, turned
from workbench.rewind.layoutplan import plan
from workbench.stator.layout import Coil, Facing, Layout

WYE, SERIES, PARALLEL = Connection.WYE, Connection.SERIES, Connection.PARALLEL
TWELVE = Scheme(12, 8, 3, WYE)
NAMES = ("phase 1", "phase 2", "phase 3")


def one(scheme: Scheme, coils: Sequence[ToothCoil]) -> Checked:
    (checked,) = check(scheme, coils)
    return checked


def laid(*signed: int, phase: int = 1, **others: int) -> list[ToothCoil]:
    return [ToothCoil(abs(t), phase, 1 if t > 0 else -1, **others) for t in signed]


@given(three_phase())
def test_what_was_planned_is_found_good(scheme: Scheme) -> None:
    p = plan(scheme)
    checked = one(scheme, p.coils)
    assert checked.good
    assert checked.reversed_coils == ((),)
    assert checked.electrical == p.electrical


@given(three_phase(), st.data())
def test_a_reversed_coil_is_found_and_named(scheme: Scheme, data: st.DataObject) -> None:
    coils = plan(scheme).coils
    bad = data.draw(st.sampled_from(coils))
    given_by_hand = turned(coils, [bad])
    checked = one(scheme, given_by_hand)
    assert Fault.REVERSED in checked.faults
    ((named,),) = checked.reversed_coils
    assert named.tooth == bad.tooth
    assert turned(given_by_hand, [named]) == coils


@given(three_phase(), st.data())
def test_so_are_several_while_they_are_the_fewer(scheme: Scheme, data: st.DataObject) -> None:
    coils = plan(scheme).coils
    few = data.draw(st.lists(st.sampled_from(coils), unique=True, max_size=(scheme.teeth - 1) // 2))
    checked = one(scheme, turned(coils, few))
    assert {c.tooth for c in checked.reversed_coils[0]} == {c.tooth for c in few}
    assert len(checked.reversed_coils) == 1


def test_the_sense_of_all_coils_together_is_nothing_to_find() -> None:
    coils = plan(TWELVE).coils
    assert one(TWELVE, turned(coils, coils)).good


def test_a_phase_with_its_ends_exchanged_is_named_whole() -> None:
    coils = plan(TWELVE).coils
    checked = one(TWELVE, turned(coils, [c for c in coils if c.phase == 2]))
    assert [c.tooth for c in checked.reversed_coils[0]] == [2, 5, 8, 11]
    assert Fault.NOT_120 in checked.faults
    assert Fault.UNEQUAL_VOLTS not in checked.faults


def test_of_two_against_each_other_neither_is_the_right_one() -> None:
    checked = one(Scheme(2, 2, 1, SERIES), laid(1, 2))
    assert [[c.tooth for c in way] for way in checked.reversed_coils] == [[1], [2]]
    assert [r.note for r in checked.remarks] == [Note.NO_VOLTS]


def test_one_phase_out_of_turn() -> None:
    checked = one(Scheme(6, 6, 1, SERIES), laid(1, -2, 3, 4, 5, -6))
    assert [c.tooth for c in checked.reversed_coils[0]] == [4]
    assert checked.electrical.phases[0].factor == pytest.approx(4 / 6)


def test_unequal_phases_are_said_by_what_differs() -> None:
    coils = plan(TWELVE).coils
    assert set(one(TWELVE, coils[:-1]).faults) == {
        Fault.UNEQUAL_COILS, Fault.UNEQUAL_TURNS, Fault.UNEQUAL_OHMS, Fault.UNEQUAL_VOLTS,
    }  # fmt: skip
    forty = [replace(c, turns=40) for c in coils]
    # a turn of 160 is 0.4 % of the mean: said, and within what is usual of ohms and volts
    assert one(TWELVE, [replace(forty[0], turns=41), *forty[1:]]).faults == (Fault.UNEQUAL_TURNS,)
    assert set(one(TWELVE, [replace(forty[0], turns=50), *forty[1:]]).faults) == {
        Fault.UNEQUAL_TURNS, Fault.UNEQUAL_OHMS, Fault.UNEQUAL_VOLTS,
    }  # fmt: skip


def test_parallel_groups_of_unlike_turns_circulate() -> None:
    """60 and 59 turns: each is half a turn from their mean by conductance, 0.84 % of 59.5."""
    coils = [ToothCoil(1, 1, 1, 60, path=1), ToothCoil(2, 1, -1, 59, path=2)]
    (remark,) = one(Scheme(2, 2, 1, PARALLEL, paths=2), coils).remarks
    assert remark.note is Note.CIRCULATES
    assert remark.share == pytest.approx(0.5 / 59.5, abs=1e-4)


def test_coils_stacked_on_one_tooth_are_told_apart_by_their_place() -> None:
    coils = [ToothCoil(1, 1, 1, 30), ToothCoil(1, 1, -1, 30, place=1), ToothCoil(2, 1, -1, 60)]
    ((named,),) = one(Scheme(2, 2, 1, SERIES), coils).reversed_coils
    assert (named.tooth, named.place) == (1, 1)


# ---- poles unknown


@given(three_phase())
def test_unknown_poles_are_among_those_that_fit(scheme: Scheme) -> None:
    assert scheme.poles is not None
    p = plan(scheme)
    assert p.electrical is not None
    fitting = [c.poles for c in check(replace(scheme, poles=None), p.coils)]
    # a winding that nobody would make isn't offered
    assert (scheme.poles in fitting) is (p.electrical.phases[0].factor >= 0.5 - 1e-9)


def test_every_third_tooth_serves_two_pole_counts() -> None:
    assert [c.poles for c in check(replace(TWELVE, poles=None), plan(TWELVE).coils)] == [8, 16]


def test_a_reversed_coil_is_named_though_the_poles_are_unknown() -> None:
    coils = plan(TWELVE).coils
    fitting = check(replace(TWELVE, poles=None), turned(coils, [coils[6]]))
    assert [(c.poles, [x.tooth for x in c.reversed_coils[0]]) for c in fitting] == [(8, [8]), (16, [8])]


def test_what_fits_no_flywheel_has_no_answer() -> None:
    coils = [ToothCoil(t, 1 + (t - 1) // 4, 1) for t in range(1, 13)]
    one_phase_short = [*coils[:3], *coils[4:]]
    assert check(Scheme(12, None, 3, WYE), one_phase_short) == ()


def test_alternating_coils_are_of_a_pole_a_tooth() -> None:
    first = check(Scheme(6, None, 1, SERIES), laid(1, -2, 3, -4, 5, -6))[0]
    assert (first.poles, first.reversed_coils) == (6, ((),))
    assert first.electrical.phases[0].factor == pytest.approx(1)


def test_the_most_volts_are_likeliest_and_what_nobody_would_wind_is_left_out() -> None:
    """Alone a coil serves any flywheel, best with a pole a tooth: sin(pi p/6) is 1, 0.866 and 0.5. Two neighbours of
    one sense give 0.433 of their turns under 2 poles or 10: likelier one of them is reversed.
    """
    six = Scheme(6, None, 1, SERIES)
    assert [c.poles for c in check(six, laid(1))] == [6, 4, 8, 2, 10]
    fitting = check(six, laid(1, 2))
    assert [c.poles for c in fitting] == [6, 4, 8]
    assert [[x.tooth for x in way] for way in fitting[0].reversed_coils] == [[1], [2]]


# ---- a pattern's own layout


@pytest.mark.parametrize(
    ("name", "poles"),
    [("three-phase wye", [8, 16]), ("three-phase delta", [12, 24]), ("three-phase wye with neutral", [6, 12])],
)
def test_the_patterns_that_ship_balance(name: str, poles: list[int]) -> None:
    pattern = starter_pattern(name)
    assert pattern is not None
    assert pattern.layout is not None
    coils = coils_of(pattern.layout, NAMES)
    fitting = check(Scheme(pattern.layout.teeth, None, 3, WYE), coils)
    assert [(c.poles, c.good) for c in fitting] == [(n, True) for n in poles]


@given(three_phase(), st.sampled_from(Facing))
def test_a_plan_goes_to_a_pattern_and_back(scheme: Scheme, facing: Facing) -> None:
    coils = plan(scheme).coils
    layout = layout_of(scheme.teeth, coils, NAMES, facing)
    assert layout.facing is facing
    assert coils_of(layout, NAMES) == coils


@pytest.mark.parametrize(
    ("coil", "field", "words"),
    [
        (Coil("phase 1", 2), "coils[1].sense", "nobody noted the sense of phase 1 on tooth 2"),
        (Coil("phase 1", beside_degrees=10, sense=1), "coils[1].tooth", "beside the ring"),
    ],
)
def test_a_pattern_that_does_not_say_is_refused(coil: Coil, field: str, words: str) -> None:
    with pytest.raises(RewindError, match=words) as refused:
        coils_of(Layout(3, coils=(Coil("other", 1), coil)), NAMES)
    assert refused.value.field == field


GOOD = plan(TWELVE).coils


@pytest.mark.parametrize(
    ("coils", "field", "words"),
    [
        ([], "coils", "there is no coil"),
        ([ToothCoil(13, 1, 1)], "coils[0].tooth", "no tooth 13"),
        ([ToothCoil(1, 4, 1)], "coils[0].phase", "no phase 4"),
        ([ToothCoil(1, 1, 0)], "coils[0].sense", "1 or -1, not 0"),
        ([ToothCoil(1, 1, 1, turns=0)], "coils[0].turns", "from 1 to"),
        ([ToothCoil(1, 1, 1, path=2)], "coils[0].path", "no group 2"),
        ([ToothCoil(1, 1, 1, place=8)], "coils[0].place", "from 0 to 7, not at 8"),
        ([*GOOD, ToothCoil(1, 2, 1)], "coils[12].place", "place 0 on tooth 1 is taken"),
        (GOOD[:4], "coils", "phase 2 has no coil"),
        ([ToothCoil(1, 1, 1, place=i) for i in range(513)], "coils", "more than the 512"),
    ],
)
def test_coils_that_cannot_be_of_the_scheme_are_refused(coils: Sequence[ToothCoil], field: str, words: str) -> None:
    with pytest.raises(RewindError, match=words) as refused:
        check(TWELVE, coils)
    assert refused.value.field == field


def test_a_coil_on_a_tooth_kept_free_is_refused() -> None:
    with pytest.raises(RewindError, match="tooth 12 is kept free"):
        check(replace(TWELVE, free=frozenset({12})), GOOD)
