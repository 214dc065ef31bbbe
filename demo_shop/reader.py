"""Reads the part on the demo's bench to its end, as a technician would, key by key."""

from demo_shop.build import PracticePart, bench_part
from workbench.shop import Shop
from workbench.sitting.bench import Bench


def read_part(shop: Shop, tag: str, *, at_most: int = 40) -> Bench:
    """The bench with every planned check read, outside ones twice. Stops when nothing more is offered."""
    file = shop.find_unit(tag).result()
    assert file is not None
    bench = Bench(file, shop)
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
