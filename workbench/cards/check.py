"""What a card asserts, as one text that never changes its form; its short code; what has changed since.

The code on a card is a digest of that text. Whoever holds the card can have it worked out anew from the store,
and so be told whether the sheet still says what the card says.
"""

import json
from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum
from hashlib import sha256
from typing import Any

from workbench.records import BenchFile, KeptReading, SheetHead

VERSION = 1
DIGITS = 10  # of the code: 50 bits
ALPHABET = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"  # Crockford's base 32: no I, L, O or U to be misread


def asserted(file: BenchFile, verdict: str) -> str:
    """The canonical text, version 1: one JSON array a line, parted by a line feed, none at the end.

    `["plugface card", 1]`, `["sheet", id]`, `["tag", tag]`, `["pattern", name, revision]`, `["meter", name, opens
    above, [up to, resolution, percent, digits] of each range]`, `["part", celsius, u, source]`, `["leads", ohm, u,
    zeroed on them]`, `["iron", ohm or null]`, then `["reading", place, from, to, as typed, ohm or null, range or
    null, reason struck or null]` for each in its place, then `["verdict", word]`, `["decided", outcome or null,
    note]`, `["found", text]`, `["done", text]`.

    JSON without spaces, all but ASCII escaped, `verdict` and all codes as in files, numbers of ohm and degrees as
    the shortest that reads back as the same binary64 (a whole one with `.0`). Another form gets another version.
    """
    head, d = file.sheet, file.decided
    lines = [
        ["plugface card", VERSION],
        ["sheet", str(head.id)],
        ["tag", file.unit.tag],
        ["pattern", file.revision.pattern.name, file.revision.number],
        *_conditions(head),
        *(_reading(k) for k in sorted(file.readings, key=lambda k: k.place)),
        ["verdict", str(verdict)],
        ["decided", str(d.outcome) if d else None, d.note if d else ""],
        ["found", file.job.found],
        ["done", file.job.done],
    ]
    return "\n".join(json.dumps(line, separators=(",", ":"), allow_nan=False) for line in lines)


def check_code(text: str) -> str:
    """The first 50 bits of the text's SHA-256 (as UTF-8), as ten digits of Crockford's base 32."""
    bits = int.from_bytes(sha256(text.encode("utf-8")).digest(), "big") >> (256 - 5 * DIGITS)
    return base32(bits, DIGITS)


def base32(number: int, digits: int) -> str:
    return "".join(ALPHABET[number >> (5 * i) & 31] for i in reversed(range(digits)))


class Standing(StrEnum):
    AS_PRINTED = "as printed"
    OUTDATED = "outdated"
    FOREIGN = "foreign"  # altered, or no card of this shop's


@dataclass(frozen=True, slots=True)
class Changed:
    """What the sheet says otherwise now. `verdict`: the word now, where it is another one; else empty."""

    added: int = 0
    struck: int = 0
    conditions: bool = False
    decision: bool = False
    verdict: str = ""


@dataclass(frozen=True, slots=True)
class Compared:
    standing: Standing
    changed: Changed = Changed()


def compare(code: str, now: str, kept: Iterable[str]) -> Compared:
    """A card's code against the sheet as it stands now and against what its `kept` cards asserted."""
    if code == check_code(now):
        return Compared(Standing.AS_PRINTED)
    then = next((text for text in kept if text and code == check_code(text)), None)
    if then is None:
        return Compared(Standing.FOREIGN)
    return Compared(Standing.OUTDATED, changed(then, now))


def changed(then: str, now: str) -> Changed:
    old, new = _parts(then), _parts(now)
    before, after = ({r[1]: r for r in part.get("reading", ())} for part in (old, new))
    return Changed(
        added=sum(place not in before for place in after),
        struck=sum(place in before and before[place][7] is None and r[7] is not None for place, r in after.items()),
        conditions=any(old.get(k) != new.get(k) for k in ("tag", "pattern", "meter", "part", "leads", "iron")),
        decision=any(old.get(k) != new.get(k) for k in ("decided", "found", "done")),
        verdict=new["verdict"][0][1] if old.get("verdict") != new["verdict"] else "",
    )


def _parts(text: str) -> dict[str, list[list[Any]]]:
    """The lines by what each is about."""
    parts: dict[str, list[list[Any]]] = {}
    for line in map(json.loads, text.split("\n")):
        parts.setdefault(line[0], []).append(line)
    return parts


def _conditions(head: SheetHead) -> list[list[Any]]:
    held, meter = head.conditions, head.meter
    ranges = [[float(v) for v in (r.upto_ohms, r.resolution_ohms, r.percent, r.digits)] for r in meter.ranges]
    return [
        ["meter", head.meter_name, float(meter.open_above_ohms), ranges],
        ["part", float(held.celsius), float(held.celsius_uncertainty), str(head.source)],
        ["leads", float(held.lead_ohms), float(held.lead_uncertainty_ohms), bool(head.meter_zeroed)],
        ["iron", _number(head.iron_ohms)],
    ]


def _reading(kept: KeptReading) -> list[Any]:
    pair, r = kept.reading.pair, kept.reading
    struck = kept.strike.reason if kept.strike else None
    return ["reading", kept.place, *pair, kept.typed, _number(r.ohms), _number(r.range_upto_ohms), struck]


def _number(value: float | None) -> float | None:
    return None if value is None else float(value)
