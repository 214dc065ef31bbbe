"""Writes the demo shop into a store, through the same door as the window."""

from collections.abc import Callable
from concurrent.futures import Future
from datetime import UTC, date, datetime, time, timedelta
from uuid import UUID

from demo_shop.atwork import Shelf, gains_of, in_order, work
from demo_shop.named import BENCH_FAULT, NAMED
from demo_shop.part import Part
from demo_shop.roll import DAYS, SEED, UNITS, pattern_of, stories
from demo_shop.shelf import REWOUND_TAG, begun, spools
from workbench.exchange.starters import starter_meters, starter_revisions
from workbench.records import PatternRevision, WholeJob
from workbench.shop import Shop
from workbench.sitting.bench import Bench
from workbench.stator.pattern import Pair

BENCH = UUID("3c0a8f5e-0b1d-4b7e-8a37-5f2d9e6c4a11")  # the demo's own: what it writes tells nothing of this machine
_AT_ONCE = 40  # jobs a transaction
_FIRST_JOB = 1201

Tell = Callable[[int, int], None]


def demo_day(day: date | None = None) -> datetime:
    """The start of a day, UTC; of today where none is given."""
    return datetime.combine(day or datetime.now(UTC).date(), time(), UTC)


def demo_shop(url: str, today: datetime) -> Shop:
    """A shop to build in, whose clock stands where the demo's three years begin. To be opened and closed."""
    begins = today - timedelta(days=DAYS + 90)
    return Shop(url, bench=BENCH, clock=lambda: begins)


def build(shop: Shop, today: datetime, *, units: int = UNITS, seed: int = SEED, tell: Tell | None = None) -> None:
    """Fills an open, empty shop. `tell` hears how many of how many jobs are written.

    The same date, seed and number give the same records, to the byte, in a shop made by `demo_shop`.
    """
    shelf = _stocked(shop, today, seed)
    told = stories(units, seed)
    visits = list(in_order(told))
    waiting: list[Future[None]] = []
    many: list[WholeJob] = []
    for n, (story, i) in enumerate(visits, 1):
        many.append(work(story, i, _FIRST_JOB + n, today, shelf, seed))
        if len(many) == _AT_ONCE or n == len(visits):
            waiting.append(shop.keep_jobs(many))
            many = []
            # the store writes while the next are worked out, but never falls far behind
            if len(waiting) > 2:
                waiting.pop(0).result()
            if tell is not None:
                tell(n, len(visits))
    for w in waiting:
        w.result()
    _shelve(shop)


def _shelve(shop: Shop) -> None:
    """The shelf of wire; and what was begun with it, where its unit came."""
    for spool in spools():
        shop.save_spool(spool).result()
    file = shop.find_unit(REWOUND_TAG).result()
    if file is not None:
        shop.save_rewind(begun(file.job.id, file.job.opened_at)).result()


def _stocked(shop: Shop, today: datetime, seed: int) -> Shelf:
    from db.queries.stock import revision_id

    shop.stock(starter_revisions(), starter_meters()).result()
    revisions: dict[tuple[str, int | None], PatternRevision] = {}
    for latest in shop.patterns().result():
        name = latest.pattern.name
        revisions[name, None] = latest
        for number, pattern in enumerate((p for p in starter_revisions() if p.name == name), 1):
            made = PatternRevision(revision_id(name, number), latest.pattern_id, number, pattern, latest.made_at)
            revisions[name, number] = made
    meters = {m.name: m for m in shop.meters().result()}
    return Shelf(revisions, meters, gains_of(meters, seed))


def bench_part() -> Part:
    """The part that lies on the demo's bench."""
    winding, left = BENCH_FAULT
    return Part(pattern_of(NAMED[-1]), {winding: left}, seed=SEED)


class PracticePart:
    """Answers for the part on the demo's bench; the same pair shows the same until it was read."""

    def __init__(self, part: Part) -> None:
        self._part = part
        self._shown: dict[tuple[Pair, int], str] = {}

    def shows(self, bench: Bench, pair: Pair) -> str:
        """An overload for pins that it doesn't have: it may be read by another pattern than its own."""
        if not self._part.has(pair):
            return "OL"
        touch = (pair, len(bench.lines))
        if touch not in self._shown:
            self._shown[touch] = self._part.shows(pair, bench.head.meter, bench.head.conditions)
        return self._shown[touch]
