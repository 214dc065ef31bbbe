"""The fields that say how warm the part is, on which meter, with which leads."""

from dataclasses import replace
from typing import Any
from uuid import uuid4

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.sitting.fakes import AT, FOUR_WIRES, HANDHELD, FakeKeeper, bench_file
from workbench.cards.sayings import conditions
from workbench.cards.wrap import TIE
from workbench.records import SheetHead, TemperatureSource
from workbench.sitting.bench import Bench
from workbench.sitting.card import card_facts
from workbench.sitting.conditions import (
    Form,
    FormError,
    form_of,
    head_from,
    head_with_leads,
    other_unit,
    usual_uncertainty,
)
from workbench.sitting.counter import room_head
from workbench.sitting.views import conditions_words
from workbench.stator.sheet import Conditions

HEAD = bench_file(conditions=Conditions(21.5, 3.0, 0.2, 0.05)).sheet


def changed(**fields: Any) -> SheetHead:
    return head_from(replace(form_of(HEAD), **fields), HEAD)


def test_a_form_left_as_it_is_changes_nothing() -> None:
    for head in (HEAD, bench_file(zeroed=True, iron=None, conditions=Conditions(-5.0, 1.0)).sheet):
        assert head_from(form_of(head), head) == head


@given(
    celsius=st.floats(-60, 300).map(lambda x: round(x, 2)),
    u=st.floats(0, 20).map(lambda x: round(x, 2)),
    leads=st.floats(0, 5).map(lambda x: round(x, 3)),
    iron=st.none() | st.floats(0, 5).map(lambda x: round(x, 3)),
    zeroed=st.booleans(),
    source=st.sampled_from(TemperatureSource),
    meter=st.sampled_from([HANDHELD, FOUR_WIRES]),
)
def test_what_a_form_says_stands_in_the_head_and_comes_back(
    celsius: float, u: float, leads: float, iron: float | None, zeroed: bool, source: TemperatureSource, meter: Any
) -> None:
    form = Form(f"{celsius:g}", f"{u:g}", source, meter, zeroed, "" if zeroed else f"{leads:g}",
                "" if iron is None else f"{iron:g}")  # fmt: skip
    head = head_from(form, HEAD)
    c = head.conditions
    assert (c.celsius, c.celsius_uncertainty) == (pytest.approx(celsius), pytest.approx(u))
    assert c.lead_ohms == (0 if zeroed else pytest.approx(leads))
    assert (head.source, head.meter, head.meter_id, head.meter_zeroed) == (source, meter.meter, meter.id, zeroed)
    assert head.iron_ohms == (None if iron is None else pytest.approx(iron))
    assert (head.id, head.job_id, head.version) == (HEAD.id, HEAD.job_id, HEAD.version)
    assert head_from(form_of(head), head) == replace(head, conditions=c)


def test_fahrenheit_is_turned_into_celsius_and_a_difference_without_the_zero() -> None:
    head = changed(celsius="70.7", uncertainty="5.4", fahrenheit=True)
    assert head.conditions.celsius == pytest.approx(21.5)
    assert head.conditions.celsius_uncertainty == pytest.approx(3.0)


@pytest.mark.parametrize("typed", ["-10.5", "\u221210.5", " -10,5 "])
def test_frost_is_typed_with_any_minus_and_mark(typed: str) -> None:
    assert changed(celsius=typed).conditions.celsius == -10.5


def test_leads_left_on_new_ones_are_known_to_the_lowest_ranges_step() -> None:
    """0.1 ohm, rectangular (JCGM 100, 4.3.7)."""
    assert changed(leads="0.3").conditions.lead_uncertainty_ohms == pytest.approx(0.1 / 3**0.5)
    assert changed(meter=FOUR_WIRES).conditions.lead_uncertainty_ohms == pytest.approx(0.0001 / 3**0.5)


def test_one_ohm_may_be_typed_as_a_one_alone() -> None:
    assert changed(leads="1").conditions.lead_ohms == 1.0
    assert changed(iron="1.").iron_ohms == 1.0


@pytest.mark.parametrize(
    ("field", "typed", "says"),
    [
        ("celsius", "", "how warm"),
        ("celsius", "warm", "such as 21.5"),
        ("celsius", "nan", "can't be"),
        ("celsius", "-61", "-60 to 300 °C"),
        ("celsius", "301", "-60 to 300 °C"),
        ("uncertainty", "", "how well"),
        ("uncertainty", "-1", "from 0 up"),
        ("uncertainty", "nan", "from 0 up"),
        ("uncertainty", "inf", "from 0 up"),
        ("leads", "", "leads shorted"),
        ("leads", "x", "leads shorted"),
        ("leads", "OL", "no contact"),
        ("leads", "-0.2", "can't be"),
        ("leads", "6", "short them again"),
        ("iron", "OL", "no contact"),
        ("iron", "6", "scrape"),
        ("iron", "-3", "zero the meter"),
        ("iron", "1,234", "point"),
    ],
)
def test_a_field_that_cannot_be_used_is_named_with_a_sentence(field: str, typed: str, says: str) -> None:
    with pytest.raises(FormError, match=says) as told:
        changed(**{field: typed})
    assert told.value.field == field
    assert told.value.sentence.endswith(".")


def test_limits_are_told_in_the_unit_of_the_field() -> None:
    with pytest.raises(FormError, match="A part at 600 °F can't be: -76 to 572 °F"):
        changed(celsius="600", fahrenheit=True)


def test_leads_of_a_zeroed_meter_are_not_asked() -> None:
    head = changed(zeroed=True, leads="nonsense")
    assert head.conditions.lead_ohms == 0
    assert head.meter_zeroed


def test_the_usual_uncertainty_follows_the_source_in_the_fields_unit() -> None:
    assert [usual_uncertainty(s) for s in TemperatureSource] == ["3", "5", "1"]
    assert [usual_uncertainty(s, fahrenheit=True) for s in TemperatureSource] == ["5.4", "9", "1.8"]


@pytest.mark.parametrize(
    ("text", "to_fahrenheit", "difference", "other"),
    [
        ("20", True, False, "68"),
        ("68", False, False, "20"),
        ("-40", True, False, "-40"),
        ("21,5", True, False, "70.7"),
        ("3", True, True, "5.4"),
        ("5.4", False, True, "3"),
        ("warm", True, False, "warm"),
        ("", True, False, ""),
    ],
)
def test_a_field_is_turned_into_the_other_unit(text: str, to_fahrenheit: bool, difference: bool, other: str) -> None:
    assert other_unit(text, to_fahrenheit=to_fahrenheit, difference=difference) == other


@given(celsius=st.floats(-60, 300).map(lambda x: round(x, 1)))
def test_there_and_back_is_the_same_temperature(celsius: float) -> None:
    there = other_unit(f"{celsius:g}", to_fahrenheit=True)
    assert float(other_unit(there, to_fahrenheit=False)) == pytest.approx(celsius, abs=0.06)


def test_what_nobody_measured_is_assumed_until_it_is() -> None:
    fresh = room_head(uuid4(), uuid4(), HANDHELD)
    assert (fresh.celsius_assumed, fresh.leads_assumed) == (True, True)
    assert conditions_words(fresh) == ("20 °C, u 3 °C assumed", "leads 0.2 Ω assumed")
    seen = head_from(form_of(fresh), fresh)  # the leads are left as they were assumed
    assert (seen.celsius_assumed, seen.leads_assumed) == (False, True)
    read = head_with_leads("0.2", seen)
    assert not read.leads_assumed
    assert conditions_words(read) == ("20 °C, u 3 °C", "leads 0.2 Ω")
    for typed in (replace(form_of(fresh), leads="0.3"), replace(form_of(fresh), zeroed=True, leads="")):
        assert not head_from(typed, fresh).leads_assumed


def test_the_card_says_what_was_assumed() -> None:
    file = bench_file()
    said = []
    for assumed in (False, True):
        head = replace(file.sheet, celsius_assumed=assumed, leads_assumed=assumed)
        facts = card_facts(Bench(replace(file, sheet=head), FakeKeeper()), AT)
        said.append([" ".join(s).replace(TIE, " ") for s in conditions(facts)])
    assert "Part: 20 °C, u 1, by a contact probe." in said[0]
    assert "Leads: 0.2 Ω, u 0.05 Ω, taken off." in said[0]
    assert "Part: 20 °C, u 1, assumed, not measured." in said[1]
    assert "Leads: 0.2 Ω, u 0.05 Ω, taken off; assumed, not measured." in said[1]
