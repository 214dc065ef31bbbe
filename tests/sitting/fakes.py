"""A keeper that only notes what it is asked, and an invented unit for it; a shop whose news waits to be taken."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from queue import SimpleQueue
from typing import Any
from uuid import UUID, uuid4

from workbench.exchange.starters import starter_meters, starter_pattern
from workbench.records import (
    BenchFile,
    Decided,
    Job,
    KeptReading,
    NamedMeter,
    PatternRevision,
    Repair,
    SheetHead,
    Strike,
    TemperatureSource,
    Unit,
)
from workbench.sitting.bench import Bench
from workbench.sitting.keeper import Failed, Then
from workbench.stator.meter import Meter
from workbench.stator.pattern import Pair, Pattern
from workbench.stator.sheet import Conditions

AT = datetime(2026, 3, 4, 9, 30, tzinfo=UTC)
METERS = dict(starter_meters())
HANDHELD = NamedMeter(UUID(int=1), "Counter handheld", METERS["Counter handheld"])
FOUR_WIRES = NamedMeter(UUID(int=2), "Bench, four wires", METERS["Bench, four wires"])
TWO_COILS, WYE, TAPPED = "two ignition coils on a common pin", "three-phase wye", "lighting grounded with a tap"
DISK_FULL = OSError("The disk is full. It stays on the screen.")


@dataclass
class Asked:
    """One call, open until the test acknowledges it or lets it fail."""

    what: str
    record: Any
    then: Then | None
    failed: Failed | None
    open: bool = True

    def ack(self) -> None:
        assert self.open
        self.open = False
        kept = (
            replace(self.record, version=self.record.version + 1)
            if self.what in ("conditions", "unit", "job")
            else self.record
        )
        if self.then is not None:
            self.then(kept)

    def fail(self, error: Exception = DISK_FULL) -> None:
        assert self.open
        self.open = False
        if self.failed is not None:
            self.failed(error)


class FakeKeeper:
    """`at_once`: acknowledges by itself, as a fast disk does."""

    def __init__(self, *, at_once: bool = False) -> None:
        self.asked: list[Asked] = []
        self.at_once = at_once

    @property
    def waiting(self) -> list[Asked]:
        return [a for a in self.asked if a.open]

    def of(self, what: str) -> list[Any]:
        return [a.record for a in self.asked if a.what == what]

    def keep_reading(self, kept: KeptReading, then: Then | None = None, failed: Failed | None = None) -> None:
        self._note(Asked("reading", kept, then, failed))

    def strike(self, strike: Strike, then: Then | None = None, failed: Failed | None = None) -> None:
        self._note(Asked("strike", strike, then, failed))

    def decide(self, decided: Decided, then: Then | None = None, failed: Failed | None = None) -> None:
        self._note(Asked("decided", decided, then, failed))

    def keep_repair(self, repair: Repair, then: Then | None = None, failed: Failed | None = None) -> None:
        self._note(Asked("repair", repair, then, failed))

    def edit_unit(self, unit: Unit, then: Then | None = None, failed: Failed | None = None) -> None:
        self._note(Asked("unit", unit, then, failed))

    def edit_job(self, job: Job, then: Then | None = None, failed: Failed | None = None) -> None:
        self._note(Asked("job", job, then, failed))

    def change_conditions(self, head: SheetHead, then: Then | None = None, failed: Failed | None = None) -> None:
        self._note(Asked("conditions", head, then, failed))

    def _note(self, asked: Asked) -> None:
        self.asked.append(asked)
        if self.at_once:
            asked.ack()


class Desk:
    """Delivers what the shop's thread has to tell when the test takes it, as a window's event loop does."""

    def __init__(self) -> None:
        self._post: SimpleQueue[Callable[[], object]] = SimpleQueue()

    def deliver(self, call: Callable[[], object]) -> None:
        self._post.put(call)

    def until(self, done: Callable[[], bool]) -> None:
        while not done():
            self._post.get(timeout=10)()


def starter(name: str) -> Pattern:
    found = starter_pattern(name)
    assert found is not None
    return found


def bench_file(
    pattern: Pattern | str = TWO_COILS,
    *,
    meter: NamedMeter | Meter = HANDHELD,
    conditions: Conditions | None = None,
    iron: float | None = 0.3,
    zeroed: bool = False,
) -> BenchFile:
    """A unit just booked in: nothing read yet."""
    pattern = starter(pattern) if isinstance(pattern, str) else pattern
    named = meter if isinstance(meter, NamedMeter) else NamedMeter(UUID(int=3), "a meter", meter)
    unit = Unit(uuid4(), "T-0001", "red sled", uuid4(), AT)
    job = Job(uuid4(), unit.id, 7, "no spark", AT)
    revision = PatternRevision(uuid4(), unit.pattern_id or uuid4(), 2, pattern, AT)
    head = SheetHead(
        uuid4(), job.id, revision.id, named.id, named.name, named.meter,
        conditions or Conditions(20.0, 1.0, 0.2, 0.05), TemperatureSource.PROBE, zeroed, iron, AT,
    )  # fmt: skip
    return BenchFile(unit, job, revision, head, (), None)


def bench_of(pattern: Pattern | str = TWO_COILS, *, at_once: bool = True, **more: Any) -> tuple[Bench, FakeKeeper]:
    keeper = FakeKeeper(at_once=at_once)
    return Bench(bench_file(pattern, **more), keeper), keeper


def sound(bench: Bench, pair: Pair) -> str:
    """What this bench's meter would show, typed, for a part at its nominal values."""
    ohms = bench.expectations.of(pair).ohms
    if ohms is None:
        return "OL"
    shown = ohms + bench.head.conditions.lead_ohms
    on = bench.head.meter.covering(shown)
    assert on is not None
    decimals = max(0, len(f"{on.resolution_ohms:.6f}".rstrip("0").partition(".")[2]))
    return f"{round(shown / on.resolution_ohms) * on.resolution_ohms:.{decimals}f}"
