"""An invented counter for cycles and sleds on a cold coast: fixed ids and times, nobody's data."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from uuid import UUID

from db import queries
from db.store import Store
from workbench.records import (
    CardMade,
    CardSize,
    Decided,
    Job,
    KeptDraft,
    KeptReading,
    KeptRewind,
    NamedMeter,
    Outcome,
    Repair,
    RepairKind,
    SheetHead,
    Spool,
    SpoolDraw,
    Strike,
    TemperatureSource,
    Unit,
    Whose,
)
from workbench.stator.meter import Meter, Range
from workbench.stator.pattern import CORE, Cavity, Connector, Kind, Link, Pair, Pattern, Terminal, Winding
from workbench.stator.predicted import Predicted
from workbench.stator.sheet import Conditions, Reading

BENCH = UUID(int=0xBE7C)
START = datetime(2026, 2, 3, 8, 15, 30, 250_000, UTC)


def uid(number: int) -> UUID:
    return UUID(int=0x5ED << 64 | number)


def at(minutes: float) -> datetime:
    return START + timedelta(minutes=minutes)


PATTERN = Pattern(
    name="two coils on a common pin",
    connectors=(Connector("P", tuple(Cavity(p, Terminal.SOCKET) for p in "12345")),),
    windings=(
        Winding("fine", "P.1", "P.3", Kind.IGNITION, ohms=245.0, tolerance_percent=10.0),
        Winding("coarse", "P.3", "P.2", Kind.IGNITION, ohms=31.0, tolerance_percent=10.0),
    ),
    links=(Link("loop", "P.4", "P.5"),),
    checks=(Pair("P.1", "P.3"), Pair("P.3", "P.2"), Pair("P.1", CORE)),
)
WIDER = replace(PATTERN, windings=(replace(PATTERN.windings[0], tolerance_percent=15.0), PATTERN.windings[1]))

METER = NamedMeter(
    uid(1),
    "bench meter, yellow",
    Meter((Range(200.0, 0.1, 0.8, 3.0), Range(2000.0, 1.0, 0.8, 3.0), Range(2e7, 1e4, 1.0, 3.0)), 2e7),
)
UNIT = Unit(uid(2), "KL-0148", "Sled from the harbour hut, Øre 340", None, at(0))
JOB = Job(uid(3), UNIT.id, 1, "no spark when warm", at(1), seen="grey splice on one lead", approved="up to a rewind")
REVISION_ID, PATTERN_ID, WIDER_ID = uid(4), uid(5), uid(6)
HEAD_OF_SHEET = SheetHead(
    id=uid(7),
    job_id=JOB.id,
    revision_id=REVISION_ID,
    meter_id=METER.id,
    meter_name=METER.name,
    meter=METER.meter,
    conditions=Conditions(21.5, 3.0, 0.2, 0.05),
    source=TemperatureSource.ROOM,
    meter_zeroed=False,
    iron_ohms=0.3,
    started_at=at(5),
    note="grey splice: pull on it — 2 Ω more",
    predicted=(Predicted("coarse", 31.4, 30.9, 31.9),),
    leads_assumed=True,
)
STRIKE = Strike(uid(21), uid(11), "undone", at(6.5))
READINGS = (
    KeptReading(uid(11), HEAD_OF_SHEET.id, 1, Reading(Pair("P.1", "P.3"), 1200.0), "1k2", at(6), STRIKE),
    KeptReading(uid(12), HEAD_OF_SHEET.id, 2, Reading(Pair("P.1", "P.3"), 247.0, 2000.0), " 247 ", at(7)),
    KeptReading(uid(13), HEAD_OF_SHEET.id, 3, Reading(Pair("P.3", "P.2"), 31.4), "31,4", at(8)),
    KeptReading(uid(14), HEAD_OF_SHEET.id, 4, Reading(Pair("P.1", CORE), None, 2e7), "OL", at(9)),
)
DECIDED = Decided(
    uid(31),
    JOB.id,
    HEAD_OF_SHEET.id,
    Outcome.PASS,
    "warm check on the next visit",
    "good",
    at(12),
    "resistive-lead",
    "P.3",
    ran_well=True,
)
SPOOL = Spool(uid(61), "shelf 3", "AWG 22", "heavy", 812.5, "half used", 1)
REWIND = KeptRewind(uid(62), JOB.id, "fine coil", '{"turns":420}', at(16), at(18))
DRAW = SpoolDraw(uid(63), SPOOL.id, REWIND.id, 112.5, at(18))
REPAIR = Repair(uid(64), JOB.id, RepairKind.SPLICE, "P.3", "grey splice opened, soldered, sleeved", at(17))
DRAFT = KeptDraft(uid(51), "patterns", "half a plug", '{"plugs":[]}', at(14), at(15))
CARD = CardMade(uid(41), HEAD_OF_SHEET.id, 1, "printed", at(13), Whose.SHOP, CardSize.LABEL, '["plugface card",1]')


def reading(number: int, sheet_id: UUID = HEAD_OF_SHEET.id) -> KeptReading:
    """One reading more, after those of the sheet above."""
    shown = 240.0 + number / 10
    pair = Pair("P.1", "P.3")
    return KeptReading(
        uid(1000 + number), sheet_id, 100 + number, Reading(pair, shown), f"{shown:.1f}", at(20 + number)
    )


def fill(store: Store) -> None:
    """Writes all of the above, in the order a day would."""
    with store.writing() as s:
        queries.meters.save(s, METER)
        queries.patterns.save(s, PATTERN, at(-2), REVISION_ID, PATTERN_ID)
    with store.writing() as s:
        queries.units.save(s, UNIT)
        queries.jobs.open_job(s, JOB)
    with store.writing() as s:
        queries.sheets.begin(s, HEAD_OF_SHEET)
    for kept in READINGS:
        with store.writing() as s:
            queries.sheets.keep_reading(s, kept)
            if kept.strike:
                queries.sheets.strike(s, kept.strike)
    with store.writing() as s:
        queries.jobs.decide(s, DECIDED)
        queries.cards.note(s, CARD)
        queries.drafts.save(s, DRAFT)
        queries.shelf.save(s, replace(SPOOL, version=0), at(-3))
        queries.rewinds.keep_repair(s, REPAIR)
        queries.shelf.finish(s, REWIND, (DRAW,))
    with store.writing() as s:  # the pattern moves on; the sheet keeps what it was judged against
        queries.patterns.save(s, WIDER, at(30), WIDER_ID)
