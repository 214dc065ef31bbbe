"""The plan of a coil: what it begins from, whether it goes in and what it misses by, in words, noted, never stale."""

from collections.abc import Callable
from dataclasses import fields, replace
from typing import Any

import pytest

from tests.sitting.plans import BLOCK, INWARD, RING, SCRAMBLE
from tests.sitting.rewinds import rewinding
from tests.sitting.test_rewindwire import ASKED
from workbench.rewind.coil import Manner, Room
from workbench.rewind.found import AsFound
from workbench.rewind.predict import predicted
from workbench.rewind.record import WHOLE
from workbench.rewind.strip import StripRecord
from workbench.rewind.wire import Build, Scale, awg
from workbench.sitting.planform import PlanForm, begun, plan_asked
from workbench.sitting.rewinding import Rewinding
from workbench.sitting.rewindplan import PlanDesk, PlanView, layer_words, plan_done
from workbench.sitting.rewindsteps import StepsWork
from workbench.sitting.rewindwire import WireDesk
from workbench.sitting.rewindwound import WoundDesk
from workbench.sitting.say import Tone
from workbench.stator.layout import Facing


def desk(winding: str = "phase 1") -> tuple[Rewinding, PlanDesk]:
    r, _ = rewinding(winding=winding)
    return r, PlanDesk(r)


def seen(form: PlanForm, winding: str = "phase 1") -> tuple[Rewinding, PlanView]:
    r, d = desk(winding)
    d.plan(form)
    assert d.view is not None
    return r, d.view


def facts(view: PlanView) -> dict[str, str]:
    return {f.name: f.value for f in view.facts}


def said(r: Rewinding) -> str:
    return r.said.sentence if r.said is not None else ""


# ---- what comes of it


def test_a_coil_worked_out_by_hand() -> None:
    """1 mm wire in 20 x 5 mm: 20, 20 and 5; 23 - 20 mm to what turns. 3 mm high; mean height (20 x 0.5 + 20 x 1.5 +
    5 x 2.5) / 45 mm square-stacked, (20 x 0.5 + 19 x 1.366 + 6 x 2.232) / 45 nested: 1.1316 in the middle.
    Mean turn 2 (10 + 20) + 2 pi 1.1316 = 67.11 mm, of which 45 are 3.02 m; 1/58 ohm mm2/m (IEC 60028, by secondary
    reprint) over 0.6362 mm2: 0.0818 ohm. 3.02 m x 0.6362 mm2 x 8.89 g/cm3 = 17.1 g.
    """
    r, view = seen(BLOCK)
    assert view.fits
    assert view.headline == "It goes in: 45 turns, of 98 to 100 that would."
    assert "both bounds" in view.said
    got = facts(view)
    assert got["Layers"] == "3: 2 × 20, 5 turns from the tooth out"
    assert got["Would go in"] == "100 turns square-stacked, 98 nested"
    assert got["Build"] == "3.00 mm of 5.00 mm"
    assert got["Mean turn"].startswith("67.1 ± ")
    assert got["Wire of a coil"] == "3.02 m, leads and all"
    assert got["A coil at 20 °C"].startswith("0.0818 Ω (")
    assert got["Copper to buy"].startswith("17 g, ")
    assert got["To the flywheel"] == "3.00 mm clear, 0.5 mm must be"
    assert got["Over the stack"] == "not measured"
    assert [c.partition(",")[0].partition(";")[0] for c in view.cautions] == [
        "Laid by the nominal diameter over the enamel",
        "The wire's own tolerance is not in the table",
    ]
    assert said(r) == "The coil is planned, and goes in."


def test_ohms_cold_and_warm_of_a_coil_and_of_its_winding() -> None:
    """(234.5 + 60) / 254.5 of them at 60 C (IEC 60228 Annex B, by secondary reprint); four in series, or two by two."""
    _, view = seen(RING)
    _, grouped = seen(replace(RING, paths="2"))
    got, by_two = facts(view), facts(grouped)
    assert got["A coil at 20 °C"].startswith("0.0690 Ω (0.0671 Ω to 0.0708 Ω)")
    assert got["A coil at 60 °C"].startswith("0.0798 Ω")
    assert got["The winding at 20 °C"].startswith("0.2758 Ω")
    assert by_two["The winding at 20 °C"].startswith("0.0690 Ω")
    assert got["Copper to buy"].endswith("for 4 coils")


def test_a_phase_is_told_where_three_are_wound_and_copper_for_all() -> None:
    _, one = seen(RING, "phase 1")
    _, three = seen(RING, WHOLE)
    assert facts(three)["A phase at 20 °C"] == facts(one)["The winding at 20 °C"]
    grams = [float(facts(v)["Copper to buy"].split(" g")[0]) for v in (one, three)]
    assert grams[1] == pytest.approx(3 * grams[0], abs=2)
    assert facts(three)["Copper to buy"].endswith("for 12 coils")


def test_only_nested_and_as_it_falls_are_said() -> None:
    _, view = seen(replace(RING, turns="44"))
    assert view.said.startswith("It goes in only nested")
    assert any("rides up" in c for c in view.cautions)
    assert facts(view)["Drawn"] == "nested"
    _, view = seen(replace(BLOCK, sheet="0.1"))
    assert facts(view)["Would go in"] == "80 turns"
    _, view = seen(SCRAMBLE)
    assert "by the fill" in view.said
    assert "Layers" not in facts(view)
    assert not view.drawing.in_layers


def test_layers_alike_are_counted_together_and_many_are_cut_short() -> None:
    assert layer_words((20, 20, 5)) == "3: 2 × 20, 5 turns from the tooth out"
    assert layer_words((6.5, 6.0)) == "2: 6.5, 6 turns from the tooth out"
    assert layer_words(tuple(range(30, 10, -1))) == "20: 30, 29, 28, 27, 26, 25, 24, 23, …, 11 turns from the tooth out"


# ---- what it misses by


@pytest.mark.parametrize(
    ("form", "field", "headline", "drawn"),
    [
        (replace(BLOCK, turns="120"), "turns", "20 turns too many", 100),
        (replace(SCRAMBLE, turns="70"), "turns", "7 turns too many", 63),
        (replace(BLOCK, turns="101"), "turns", "1 turn too many", 100),
        (replace(BLOCK, flywheel="20.2"), "flywheel", "0.30 mm too close", 45),
        (replace(BLOCK, above="3.1"), "above", "0.40 mm too close", 45),
        (replace(BLOCK, flank="4.2"), "gauge", "0.20 mm too thick", 0),
        (replace(BLOCK, flank="6"), "flank", "no room is left", 0),
        (replace(INWARD, turns="60"), "turns", "19 turns too many", 41),
    ],
)
def test_what_does_not_go_in_says_by_how_much_and_draws_what_does(
    form: PlanForm, field: str, headline: str, drawn: int
) -> None:
    r, view = seen(form)
    assert not view.fits
    assert view.headline == f"It does not go in: {headline}"
    assert r.said is not None
    assert r.said.tone is Tone.REFUSES
    assert headline in said(r)
    assert r.refused_field == field
    assert view.drawing.wires == drawn
    assert view.headline in view.spoken


def test_how_much_depth_is_lacking_beside_the_turns() -> None:
    """Six layers of twenty are 1 mm higher; nested, six layers are 1 + 5 sqrt 0.75 = 5.33 mm and hold 117."""
    _, view = seen(replace(BLOCK, turns="117"))
    assert facts(view) == {"Drawn": "the 100 turns that go in", "Lacking": "0.34 mm of depth"}


@pytest.mark.parametrize(
    ("change", "field", "reason"),
    [
        ({"gauge": "thin"}, "gauge", "names no gauge"),
        ({"gauge": "0.817"}, "gauge", "not in the table"),
        ({"over": "0.2"}, "over", "does not go with"),
        ({"build": Build.GRADE_1}, "build", "no grade-1 build"),
        ({"turns": ""}, "turns", "turns"),
        ({"turns": "31000"}, "turns", "30,000"),
        ({"tooth": "wide"}, "tooth", "tooth's width"),
        ({"stack": "-2"}, "stack", "The height of the stack must lie"),
        ({"tip": "10"}, "tip", "Where the teeth point outward the tip must lie further out than the root"),
        ({"teeth": "2"}, "teeth", "from 3"),
        ({"root_lining": "-1"}, "root_lining", "lining at the root must lie"),
        ({"flywheel": "-1"}, "flywheel", "must lie"),
        ({"sheet": "11"}, "sheet", "sheet between layers"),
        ({"scramble": "95"}, "scramble", "0.907"),
        ({"bulge": "200"}, "bulge", "must lie"),
        ({"core_u": "x"}, "core_u", "is no number"),
        ({"coils": "0"}, "coils", "from 1 to 96 coils"),
        ({"paths": "3"}, "paths", "can't be dealt"),
        ({"celsius": "400"}, "celsius", "-60 to 300"),
        ({"facing": Facing.STRAIGHT, "root": "0"}, "gap", "gap between its legs"),
    ],
)
def test_what_can_not_be_read_is_refused_at_its_field(change: dict[str, Any], field: str, reason: str) -> None:
    r, d = desk()
    d.plan(replace(RING, **change))
    assert reason in said(r)
    assert r.refused_field == field
    assert d.view is None


# ---- what it begins from


def test_it_begins_from_the_pattern_and_the_wire_that_was_taken() -> None:
    r, d = desk("phase 1")
    assert (d.form.teeth, d.form.facing, d.form.coils, d.form.gauge) == ("12", Facing.OUTWARD, "4", "")
    wire = WireDesk(r)
    wire.ask(replace(ASKED, coils="6", paths="2", idle="900", working="4000", celsius="75"))
    assert (d.form.gauge, d.form.turns, d.form.coils, d.form.paths) == ("AWG 18", "40", "6", "2")
    assert d.form.celsius == "75"
    assert wire.ranked is not None
    at = next(row.place for row in wire.ranked.rows if row.cells[0] == "2 × AWG 20, heavy")
    wire.take(at)
    assert (d.form.gauge, d.form.strands) == ("AWG 20", "2")


@pytest.mark.parametrize(
    ("record", "gauge", "over", "turns"),
    [
        (StripRecord(turns=(34.0, 35.0, 34.0), gauge=awg(17), strands=2), "AWG 17", "", "34"),
        (StripRecord(bare_mm=(0.816, 0.818), overall_mm=(0.9,), turns=(12.0,)), "0.817 mm", "0.900", "12"),
        (StripRecord(bare_mm=(1.018, 1.022)), "AWG 18", "", ""),
        (StripRecord(bare_mm=(0.998, 1.001), coils=6), "1.000 mm", "", ""),
    ],
)
def test_it_begins_from_what_was_found_until_a_wire_is_known(
    record: StripRecord, gauge: str, over: str, turns: str
) -> None:
    r, d = desk()
    r.change(replace(r.body, found=AsFound(record)))
    assert (d.form.gauge, d.form.over, d.form.turns) == (gauge, over, turns)
    assert d.form.strands == str(record.strands or 1)
    assert d.form.coils == ("6" if record.coils == 6 else "4")
    core = {f.name: getattr(RING, f.name) for f in fields(RING) if f.name not in {"gauge", "build", "over", "turns"}}
    d.plan(replace(d.form, turns=turns or "10", **core))
    assert d.view is not None
    assert d.view.fits
    WireDesk(r).ask(ASKED)
    assert (PlanDesk(r).form.gauge, PlanDesk(r).form.over) == ("AWG 18", "")


def test_a_form_that_was_noted_comes_back_the_same_order() -> None:
    for form in (RING, INWARD, replace(BLOCK, gauge="0.8173", over="0.91", sheet="0.05"), replace(RING, flange="5")):
        r, d = desk()
        d.note(form)
        work = r.body.plan
        assert work is not None
        again = plan_asked(begun(r.pattern, "phase 1", r.body))
        assert again.order == work.order == plan_asked(form).order
        assert (again.coils, again.paths) == (int(form.coils), int(form.paths))


def test_measured_over_the_enamel_a_wire_need_be_on_no_table() -> None:
    order = plan_asked(replace(BLOCK, gauge="0,8173 mm", over="0.91")).order
    assert order.wire.gauge.scale is Scale.MEASURED
    assert (order.wire.gauge.mm, order.wire.placing_mm) == (0.8173, 0.91)


def test_what_is_left_empty_is_the_usual() -> None:
    empty = dict.fromkeys(("least", "scramble", "warns", "bulge", "stretch", "tails", "spare", "core_u"), "")
    given = replace(RING, manner=Manner.LAYERED, **empty)  # type: ignore[arg-type]  # by name
    assert plan_asked(given).order == plan_asked(RING).order
    assert plan_asked(given).order.room == Room(45.0, 8.0)


# ---- noted


def test_a_plan_is_noted_only_where_it_goes_in() -> None:
    r, d = desk()
    assert plan_done(r) == "not planned"
    d.note(replace(RING, turns="90"))
    assert r.body.plan is None
    d.note(RING)
    assert r.body.plan is not None
    assert said(r) == "The plan is noted for this rewind."
    assert plan_done(r) == "AWG 18, heavy, 40 turns"
    assert d.noted == "Noted: AWG 18, heavy, 40 turns a coil, 4 coils in series: 0.2758 Ω at 20 °C."
    (p,) = predicted(r.pattern, "phase 1", r.body)
    assert p.ohms_20 == pytest.approx(0.2758, abs=5e-5)
    d.note(replace(RING, paths="2"))
    assert "4 coils in 2 groups side by side: 0.06896" in d.noted


def test_wire_taken_after_the_plan_is_to_be_planned_too_and_its_turns_are_meant_everywhere() -> None:
    r, d = desk()
    d.note(RING)
    wire, steps = WireDesk(r), StepsWork(r)
    steps.lay_out(steps.form)
    wire.ask(replace(ASKED, turns="44"))
    # before it is taken the plan's turns go before those that it had
    assert (WoundDesk(r).turns_meant, steps.views[0].turns) == ("40", "40 turns")
    ranked = wire.ranked
    assert ranked is not None
    wire.take(0)
    chosen = r.body.wire.chosen if r.body.wire is not None else None
    assert chosen is not None
    assert chosen.turns == 44
    assert d.noted.endswith(
        f"Taken on the page Wire: {ranked.rows[0].cells[0]}, 44 turns. "
        "Plan that too: whether it goes in is not known by this one."
    )
    assert (WoundDesk(r).turns_meant, steps.views[0].turns) == ("44", "44 turns")


def test_what_is_noted_is_seen_again_when_the_desk_is_opened() -> None:
    r, d = desk()
    d.note(RING)
    again = PlanDesk(r)
    assert again.view is not None
    assert again.view.headline == d.view.headline  # type: ignore[union-attr]
    assert r.said is not None
    assert r.said.tone is Tone.TELLS


def test_a_finished_rewind_is_planned_no_more() -> None:
    r, d = desk()
    wire = WireDesk(r)
    wire.ask(ASKED)
    wire.take(0)
    r.finish()
    d.note(RING)
    assert r.body.plan is None
    assert "finished" in said(r)


# ---- away from the window


class Later:
    """A back desk that answers when it is told to."""

    def __init__(self) -> None:
        self.waiting: list[Callable[[], object]] = []

    def __call__(self, work: Callable[[], Any], then: Callable[[Any], object]) -> None:
        self.waiting.append(lambda: then(work()))

    def answer(self, at: int = 0) -> None:
        self.waiting.pop(at)()


def slow() -> tuple[Rewinding, PlanDesk, Later]:
    r, d = desk()
    later = r.reckon = Later()
    return r, d, later


def test_an_answer_that_comes_late_is_dropped() -> None:
    r, d, later = slow()
    d.plan(replace(RING, turns="90"))
    assert d.view is None
    assert d.reckoning
    d.plan(RING)
    later.answer()
    assert d.view is None
    assert r.refused_field == ""
    later.answer()
    assert d.view is not None
    assert d.view.fits
    assert not d.reckoning


def test_another_windings_answer_waits_for_it() -> None:
    r, d, later = slow()
    d.plan(replace(RING, turns="90"))
    r.choose("phase 2")
    later.answer()
    assert d.view is None
    assert r.said is None
    r.choose("phase 1")
    assert d.view is not None
    assert d.view.headline.endswith("too many")
    assert d.form.turns == "90"


def test_a_plan_is_noted_once_its_answer_is_there() -> None:
    r, d, later = slow()
    d.note(RING)
    assert r.body.plan is None
    later.answer()
    assert r.body.plan is not None
    assert later.waiting == []
    d.note(replace(RING, turns="39"))
    d.plan(replace(RING, turns="38"))
    later.answer()
    later.answer()
    assert r.body.plan.order.turns == 40


def test_the_same_form_again_is_not_reckoned_again() -> None:
    r, d, later = slow()
    d.plan(RING)
    later.answer()
    d.plan(RING)
    assert later.waiting == []
    assert said(r) == "The coil is planned, and goes in."
    d.note(RING)
    assert r.body.plan is not None
    assert later.waiting == []
