"""What a part's finished rewinds say of it, whatever order they are kept in."""

import json
from dataclasses import replace
from datetime import timedelta
from uuid import uuid4

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.rewind.test_predict import planned, taken
from tests.rewind.wounds import AT, body, in_order, pattern, turned
from workbench.exchange.finished import Finished, finished_by, predicted_by, predicted_from_text, predicted_to_json
from workbench.exchange.rewindbody import body_to_text
from workbench.records import KeptRewind
from workbench.rewind.finished import Lack
from workbench.rewind.ofpattern import names_of
from workbench.rewind.predict import predicted
from workbench.rewind.record import WHOLE, Body
from workbench.rewind.woundrecord import CoilWound, Spot, WoundWork
from workbench.stator.errors import FieldError
from workbench.stator.predicted import Predicted

WYE = pattern()
PHASES = names_of(WYE, WHOLE)


def kept(winding: str, of: Body | str, hours: float | None = 0.0) -> KeptRewind:
    text = of if isinstance(of, str) else body_to_text(of)
    done = None if hours is None else AT + timedelta(hours=hours)
    return KeptRewind(uuid4(), uuid4(), winding, text, AT, done)


def test_all_phases_by_one_rewind_of_the_whole() -> None:
    of = planned()
    found = predicted_by(WYE, [kept(WHOLE, of)])
    assert tuple(p.winding for p in found) == PHASES
    assert found == predicted(WYE, WHOLE, of)


def test_the_latest_that_is_done_holds_whatever_order_they_are_kept_in() -> None:
    first, then, begun = kept(WHOLE, planned(50)), kept(PHASES[1], planned(60), 1), kept(PHASES[2], planned(70), None)
    for some in ([first, then, begun], [begun, then, first]):
        ohms = [p.ohms_20 for p in predicted_by(WYE, some)]
        assert ohms[1] > ohms[0] == ohms[2]


def test_a_later_one_that_tells_nothing_takes_what_was_told_before() -> None:
    first = kept(WHOLE, planned())
    for silent in (Body(), "{", '{"v": 99}'):
        assert [p.winding for p in predicted_by(WYE, [first, kept(PHASES[0], silent, 1)])] == [*PHASES[1:]]


def test_a_winding_that_the_pattern_does_not_have_says_nothing() -> None:
    strange = kept("old coil", planned())
    assert predicted_by(WYE, [strange]) == ()
    assert finished_by(WYE, [strange]) == Finished()


def test_turns_as_counted_move_it() -> None:
    meant = planned(50)
    coils = tuple(CoilWound(Spot(i), n) for i, n in enumerate((55, 45, 56), 1))
    more = predicted_by(WYE, [kept(WHOLE, replace(meant, wound=WoundWork(coils=coils)))])[0].ohms_20
    assert more == pytest.approx(predicted(WYE, WHOLE, meant, 52)[0].ohms_20)
    assert more > predicted(WYE, WHOLE, meant)[0].ohms_20


def test_what_is_lacking_of_any_of_them_is_lacking() -> None:
    good = body(in_order())
    assert finished_by(WYE, [kept(WHOLE, good)]) == Finished()
    unread = kept(PHASES[0], "{", 1)
    assert finished_by(WYE, [kept(WHOLE, good), unread]) == Finished((Lack.SENSE, Lack.INSULATION, Lack.RUN))
    not_run = kept(WHOLE, body(replace(in_order(), run=None)))
    assert finished_by(WYE, [not_run]) == Finished((Lack.RUN,))
    reversed_ = kept(WHOLE, body(turned(in_order(), 1)))
    assert finished_by(WYE, [reversed_]) == Finished((Lack.SENSE,), (Lack.SENSE,))
    assert finished_by(WYE, [replace(reversed_, done_at=None)]) == Finished()


def test_one_wound_once_more_is_lacking_nothing_of_the_time_before() -> None:
    bad, good = kept(WHOLE, body(turned(in_order(), 1))), kept(WHOLE, body(in_order()), 1)
    assert finished_by(WYE, [good, bad]) == Finished()


@given(st.lists(st.builds(Predicted, st.text(max_size=20), *[st.floats(0, 1e9)] * 3), max_size=4))
def test_it_comes_back_as_it_was(some: list[Predicted]) -> None:
    assert predicted_from_text(json.dumps(predicted_to_json(some))) == tuple(some)


@pytest.mark.parametrize("text", ['[{"winding":"a"}]', "{}", '[{"winding":"a","ohms_20":1,"low_20":1,"high_20":"x"}]'])
def test_what_it_never_writes_is_refused(text: str) -> None:
    with pytest.raises(FieldError, match="predicted"):
        predicted_from_text(text)


def test_by_the_wire_where_there_was_no_plan() -> None:
    assert predicted_by(WYE, [kept(PHASES[0], taken())])[0].ohms_20 == pytest.approx(0.8, rel=0.01)
