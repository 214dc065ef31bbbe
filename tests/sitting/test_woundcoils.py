"""As wound, coil after coil: turns and ohms judged by what the meter can tell, senses held against the layout."""

from dataclasses import replace

import pytest

from tests.rewind.wounds import COILS, HANDHELD, want
from tests.sitting.fakes import TWO_COILS
from tests.sitting.rewinds import rewinding
from tests.sitting.wounddesk import agreeing, desk, enter, head, said
from workbench.rewind.wire import Build
from workbench.rewind.wound import Compared
from workbench.rewind.woundrecord import Spot, Way, WoundStep
from workbench.sitting.rewindwound import WoundDesk

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
