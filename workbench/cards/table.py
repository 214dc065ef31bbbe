"""The card's table of readings: one line a pair, repeats together, struck ones after them."""

from collections.abc import Iterable
from dataclasses import dataclass

from workbench.cards.facts import Struck
from workbench.stator.judge import JudgedSheet, Row
from workbench.stator.meter import Meter
from workbench.words import band_words, ohms_words, pair_words, value_words, verdict_word

OVERLOAD = "OL"


@dataclass(frozen=True, slots=True)
class ReadingLine:
    """`word` is in, close, doubtful, continuous, out, not by ohms, or struck.

    A struck line has no corrected value and no band, but the reason.
    """

    pair: str
    shown: str
    corrected: str
    band: str
    word: str
    times: str = ""
    reason: str = ""

    @property
    def struck(self) -> bool:
        return self.word == "struck"


def tied(text: str) -> str:
    """A pair or a value that should not be parted at a line's end."""
    return text.replace(" ", "\u00a0")


def grouped(rows: Iterable[Row]) -> list[tuple[Row, ...]]:
    """Repeats of a pair together: they are judged by their mean, so they share all but the number shown."""
    groups: dict[tuple[tuple[str, str], bool], list[Row]] = {}
    for row in rows:
        pair = row.reading.pair
        key = (pair.positive, pair.negative) if row.expected.keeps_polarity else pair.unordered
        groups.setdefault((key, row.reading.ohms is None), []).append(row)
    return [tuple(g) for g in groups.values()]


def reading_lines(judged: JudgedSheet, struck: Iterable[Struck]) -> tuple[ReadingLine, ...]:
    pattern = judged.sheet.pattern
    lines = [_line(group, judged) for group in grouped(judged.rows)]
    lines += [
        ReadingLine(tied(pair_words(pair, pattern)), tied(typed), "", "", "struck", reason=f"struck: {reason}")
        for pair, typed, reason in struck
    ]
    return tuple(lines)


def _line(group: tuple[Row, ...], judged: JudgedSheet) -> ReadingLine:
    first = group[0]
    return ReadingLine(
        pair=tied(pair_words(first.reading.pair, judged.sheet.pattern)),
        shown=", ".join(tied(shown_words(row, judged.sheet.meter)) for row in group),
        corrected="" if first.corrected is None else tied(value_words(first)),
        band="" if first.decision is None else tied(band_words(first.expected)),
        word=verdict_word(first),
        times=f"×{len(group)}" if len(group) > 1 else "",
    )


def shown_words(row: Row, meter: Meter) -> str:
    """The number on the meter, to the last digit of its range."""
    if row.reading.ohms is None:
        return OVERLOAD
    return ohms_words(row.reading.ohms, row.reading.range_on(meter).resolution_ohms)
