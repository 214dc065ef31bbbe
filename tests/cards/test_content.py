"""What a card says and in which order; no paper yet."""

from dataclasses import fields, replace
from datetime import UTC, datetime, timedelta, timezone

import pytest

from tests.cards.making import DIODED, SHEET_ID, SOUND, TAPPED, facts, judged
from workbench.cards import CardFacts
from workbench.cards.cautions import shipped_cautions
from workbench.cards.content import CardContent, card_content
from workbench.cards.scan import Scanned, read_card
from workbench.records import Outcome, TemperatureSource
from workbench.stator.errors import FieldError
from workbench.stator.judge import SheetVerdict
from workbench.stator.pattern import Pair
from workbench.stator.sheet import Conditions

SHORTED = (
    ("B.1", "B.2", 309.0), ("B.1", "B.2", 311.0), ("B.2", "B.3", 97.4), ("B.1", "B.3", 430.0), *SOUND[3:],
)  # fmt: skip


def content(given: CardFacts) -> CardContent:
    return card_content(given, shipped_cautions())


def said(given: CardFacts) -> str:
    return "\n".join(content(given).texts).replace("\u00a0", " ")


def section(card: CardContent, name: str) -> str:
    return " ".join(f"{line.lead} {line.text}" for line in getattr(card, name).lines).replace("\u00a0", " ")


def test_the_verdict_comes_first_and_the_rest_in_the_cards_order() -> None:
    card = content(facts())
    assert card.texts[0] == "GOOD"
    order = [
        "KL-0147",
        "Found",
        "Decided",
        "Not tested",
        "Readings",
        "Conditions",
        "Before fitting",
        "Hundreds of volts:",
    ]
    places = [card.texts.index(word) for word in order]
    assert places == sorted(places)


def test_a_good_part_names_what_the_verdict_rests_on() -> None:
    card = content(facts())
    assert card.verdict is SheetVerdict.GOOD
    assert card.under == "as far as tested: 9 planned checks read"
    assert section(card, "found").strip() == "No reading is out."


def test_a_failing_part_says_which_reading_is_out_and_why() -> None:
    card = content(facts(judged(SHORTED), outcome=Outcome.REWIND, note="third tooth", done="old wire off"))
    assert card.word == "FAIL"
    found = section(card, "found")
    assert "B 1 – 2: 308.0 ± 8.1 Ω. Below 370.8 … 453.2 Ω. Read twice." in found
    assert "B 1 – 3: 427 ± 11 Ω. Below 459 … 561 Ω. Read once; not yet read again." in found
    assert section(card, "decided") == "Rewind: third tooth Done: old wire off"
    named = content(facts(judged(SHORTED), outcome=Outcome.REWIND, found_to_be="Shorted turns in the main exciter"))
    assert section(named, "decided") == "Rewind.  Found to be: Shorted turns in the main exciter."


def test_a_series_that_is_not_the_sum_of_its_parts_is_found() -> None:
    found = section(content(facts(judged(SHORTED))), "found")
    assert "B 1 – 3 reads 427 Ω, but its parts B 1 – 2 and B 2 – 3 make 405 Ω" in found
    # whole too small is what lead resistance does, counted once too often in the parts
    leads = (("B.1", "B.2", 424.0), ("B.2", "B.3", 108.0), ("B.1", "B.3", 512.0), *SOUND[3:])
    assert "Leads not taken off look like this." in section(content(facts(judged(leads))), "found")


def test_an_unfinished_sheet_prints_not_proved_and_what_is_missing() -> None:
    card = content(facts(judged((*SOUND[:5], ("A.3", "B.3", 9.2)))))
    assert (card.verdict, card.word) == (SheetVerdict.NOT_PROVED, "NOT PROVED")
    assert card.under == "unfinished: 3 planned checks not read, an outside reading awaits its repeat"
    assert "Not read: B 1 – ground, B 4 – ground, A 1 – ground." in section(card, "not_tested")
    assert "Out, not read again: A 3 – B 3." in section(card, "not_tested")
    assert content(facts(judged(()))).under == "unfinished: 9 planned checks not read"


def test_an_open_without_its_proof_is_listed_as_not_tested() -> None:
    card = content(facts(judged(SOUND, iron=False), iron_ohms=None))
    assert card.under == "3 planned checks not decided"
    assert "Open not proved: B 1 – ground, B 4 – ground, A 1 – ground." in section(card, "not_tested")
    assert "Iron: contact with it not proved." in section(card, "conditions")


def test_close_and_continuous_readings_are_listed_as_not_tested() -> None:
    close = (("B.1", "B.2", 451.0), ("B.2", "B.3", 98.9), ("B.1", "B.3", 549.0), *SOUND[3:])
    card = content(facts(judged(close)))
    assert card.word == "GOOD"
    assert "Close, not decided: B 1 – 2." in section(card, "not_tested")
    assert "Continuous only: A 1 – 2. Shorted turns are not excluded there." in section(card, "not_tested")


def test_a_high_limit_alone_is_printed_so_and_listed_as_not_tested() -> None:
    under = replace(TAPPED.windings[3], ohms=0.75, tolerance_percent=100)
    pattern = replace(TAPPED, windings=(*TAPPED.windings[:3], under))
    shown = said(facts(judged((*SOUND[:4], ("A.1", "A.2", 0.5), *SOUND[5:]), pattern)))
    assert "under 1.5 Ω" in shown
    assert "A 1 – 2. No low limit is known: shorted turns are not excluded there." in shown
    assert "High limit only:" not in said(facts())
    out = judged((*SOUND[:4], ("A.1", "A.2", 2.9), ("A.1", "A.2", 2.9), *SOUND[5:]), pattern)
    assert "Above 1.5 Ω." in said(facts(out))


def test_what_ohms_cannot_judge_is_listed_as_not_tested() -> None:
    card = content(facts(judged((("P.1", "P.2", 121.0), ("P.2", "P.3", None)), DIODED)))
    assert "Not by ohms: 2 – 3. A diode or electronics lies there." in section(card, "not_tested")
    assert card.readings[1].word == "not by ohms"
    alone = content(facts(judged((("P.2", "P.3", None),), DIODED)))
    assert alone.word == "NOT PROVED"


@pytest.mark.parametrize("test", ["warm", "flex", "insulation", "inductance", "at speed"])
@pytest.mark.parametrize("readings", [SOUND, SHORTED, ()])
def test_tests_that_the_bench_cannot_do_are_never_passed_over(test: str, readings: tuple[()]) -> None:
    assert test in section(content(facts(judged(readings))), "not_tested")


def test_a_reading_stands_as_shown_corrected_with_its_band_and_word() -> None:
    lines = content(facts(judged(SHORTED))).readings
    first = lines[0]
    assert [t.replace("\u00a0", " ") for t in (first.pair, first.shown, first.corrected, first.band)] == [
        "B 1 – 2", "309 Ω, 311 Ω", "308.0 ± 8.1 Ω", "370.8 … 453.2 Ω",
    ]  # fmt: skip
    assert (first.word, first.times) == ("out", "×2")
    assert [(line.shown, line.word) for line in lines[-3:]] == [("OL", "in")] * 3


def test_struck_readings_stay_visible_with_their_reason() -> None:
    card = content(facts(struck=((Pair("B.1", "B.2"), "3.09k", "typed kilo for ohm"),)))
    last = card.readings[-1]
    assert last.struck
    assert (last.shown, last.reason, last.corrected) == ("3.09k", "struck: typed kilo for ohm", "")


def test_conditions_name_all_that_the_numbers_rest_on() -> None:
    told = section(content(facts()), "conditions")
    for part in (
        "21.5 °C, u 3, by the room’s thermometer", "Counter handheld", "0.2 Ω, u 0.05 Ω, taken off",
        "0.2 Ω between two bare spots", "to 20 °C as copper", "tapped exciter, pulser, charging, revision 3",
    ):  # fmt: skip
        assert part in told
    zeroed = facts(judged(conditions=Conditions(40, 1)), meter_zeroed=True, source=TemperatureSource.PROBE)
    assert "by a contact probe" in section(content(zeroed), "conditions")
    assert "the meter was zeroed on them." in section(content(zeroed), "conditions")


def test_the_cautions_are_all_there() -> None:
    told = said(facts())
    for words in (
        "check regulator, ignition box, magnets, grounds", "kill a person or a meter", "Warm parts burn",
        "use terminal adapters", "isolate and discharge", "local codes, the maker’s instructions and licensed practice",
    ):  # fmt: skip
        assert words in told


def test_only_a_reprint_says_that_it_is_one() -> None:
    assert "Reprint" not in said(facts())
    first = datetime(2026, 3, 14, 23, 30, tzinfo=UTC)
    assert "Reprint: copy 2, the first of 2026-03-14" in said(facts(copy=2, first_made_at=first))


def test_the_date_is_the_one_handed_in_in_its_own_zone() -> None:
    assert content(facts()).made == "2026-11-25 09:42 UTC"
    east = datetime(2026, 11, 25, 9, 42, tzinfo=timezone(timedelta(hours=-3, minutes=-30)))
    assert content(facts(made_at=east)).made == "2026-11-25 09:42 UTC-03:30"


def test_the_code_holds_tag_and_sheet_and_nothing_else() -> None:
    card = content(facts(label="someone's sled", complaint="private words", note="more of them"))
    assert read_card(card.code) == Scanned("KL-0147", SHEET_ID, facts().check)


def test_a_card_never_carries_turns_or_gauge() -> None:
    told = said(facts(judged(SHORTED), outcome=Outcome.REWIND)).replace("Shorted turns", "").lower()
    assert "turns" not in told.replace("shorted turns", "")
    assert "gauge" not in told
    assert "awg" not in told


def test_nothing_decided_is_said() -> None:
    assert "Nothing is decided yet." in section(content(facts(outcome=None)), "decided")


def test_a_pattern_without_a_plan_is_said_to_have_none() -> None:
    planless = type(TAPPED)(**{**{f.name: getattr(TAPPED, f.name) for f in fields(TAPPED)}, "checks": None})
    assert "No plan:" in section(content(facts(judged(pattern=planless))), "not_tested")
    assert "No plan:" not in section(content(facts()), "not_tested")


@pytest.mark.parametrize(
    ("changes", "field"),
    [({"tag": ""}, "tag"), ({"tag": "x" * 61}, "tag"), ({"copy": 0}, "copy"),
     ({"made_at": datetime(2026, 11, 25, tzinfo=UTC).replace(tzinfo=None)}, "made_at")],
)  # fmt: skip
def test_facts_that_no_card_can_show_are_refused_by_field(changes: dict[str, object], field: str) -> None:
    with pytest.raises(FieldError) as refused:
        facts(**changes)
    assert refused.value.field == field
