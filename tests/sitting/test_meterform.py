"""A meter from its specification as typed."""

import pytest
from hypothesis import given

from tests.stator.strategies import meters
from workbench.exchange.starters import starter_meters
from workbench.sitting.conditions import FormError
from workbench.sitting.meterform import RangeText, named_meter, ohms_text, rows_of
from workbench.stator.entry import Shown, read_value
from workbench.stator.meter import Meter, Range

GOOD = RangeText("200", "0.1", "0.8", "3")


@pytest.mark.parametrize(("name", "meter"), starter_meters())
def test_what_is_shown_reads_back_to_the_same_meter(name: str, meter: Meter) -> None:
    typed = named_meter(name, rows_of(meter), None)
    assert (typed.name, typed.meter) == (name, meter)


@given(meters)
def test_any_range_top_is_typed_as_it_reads(meter: Meter) -> None:
    for r in meter.ranges:
        value = read_value(ohms_text(r.upto_ohms) if r.upto_ohms != 1 else "1.0")
        assert isinstance(value, Shown)
        assert value.ohms == pytest.approx(r.upto_ohms, rel=1e-9)


def test_ranges_may_be_typed_in_any_order_with_kilo_and_comma() -> None:
    typed = named_meter(" Old yellow ", (RangeText("20M", "10k", "1,5 %", "5"), RangeText(), GOOD), None)
    assert typed.name == "Old yellow"
    assert typed.meter == Meter((Range(200, 0.1, 0.8, 3), Range(2e7, 1e4, 1.5, 5)), 2e7)


def test_an_edited_meter_keeps_its_id_and_version() -> None:
    first = named_meter("Old yellow", (GOOD,), None)
    again = named_meter("Old red", (GOOD,), first)
    assert (again.id, again.version, again.name) == (first.id, first.version, "Old red")


@pytest.mark.parametrize(
    ("name", "row", "field", "word"),
    [
        ("", GOOD, "name", "name"),
        ("x" * 61, GOOD, "name", "60"),
        ("m", RangeText(), "row 1", "at least one range"),
        ("m", RangeText("OL", "0.1", "0.8", "3"), "row 1", "top"),
        ("m", RangeText("200", "", "0.8", "3"), "row 1", "resolution"),
        ("m", RangeText("200", "0", "0.8", "3"), "row 1", "above 0"),
        ("m", RangeText("200", "300", "0.8", "3"), "row 1", "no finer"),
        ("m", RangeText("200", "0.1", "-1", "3"), "row 1", "percent"),
        ("m", RangeText("200", "0.1", "0.8", "many"), "row 1", "digits"),
    ],
)
def test_what_cannot_be_used_names_its_place(name: str, row: RangeText, field: str, word: str) -> None:
    with pytest.raises(FormError) as e:
        named_meter(name, (row,), None)
    assert e.value.field == field
    assert word in e.value.sentence


def test_two_ranges_with_one_top_are_refused() -> None:
    with pytest.raises(FormError, match="same top"):
        named_meter("m", (GOOD, GOOD), None)
