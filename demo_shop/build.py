"""Writes the demo shop into a store, through the same door as the window."""

import random
from datetime import datetime, timedelta
from uuid import UUID, uuid5

from demo_shop.part import Part
from demo_shop.story import BENCH_TAG, STORIES, Story, Visit
from workbench.exchange.starters import starter_meters, starter_pattern, starter_revisions
from workbench.records import (
    Decided,
    Job,
    KeptReading,
    NamedMeter,
    PatternRevision,
    SheetHead,
    Strike,
    TemperatureSource,
    Unit,
)
from workbench.shop import Shop
from workbench.sitting.bench import Bench
from workbench.stator.entry import Overload, read_value
from workbench.stator.judge import judge
from workbench.stator.pattern import Pair
from workbench.stator.sheet import Conditions, Proof, Reading, Sheet

_NAMES = UUID("5d3f3a9c-6f1e-4c58-9a52-0f6a53a7c1d4")
SEED = 20


def build(shop: Shop, today: datetime) -> None:
    """Fills an open, empty shop. The same date gives the same records."""
    shop.stock(starter_revisions(), starter_meters()).result()
    revisions = {r.pattern.name: r for r in shop.patterns().result()}
    meters = {m.name: m for m in shop.meters().result()}
    number = 2040
    visits = sorted(((v.days_ago, s, i) for s in STORIES for i, v in enumerate(s.visits)), key=lambda x: -x[0])
    units: dict[str, Unit] = {}
    for _, story, i in visits:
        number += 1
        _visit(shop, today, story, i, revisions[story.pattern], meters[story.visits[i].meter], number, units)


def _visit(
    shop: Shop,
    today: datetime,
    story: Story,
    i: int,
    revision: PatternRevision,
    meter: NamedMeter,
    number: int,
    units: dict[str, Unit],
) -> None:
    v = story.visits[i]
    at = today - timedelta(days=v.days_ago)
    name = f"{story.tag}/{i}"
    unit = units.get(story.tag) or Unit(_id(story.tag), story.tag, story.label, revision.pattern_id, at)
    unit, job = shop.book(unit, Job(_id(name, "job"), unit.id, number, v.complaint, at)).result()
    units[story.tag] = unit
    head = _head(name, v, job, revision, meter, at)
    shop.begin_sheet(head).result()
    readings = _read(shop, name, v, revision, head, at)
    if v.outcome is not None:
        sheet = Sheet(revision.pattern, head.meter, head.conditions, tuple(readings), proof=Proof(iron=True))
        verdict = str(judge(sheet).verdict)
        shop.decide(
            Decided(_id(name, "decided"), job.id, head.id, v.outcome, v.note, verdict, at + timedelta(minutes=20))
        ).result()


def _head(name: str, v: Visit, job: Job, revision: PatternRevision, meter: NamedMeter, at: datetime) -> SheetHead:
    four_wires = "four" in meter.name
    source = TemperatureSource.PROBE if four_wires else TemperatureSource.ROOM
    u = 1.0 if four_wires else 3.0
    leads, lead_u = (0.0, 0.0002) if four_wires else (0.2, 0.05)
    conditions = Conditions(v.celsius, u, leads, lead_u)
    return SheetHead(
        _id(name, "sheet"), job.id, revision.id, meter.id, meter.name, meter.meter, conditions, source,
        meter_zeroed=four_wires, iron_ohms=0.3 if not four_wires else 0.0021, started_at=at + timedelta(minutes=2),
    )  # fmt: skip


def _read(shop: Shop, name: str, v: Visit, revision: PatternRevision, head: SheetHead, at: datetime) -> list[Reading]:
    pattern = revision.pattern
    part = Part(pattern, v.shares, seed=SEED + int.from_bytes(name.encode()) % 9973)
    rng = random.Random(name)
    plan = list(pattern.checks or ())[: v.read]
    counted: list[Reading] = []
    place = 0
    clock = at + timedelta(minutes=4)

    def keep(pair: Pair, typed: str) -> KeptReading:
        nonlocal place, clock
        place += 1
        clock += timedelta(seconds=rng.randint(6, 40))
        value = read_value(typed)
        ohms = None if isinstance(value, Overload) else getattr(value, "ohms", 1.0)
        kept = KeptReading(_id(name, str(place)), head.id, place, Reading(pair, ohms), typed, clock)
        shop.keep_reading(kept).result()
        return kept

    for j, pair in enumerate(plan):
        for _, typed, reason in (s for s in v.struck if s[0] == j):
            wrong = keep(pair, typed)
            shop.strike(Strike(_id(name, f"strike {place}"), wrong.id, reason, clock)).result()
        first = keep(pair, part.shows(pair, head.meter, head.conditions))
        counted.append(first.reading)
        sheet = Sheet(pattern, head.meter, head.conditions, tuple(counted), proof=Proof(iron=True))
        if pair in judge(sheet).awaiting:
            counted.append(keep(pair, part.shows(pair, head.meter, head.conditions)).reading)
    return counted


def _id(*names: str) -> UUID:
    return uuid5(_NAMES, "/".join(names))


def bench_part() -> Part:
    """The part that lies on the demo's bench."""
    story = next(s for s in STORIES if s.tag == BENCH_TAG)
    pattern = starter_pattern(story.pattern)
    assert pattern is not None
    return Part(pattern, story.visits[-1].shares, seed=SEED)


class PracticePart:
    """Answers for the part on the demo's bench; the same pair shows the same until it was read."""

    def __init__(self, part: Part) -> None:
        self._part = part
        self._shown: dict[tuple[Pair, int], str] = {}

    def shows(self, bench: Bench, pair: Pair) -> str:
        touch = (pair, len(bench.lines))
        if touch not in self._shown:
            self._shown[touch] = self._part.shows(pair, bench.head.meter, bench.head.conditions)
        return self._shown[touch]
