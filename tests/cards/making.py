"""Cards' facts from really judged sheets, for the tests beside this."""

from datetime import UTC, datetime
from typing import Any
from uuid import UUID

from workbench.cards import CardFacts
from workbench.records import Outcome, TemperatureSource
from workbench.stator.judge import JudgedSheet, judge
from workbench.stator.meter import Meter, Range
from workbench.stator.pattern import Cavity, Connector, Element, Kind, Link, Pair, Pattern, Winding
from workbench.stator.sheet import Conditions, Proof, Reading, Sheet

SHEET_ID = UUID("7f0c2b9e-5a1d-4c38-9d57-3f6f0b1e8a42")

METER = Meter(
    (Range(200, 0.1, 0.8, 3), Range(2000, 1, 0.8, 3), Range(2e7, 1e4, 1.0, 3)),
    open_above_ohms=2e7,
)

TAPPED = Pattern(
    "tapped exciter, pulser, charging",
    (
        Connector("A", tuple(Cavity(str(n)) for n in range(1, 4))),
        Connector("B", tuple(Cavity(str(n)) for n in range(1, 6))),
    ),
    (
        Winding("main exciter", "B.1", "B.2", Kind.EXCITER, 412, 10),
        Winding("low exciter", "B.2", "B.3", Kind.EXCITER, 98, 10),
        Winding("pulser", "B.4", "B.5", Kind.PULSER, 118, 10),
        Winding("charging", "A.1", "A.2", Kind.CHARGING, 0.6, 15),
    ),
    (Link("stop loop", "A.3", "B.3"),),
    checks=(
        Pair("B.1", "B.2"), Pair("B.2", "B.3"), Pair("B.1", "B.3"), Pair("B.4", "B.5"),
        Pair("A.1", "A.2"), Pair("A.3", "B.3"), Pair("B.1", "core"), Pair("B.4", "core"), Pair("A.1", "core"),
    ),
)  # fmt: skip

DIODED = Pattern(
    "charging through a diode",
    (Connector("P", tuple(Cavity(str(n)) for n in range(1, 4))),),
    (
        Winding("charging", "P.1", "P.2", Kind.CHARGING, 120, 10),
        Winding("diode", "P.2", "P.3", Kind.OTHER, element=Element.DIODE),
    ),
    checks=(Pair("P.1", "P.2"), Pair("P.2", "P.3")),
)

SOUND: tuple[tuple[str, str, float | None], ...] = (
    ("B.1", "B.2", 414), ("B.2", "B.3", 98.9), ("B.1", "B.3", 512), ("B.4", "B.5", 118.6), ("A.1", "A.2", 0.8),
    ("A.3", "B.3", 0.2), ("B.1", "core", None), ("B.4", "core", None), ("A.1", "core", None),
)  # fmt: skip


def judged(
    readings: tuple[tuple[str, str, float | None], ...] = SOUND,
    pattern: Pattern = TAPPED,
    *,
    conditions: Conditions | None = None,
    meter: Meter = METER,
    iron: bool = True,
) -> JudgedSheet:
    held = conditions or Conditions(21.5, 3.0, 0.2, 0.05)
    return judge(
        Sheet(pattern, meter, held, tuple(Reading(Pair(a, b), ohms) for a, b, ohms in readings), proof=Proof(iron=iron))
    )


def many_coils(count: int) -> Pattern:
    """`count` coils on a common pin, all planned."""
    pins = tuple(Cavity(str(n)) for n in range(count + 1))
    return Pattern(
        f"{count} coils on a common pin",
        (Connector("P", pins),),
        tuple(Winding(f"coil {n}", "P.0", f"P.{n}", Kind.LIGHTING, 100.0 + n, 10) for n in range(1, count + 1)),
        checks=tuple(Pair("P.0", f"P.{n}") for n in range(1, count + 1)),
    )


def facts(sheet: JudgedSheet | None = None, **changes: Any) -> CardFacts:
    given: dict[str, Any] = {
        "tag": "KL-0147",
        "label": "Saltgrass 350 utility, owner tag 88",
        "job_number": 2093,
        "complaint": "no spark when warm",
        "pattern_name": TAPPED.name,
        "pattern_revision": 3,
        "sheet_id": SHEET_ID,
        "judged": sheet or judged(),
        "struck": (),
        "meter_name": "Counter handheld",
        "source": TemperatureSource.ROOM,
        "meter_zeroed": False,
        "iron_ohms": 0.2,
        "outcome": Outcome.PASS,
        "note": "",
        "found_to_be": "",
        "found": "",
        "done": "",
        "made_at": datetime(2026, 11, 25, 9, 42, tzinfo=UTC),
        "asserts": '["plugface card",1]',
    }
    return CardFacts(**{**given, **changes})
