"""Wire off the shelf: ranked, said where it can't be, what would run out, and what was taken."""

from dataclasses import replace

import pytest

from tests.sitting.rewinds import SPOOLS, rewinding
from workbench.records import Spool
from workbench.rewind.record import WHOLE
from workbench.rewind.wire import Build
from workbench.sitting.conditions import FormError
from workbench.sitting.rewindforms import WireForm, gauge_of
from workbench.sitting.rewinding import Rewinding
from workbench.sitting.rewindwire import WireDesk, WireRow, wire_done
from workbench.sitting.shelfform import low_words, spool_of, spool_views

ASKED = WireForm("AWG 18", Build.HEAVY, "1", "40", "72", "12", "1", "90")
DUTY = replace(ASKED, idle="1200", working="5000", poles="8", henries="0.8", volts="9")


def work(form: WireForm = ASKED, winding: str = "phase 1", **more: object) -> tuple[Rewinding, WireDesk]:
    r, _ = rewinding(winding=winding, **more)  # type: ignore[arg-type]  # by name
    desk = WireDesk(r)
    desk.ask(form)
    return r, desk


def said(r: Rewinding) -> str:
    return r.said.sentence if r.said is not None else ""


def test_the_same_wire_comes_first_and_changes_nothing() -> None:
    _, desk = work()
    ranked = desk.ranked
    assert ranked is not None
    first = ranked.rows[0]
    assert first.cells[0] == "AWG 18, heavy"
    assert first.cells[2] == "same"
    assert first.cells[4] == "same"
    assert "can't be ranked without idle and working speed" in ranked.note
    assert first.cells[5] == "?"
    # 12 coils of 40 turns of 72 mm and 300 mm of leads: 38.16 m; 20.95 mohm a metre of AWG 18 (ASTM B258)
    assert first.told == "0.7995 Ω at 20 °C."


def test_currents_are_ranked_once_the_duty_is_known() -> None:
    _, desk = work(DUTY)
    ranked = desk.ranked
    assert ranked is not None
    assert ranked.note == ""
    assert ranked.rows[0].cells[5:7] == ("same", "same")
    # 9 V a thousand rpm, at 1200 rpm; w = 2 pi x 4 pole pairs x 20 turns a second: 10.8 V into 0.7995 + j0.4021 ohm
    assert "12.1 A at 1,200 rpm" in ranked.rows[0].told
    _, desk = work(replace(DUTY, henries=""))
    assert desk.ranked is not None
    assert "inductance" in desk.ranked.note


def test_what_would_run_out_or_needs_care_is_said() -> None:
    _, desk = work()
    assert desk.ranked is not None
    by_wire = {row.cells[0]: row for row in desk.ranked.rows}
    short = by_wire["AWG 17, heavy"]
    assert not short.usable
    assert "runs out" in short.cells[-1]
    assert any("g are lacking" in c for c in short.cautions)
    hand = by_wire["2 × AWG 20, heavy"]
    assert any("shorted secondary" in c for c in hand.cautions)
    assert "off" not in hand.takes
    assert "640 g on top shelf 20" in hand.takes


def test_taking_one_notes_it_with_its_draws() -> None:
    r, desk = work()
    assert wire_done(r) == "none taken"
    desk.take(0)
    assert wire_done(r) == "AWG 18, heavy"
    assert r.body.wire is not None
    chosen = r.body.wire.chosen
    assert chosen is not None
    (draw,) = chosen.draws
    assert draw.spool == SPOOLS[0].id
    assert chosen.copper_grams < draw.grams < 1.3 * chosen.copper_grams
    assert desk.ranked is not None
    assert [row.taken for row in desk.ranked.rows].count(True) == 1
    assert f"{draw.grams:.0f} g off top shelf 18" in desk.taken
    r.finish()
    assert r.done


def test_draws_go_by_whole_coils_over_several_spools() -> None:
    two = (replace(SPOOLS[0], grams=100.0), replace(SPOOLS[0], id=SPOOLS[1].id, name="another 18", grams=290.0))
    r, desk = work(spools=two)
    desk.take(0)
    assert r.body.wire is not None
    assert r.body.wire.chosen is not None
    fuller, other = r.body.wire.chosen.draws
    assert (fuller.name, other.name) == ("another 18", "top shelf 18")
    piece = (fuller.grams + other.grams) / 12
    for d, grams in ((fuller, 290.0), (other, 100.0)):
        assert d.grams <= grams
        assert round(d.grams / piece, 2).is_integer() or abs(d.grams / piece - round(d.grams / piece)) < 0.02


def test_another_winding_as_it_was_takes_the_choice_back_and_another_duty_does_not() -> None:
    r, desk = work()
    desk.take(0)
    desk.ask(DUTY)
    assert wire_done(r) == "AWG 18, heavy"
    desk.ask(replace(ASKED, turns="44"))
    assert wire_done(r) == "none taken"
    assert r.said is not None
    assert r.said.sentence.startswith("AWG 18, heavy was taken in the place of other figures")


def test_the_form_stands_as_it_was_asked() -> None:
    r, desk = work(replace(DUTY, tried="38 42"))
    assert desk.form == replace(DUTY, tried="38 42", load="", celsius="20")
    assert r.body.wire is not None
    assert r.body.wire.turns == (38, 42)


@pytest.mark.parametrize(
    ("change", "field", "reason"),
    [
        ({"gauge": "AWG 60"}, "gauge", "not in the table"),
        ({"gauge": "thin"}, "gauge", "names no gauge"),
        (
            {"gauge": "AWG 18", "build": Build.GRADE_1},
            "build",
            "no grade 1 build of AWG 18: it is single, heavy or triple",
        ),
        ({"gauge": "AWG 9"}, "gauge", "AWG 9 is over its enamel stands in no table here"),
        ({"turns": "many"}, "turns", "is no number"),
        ({"turns": "0"}, "turns", "from 1"),
        ({"mean_turn": ""}, "mean_turn", "mean turn"),
        ({"paths": "5"}, "paths", "can't be dealt"),
        ({"idle": "5000", "working": "1000"}, "working", "The working speed must lie"),
        ({"idle": "1000"}, "working", "working speed"),
    ],
)
def test_what_can_not_be_used_is_refused(change: dict[str, object], field: str, reason: str) -> None:
    r, desk = work(replace(ASKED, **change))  # type: ignore[arg-type]  # by name
    assert reason in said(r)
    assert r.refused_field == field
    assert desk.ranked is None


def test_an_empty_shelf_and_a_shelf_of_other_wire_are_said() -> None:
    _, desk = work(spools=())
    assert desk.ranked is not None
    assert "shelf is empty" in desk.ranked.note
    _, desk = work(replace(ASKED, gauge="AWG 36"))
    assert desk.ranked is not None
    assert "nothing on the shelf" in desk.ranked.note.lower()


# ---- the shelf


def test_a_gauge_may_be_named_shortly() -> None:
    assert [gauge_of(t).name for t in ("20", "awg 20", "0.9", "0,9 mm", ".9")] == [
        "AWG 20", "AWG 20", "0.900 mm", "0.900 mm", "0.900 mm",
    ]  # fmt: skip


def test_a_spool_is_typed_and_low_ones_are_said() -> None:
    made = spool_of("  door 22 ", "22", Build.SINGLE, "250", "", None)
    assert (made.name, made.gauge, made.build, made.grams, made.version) == ("door 22", "AWG 22", "single", 250.0, 0)
    weighed = spool_of("door 22", "AWG 22", Build.SINGLE, "90.5", "", replace(made, version=4))
    assert (weighed.id, weighed.version, weighed.grams) == (made.id, 4, 90.5)
    assert low_words((*SPOOLS, weighed)) == "Below 100 g: short end 17, door 22."
    low = spool_views((weighed,))[0]
    assert low.low
    assert low.metres.startswith("about 3") or low.metres.startswith("about 2")
    for change, field in (
        ({"name": " "}, "name"),
        ({"gauge_text": "AWG 99"}, "gauge"),
        ({"grams": "-1"}, "grams"),
        ({"grams": "half"}, "grams"),
        ({"build": Build.GRADE_3}, "build"),
    ):
        typed = {"name": "x", "gauge_text": "22", "build": Build.SINGLE, "grams": "1", "note": "", "before": None}
        with pytest.raises(FormError) as refused:
            spool_of(**(typed | change))  # type: ignore[arg-type]  # by name
        assert refused.value.field == field


def test_three_phases_take_three_times_the_wire_of_one() -> None:
    form = replace(ASKED, coils="4")
    (r, one), (whole, three) = work(form), work(form, winding=WHOLE)
    for desk in (one, three):
        desk.take(0)
    chosen = [x.body.wire.chosen for x in (r, whole) if x.body.wire is not None]
    assert chosen[0] is not None
    assert chosen[1] is not None
    assert chosen[1].copper_grams == pytest.approx(3 * chosen[0].copper_grams)
    assert chosen[1].draws[0].grams == pytest.approx(3 * chosen[0].draws[0].grams, abs=0.2)
    assert chosen[1].ohms == chosen[0].ohms
    few = (replace(SPOOLS[0], grams=200.0),)
    assert desk_of(form, few, "phase 1").usable
    assert not desk_of(form, few, WHOLE).usable


def desk_of(form: WireForm, spools: tuple[Spool, ...], winding: str) -> WireRow:
    _, desk = work(form, winding=winding, spools=spools)
    assert desk.ranked is not None
    return desk.ranked.rows[0]
