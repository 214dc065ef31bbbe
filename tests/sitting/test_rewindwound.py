"""As wound: steps ticked in order, turns and ohms coil after coil, senses held against the layout, nothing dipped or
finished unasked that lacks something.
"""

from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta

import pytest

from tests.rewind.wounds import in_order
from tests.sitting.fakes import AT, WYE
from tests.sitting.rewinds import rewinding
from tests.sitting.wounddesk import agreeing, desk, enter, said, tick
from workbench.rewind.woundrecord import ORDER, Bake, Insulation, Run, Way, WoundStep, WoundWork
from workbench.sitting.rewindwound import WoundDesk, wound_done
from workbench.sitting.rewindwoundviews import RUN
from workbench.sitting.say import Tone

# ---- steps


def test_steps_are_ticked_in_order_each_with_its_hour_and_a_word() -> None:
    d, r, keeper = desk()
    assert wound_done(r) == "not begun"
    tick(d, note="glass cloth, 0.3")
    assert wound_done(r) == "1 of 11 steps"
    (done,) = d.work.done
    assert (done.step, done.at, done.note) == (WoundStep.LINER, AT, "glass cloth, 0.3")
    assert d.steps[0].detail == "glass cloth, 0.3"
    assert "Mar" in d.steps[0].when
    assert d.step is WoundStep.WIND
    assert d.step_form.note == ""
    assert len(keeper.of("rewind")) == 2


def test_a_later_step_waits_for_those_before() -> None:
    d, r, _ = desk()
    d.look_at(WoundStep.BAKE)
    tick(d)
    assert "First comes: liner" in said(r)
    assert d.work.done == ()


def test_all_steps_in_order_then_the_run() -> None:
    d, r, _ = desk()
    agreeing(d)
    for step in ORDER:
        assert d.step is step
        tick(d)
        assert r.said is None, said(r)
    assert (d.work.insulation, d.work.varnish_lot, d.work.bake) == (
        Insulation(500, 200, 20, above=True), "lot 7", Bake(135, 240)
    )  # fmt: skip
    assert d.step == RUN
    tick(d, ran="well", seen="14.1 V at 3000 rpm")
    assert d.work.run is not None
    assert d.lacks == ""
    assert d.steps[-1].detail == "ran well: 14.1 V at 3000 rpm"


@pytest.mark.parametrize(
    ("step", "typed", "field", "reason"),
    [
        (WoundStep.INSULATION, {"volts": ""}, "volts", "Nothing is typed there"),
        (WoundStep.INSULATION, {"volts": "1000"}, "volts", "must lie from 25 to 500"),
        (WoundStep.INSULATION, {"megohms": "OL"}, "megohms", "as in >200"),
        (WoundStep.INSULATION, {"celsius": "warm"}, "insulation_celsius", "is no number"),
        (WoundStep.VARNISH, {"lot": " "}, "lot", "the varnish's lot"),
        (WoundStep.VARNISH, {"lot": "x" * 70}, "lot", "at most 60"),
        (WoundStep.BAKE, {"bake_celsius": "300"}, "bake_celsius", "must lie from 40 to 250"),
        (WoundStep.BAKE, {"bake_hours": "0"}, "bake_hours", "must lie"),
        (WoundStep.BAKE, {"bake_hours": "400"}, "bake_hours", "from a minute to 48 hours"),
        (WoundStep.BAKE, {"bake_hours": "1:99"}, "bake_hours", "An hour has 60 minutes, not 99"),
        (WoundStep.BAKE, {"bake_hours": "4:x"}, "bake_hours", "is no number"),
        (WoundStep.LINER, {"note": "x" * 301}, "note", "at most 300"),
    ],
)
def test_what_can_not_be_is_refused_with_its_field(
    step: WoundStep, typed: dict[str, str], field: str, reason: str
) -> None:
    before = replace(in_order(), done=in_order().done[: ORDER.index(step)], insulation=None, varnish_lot="", bake=None)
    d, r, _ = desk(before)
    tick(d, **typed)
    assert reason in said(r)
    assert r.refused_field == field
    assert d.step is step


@pytest.mark.parametrize(("typed", "minutes"), [("4", 240), ("1.5", 90), ("1:40", 100), ("0,5", 30)])
def test_hours_in_the_oven(typed: str, minutes: float) -> None:
    d, _, _ = desk(replace(in_order(), done=in_order().done[:8], bake=None))
    tick(d, bake_hours=typed)
    assert d.work.bake == Bake(135, minutes)
    d.look_at(WoundStep.BAKE)
    shown = d.step_form
    d.tick(shown)
    assert d.work.bake == Bake(135, minutes)


def test_a_step_that_is_done_can_be_put_right_and_keeps_its_hour() -> None:
    d, r, _ = desk(in_order())
    d.look_at(WoundStep.VARNISH)
    assert d.step_form.lot == "lot 7, opened in May"
    tick(d, lot="lot 8", note="second can")
    assert r.said is None
    assert d.work.varnish_lot == "lot 8"
    assert [(x.note, x.at) for x in d.work.done if x.step is WoundStep.VARNISH] == [("second can", AT)]
    assert len(d.work.done) == 11


def test_the_last_tick_is_taken_back() -> None:
    d, r, _ = desk(replace(in_order(), run=None))
    d.take_back()
    assert d.step is WoundStep.COLD
    assert len(d.work.done) == 10
    d.look_at(RUN)
    tick(d, ran="badly", seen="no charge")
    d.look_at(RUN)
    d.take_back()
    assert d.work.run is None
    empty, r, _ = desk()
    empty.take_back()
    assert "No step is ticked" in said(r)


def test_a_run_says_what_was_seen() -> None:
    d, r, _ = desk()
    d.look_at(RUN)
    tick(d, ran="well")
    assert (r.refused_field, "what was seen" in said(r)) == ("seen", True)
    tick(d, ran="badly", seen="no charge")
    assert d.work.run is not None
    assert not d.work.run.well
    assert "ran badly on the machine" in d.lacks
    d.look_at(RUN)
    tick(d, ran="")
    assert d.work.run is None


def test_a_finished_one_still_takes_how_it_ran_and_nothing_else() -> None:
    d, r, keeper = desk(replace(in_order(), run=None))
    r.finish()
    assert (r.done, r.run_since) == (True, False)
    d.look_at(RUN)
    tick(d, ran="well", seen="14.2 V at 3000")
    assert d.work.run is not None
    assert (r.done, r.run_since) == (True, True)
    assert keeper.of("rewind")[-1].done_at == AT
    before = r.record
    d.look_at(WoundStep.VARNISH)
    tick(d, lot="lot 9")
    assert r.record == before
    assert "is finished" in said(r)


def test_a_run_that_is_put_right_keeps_its_hour() -> None:
    d, r, _ = desk(in_order())
    r._clock = lambda: AT + timedelta(days=2)
    d.look_at(RUN)
    tick(d, seen="14.2 V")
    assert d.work.run == Run(True, "14.2 V", AT)


# ---- before the dip


@pytest.mark.parametrize(
    ("spoil", "reason"),
    [
        (lambda w: replace(w, sense=w.sense[1:]), "not tested at 1 of 12"),
        (lambda w: replace(w, sense=(replace(w.sense[0], way=Way.ANTICLOCKWISE), *w.sense[1:])), "REVERSED: tooth 1"),
        (lambda w: replace(w, insulation=Insulation(500, 0.1, 20)), "FAILS"),
        (lambda w: replace(w, coils=(replace(w.coils[0], turns=20), *w.coils[1:])), "Ohms are out at tooth 1"),
    ],
)
def test_nothing_that_is_wrong_is_dipped_unasked(spoil: Callable[[WoundWork], WoundWork], reason: str) -> None:
    d, r, _ = desk(spoil(replace(in_order(), done=in_order().done[:7])))
    tick(d)
    assert r.said is not None
    assert r.said.tone is Tone.ASKS
    assert reason in said(r)
    not_yet, all_the_same = r.said.choices
    not_yet.act()
    assert d.step is WoundStep.VARNISH
    all_the_same.act()
    assert d.step is WoundStep.BAKE


def test_what_is_in_order_is_dipped_at_once() -> None:
    d, r, _ = desk(replace(in_order(), done=in_order().done[:7]))
    tick(d)
    assert r.said is None
    assert d.step is WoundStep.BAKE


# ---- done


def test_in_order_it_is_done_at_once_and_the_shelf_gives_once() -> None:
    d, r, keeper = desk(in_order())
    d.finish()
    assert r.done
    d.finish()
    ((draw,),) = keeper.draws
    assert draw.grams == 260.0
    enter(d, turns="3")
    assert "finished" in said(r)


def test_what_lacks_something_is_done_only_on_being_asked() -> None:
    d, r, keeper = desk(replace(in_order(), run=None))
    d.finish()
    assert not r.done
    assert "Can't be called good: not run on the machine." in said(r)
    assert r.said is not None
    not_yet, all_the_same = r.said.choices
    not_yet.act()
    assert not r.done
    all_the_same.act()
    assert r.done
    assert [[draw.grams for draw in draws] for draws in keeper.draws] == [[260.0]]


def test_without_a_wire_off_the_shelf_nothing_is_drawn() -> None:
    d, r, keeper = desk(in_order(), taken=False)
    d.finish()
    assert "nothing comes off the shelf" in said(r)
    assert r.said is not None
    r.said.choices[1].act()
    assert r.done
    assert keeper.draws == [()]


def test_of_nothing_written_there_is_nothing_to_finish() -> None:
    r, _ = rewinding(WYE)
    WoundDesk(r).finish()
    assert "nothing to finish" in said(r)
