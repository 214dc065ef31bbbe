"""Parts decided on with something found, written through the shop's door."""

from dataclasses import replace
from pathlib import Path

from tests.sitting.fakes import bench_file, starter
from workbench.exchange.starters import starter_meters, starter_revisions
from workbench.findings.faults import Fault
from workbench.records import Decided, Outcome, new_id, now
from workbench.shop import Shop


def decide_parts(store: Path, many: int, pattern: str, found: Fault, tag: str = "W") -> None:
    """`many` parts of a starter pattern, each decided on with the same found. The store is made where there is none."""
    shop = Shop(str(store))
    shop.open().result()
    shop.stock(starter_revisions(), starter_meters()).result()
    revision = next(r for r in shop.patterns().result() if r.pattern.name == pattern)
    meter = shop.meters().result()[0]
    for n in range(many):
        file = bench_file(starter(pattern))
        unit = replace(file.unit, tag=f"{tag}-{n}", pattern_id=revision.pattern_id)
        _, job = shop.book(unit, replace(file.job, number=0)).result()
        head = replace(file.sheet, revision_id=revision.id, meter_id=meter.id)
        shop.begin_sheet(head).result()
        shop.decide(Decided(new_id(), job.id, head.id, Outcome.REWIND, "", "fail", now(), found, "")).result()
    shop.close()
