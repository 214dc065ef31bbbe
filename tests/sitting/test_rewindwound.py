"""As wound: steps ticked in order, turns and ohms coil after coil, senses held against the layout, nothing dipped or
finished unasked that lacks something.
"""

from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta

import pytest

from tests.rewind.wounds import COILS, HANDHELD, MEAN, TURNS, WIRE, in_order, want
from tests.sitting.fakes import AT, FOUR_WIRES, TWO_COILS, WYE, bench_file
from tests.sitting.rewinds import SPOOLS, RewindKeeperFake, rewinding
from workbench.records import SheetHead
from workbench.rewind.layout import Connection, Scheme
from workbench.rewind.record import Body, Chosen, Draw, Laid, WireWork
from workbench.rewind.shelf import AsWas
from workbench.rewind.wire import Build
from workbench.rewind.wound import Compared
from workbench.rewind.woundrecord import ORDER, Bake, Insulation, Run, Spot, Way, WoundStep, WoundWork
from workbench.sitting.rewinding import Rewinding
from workbench.sitting.rewindwound import WoundDesk, wound_done
from workbench.sitting.rewindwoundviews import RUN
from workbench.sitting.say import Tone
from workbench.stator.layout import Facing
from workbench.stator.sheet import Conditions

LAID = Laid(Scheme(12, 10, 3, Connection.WYE), Facing.OUTWARD, COILS)
TAKEN = Chosen(WIRE.wire, TURNS, 0.4, 20.0, 240.0, (Draw(SPOOLS[0].id, SPOOLS[0].name, 260.0),))
TYPED = {
    WoundStep.INSULATION: {"volts": "500", "megohms": ">200", "celsius": "20"},
    WoundStep.VARNISH: {"lot": "lot 7"},
    WoundStep.BAKE: {"bake_celsius": "135", "bake_hours": "4"},
}


def head(celsius: float = 20.0, leads: float = 0.0) -> SheetHead:
    found = bench_file(WYE).sheet
    four = FOUR_WIRES
    return replace(
        found, meter_id=four.id, meter_name=four.name, meter=four.meter, conditions=Conditions(celsius, 1.0, leads)
    )


def desk(
    work: WoundWork | None = None, *, taken: bool = True, sheet: SheetHead | None = None, winding: str = ""
) -> tuple[WoundDesk, Rewinding, RewindKeeperFake]:
    r, keeper = rewinding(WYE, head=sheet or head(), winding=winding)
    wire = WireWork(AsWas(WIRE.wire, TURNS, MEAN, 4), chosen=TAKEN if taken else None)
    r.change(Body(LAID, wire, wound=work))
    return WoundDesk(r), r, keeper


def said(r: Rewinding) -> str:
    return r.said.sentence if r.said is not None else ""


def tick(d: WoundDesk, **typed: str) -> None:
    d.tick(replace(d.step_form, **{**TYPED.get(d.step, {}), **typed}))  # type: ignore[call-overload,arg-type]


def enter(d: WoundDesk, **typed: object) -> None:
    d.enter(replace(d.coil_form, **typed))  # type: ignore[arg-type]  # by name


def agreeing(d: WoundDesk) -> None:
    for c in COILS:
        d.choose(Spot(c.tooth))
        d.see_sense(Way.CLOCKWISE if c.sense > 0 else Way.ANTICLOCKWISE)


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


# ---- coils


def test_coil_after_coil_by_the_counter_and_the_meter() -> None:
    d, r, _ = desk()
    assert (d.spot, d.turns_meant) == (Spot(COILS[0].tooth), "40")
    assert (d.coil_form.gauge, d.coil_form.spool, d.coil_form.celsius) == ("AWG 18", "top shelf 18", "20")
    enter(d, turns="40", ohms=f"{want().ohms:.4f}")
    assert r.said is None, said(r)
    assert d.spot == Spot(COILS[1].tooth)
    line = d.coils[0]
    assert (line.word, line.of) == ("in", "AWG 18, heavy off top shelf 18, as it was taken")
    assert "wire and turns say" in line.told
    assert "too few" in line.told  # how many missing turns this meter would tell
    enter(d, turns="40", ohms=f"{0.8 * want().ohms:.4f}")
    assert d.coils[1].word == "out"
    assert "As if 8 turns too few" in d.coils[1].told
    assert "a coil's ohms are out" in d.lacks


def test_a_meter_that_can_not_tell_says_what_can() -> None:
    d, _, _ = desk(sheet=replace(head(), meter=HANDHELD.meter))
    enter(d, turns="40", ohms="0.1")
    assert d.coils[0].word == "continuous"
    assert "turn counter, or four wires" in d.coils[0].told


@pytest.mark.parametrize(
    ("typed", "field", "reason"),
    [
        ({"turns": "forty"}, "turns", "is no number"),
        ({"turns": "1.5"}, "turns", "no whole number"),
        ({"turns": "0"}, "turns", "from 1 to"),
        ({"ohms": "abc"}, "ohms", "not a reading"),
        ({"ohms": "1"}, "ohms", "A lone 1"),
        ({"ohms": "900M"}, "ohms", "above every range"),
        ({"ohms": "0.1", "celsius": ""}, "celsius", "Nothing is typed there"),
        ({"gauge": "AWG 99", "turns": "4"}, "gauge", "not in the table"),
        ({"gauge": "AWG 45", "build": Build.GRADE_1, "turns": "4"}, "gauge", "stands in no table"),
    ],
)
def test_what_a_coil_can_not_be_is_refused(typed: dict[str, object], field: str, reason: str) -> None:
    d, r, _ = desk()
    enter(d, **typed)
    assert reason in said(r)
    assert r.refused_field == field
    assert d.work.coils == ()
    assert d.spot == Spot(COILS[0].tooth)


def test_leads_are_taken_off_and_the_reading_keeps_its_meter() -> None:
    d, r, _ = desk(sheet=head(leads=0.05))
    assert d.meter == "Bench, four wires, leads 0.05 Ω taken off"
    enter(d, turns="40", ohms=f"{want().ohms + 0.05:.4f}")
    assert d.coils[0].word == "in"
    r.head = head()  # another sheet meanwhile
    d.choose(Spot(COILS[0].tooth))
    enter(d, turns="41")
    assert d.work.coils[0].reading is not None
    assert d.work.coils[0].reading.on.lead_ohms == 0.05
    assert d.work.coils[0].turns == 41


def test_without_a_meter_no_ohms() -> None:
    d, r, _ = desk()
    r.head = None
    enter(d, turns="40", ohms="0.1", celsius="20")
    assert "No meter is known" in said(r)
    enter(d, turns="40", ohms="")
    assert d.work.coils[0].turns == 40


def test_wire_that_is_typed_is_said_to_be_and_goes_on_to_the_next() -> None:
    d, _, _ = desk(taken=False)
    assert d.coil_form.gauge == ""
    enter(d, turns="40", gauge="18", spool="short end")
    assert "typed here" in d.coils[0].of
    assert (d.coil_form.gauge, d.coil_form.spool) == ("AWG 18", "short end")
    enter(d, turns="40")
    assert d.work.coils[1].wire == d.work.coils[0].wire


def test_strands_in_hand_are_typed_before_the_gauge() -> None:
    d, r, _ = desk(taken=False)
    enter(d, turns="40", gauge="2 x 20")
    assert r.said is None, said(r)
    wire = d.work.coils[0].wire
    assert wire is not None
    assert (wire.wire.gauge.name, wire.wire.strands) == ("AWG 20", 2)
    assert d.coil_form.gauge == "2 × AWG 20"
    enter(d, turns="40", gauge="40 x 20")
    assert (r.refused_field, "From 1 to 32" in said(r)) == ("gauge", True)


def test_an_empty_form_takes_the_note_away() -> None:
    d, _, _ = desk()
    enter(d, turns="40")
    d.choose(Spot(COILS[0].tooth))
    enter(d, turns="", ohms="")
    assert d.work.coils == ()


def test_an_open_coil() -> None:
    d, _, _ = desk()
    enter(d, turns="40", ohms="OL")
    assert (d.coils[0].value, d.coils[0].word) == ("OL", "out")
    assert d.coils[0].told.startswith("Open;")


def test_the_coil_that_stands_out_is_named() -> None:
    d, _, _ = desk()
    for i, _ in enumerate(COILS):
        enter(d, turns="40", ohms=f"{want().ohms * (0.965 if i == 5 else 1):.4f}")
    assert d.coils[5].word in ("in", "close")
    (one,) = d.apart
    assert one.startswith(f"Tooth {COILS[5].tooth} stands out")
    assert "1 turn too few" in one


def test_ohms_that_no_count_accounts_for_are_not_said_to_be_turns() -> None:
    d, _, _ = desk()
    for _ in COILS[:3]:
        enter(d, turns="40", ohms=f"{want().ohms:.4f}")
    enter(d, turns="40", ohms=f"{1.9 * want().ohms:.4f}")
    assert "too many" in d.coils[3].told
    d.choose(Spot(COILS[3].tooth))
    enter(d, turns="40", ohms=f"{50 * want().ohms:.4f}")
    assert "turns too many" not in d.coils[3].told
    assert d.coils[3].told.endswith(
        "More than miscounted turns account for: a poor joint, other wire, or leads not taken off."
    )
    (one,) = d.apart
    assert one.startswith(f"Tooth {COILS[3].tooth} stands out: 50 times its fellows. More than miscounted")


# ---- senses


def test_a_coil_read_on_another_day_is_still_among_its_fellows() -> None:
    """The same wire on the same meter, its warmth typed anew and its leads zeroed."""
    d, r, _ = desk()
    for i, _ in enumerate(COILS):
        r.head = head(celsius=25.0 if i == 5 else 20.0, leads=0.01 if i == 5 else 0.0)
        warm = 259.5 / 254.5 if i == 5 else 1
        shown = want().ohms * (0.93 if i == 5 else 1) * warm + (0.01 if i == 5 else 0)
        enter(d, turns="40", ohms=f"{shown:.4f}", celsius="25" if i == 5 else "20")
    assert len(d.apart) == 1


def test_senses_tooth_after_tooth() -> None:
    d, _, _ = desk()
    assert d.sense_told == (True, "0 of 12 tested.")
    agreeing(d)
    assert d.sense_told == (True, "All agree with what was laid.")
    assert {c.compared for c in d.coils} == {Compared.AGREES}


def test_a_reversed_coil_is_loud() -> None:
    d, _, _ = desk()
    first = COILS[0]
    d.see_sense(Way.NORTH if first.sense > 0 else Way.SOUTH)
    assert d.spot == Spot(COILS[1].tooth)
    well, told = d.sense_told
    assert not well
    assert told.startswith("REVERSED: tooth 1. It ohms perfectly and kills the output")
    line = d.coils[0]
    assert (line.value, line.word) == ("REVERSED", "out")
    assert "laid south, seen north" in line.detail
    assert "a coil is reversed" in d.lacks
    d.choose(Spot(1))
    d.see_sense(None)
    assert d.work.sense == ()
    assert d.spot == Spot(1)


def test_a_whole_phase_the_other_way_asks_for_the_plus() -> None:
    d, _, _ = desk()
    for c in COILS:
        if c.phase == 2:
            d.choose(Spot(c.tooth))
            d.see_sense(Way.NORTH if c.sense > 0 else Way.SOUTH)
    assert "was plus on its finish?" in d.sense_told[1]


def test_arrows_go_round() -> None:
    d, _, _ = desk()
    d.move(-1)
    assert d.spot == Spot(COILS[-1].tooth)
    d.move(1)
    assert d.spot == Spot(COILS[0].tooth)


def test_by_the_patterns_layout_where_nothing_is_laid() -> None:
    r, _ = rewinding(TWO_COILS, winding="low-speed coil", head=head())
    d = WoundDesk(r)
    assert [c.spot.tooth for c in d.coils] == [1, 2]
    assert d.sketch is not None
    assert d.sketch.teeth == 6
    d.see_sense(Way.CLOCKWISE)
    d.see_sense(Way.CLOCKWISE)
    assert "tooth 2" in d.sense_told[1]


def test_another_winding_has_its_own_coils() -> None:
    d, r, _ = desk()
    d.choose(Spot(COILS[3].tooth))
    d.look_at(WoundStep.TIE)
    r.choose("phase 2")
    assert [c.spot.tooth for c in d.coils] == [2, 5, 8, 11]
    assert d.spot == Spot(2)
    assert d.step is WoundStep.LINER


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
