"""Winding data: on the shop's copy, and by no way on the customer's."""

from dataclasses import fields, replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.cards.making import SOUND, facts, judged
from tests.cards.test_paper import SIZES, read_back
from workbench.cards import make_card
from workbench.cards.winding import KEPT_BACK, WindingData, winding_data, without_winding_data
from workbench.exchange.starters import starter_patterns
from workbench.records import CardSize, Outcome, Whose
from workbench.stator.errors import FieldError
from workbench.stator.layout import Wire
from workbench.stator.pattern import Pair

DATA = (WindingData("main exciter", (4,), 0, (Wire.FINE,), (1850,), "AWG 35"),)


@pytest.mark.parametrize(
    "told",
    [
        "120 turns", "3 x 40 turns of 0.9", "turns: 120", "Turns = 1850 on each", "1850T", "120 trn",
        "AWG 21", "21 AWG", "a.w.g. 21", "21 awg wire", "SWG 22", "gauge 21", "gauge no. 21", "21 gauge", "21 ga",
        "wire 0.71", "wire of 0.71 mm", "0,71 mm wire", "0.71 mm enamelled copper", "28 mil wire", "Ø 0.71", "dia 0.71",
        "rewound with 120", "wound 120 per leg", "wound to 412",
    ],
)  # fmt: skip
def test_turns_and_gauge_are_kept_back_however_they_are_written(told: str) -> None:
    assert without_winding_data(told) == KEPT_BACK
    said = without_winding_data(f"Burnt at the root; {told}; lead sleeved.")
    whole = "no." in told or "a.w" in told  # no telling where its clause begins: then nothing is told
    assert said == (KEPT_BACK if whole else f"Burnt at the root; lead sleeved. {KEPT_BACK}")


@pytest.mark.parametrize(
    "told",
    [
        "", "no spark when warm", "shorted turns in the third coil", "wire at B 1 soldered", "wire 3 sleeved",
        "lead cut 5 mm from the plug", "read twice at 21.5 °C", "turns over slowly", "tooth 4 burnt",
        "new plug, 2 pins", "rewound by the other bench", "gauge face cracked", "copper showing at tooth 7",
    ],
)  # fmt: skip
def test_other_words_are_left_alone(told: str) -> None:
    assert without_winding_data(told) == told


@given(text=st.text(max_size=80), more=st.text(max_size=80))
def test_what_is_left_tells_nothing_more(text: str, more: str) -> None:
    said = without_winding_data(f"{text} 1234567 turns {more}")
    assert "1234567" not in said
    assert without_winding_data(said) == said
    assert KEPT_BACK in said


def test_winding_data_is_refused_for_the_customer() -> None:
    with pytest.raises(FieldError) as refused:
        facts(windings=DATA)
    assert refused.value.field == "windings"


@pytest.mark.parametrize("size", SIZES)
def test_no_field_that_the_shop_writes_in_brings_it_to_the_customer(size: CardSize) -> None:
    told = "1850 turns of AWG 35"
    given = facts(
        judged(SOUND), outcome=Outcome.REWIND, label=told, pattern_name=told, note=told, found=told, done=told,
        struck=((Pair("B.1", "B.2"), "3.09k", told),),
    )  # fmt: skip
    text = read_back(make_card(given, size))
    assert "1850" not in text
    assert "AWG" not in text
    assert "shop" in text
    shops = read_back(make_card(replace(given, whose=Whose.SHOP, windings=DATA), size))
    assert shops.count("1850") == 7
    assert "Shop’s copy" in shops


def test_every_field_of_the_facts_was_thought_of() -> None:
    """A further text in the facts has to be kept back too, or be no place where the shop writes of a winding."""
    kept_back = {"label", "pattern_name", "note", "found_to_be", "found", "done", "struck"}
    elsewhere = {"tag", "complaint", "meter_name", "asserts"}  # the customer's words, names; never printed
    texts = {f.name for f in fields(facts()) if f.type in (str, "str")} | {"struck"}
    assert texts == kept_back | elsewhere


def test_a_pattern_without_a_layout_has_no_winding_data_yet() -> None:
    for pattern in starter_patterns():
        wound = winding_data(pattern)
        assert bool(wound) is (pattern.layout is not None)
        assert not any(d.turns or d.gauge for d in wound)
    assert winding_data(replace(starter_patterns()[0], layout=None)) == ()
