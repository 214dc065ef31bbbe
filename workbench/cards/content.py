"""What a card says, in the order in which it says it. No paper yet."""

from collections.abc import Iterator
from dataclasses import dataclass, fields, is_dataclass
from datetime import datetime
from typing import Any, NamedTuple

from workbench.cards.cautions import Cautions
from workbench.cards.facts import CardFacts
from workbench.cards.sayings import conditions, decided, found, not_tested, under_verdict
from workbench.cards.table import ReadingLine, reading_lines
from workbench.stator.judge import SheetVerdict
from workbench.words import SHEET_WORDS


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
    made: str
    copy: str
    found: Section
    decided: Section
    not_tested: Section
    columns: tuple[str, ...]
    readings: tuple[ReadingLine, ...]
    conditions: Section
    before_fitting: Section
    cautions: Section
    sheet: str
    code: str

    @property
    def texts(self) -> tuple[str, ...]:
        """Every text that is to be read on the card, in order; not the square code's."""
        read = [f.name for f in fields(self) if f.name not in ("verdict", "code")]
        return tuple(t for name in read for t in _texts(getattr(self, name)))


def card_content(facts: CardFacts, cautions: Cautions) -> CardContent:
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
        made=date_words(facts.made_at),
        copy=f"reprint, copy {facts.copy}" if facts.copy > 1 else "",
        found=_section("Found", found(facts)),
        decided=_section("Decided", decided(facts)),
        not_tested=_section("Not tested", not_tested(judged)),
        columns=("Readings", "as shown", f"at {reference:g} °C", "should be") if judged.rows or facts.struck else (),
        readings=reading_lines(judged, facts.struck),
        conditions=_section("Conditions", conditions(facts), run_on=True),
        before_fitting=_section("Before fitting", [("", cautions.before_fitting)]),
        cautions=_section("", list(cautions.cautions)),
        sheet=f"sheet {facts.sheet_id}",
        code=code_text(facts),
    )


def code_text(facts: CardFacts) -> str:
    """What the square code holds: enough to find the sheet again, and nothing about anyone."""
    return f"PLUGFACE 1 {facts.tag} {facts.sheet_id}"


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
    elif is_dataclass(value):
        for f in fields(value):
            yield from _texts(getattr(value, f.name))
