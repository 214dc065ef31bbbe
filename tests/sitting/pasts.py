"""An invented past: sheets of one unit, each reading every planned check as its part stood then."""

from dataclasses import replace
from datetime import timedelta
from typing import Any
from uuid import UUID, uuid4

from tests.sitting.fakes import AT, FakeKeeper, bench_file
from workbench.records import BenchFile, KeptReading, NamedMeter, PastSheet, SheetHead
from workbench.sitting.bench import Bench
from workbench.stator.pattern import Pair
from workbench.stator.sheet import Conditions, Reading

COIL = Pair("P.1", "P.3")
FINE = Pair("P.3", "P.2")
LIGHTING = Pair("L.1", "L.2")
TO_IRON = Pair("P.1", "core")

# what the starter's checks show on the counter's handheld, leads of 0.2 ohm, on a sound part at 20 C
SOUND: dict[Pair, float | None] = {
    COIL: 155.2, FINE: 17.2, Pair("P.1", "P.2"): 172.2, Pair("P.4", "P.5"): 0.2, LIGHTING: 0.6,
    TO_IRON: None, Pair("P.4", "core"): None, Pair("L.1", "core"): None, Pair("P.1", "L.1"): None,
}  # fmt: skip


def sheet_id(number: int) -> UUID:
    return UUID(int=0x7E << 32 | number)


def past_sheet(
    file: BenchFile,
    number: int,
    days_ago: float,
    shown: dict[Pair, float | None] | None = None,
    *,
    meter: NamedMeter | None = None,
    conditions: Conditions | None = None,
    job: int | None = None,
    only: dict[Pair, float | None] | None = None,
    **more: Any,
) -> PastSheet:
    """`shown`: what differs from a sound part; `only`: all that was read. `more` changes the record itself."""
    head: SheetHead = replace(file.sheet, id=sheet_id(number), started_at=AT - timedelta(days=days_ago))
    if meter is not None:
        head = replace(head, meter_id=meter.id, meter_name=meter.name, meter=meter.meter)
    if conditions is not None:
        head = replace(head, conditions=conditions)
    read = (SOUND | (shown or {})) if only is None else only
    readings: list[KeptReading] = []
    for pair, ohms in read.items():
        place = len(readings) + 1
        typed = "OL" if ohms is None else f"{ohms:g}"
        readings.append(KeptReading(uuid4(), head.id, place, Reading(pair, ohms), typed, head.started_at))
    made = PastSheet(number if job is None else job, head, file.revision, tuple(readings))
    return replace(made, **more)


def bench_reading(file: BenchFile | None = None, **typed: str) -> Bench:
    """A bench with some of its checks read: `coil`, `fine`, `lighting`, `to_iron`, as typed."""
    bench = Bench(file or bench_file(), FakeKeeper(at_once=True))
    pairs = {"coil": COIL, "fine": FINE, "lighting": LIGHTING, "to_iron": TO_IRON}
    for name, text in typed.items():
        bench.pick(pairs[name])
        lines = len(bench.lines)
        bench.enter(text)
        if len(bench.lines) == lines:  # a slip was asked about: the same again keeps it
            bench.enter(text)
    return bench
