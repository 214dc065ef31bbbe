"""A winding as it was found: noted, worked out, said calmly, held against the pattern, put on the page Wire."""

from collections.abc import Callable
from dataclasses import fields, replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.exchange.test_rewindbody_found import FOUND
from tests.sitting.fakes import TWO_COILS
from tests.sitting.rewinds import rewinding
from workbench.foundwords import give_words
from workbench.rewind.found import AsFound
from workbench.rewind.inferred import Quantity, Worth
from workbench.rewind.record import WHOLE, WireWork
from workbench.rewind.shelf import AsWas
from workbench.rewind.wire import Build, Wire, awg
from workbench.sitting.conditions import FormError
from workbench.sitting.foundform import FoundForm, found_form, found_of
from workbench.sitting.rewindfound import FoundWork, QuantityView, found_done
from workbench.sitting.rewinding import Rewinding
from workbench.sitting.rewindwire import WireDesk
from workbench.sitting.say import Tone

# one coil of 200 turns of AWG 20, 90 mm a turn: 18 m, 0.59812 ohm, 83.03 g (IEC 60028's constants)
FORM = FoundForm(
    turns="200", strands="1", bare="0.811 0.813 0.814", overall="0.878", mean_turn="90", ohms="0.59812", grams="83.03"
)
UNCOUNTED = replace(FORM, turns="")
# the mean turn borne out by the tooth: 2 (11 + 25) + 5.7 pi = 89.9 mm
MISCOUNTED = replace(FORM, turns="150", width="11", height="25", build="5.7")


def work(form: FoundForm | None = FORM, winding: str = "phase 1", **more: Any) -> tuple[Rewinding, FoundWork]:
    r, _ = rewinding(winding=winding, **more)
    desk = FoundWork(r)
    if form is not None:
        desk.note(form)
    return r, desk


def said(r: Rewinding) -> str:
    return r.said.sentence if r.said is not None else ""


def of(desk: FoundWork, quantity: Quantity) -> QuantityView:
    assert desk.view is not None
    return next(q for q in desk.view.quantities if q.quantity is quantity)


def lines(desk: FoundWork) -> tuple[str, ...]:
    assert desk.view is not None
    return desk.view.lines


# ---- worked out


def test_each_quantity_says_how_it_is_known() -> None:
    _, desk = work()
    assert of(desk, Quantity.TURNS).how == "counted"
    assert of(desk, Quantity.BARE).how == "measured"
    assert of(desk, Quantity.GRAMS).how == "weighed"
    assert of(desk, Quantity.STRANDS).value == "1"
    length = of(desk, Quantity.LENGTH)
    assert (length.how, length.value[:4]) == ("worked out", "18.0")
    assert length.spoken == f"Wire, one strand: {length.value}, worked out"
    _, desk = work(UNCOUNTED)
    turns = of(desk, Quantity.TURNS)
    assert turns.how == "worked out"
    assert turns.value.startswith("200.")
    assert " ± " in turns.value


def test_a_tag_and_a_tooths_sides_are_named_as_what_they_are() -> None:
    sides = replace(UNCOUNTED, bare="", gauge="20", mean_turn="", width="11", height="25", build="5.7")
    _, desk = work(sides)
    assert of(desk, Quantity.BARE).how == "by its tag"
    assert of(desk, Quantity.MEAN_TURN).how == "by the tooth's sides"


def test_likely_gauges_of_both_tables_with_their_builds() -> None:
    _, desk = work(FoundForm(bare="0.805", overall="0.87"))
    assert desk.view is not None
    by_name = {g.name: g for g in desk.view.gauges}
    assert set(by_name) == {"AWG 20", "0.800 mm"}
    # single from 0.836 to 0.861 mm, heavy from 0.864 (NEMA MW 1000); grade 2 up to 0.885 (both by secondary reprint)
    assert by_name["AWG 20"].builds == "single or heavy"
    assert "grade 2" in by_name["0.800 mm"].builds
    _, bare = work(FoundForm(bare="0.805"))
    assert bare.view is not None
    assert {g.builds for g in bare.view.gauges} == {"build not known"}
    _, thick = work(FoundForm(bare="0.805", overall="1.3"))
    assert thick.view is not None
    assert {g.builds for g in thick.view.gauges} == {"no build of it is so thick"}


def test_whether_the_figures_agree_is_said_calmly() -> None:
    _, desk = work()
    assert lines(desk) == ("The figures agree with each other.",)
    assert desk.view is not None
    assert not desk.view.wrong
    _, alone = work(FoundForm(turns="200"))
    assert lines(alone)[0].startswith("Nothing checks these figures yet")
    _, off = work(MISCOUNTED)
    assert off.view is not None
    assert off.view.wrong
    assert "without the turns counted all others agree, so they are likely wrong" in lines(off)[0]
    assert lines(off)[1].startswith("By the others they should have been 200.")
    assert of(off, Quantity.TURNS).how == "worked out, without the counted one"


def test_where_two_may_lie_none_is_named() -> None:
    r, desk = work(FoundForm(turns="150", mean_turn="90", bare="0.8128", strands="1", ohms="0.59812"))
    assert "any one of these may be wrong" in lines(desk)[0]
    assert "the turns counted" in lines(desk)[0]
    assert of(desk, Quantity.TURNS).how == "in doubt"
    desk.take_to_wire(desk.form)
    assert r.body.wire is None
    assert "which is wrong can't be told" in said(r)


def test_places_that_differ_are_remarked() -> None:
    _, desk = work(FoundForm(bare="0.75 0.81 0.80", overall="0.70", turns="200 180"))
    assert [x.split(" ")[1] for x in lines(desk)[1:]] == ["bare", "coils", "its"]


def test_what_is_known_only_roughly_is_not_shown_finer() -> None:
    """U to two figures, the value to the same place (JCGM 100, 7.2.6)."""
    assert give_words(Worth(0.81287, 0.00257, True), "mm") == "0.8129 ± 0.0051 mm"
    assert give_words(Worth(1243.0, 61.0, False)) == "1,240 ± 120"
    assert give_words(Worth(33.96, 0.44, True)) == "33.96 ± 0.88"
    assert give_words(Worth(2.0, 0.002, True)) == "2"
    assert give_words(Worth(2.31, 0.11, False)) == "2.31 ± 0.22"


def test_it_is_worked_out_elsewhere_and_what_is_stale_is_dropped() -> None:
    r, desk = work(None)
    waiting: list[Callable[[], None]] = []

    def later(do: Callable[[], Any], then: Callable[[Any], object]) -> None:
        waiting.append(lambda: (then(do()), None)[1])

    r.reckon = later  # type: ignore[assignment]  # a back desk that lets us wait
    desk.note(FORM)
    assert desk.view is None
    desk.note(UNCOUNTED)
    assert desk.view is None
    first, second = waiting
    second()
    assert of(desk, Quantity.TURNS).how == "worked out"
    known = desk.inferred
    first()
    assert desk.inferred is known
    assert len(waiting) == 2


# ---- senses and what is missing


def test_senses_are_held_against_the_patterns() -> None:
    _, desk = work(FoundForm(clockwise="1 4 7 10"))
    assert desk.seen[0] == "The senses seen are the pattern's."
    _, desk = work(FoundForm(clockwise="1 7 10", anticlockwise="4"))
    assert desk.seen[0].startswith("Seen wound the other way than the pattern has it: tooth 4 (there 4 clockwise).")
    _, desk = work(FoundForm(anticlockwise="1 4 7 10"))
    assert "Every coil was seen wound the other way" in desk.seen[0]
    _, desk = work(FoundForm(clockwise="1-2 4"))
    assert desk.seen[1:3] == ("The pattern has no coil of this winding on tooth 2.", "Not seen yet: teeth 7 and 10.")
    r, desk = work(None)
    layout = r.pattern.layout
    assert layout is not None
    r.pattern = replace(r.pattern, layout=replace(layout, coils=tuple(replace(c, sense=None) for c in layout.coils)))
    desk.note(FoundForm(clockwise="1"))
    assert "only record" in desk.seen[0]


def test_what_goes_with_the_old_wire_is_asked_for_before_it_is_cut() -> None:
    r, desk = work(FoundForm(photos="tray 3", ohms="0.6"))
    assert found_done(r) == "2 of 13 noted"
    before = "Before it is cut, note the start lead, the finish lead, the senses, the crossovers and the liner"
    assert desk.seen[0].startswith(before)
    assert "common practice, no source" in desk.seen[-1]
    desk.note(replace(desk.form, turns="200"))
    assert desk.seen[0].startswith("Not noted of what went with the old wire: the start lead")
    assert "turns" not in desk.seen[1]
    assert found_done(work(None)[0]) == "nothing noted"


def test_of_three_phases_the_figures_are_of_one() -> None:
    _, desk = work(None, winding=WHOLE)
    assert "of one phase" in desk.seen[0]
    assert desk.form.coils == "4"
    assert work(None)[1].seen == ()


# ---- typed


@given(
    FOUND.map(
        lambda f: replace(f, **{n: getattr(f, n).strip() for n in ("photos", "start", "finish", "crossovers", "liner")})
    )
)
def test_the_form_says_all_of_a_record(found: AsFound) -> None:
    """To twelve figures, which is more than anybody types."""
    r, _ = rewinding()
    form = found_form(r.pattern, r.winding, found)
    read = found_of(form)
    assert read is None or found_form(r.pattern, r.winding, read) == form


@pytest.mark.parametrize(
    ("change", "field", "reason"),
    [
        ({"turns": "34 x"}, "turns", "is no number"),
        ({"turns": "34,35"}, "turns", "'34,35' may be 34 and 35, or 34.35 of one coil"),
        ({"grams": "99999999"}, "grams", "from 0.001 to 1,000,000, not at 99,999,999"),
        ({"ohms": "OL"}, "ohms", "has no ohms to note"),
        ({"ohms": "thick"}, "ohms", "not a reading"),
        ({"bare": "0.8 80"}, "bare", "The bare diameter must lie"),
        ({"strands": "1.5"}, "strands", "no whole number"),
        ({"strands": "40"}, "strands", "in hand"),
        ({"coils": "0"}, "coils", "coils"),
        ({"gauge": "thin"}, "gauge", "names no gauge"),
        ({"lead_gauge": "AWG 99"}, "lead_gauge", "not in the table"),
        ({"lead": "300"}, "lead_gauge", "needs its gauge"),
        ({"ohms": "0.001", "lead": "300", "lead_gauge": "18"}, "ohms", "leave nothing"),
        ({"clockwise": "1 13"}, "clockwise", "no tooth 13"),
        ({"clockwise": "one"}, "clockwise", "is no tooth"),
        ({"clockwise": "1-4", "anticlockwise": "4"}, "anticlockwise", "Tooth 4"),
        ({"give_ohms": "-1"}, "give_ohms", "how far it may be off"),
        ({"photos": "x" * 500}, "photos", "At most 400"),
        ({"celsius": "900"}, "celsius", "Its temperature must lie"),
    ],
)
def test_what_can_not_be_is_refused_at_its_field(change: dict[str, str], field: str, reason: str) -> None:
    r, desk = work(replace(FORM, **change))  # type: ignore[arg-type]  # by name
    assert desk.found is None
    assert r.refused_field == field
    assert reason in said(r)


def test_typed_as_a_hand_types() -> None:
    found = found_of(FoundForm(bare="0,80 0,81; 0.80", turns="34, 34, 35", clockwise="1, 4;7-9", give_bare="0.02"))
    assert found is not None
    assert found.record.bare_mm == (0.80, 0.81, 0.80)
    assert found.record.turns == (34, 34, 35)
    assert found.record.bare_u_mm == 0.01  # ± is twice u
    assert [t for t, _ in found.senses] == [1, 4, 7, 8, 9]
    assert found_form(rewinding()[0].pattern, "phase 1", found).clockwise == "1 4 7-9"
    with pytest.raises(FormError):
        found_of(FoundForm(bare="0,80,0,81"))


def test_ohms_as_a_meter_shows_them() -> None:
    read = [found_of(FoundForm(ohms=text)) for text in ("1.2k", "1k2", "1200", "0,193")]
    assert [f.record.ohms for f in read if f is not None] == [1200, 1200, 1200, 0.193]


def test_coils_that_the_pattern_has_not_are_remarked() -> None:
    _, desk = work(replace(FORM, coils="4", turns="34 34 34 34"))
    assert not any("coils" in line and "noted" in line for line in desk.seen)
    _, desk = work(replace(FORM, coils="5"))
    assert "The pattern has 4 coils here, and 5 are noted: turns and ohms are shared out among so many." in desk.seen
    _, desk = work(replace(FORM, coils="4", turns="34 34 34 34 34"))
    assert "The turns of 5 coils are noted, of 4 that there are." in desk.seen


def test_nothing_typed_is_nothing_written_and_all_taken_away_is_nothing_left() -> None:
    r, desk = work(None)
    desk.note(desk.form)
    assert r.standing("phase 1") == ""
    assert "Nothing is typed yet" in said(r)
    desk.note(FORM)
    assert r.body.found is not None
    desk.note(FoundForm())
    assert r.body.found is None


def test_a_finished_rewind_stays_as_it_is() -> None:
    r, desk = work()
    r.finish(())
    desk.note(UNCOUNTED)
    assert "finished" in said(r)
    assert desk.found is not None
    assert desk.found.record.turns == (200,)


# ---- to Wire


def test_what_is_known_goes_to_wire() -> None:
    r, desk = work(UNCOUNTED)
    desk.take_to_wire(desk.form)
    assert r.body.wire == WireWork(AsWas(Wire.of(awg(20), Build.HEAVY), 200, 90.0))
    assert said(r).startswith("On the page Wire now: AWG 20")
    assert "200 turns a coil" in said(r)
    assert WireDesk(r).form.gauge == "AWG 20"


def test_what_is_not_known_is_left_and_said() -> None:
    r, desk = work(FoundForm(turns="200", bare="0.8128", mean_turn="90"))
    desk.take_to_wire(desk.form)
    assert r.body.wire is not None
    assert r.body.wire.as_was.wire == Wire.of(awg(20), Build.HEAVY)
    assert "Left as it stood: the strands (1 in hand stands there) and the build (heavy stands there)." in said(r)
    r, desk = work(FoundForm(turns="200", bare="0.8128"))
    desk.take_to_wire(desk.form)
    assert r.body.wire is None
    assert "Not known well enough for the page Wire: the mean turn. Nothing was put there." in said(r)
    assert r.said is not None
    assert r.said.tone is Tone.REFUSES
    r, desk = work(replace(UNCOUNTED, grams="", give_ohms="0.12"))  # so roughly, the turns are from 180 to 220
    desk.take_to_wire(desk.form)
    assert "the page Wire: the turns." in said(r)


def test_a_gauge_that_two_tables_have_and_one_too_unsure() -> None:
    r, desk = work(FoundForm(turns="200", bare="0.806", give_bare="0.02", mean_turn="90"))
    desk.take_to_wire(desk.form)
    assert "0.800 mm (AWG 20 may be meant as well)" in said(r)
    r, desk = work(FoundForm(turns="200", bare="0.806", give_bare="0.2", mean_turn="90"))
    desk.take_to_wire(desk.form)
    assert r.body.wire is None
    assert "the gauge" in said(r)


def test_the_tags_gauge_is_taken_where_the_figures_bear_it_out() -> None:
    r, desk = work(FoundForm(turns="200", bare="0.801", give_bare="0.006", gauge="20", mean_turn="90"))
    assert desk.view is not None
    assert "0.800 mm" in {g.name for g in desk.view.gauges}  # nearer, but not on the tag
    desk.take_to_wire(desk.form)
    assert r.body.wire is not None
    assert r.body.wire.as_was.wire.gauge == awg(20)


def test_a_gauge_that_no_table_has_a_build_of_is_refused() -> None:
    r, desk = work(FoundForm(turns="20", gauge="10", mean_turn="90"))
    desk.take_to_wire(desk.form)
    assert r.body.wire is None
    assert "a build of AWG 10" in said(r)


def test_what_stands_on_wire_is_asked_about_and_its_duty_kept() -> None:
    r, desk = work()
    wire = WireDesk(r)
    wire.ask(replace(wire.form, gauge="AWG 18", turns="40", mean_turn="72", idle="1200", working="5000", window="90"))
    wire.take(0)
    before = r.body.wire
    desk.take_to_wire(desk.form)
    assert r.body.wire == before
    assert "The page Wire has AWG 18, heavy, 40 turns a coil, 72 mm a turn." in said(r)
    assert "The wire that was taken is none any more then." in said(r)
    assert r.said is not None
    put, leave = r.said.choices
    leave.act()
    assert r.body.wire == before
    put.act()
    assert r.body.wire is not None
    assert r.body.wire.as_was.turns == 200
    assert r.body.wire.as_was.window_mm2 == 90
    assert before is not None
    assert r.body.wire.duty == before.duty
    assert r.body.wire.chosen is None
    desk.take_to_wire(desk.form)
    assert "has it so already" in said(r)


def test_what_is_only_typed_on_wire_is_asked_about_too() -> None:
    r, desk = work()
    r.unnoted.add(r.record.id)
    desk.take_to_wire(desk.form)
    assert r.body.wire is None
    assert "has something typed that is not noted yet" in said(r)
    assert r.said is not None
    r.said.choices[0].act()
    assert r.body.wire is not None
    assert not r.unnoted


def test_what_is_ranked_on_wire_is_noted() -> None:
    r, _ = work()
    wire = WireDesk(r)
    r.unnoted.add(r.record.id)
    wire.ask(replace(wire.form, gauge="thin"))
    assert r.unnoted
    wire.ask(replace(wire.form, gauge="AWG 18", turns="40", mean_turn="72"))
    assert not r.unnoted


def test_what_is_typed_here_is_noted_first() -> None:
    r, desk = work()
    desk.take_to_wire(replace(desk.form, turns="210"))
    assert "note it first" in said(r)
    r, desk = work(None)
    desk.take_to_wire(desk.form)
    assert said(r) == "Note what was found first."


def test_the_liar_does_not_go_to_wire() -> None:
    r, desk = work(MISCOUNTED, pattern=TWO_COILS, winding="")
    desk.take_to_wire(desk.form)
    assert r.body.wire is not None
    assert r.body.wire.as_was.turns == pytest.approx(200, abs=2)


@given(st.sampled_from([f.name for f in fields(FoundForm) if f.name != "enamelled"]), st.text(max_size=12))
def test_whatever_is_typed_is_noted_or_refused_at_a_field(field: str, text: str) -> None:
    r, desk = work(replace(FORM, **{field: text}))  # type: ignore[arg-type]  # by name
    assert (desk.found is None) == bool(r.refused_field)
    assert r.refused_field in {"", *(f.name for f in fields(FoundForm))}
    assert not r.refused_field or said(r).endswith(".")
