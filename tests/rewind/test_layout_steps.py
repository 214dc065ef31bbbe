"""Numbered steps: every coil once, each end to where it belongs."""

from hypothesis import given
from hypothesis import strategies as st

from tests.rewind.schemes import three_phase
from workbench.rewind.layout import Connection, Scheme, ToothCoil
from workbench.rewind.layoutplan import plan
from workbench.rewind.layoutsteps import End, EndAt, Step, steps

STAR = End(EndAt.STAR)


def lead(n: int) -> End:
    return End(EndAt.LEAD, n)


def tooth(n: int) -> End:
    return End(EndAt.TOOTH, n)


def told(found: tuple[Step, ...]) -> list[tuple[int, int, bool, End, End]]:
    return [(s.number, s.coil.tooth, s.clockwise, s.start, s.finish) for s in found]


def test_a_wye_of_three_teeth_begins_at_its_leads_and_ends_in_the_star() -> None:
    assert told(plan(Scheme(3, 2, 3, Connection.WYE)).steps) == [
        (1, 1, True, lead(1), STAR),
        (2, 2, True, lead(2), STAR),
        (3, 3, True, lead(3), STAR),
    ]


def test_a_delta_leads_each_finish_out_with_the_next_start() -> None:
    found = plan(Scheme(9, 8, 3, Connection.DELTA)).steps
    assert told(found)[:4] == [
        (1, 9, False, lead(1), tooth(1)),
        (2, 1, True, tooth(9), tooth(2)),
        (3, 2, False, tooth(1), lead(2)),
        (4, 3, False, lead(2), tooth(4)),
    ]
    assert found[-1].finish == lead(1)


def test_one_phase_has_two_leads_and_groups_share_them() -> None:
    found = plan(Scheme(4, 4, 1, Connection.PARALLEL, paths=2)).steps
    assert told(found) == [
        (1, 1, True, lead(1), tooth(2)),
        (2, 2, False, tooth(1), lead(2)),
        (3, 3, True, lead(1), tooth(4)),
        (4, 4, False, tooth(3), lead(2)),
    ]


def test_coils_given_by_hand_are_stepped_in_their_own_order() -> None:
    coils = [ToothCoil(4, 1, -1), ToothCoil(1, 1, 1), ToothCoil(3, 1, 1)]
    assert [s.coil.tooth for s in steps(Scheme(4, None, 1, Connection.SERIES), coils)] == [4, 1, 3]


@given(three_phase(), st.data())
def test_steps_visit_every_tooth_once_and_every_crossover_has_two_ends(scheme: Scheme, data: st.DataObject) -> None:
    paths = data.draw(st.sampled_from([1, scheme.teeth // 3])) if 2 * scheme.teeth in _thirds(scheme) else 1
    found = plan(Scheme(scheme.teeth, scheme.poles, 3, scheme.connection, paths=paths)).steps
    assert [s.number for s in found] == list(range(1, scheme.teeth + 1))
    assert sorted(s.coil.tooth for s in found) == list(range(1, scheme.teeth + 1))
    by_tooth = {s.coil.tooth: s for s in found}
    for s in found:
        if s.finish.at is EndAt.TOOTH:
            assert s.finish.number is not None
            assert by_tooth[s.finish.number].start == tooth(s.coil.tooth)
    assert sum(s.start.at is EndAt.LEAD for s in found) == 3 * paths
    assert sum(s.finish.at is not EndAt.TOOTH for s in found) == 3 * paths


def _thirds(scheme: Scheme) -> tuple[int, ...]:
    """Where all teeth of a phase are in step, so that any number of groups is alike: 3 teeth to 2 poles or to 4."""
    assert scheme.poles is not None
    return (3 * scheme.poles, 3 * scheme.poles // 2)
