"""The steps of a rewind: from the pattern or worked out, refused with the reason, reversed coils named, ticked."""

from dataclasses import replace

import pytest

from tests.sitting.fakes import TWO_COILS, WYE
from tests.sitting.rewinds import rewinding
from workbench.rewind.layout import Connection
from workbench.rewind.layoutcheck import turned
from workbench.rewind.record import Laid
from workbench.sitting.rewinding import Rewinding
from workbench.sitting.rewindsteps import StepsWork
from workbench.stator.layout import Facing


def work(pattern: str = WYE, winding: str = "", **form: object) -> tuple[Rewinding, StepsWork]:
    r, _ = rewinding(pattern, winding=winding)
    steps = StepsWork(r)
    steps.lay_out(replace(steps.form, **form))  # type: ignore[arg-type]  # by name
    return r, steps


def said(r: Rewinding) -> str:
    return r.said.sentence if r.said is not None else ""


def test_the_form_begins_with_what_the_pattern_tells() -> None:
    r, _ = rewinding(WYE)
    form = StepsWork(r).form
    assert (form.teeth, form.facing, form.phases, form.connection) == ("12", Facing.OUTWARD, 3, Connection.WYE)
    assert (form.as_found, form.free, form.poles) == (True, "", "")
    r, _ = rewinding("three-phase delta")
    assert StepsWork(r).form.connection is Connection.DELTA
    r, _ = rewinding(TWO_COILS, winding="low-speed coil")
    form = StepsWork(r).form
    assert (form.teeth, form.phases, form.free) == ("6", 1, "3, 4, 5, 6")


def test_three_phases_as_the_pattern_has_them() -> None:
    r, steps = work(poles="8")
    views = steps.views
    assert said(r) == ""
    assert [v.coil.tooth for v in views] == [1, 4, 7, 10, 2, 5, 8, 11, 3, 6, 9, 12]
    assert {v.sense for v in views} == {"clockwise"}
    assert [v.phase for v in views[::4]] == ["phase 1", "phase 2", "phase 3"]
    assert (views[0].start, views[0].finish) == ("start: lead 1", "go over to tooth 4")
    assert (views[3].start, views[3].finish) == ("the wire comes over from tooth 7", "finish: to the star point")
    assert "tooth 1, clockwise" in views[0].spoken
    reckoned = steps.reckoned
    assert reckoned is not None
    assert reckoned.good
    # sin(60 degrees), all coils of a phase in step: 12 teeth under 8 poles
    assert reckoned.lines[0] == "Winding factor 0.866 under 8 poles; the phases balance."


def test_senses_worked_out_go_round_in_words() -> None:
    _, steps = work("lighting floating", as_found=False)
    assert [v.sense for v in steps.views] == ["clockwise", "anticlockwise"] * 3
    assert steps.reckoned is not None
    assert "poles" in steps.reckoned.lines[-1]


@pytest.mark.parametrize(
    ("form", "field", "reason"),
    [
        ({"teeth": "13", "as_found": False}, "teeth", "multiple of 3"),
        ({"poles": "5"}, "poles", "count north and south alike"),
        ({"poles": "", "as_found": False}, "poles", "can't be laid without the poles"),
        ({"poles": "6", "as_found": False}, "poles", "can't balance"),
        ({"teeth": "twelve"}, "teeth", "is no number"),
        ({"teeth": ""}, "teeth", "Nothing is typed there"),
        ({"connection": Connection.SERIES}, "connection", "wye or delta"),
        ({"free": "1 2 14"}, "free", "no tooth 14"),
    ],
)
def test_what_can_not_be_laid_out_is_refused_with_the_reason(form: dict[str, object], field: str, reason: str) -> None:
    r, steps = work(**form)
    assert reason in said(r)
    assert r.refused_field == field
    assert steps.laid is None


def test_a_reversed_coil_is_named() -> None:
    r, steps = work(poles="8")
    laid = steps.laid
    assert laid is not None
    wrong = turned(laid.coils, [laid.coils[5]])
    r.change(replace(r.body, laid=replace(laid, coils=wrong)))
    reckoned = steps.reckoned
    assert reckoned is not None
    assert not reckoned.good
    assert "Wound the other way: tooth 5. Turn it about." in reckoned.lines


def test_steps_are_ticked_in_turn_and_taken_back() -> None:
    _, steps = work(poles="8")
    for number in (1, 2, 3):
        assert steps.shown is not None
        assert steps.shown.number == number
        steps.tick()
    steps.take_back()
    assert steps.shown is not None
    assert (steps.shown.number, steps.shown.done) == (3, False)
    steps.look_at(9)
    assert steps.shown.number == 9
    steps.tick()
    assert steps.shown.number == 3
    assert [v.number for v in steps.views if v.done] == [1, 2, 9]
    steps.look_at(2)
    steps.take_back()
    assert [v.number for v in steps.views if v.done] == [1, 9]


def test_all_ticked_there_is_none_left() -> None:
    _, steps = work(TWO_COILS, winding="low-speed coil")
    for _ in range(3):
        steps.tick()
    assert all(v.done for v in steps.views)
    assert steps.shown is None


def test_ticks_are_not_lost_without_asking() -> None:
    r, steps = work(poles="8")
    steps.tick()
    steps.lay_out(replace(steps.form, poles="16"))
    assert "1 step is ticked" in said(r)
    assert steps.laid is not None
    assert steps.laid.scheme.poles == 8
    assert r.said is not None
    anew, keep = r.said.choices
    keep.act()
    assert steps.laid.scheme.poles == 8
    anew.act()
    assert (steps.laid.scheme.poles, steps.laid.ticked) == (16, frozenset())


def test_what_can_not_be_read_is_refused_before_ticks_are_asked_about() -> None:
    r, steps = work(poles="8")
    steps.tick()
    steps.lay_out(replace(steps.form, poles="7"))
    assert "count north and south alike" in said(r)
    assert r.said is not None
    assert r.said.choices == ()


def test_a_layout_is_reckoned_away_from_the_hand_and_only_once() -> None:
    r, _ = rewinding(WYE)
    asked: list[object] = []

    def reckon(work: object, then: object) -> None:
        asked.append((work, then))

    r.reckon = reckon  # type: ignore[assignment]  # as a back desk that has not come to it yet
    steps = StepsWork(r)
    steps.lay_out(replace(steps.form, poles="8"))
    assert steps.laid is None
    work_, then = asked.pop()  # type: ignore[misc]
    then(work_())
    assert isinstance(steps.laid, Laid)
    assert steps.reckoned is None
    assert steps.reckoned is None
    ((work_, then),) = asked  # type: ignore[misc]
    then(work_())
    assert steps.reckoned is not None
