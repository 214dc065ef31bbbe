"""A technician at work: a visit of a story read on its part, reading by reading, into the records the shop keeps."""

import random
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta
from decimal import Decimal
from uuid import UUID, uuid5

from demo_shop.draw import expectations
from demo_shop.faults import named
from demo_shop.part import Part, Truth
from demo_shop.roll import pattern_of
from demo_shop.story import FOUR_WIRES, FalseStart, Sitting, Story
from workbench.cards.check import asserted
from workbench.findings.faults import Fault as Known
from workbench.records import (
    USUAL_CELSIUS_UNCERTAINTY,
    BenchFile,
    CardMade,
    CardSize,
    Decided,
    Job,
    KeptReading,
    NamedMeter,
    Outcome,
    PatternRevision,
    SheetHead,
    Strike,
    TemperatureSource,
    Unit,
    WholeJob,
    Whose,
)
from workbench.stator.entry import Overload, read_value
from workbench.stator.judge import JudgedSheet, judge
from workbench.stator.meter import Meter
from workbench.stator.pattern import Pair
from workbench.stator.sheet import Conditions, Proof, Reading, Sheet

_NAMES = UUID("5d3f3a9c-6f1e-4c58-9a52-0f6a53a7c1d4")
_MINE, _THEIRS = Whose.SHOP, Whose.CUSTOMER
# one in ten is lost and printed again, another is saved first; every fifth has a copy in the shop's own folder
_CARDS: tuple[tuple[tuple[Whose, str], ...], ...] = (
    *[((_THEIRS, "printed"),)] * 6,
    *[((_THEIRS, "printed"), (_MINE, "printed"))] * 2,
    ((_THEIRS, "printed"), (_THEIRS, "printed")),
    ((_THEIRS, "saved"), (_THEIRS, "printed")),
)
_SIZES = (*[CardSize.STAND] * 4, CardSize.TAG, CardSize.LABEL)


@dataclass(frozen=True, slots=True)
class Shelf:
    """What the shop works with: `revisions` by pattern and number, each meter with its own errors of gain."""

    revisions: dict[tuple[str, int | None], PatternRevision]
    meters: dict[str, NamedMeter]
    gains: dict[str, tuple[float, ...]]


def gains_of(meters: dict[str, NamedMeter], seed: int) -> dict[str, tuple[float, ...]]:
    """A meter keeps its errors for life: one a range, within half of what is granted."""
    out = {}
    for name, m in sorted(meters.items()):
        rng = random.Random(f"{seed}/gain/{name}")
        out[name] = tuple(rng.uniform(-0.5, 0.5) * r.percent / 100 for r in m.meter.ranges)
    return out


def work(story: Story, i: int, number: int, today: datetime, shelf: Shelf, seed: int) -> WholeJob:
    """The `i`th visit of a story, as job `number`; all its moments lie before `today`."""
    return _Visit(story, i, today, shelf, seed).done(number)


@dataclass
class _Desk:
    """What one visit has written so far."""

    sheets: list[SheetHead] = field(default_factory=list)
    readings: list[KeptReading] = field(default_factory=list)
    decisions: list[Decided] = field(default_factory=list)
    cards: list[CardMade] = field(default_factory=list)


class _Visit:
    def __init__(self, story: Story, i: int, today: datetime, shelf: Shelf, seed: int) -> None:
        self.story, self.visit, self.shelf, self.seed = story, story.tale.visits[i], shelf, seed
        self.name = f"{seed}/{story.tag}/{i}"
        self.rng = random.Random(self.name)
        self.at = _opened(story, i, today, seed)
        self.first = _opened(story, 0, today, seed)
        self.desk = _Desk()

    def done(self, number: int) -> WholeJob:
        story, v = self.story, self.visit
        pattern_id = self.shelf.revisions[story.pattern, None].pattern_id
        unit = Unit(self.id("unit", of=f"{self.seed}/{story.tag}"), story.tag, story.label, pattern_id, self.first)
        job = Job(self.id("job"), unit.id, number, v.complaint, self.at, v.seen, v.approved, v.found, v.done)
        clock = self.at
        for n, sitting in enumerate(v.sittings):
            begins = max(clock + timedelta(minutes=2), self.at + timedelta(days=sitting.later, minutes=2))
            clock = _Reading(self, unit, job, n, sitting, begins).done()
        if self.desk.decisions:
            job = replace(job, closed_at=clock + timedelta(minutes=self.rng.randint(5, 300)))
        d = self.desk
        return WholeJob(unit, job, tuple(d.sheets), tuple(d.readings), tuple(d.decisions), tuple(d.cards))

    def id(self, *names: str, of: str | None = None) -> UUID:
        return uuid5(_NAMES, "/".join((of or self.name, *names)))


class _Reading:
    """One sitting: its head, its readings as they come, then the decision and the card."""

    def __init__(self, visit: _Visit, unit: Unit, job: Job, n: int, sitting: Sitting, at: datetime) -> None:
        self.unit, self.job = unit, job
        self.visit, self.sitting, self.desk, self.rng, self.clock = visit, sitting, visit.desk, visit.rng, at
        self.name = str(n)
        shelf = visit.shelf
        self.revision = shelf.revisions[sitting.pattern or visit.story.pattern, sitting.revision]
        self.head = _head(visit.id(self.name, "sheet"), job, sitting, self.revision, shelf.meters[sitting.meter], at)
        if sitting.iron:
            iron = self.rng.uniform(0.0006, 0.003) if sitting.meter == FOUR_WIRES else self.rng.choice((0.2, 0.3))
            self.head = replace(self.head, iron_ohms=round(iron, 4))
        self.truth = self._truth()
        self.part = _part(visit, sitting, self.name)
        self.counted: list[Reading] = []

    def _truth(self) -> Truth:
        said, s = self.head.conditions, self.sitting
        celsius = said.celsius + s.warmer + self.rng.gauss(0, said.celsius_uncertainty / 3)
        leads = max(0.0, said.lead_ohms + self.rng.gauss(0, said.lead_uncertainty_ohms / 2))
        return Truth(celsius, leads, self.visit.shelf.gains[s.meter])

    def done(self) -> datetime:
        """The moment at which it was left."""
        self.desk.sheets.append(self.head)
        plan = (self.revision.pattern.checks or ())[: self.sitting.read]
        wrong = self.sitting.false_start
        if wrong is not None:
            self._struck_start(plan, wrong)
        if wrong is None or self.sitting.again:
            for j, pair in enumerate(plan):
                self._check(j, pair)
        self._decide()
        return self.clock

    def _struck_start(self, plan: tuple[Pair, ...], wrong: FalseStart) -> None:
        true, self.truth = self.truth, replace(self.truth, lead_ohms=self.truth.lead_ohms + wrong.more_ohms)
        taken = [self._keep(pair, self._shown(pair)) for pair in plan[: wrong.checks]]
        self.truth = true
        for kept in taken:
            self._strike(kept, wrong.reason)

    def _check(self, j: int, pair: Pair) -> None:
        for s in (s for s in self.sitting.struck if s.at == j):
            self._strike(self._keep(pair, s.typed or _slipped(self._shown(pair))), s.reason)
        # outside once is asked for again, with the probes lifted
        for _ in range(2):
            self.counted.append(self._keep(pair, self._shown(pair)).reading)
            if pair not in self._judged().awaiting:
                return

    def _judged(self) -> JudgedSheet:
        p, proof = self.revision.pattern, Proof(iron=self.head.iron_ohms is not None)
        return judge(Sheet(p, self.head.meter, self.head.conditions, tuple(self.counted), proof=proof), expectations(p))

    def _shown(self, pair: Pair) -> str:
        return as_typed(self.part.shows(pair, self.head.meter, self.head.conditions, self.truth), self.head.meter)

    def _keep(self, pair: Pair, typed: str) -> KeptReading:
        place = 1 + sum(k.sheet_id == self.head.id for k in self.desk.readings)
        self.clock += timedelta(seconds=self.rng.randint(6, 40))
        value = read_value(typed)
        ohms = None if isinstance(value, Overload) else getattr(value, "ohms", 1.0)
        id = self.visit.id(self.name, str(place))
        kept = KeptReading(id, self.head.id, place, Reading(pair, ohms), typed, self.clock)
        self.desk.readings.append(kept)
        return kept

    def _strike(self, kept: KeptReading, reason: str) -> None:
        self.clock += timedelta(seconds=self.rng.randint(2, 9))
        strike = Strike(self.visit.id(self.name, str(kept.place), "strike"), kept.id, reason, self.clock)
        self.desk.readings[self.desk.readings.index(kept)] = replace(kept, strike=strike)

    def _decide(self) -> None:
        d = self.sitting.decision
        if d is None:
            return
        self.clock += timedelta(minutes=self.rng.randint(3, 25))
        id, verdict = self.visit.id(self.name, "decided"), str(self._judged().verdict)
        before = next((x for x in self.desk.decisions if x.found), None)
        # what it came in with stays what it was found to have, once it is mended
        found, where = (before.found, before.found_where) if before is not None else found_to_be(self.sitting)
        # every other sound part is heard of again: it runs well
        ran_well = found == Known.SOUND and verdict == "good" and self.job.number % 2 == 0
        made = Decided(
            id, self.head.job_id, self.head.id, d.outcome, d.note, verdict, self.clock, found, where, ran_well
        )  # fmt: skip
        self.desk.decisions.append(made)
        self._print(self.desk.decisions[-1])

    def _print(self, decided: Decided) -> None:
        """The cards that left with the part, each saying what the sheet says now."""
        mine = tuple(k for k in self.desk.readings if k.sheet_id == self.head.id)
        file = BenchFile(self.unit, self.job, self.revision, self.head, mine, decided)
        says, size, made = asserted(file, decided.verdict), self.rng.choice(_SIZES), Counter[Whose]()
        for whose, how in self.rng.choice(_CARDS):
            made[whose] += 1
            self.clock += timedelta(minutes=self.rng.randint(1, 4))
            id = self.visit.id(self.name, "card", whose, str(made[whose]))
            self.desk.cards.append(CardMade(id, self.head.id, made[whose], how, self.clock, whose, size, says))


def _part(visit: _Visit, sitting: Sitting, name: str) -> Part:
    """The unit's own copper, the same at every visit but for what happened to it."""
    story, pattern = visit.story, pattern_of(visit.story)
    if sitting.revision is not None:
        pattern = visit.shelf.revisions[story.pattern, sitting.revision].pattern
    own = random.Random(f"{visit.seed}/{story.tag}/own")
    shares = {w.name: story.own.get(w.name) or 1 + own.uniform(-0.015, 0.015) for w in pattern.windings}
    left = {w: share * sitting.shares.get(w, 1.0) for w, share in shares.items()}
    return Part(pattern, dict(left), int.from_bytes(visit.id(name, "part").bytes[:6]), sitting.faults)


def _head(id: UUID, job: Job, s: Sitting, revision: PatternRevision, meter: NamedMeter, at: datetime) -> SheetHead:
    four_wires = s.meter == FOUR_WIRES
    source = TemperatureSource.PROBE if four_wires else TemperatureSource.ROOM
    leads, lead_u = (0.0, 0.0002) if four_wires else (0.2, 0.05)
    conditions = Conditions(s.celsius, USUAL_CELSIUS_UNCERTAINTY[source], leads, lead_u)
    return SheetHead(
        id, job.id, revision.id, meter.id, meter.name, meter.meter, conditions, source,
        meter_zeroed=four_wires, iron_ohms=None, started_at=at, note=s.note,
    )  # fmt: skip


def _opened(story: Story, i: int, today: datetime, seed: int) -> datetime:
    """Some moment of that day's opening hours."""
    rng = random.Random(f"{seed}/{story.tag}/{i}/opened")
    days = story.first - story.tale.visits[i].after
    return today - timedelta(days=days) + timedelta(seconds=rng.randint(8 * 3600, 16 * 3600))


def found_to_be(sitting: Sitting) -> tuple[str, str]:
    """What the technician puts down as found, as codes: what was wrong, or that nothing was; else nothing."""
    d = sitting.decision
    if d is None:
        return "", ""
    if d.found:
        return d.found, d.found_where
    if d.outcome is Outcome.PASS:
        return str(Known.SOUND), ""
    return named(sitting.faults[0]) if sitting.faults else ("", "")


def as_typed(shown: str, meter: Meter) -> str:
    """Thousands and millions as a meter shows them, with its own digits: 6.41k."""
    on = None if shown == "OL" else meter.covering(float(shown))
    if on is None or float(shown) < 2000:
        return shown
    unit, scale = ("M", 1_000_000) if float(shown) >= 2e6 else ("k", 1000)
    decimals = max(0, -Decimal(str(on.resolution_ohms / scale)).normalize().adjusted())
    return f"{float(shown) / scale:.{decimals}f}{unit}"


def _slipped(shown: str) -> str:
    """The point forgotten, as the hand does it."""
    return shown.replace(".", "") if "." in shown and "k" not in shown else "OL" if shown != "OL" else "0.3"


def in_order(told: tuple[Story, ...]) -> Iterator[tuple[Story, int]]:
    """Every visit, the earliest day first."""
    visits = [(s.first - v.after, s.tag, s, i) for s in told for i, v in enumerate(s.tale.visits)]
    for _, _, story, i in sorted(visits, key=lambda x: (-x[0], x[1])):
        yield story, i
