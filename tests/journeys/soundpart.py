"""A sound part of any pattern that ships: what the meter shows on it, and what its sheet must come to."""

from dataclasses import dataclass
from typing import Any

import pytest

from tests.journeys.conftest import Hand
from workbench.exchange.starters import starter_patterns
from workbench.sitting.bench import Bench
from workbench.stator.correct import Corrector
from workbench.stator.expect import Expectations, Path
from workbench.stator.pattern import Pair, Pattern

# of two revisions that ship, the counter offers the later
STARTERS = [pytest.param(p, id=name) for name, p in {p.name: p for p in starter_patterns()}.items()]
IRON = "0.3"
OVERLOAD = ""
THROUGH_ELECTRONICS = "1800"  # whatever it shows there, nothing is judged by it


def planned(pattern: Pattern) -> tuple[Pair, ...]:
    assert pattern.checks, "what ships says what is to be read"
    return pattern.checks


def shown(bench: Bench, pair: Pair) -> str:
    """The number on the sheet's meter, typed, for a part at its nominal values; OVERLOAD where it shows that."""
    expected = Expectations(bench.pattern).of(pair)
    if expected.path is Path.ELEMENT:
        return THROUGH_ELECTRONICS
    if expected.ohms is None:
        return OVERLOAD
    head, p = bench.head, bench.pattern
    ohms = Corrector(head.meter, head.conditions, p.conductor, p.reference_celsius).shown(expected.ohms)
    on = head.meter.covering(ohms)
    if on is None:
        return OVERLOAD
    decimals = max(0, len(f"{on.resolution_ohms:.6f}".rstrip("0").partition(".")[2]))
    return f"{round(ohms / on.resolution_ohms) * on.resolution_ohms:.{decimals}f}"


def verdict_of_a_sound_part(pattern: Pattern) -> str:
    ask = Expectations(pattern)
    judged = [c for c in planned(pattern) if ask.of(c).path is not Path.ELEMENT]
    return "GOOD" if judged else "NOT PROVED"


@dataclass(frozen=True)
class Shown:
    """All that the bench's screen says of a sheet."""

    tag: str
    verdict: str
    progress: str
    readings: tuple[Any, ...]
    checks: tuple[Any, ...]
    pairs: tuple[str, ...]
    lines: tuple[Any, ...]


def on_screen(hand: Hand) -> Shown:
    page = hand.page
    triangles = [cell for t in page.pairs.tables for row in t.cells.triangle.rows for cell in row]
    face = page.face.face.state
    assert face is not None
    return Shown(
        page.top.tag.text(),
        page.top.verdict.word,
        page.top.progress.text(),
        page.readings.rows.rows,
        page.checks.rows.rows,
        (*(c.spoken for c in triangles), *(r.spoken for r in page.pairs.others.rows.rows)),
        tuple(sorted((m.one, m.other, m.text, m.tone, m.standing) for m in face.marks)),
    )
