"""Slips are commoner than faults: what a reading would have been without one."""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from math import log10

from workbench.stator.correct import Corrector
from workbench.stator.entry import EntryError, Shown, read_value
from workbench.stator.expect import Expectations, Path
from workbench.stator.pattern import Pair
from workbench.stator.sheet import Reading, Sheet
from workbench.stator.verdict import Verdict


class SlipKind(StrEnum):
    FACTOR = "factor"  # kilo typed as ohm, or ohm as kilo
    PAIR = "pair"  # the probes lay on another pair
    DIGIT = "digit"  # a digit or the decimal point lost, doubled or misplaced


@dataclass(frozen=True, slots=True)
class Slip:
    """One slip that would make the reading fit: the value meant (`text`, ohm), or the pair touched."""

    kind: SlipKind
    ohms: float
    text: str
    pair: Pair


def find_slip(sheet: Sheet, ask: Expectations, pair: Pair, shown: Shown) -> Slip | None:
    """The likeliest slip behind a reading that lies outside; None where it fits, or none explains it.

    `sheet` is the sheet so far, without this reading.
    """
    if _fits(sheet, ask, pair, shown.ohms) is not False:
        return None
    return next(_explanations(sheet, ask, pair, shown), None)


def _explanations(sheet: Sheet, ask: Expectations, pair: Pair, shown: Shown) -> Iterator[Slip]:
    for text in _scaled_texts(shown):
        yield from _fitting(sheet, ask, pair, SlipKind.FACTOR, text)
    read = {ask.key(r.pair) for r in sheet.readings}
    for other in sheet.plan:
        if ask.key(other) not in read and not ask.same(other, pair) and _fits(sheet, ask, other, shown.ohms):
            yield Slip(SlipKind.PAIR, shown.ohms, shown.text, other)
    for text in _near_texts(shown.text):
        yield from _fitting(sheet, ask, pair, SlipKind.DIGIT, text)


def _fitting(sheet: Sheet, ask: Expectations, pair: Pair, kind: SlipKind, text: str) -> Iterator[Slip]:
    """The slip whose value is what its text reads as, where that fits."""
    try:
        meant = read_value(text)
    except EntryError:
        return
    if isinstance(meant, Shown) and _fits(sheet, ask, pair, meant.ohms):
        yield Slip(kind, meant.ohms, text, pair)


def _scaled_texts(shown: Shown) -> Iterator[str]:
    """The same display read as kilohm, and as ohm where kilohm was typed; as many digits as were typed."""
    digits = round(log10(shown.step))
    yield f"{shown.ohms:.{max(0, -digits)}f}k"
    yield f"{shown.ohms / 1000:.{max(0, 3 - digits)}f}"


def _fits(sheet: Sheet, ask: Expectations, pair: Pair, ohms: float) -> bool | None:
    """Whether the value lies inside the pair's band; False only where it lies wholly outside; else None."""
    expected = ask.of(pair)
    if expected.path is Path.ELEMENT:
        return None
    if expected.path is Path.NONE:
        return False if ohms < sheet.pattern.open_limit_ohms else None
    on = sheet.meter.covering(ohms)
    if on is None or ohms < on.floor:
        return False
    p = sheet.pattern
    value = Corrector(sheet.meter, sheet.conditions, p.conductor, p.reference_celsius).mean([Reading(pair, ohms)])
    assert expected.low is not None
    assert expected.high is not None
    if expected.decided(value.ohms, value.u).verdict is Verdict.OUTSIDE:
        return False
    return True if expected.low <= value.ohms <= expected.high else None


def _near_texts(text: str) -> Iterator[str]:
    """Texts one slip of a finger away: the point moved or lost, a digit lost, a digit doubled."""
    digits = text.replace(",", ".")
    bare = digits.replace(".", "", 1)
    for i in range(1, len(bare) + 1):
        moved = f"{bare[:i]}.{bare[i:]}".rstrip(".")
        if moved != digits:
            yield moved
    for i in range(1, len(digits)):
        if digits[i].isdigit() and digits[i] == digits[i - 1]:
            yield digits[:i] + digits[i + 1 :]
    for i in range(len(digits) + 1):
        for d in "0123456789":
            yield digits[:i] + d + digits[i:]
