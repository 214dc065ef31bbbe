"""Reads the part on the demo's bench to its end, as a technician would, key by key."""

from collections.abc import Callable
from concurrent.futures import Future
from typing import Any

from db.trouble import StoreTrouble
from demo_shop.build import PracticePart, bench_part
from workbench.records import Decided, Job, KeptReading, Repair, SheetHead, Strike, Unit
from workbench.shop import Shop
from workbench.sitting.bench import Bench
from workbench.sitting.keeper import Failed, Then


class Waiting:
    """A keeper that waits for the shop and tells the sitting on the sitting's own thread."""

    def __init__(self, shop: Shop) -> None:
        self._shop = shop

    def keep_reading(self, kept: KeptReading, then: Then | None = None, failed: Failed | None = None) -> None:
        _wait(self._shop.keep_reading(kept), then, failed)

    def strike(self, strike: Strike, then: Then | None = None, failed: Failed | None = None) -> None:
        _wait(self._shop.strike(strike), then, failed)

    def decide(self, decided: Decided, then: Then | None = None, failed: Failed | None = None) -> None:
        _wait(self._shop.decide(decided), then, failed)

    def keep_repair(self, repair: Repair, then: Then | None = None, failed: Failed | None = None) -> None:
        _wait(self._shop.keep_repair(repair), then, failed)

    def edit_unit(self, unit: Unit, then: Then | None = None, failed: Failed | None = None) -> None:
        _wait(self._shop.edit_unit(unit), then, failed)

    def edit_job(self, job: Job, then: Then | None = None, failed: Failed | None = None) -> None:
        _wait(self._shop.edit_job(job), then, failed)

    def change_conditions(self, head: SheetHead, then: Then | None = None, failed: Failed | None = None) -> None:
        _wait(self._shop.change_conditions(head), then, failed)


def _wait(kept: Future[Any], then: Callable[[Any], None] | None, failed: Failed | None) -> None:
    try:
        result = kept.result()
    except StoreTrouble as e:
        if failed:
            failed(e)
    else:
        if then:
            then(result)


def read_part(shop: Shop, tag: str, *, at_most: int = 40) -> Bench:
    """The bench with every planned check read, outside ones twice. Stops when nothing more is offered."""
    file = shop.find_unit(tag).result()
    assert file is not None
    bench = Bench(file, Waiting(shop))
    part = PracticePart(bench_part())
    bench.shows = lambda pair: part.shows(bench, pair)
    read_on(bench, at_most)
    return bench


def read_on(bench: Bench, at_most: int) -> None:
    """Types what the practice part shows for each offered pair, and Enter; keeps it as typed where asked."""
    for _ in range(at_most):
        if bench.offered is None:
            return
        bench.pick(bench.offered)
        shown = bench.practice_shows() or "OL"
        before = len(bench.lines)
        bench.enter(shown)
        if len(bench.lines) == before:
            bench.enter(shown)
