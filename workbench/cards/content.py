"""What a card says, in the order in which it says it. No paper yet."""

from collections.abc import Iterator
from dataclasses import dataclass, fields, is_dataclass, replace
from datetime import datetime
from typing import Any, NamedTuple

from workbench.cards.cautions import Cautions
from workbench.cards.facts import CardFacts
from workbench.cards.sayings import conditions, decided, found, not_tested, under_verdict
from workbench.cards.scan import card_text
from workbench.cards.table import ReadingLine, reading_lines
from workbench.cards.winding import winding_sayings, without_winding_data
from workbench.records import Whose
from workbench.stator.judge import SheetVerdict
from workbench.words import SHEET_WORDS, WHOSE_WORDS


class Line(NamedTuple):
    """One statement: what it is about (may be empty), and what there is to say."""

    lead: str
    text: str


@dataclass(frozen=True, slots=True)
class Section:
    """`run_on`: its lines are short and may stand one after another in a paragraph."""

    heading: str
    lines: tuple[Line, ...]
    run_on: bool = False


@dataclass(frozen=True, slots=True)
class CardContent:
    """Fields stand in the order of the card. `verdict` is never UNFINISHED: that prints as not proved."""

    verdict: SheetVerdict
    word: str
    under: str
    tag: str
    label: str
    job: str
    whose: str
    made: str
    copy: str
    found: Section
    decided: Section
    not_tested: Section
    columns: tuple[str, ...]
    readings: tuple[ReadingLine, ...]
    wound: Section
    conditions: Section
    before_fitting: Section
    cautions: Section
    sheet: str
    check: str
    code: str

    @property
    def texts(self) -> tuple[str, ...]:
        """Every text that is to be read on the card, in order; not the square code's."""
        read = [f.name for f in fields(self) if f.name not in ("verdict", "code")]
        return tuple(t for name in read for t in _texts(getattr(self, name)))


def card_content(facts: CardFacts, cautions: Cautions) -> CardContent:
    facts = facts if facts.whose is Whose.SHOP else _for_the_customer(facts)
    judged = facts.judged
    verdict = SheetVerdict.NOT_PROVED if judged.verdict is SheetVerdict.UNFINISHED else judged.verdict
    reference = judged.sheet.pattern.reference_celsius
    return CardContent(
        verdict=verdict,
        word=SHEET_WORDS[verdict],
        under=under_verdict(judged),
        tag=facts.tag,
        label=facts.label,
        job=f"Job {facts.job_number}" + (f": {facts.complaint}" if facts.complaint.strip() else ""),
        whose=WHOSE_WORDS[facts.whose],
        made=date_words(facts.made_at),
        copy=reprint_words(facts),
        found=_section("Found", found(facts)),
        decided=_section("Decided", decided(facts)),
        not_tested=_section("Not tested", not_tested(judged)),
        columns=("Readings", "as shown", f"at {reference:g} °C", "should be") if judged.rows or facts.struck else (),
        readings=reading_lines(judged, facts.struck),
        wound=_section("Winding data", winding_sayings(facts.windings)),
        conditions=_section("Conditions", conditions(facts), run_on=True),
        before_fitting=_section("Before fitting", [("", cautions.before_fitting)]),
        cautions=_section("", list(cautions.cautions)),
        sheet=f"sheet {facts.sheet_id}",
        check=f"check {facts.check[:5]}-{facts.check[5:]}",
        code=card_text(facts.tag, facts.sheet_id, facts.check),
    )


def reprint_words(facts: CardFacts) -> str:
    if facts.copy < 2 or facts.first_made_at is None:
        return ""
    first = facts.first_made_at.astimezone(facts.made_at.tzinfo)
    return f"Reprint: copy {facts.copy}, the first of {first:%Y-%m-%d}"


def _for_the_customer(facts: CardFacts) -> CardFacts:
    """Without what the shop wrote of turns and gauge in words of its own."""
    return replace(
        facts,
        label=without_winding_data(facts.label),
        complaint=without_winding_data(facts.complaint),
        pattern_name=without_winding_data(facts.pattern_name),
        note=without_winding_data(facts.note),
        found_to_be=without_winding_data(facts.found_to_be),
        found=without_winding_data(facts.found),
        done=without_winding_data(facts.done),
        struck=tuple((pair, typed, without_winding_data(reason)) for pair, typed, reason in facts.struck),
    )


def date_words(moment: datetime) -> str:
    z = f"{moment:%z}"
    zone = f"UTC{z[:3]}:{z[3:5]}" if moment.utcoffset() else "UTC"
    return f"{moment:%Y-%m-%d %H:%M} {zone}"


def _section(heading: str, lines: list[tuple[str, str]], *, run_on: bool = False) -> Section:
    return Section(heading, tuple(Line(lead, text) for lead, text in lines), run_on)


def _texts(value: Any) -> Iterator[str]:
    if isinstance(value, str):
        if value:
            yield value
    elif isinstance(value, tuple):
        for v in value:
            yield from _texts(v)
    elif isinstance(value, Section) and not value.lines:
        return  # a heading over nothing is not printed
    elif is_dataclass(value):
        for f in fields(value):
            yield from _texts(getattr(value, f.name))
