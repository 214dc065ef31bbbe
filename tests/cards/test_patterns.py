"""A card of a part of every pattern that ships, on every size and for both readers."""

from datetime import UTC, datetime
from uuid import UUID

import pytest

from tests.cards.making import facts
from tests.cards.test_paper import SIZES, assert_sound, content, read_back, words_of
from workbench.cards import make_card
from workbench.cards.facts import CardFacts
from workbench.cards.paper import card_pages
from workbench.cards.winding import winding_data
from workbench.exchange.starters import starter_meters, starter_patterns
from workbench.records import CardSize, Whose
from workbench.stator.expect import Expectations
from workbench.stator.judge import judge
from workbench.stator.pattern import Pattern
from workbench.stator.sheet import Conditions, Proof, Reading, Sheet

METER = dict(starter_meters())["Bench, four wires"]


def read(pattern: Pattern, whose: Whose) -> CardFacts:
    """Every planned check at its nominal value, as the meter without its errors would show it."""
    ask = Expectations(pattern)
    readings = []
    for pair in pattern.checks or ():
        ohms = ask.of(pair).ohms
        on = METER.covering(ohms) if ohms is not None else None
        readings.append(Reading(pair, round(ohms / on.resolution_ohms) * on.resolution_ohms if ohms and on else None))
    held = Conditions(20.0, 3.0, 0.0, 0.001)
    judged = judge(Sheet(pattern, METER, held, tuple(readings), proof=Proof(iron=True)), ask)
    return facts(
        judged,
        pattern_name=pattern.name,
        whose=whose,
        windings=winding_data(pattern) if whose is Whose.SHOP else (),
        sheet_id=UUID(int=7),
        made_at=datetime(2026, 3, 4, 8, 30, tzinfo=UTC),
    )


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("whose", list(Whose))
@pytest.mark.parametrize("pattern", starter_patterns(), ids=lambda p: p.name)
def test_it_says_everything_and_stays_inside(pattern: Pattern, whose: Whose, size: CardSize) -> None:
    given = read(pattern, whose)
    card = content(given)
    assert_sound(card_pages(card, size), size)
    text = "".join(words_of(read_back(make_card(given, size))))
    # a small label has no columns: it says what a value is where there is one
    said = [t for t in card.texts if size is not CardSize.LABEL or t not in card.columns]
    assert not [w for t in said for w in words_of(t) if w not in text]
    assert ("Windingdata" in text) is (whose is Whose.SHOP and pattern.layout is not None)
