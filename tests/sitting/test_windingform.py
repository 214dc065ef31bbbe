"""A winding's form: what is typed comes back, and what can't be used says so at its field."""

from dataclasses import replace

import pytest
from hypothesis import assume, given

from tests.drafting.drawn import wired
from tests.stator.strategies import patterns
from workbench.drafting import windings
from workbench.drafting.draft import Draft
from workbench.sitting.conditions import FormError
from workbench.sitting.windingform import Band, WindingForm, applied, form_of
from workbench.stator.pattern import Element, Kind, Pattern


@given(patterns(elements=True))
def test_a_form_left_as_it_is_changes_nothing(pattern: Pattern) -> None:
    assume(all(e.name == " ".join(e.name.split()) for e in pattern.edges))
    draft = Draft.of(pattern)
    for edge in draft.edges:
        assert applied(draft, edge.name, form_of(edge)) == draft


def test_ohms_are_typed_as_at_the_bench() -> None:
    form = WindingForm("light", Kind.LIGHTING, "lamp coil", band=Band.LIMITS, low="0,35", high="0.45", wire="1.2 mm")
    w = applied(wired(), "low", form).edge("light")
    assert (w.low, w.high, w.kind, w.word, w.wire) == (0.35, 0.45, Kind.LIGHTING, "lamp coil", "1.2 mm")  # type: ignore[union-attr]
    thousand = applied(wired(), "high", replace(form_of(wired().windings[0]), ohms="1k2", percent="15 %"))
    assert (thousand.windings[0].ohms, thousand.windings[0].tolerance_percent) == (1200.0, 15.0)
    under = applied(wired(), "low", WindingForm("low", band=Band.UNDER, high="1"))
    assert (form_of(under.windings[1]).band, form_of(under.windings[1]).high) == (Band.UNDER, "1")
    limits = WindingForm("low", band=Band.LIMITS, low="0.001", high="1")
    assert form_of(applied(wired(), "low", limits).windings[1]).band is Band.LIMITS
    assert applied(wired(), "ground", WindingForm("frame", high="0.3")).links[0].limit_ohms == 0.3


def test_a_diode_has_no_ohms_and_a_winding_gets_them_back() -> None:
    diode = applied(wired(), "low", WindingForm("low", element=Element.DIODE))
    assert diode.windings[1].element is Element.DIODE
    again = applied(diode, "low", WindingForm("low", ohms="20"))
    assert (again.windings[1].element, again.windings[1].ohms) == (None, 20.0)


def test_its_ends_are_moved_with_the_rest_of_it_and_may_change_places() -> None:
    d = applied(wired(), "low", replace(form_of(wired().windings[1]), finish="core"))
    assert [(w.start, w.finish) for w in d.windings] == [("P.1", "P.2"), ("P.2", "core")]
    turned = applied(wired(), "low", replace(form_of(wired().windings[1]), start="P.3", finish="P.2"))
    assert (turned.windings[1].start, turned.windings[1].finish) == ("P.3", "P.2")
    moved = applied(wired(), "ground", replace(form_of(wired().links[0]), start="P.1"))
    assert (moved.links[0].start, moved.links[0].finish) == ("P.1", "core")
    with pytest.raises(FormError, match="Both ends") as e:
        applied(wired(), "low", replace(form_of(wired().windings[1]), start="P.3"))
    assert e.value.field == "finish"


def test_a_band_stays_where_it_came_from_until_it_is_told_anew() -> None:
    d = windings.set_percent(wired(), "low", 20, 10, band_from="eleven units")
    form = form_of(d.windings[1])
    assert applied(d, "low", replace(form, name="lamps", finish="core")).windings[1].band_from == "eleven units"
    assert applied(d, "low", replace(form, percent="12")).windings[1].band_from == ""


@pytest.mark.parametrize(
    ("form", "field"),
    [
        (WindingForm("", ohms="20"), "name"), (WindingForm("high", ohms="20"), "name"),
        (WindingForm("low", ohms=""), "ohms"), (WindingForm("low", ohms="OL"), "ohms"),
        (WindingForm("low", ohms="abc"), "ohms"), (WindingForm("low", ohms="20", percent="ten"), "percent"),
        (WindingForm("low", ohms="20", percent="200"), "percent"),
        (WindingForm("low", band=Band.LIMITS, low="", high="3"), "low"),
        (WindingForm("low", band=Band.LIMITS, low="5", high="3"), "high"),
        (WindingForm("low", band=Band.UNDER, high="0"), "high"),
    ],
)  # fmt: skip
def test_what_can_not_be_used_names_its_field(form: WindingForm, field: str) -> None:
    with pytest.raises(FormError) as e:
        applied(wired(), "low", form)
    assert e.value.field == field
    assert e.value.sentence.endswith(".")
