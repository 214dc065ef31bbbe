"""The tag a part comes in with: read back from its PDF and its picture, on every size."""

from datetime import UTC, datetime, timedelta, timezone
from itertools import pairwise
from typing import Any

import pytest
import zxingcpp
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.cards.test_paper import SIZES, assert_sound, pictures, read_back, words_of
from workbench.cards import make_intake
from workbench.cards.intake import IntakeFacts, intake_content
from workbench.cards.marks import Rule, Text
from workbench.cards.paper import intake_pages
from workbench.cards.stock import MM, STOCKS
from workbench.records import CardSize
from workbench.stator.errors import FieldError

AT = datetime(2026, 3, 4, 8, 30, tzinfo=timezone(timedelta(hours=2)))


def booked(**changes: Any) -> IntakeFacts:
    given: dict[str, Any] = {
        "tag": "SL-0147",
        "label": "Gullwater 340 sled, owner's tag 12",
        "job_number": 2047,
        "complaint": "no spark when warm",
        "seen": "splice at plug P",
        "pattern_name": "two ignition coils on a common pin",
        "booked_at": AT,
    }
    return IntakeFacts(**{**given, **changes})


CASES = {
    "ordinary": booked(),
    "bare": booked(label="", complaint="", seen=""),
    "long": booked(tag="WINTER-STOCK-" * 4, label="L" * 150, complaint="rough idle, " * 60, seen="s" * 300),
}


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("case", CASES)
def test_every_word_is_on_it_and_nothing_overruns(case: str, size: CardSize) -> None:
    content = intake_content(CASES[case])
    text = "".join(words_of(read_back(make_intake(CASES[case], size))))
    assert not [w for t in content.texts for w in words_of(t) if w not in text]
    assert_sound(intake_pages(content, size), size)


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("tag", ["SL-0147", "Ä-7", "a tag with spaces", "x" * 60])
def test_a_scanner_reads_the_units_tag_and_nothing_else(tag: str, size: CardSize) -> None:
    picture = pictures(make_intake(booked(tag=tag), size))[0].point(lambda v: 255 if v > 127 else 0)
    (code,) = zxingcpp.read_barcodes(picture)
    assert code.text == tag


@pytest.mark.parametrize("size", SIZES)
def test_the_tag_is_the_largest_thing_on_it_and_one_page_is_enough(size: CardSize) -> None:
    (page,) = intake_pages(intake_content(booked()), size)
    texts = [m for m in page.marks if isinstance(m, Text)]
    assert texts[0].words == "SL-0147"
    assert texts[0].size > 2 * max(t.size for t in texts[1:])
    for picture in pictures(make_intake(booked(), size)):
        edge = int((STOCKS[size].margin - 0.2 * MM) * 203 / 72)
        assert picture.crop((0, 0, edge, picture.height)).getextrema()[0] > 250
        assert picture.crop((picture.width - edge, 0, picture.width, picture.height)).getextrema()[0] > 250


@pytest.mark.parametrize("size", SIZES)
def test_what_was_not_typed_of_what_is_seen_can_be_written_by_hand(size: CardSize) -> None:
    def dotted(facts: IntakeFacts) -> list[Rule]:
        (page,) = intake_pages(intake_content(facts), size)
        return [m for m in page.marks if isinstance(m, Rule) and m.dash]

    lines = dotted(booked(seen=" "))
    assert lines
    assert all(a.y - b.y >= 18 for a, b in pairwise(lines))
    assert all(m.y >= STOCKS[size].margin for m in lines)
    assert dotted(booked()) == []


def test_a_long_tag_parts_after_a_hyphen() -> None:
    (page,) = intake_pages(intake_content(booked(tag="WINTER-STOCK-HARBOUR-HUT-0147")), CardSize.LABEL)
    texts = [m.words for m in page.marks if isinstance(m, Text)]
    assert texts[:2] == ["WINTER-STOCK-", "HARBOUR-HUT-0147"]


def test_it_says_when_in_the_shops_own_time_and_that_nothing_is_read() -> None:
    said = " ".join(intake_content(booked()).texts)
    assert "2026-03-04 08:30 UTC+02:00" in said
    assert "Not read yet" in said
    assert "none said" in " ".join(intake_content(booked(complaint="  ")).texts)


def test_the_same_facts_give_the_same_bytes() -> None:
    assert make_intake(booked()) == make_intake(booked())
    assert make_intake(booked()) != make_intake(booked(booked_at=AT + timedelta(days=1)))


@pytest.mark.parametrize("wrong", [{"tag": ""}, {"tag": "x" * 61}, {"booked_at": datetime(2026, 3, 4)}])
def test_what_can_not_be_printed_is_refused(wrong: dict[str, Any]) -> None:
    with pytest.raises(FieldError):
        booked(**wrong)


@settings(max_examples=15, deadline=None)
@given(tag=st.text(min_size=1, max_size=60), label=st.text(max_size=200), seen=st.text(max_size=600))
def test_texts_of_any_script_and_length_stay_inside(tag: str, label: str, seen: str) -> None:
    for size in SIZES:
        content = intake_content(booked(tag=tag, label=label, seen=seen, booked_at=AT.astimezone(UTC)))
        assert_sound(intake_pages(content, size), size)
