"""How long a reading takes to be safe on disk: `python -m tests.benchmarks.bench_store [FOLDER] [COUNT]`.

Against a bare sqlite3 commit of the same row into the same tables, with the same pragmas, on the same disk. The two
take turns, so that whatever else the disk does falls on both. Reported, never asserted.
"""

import sqlite3
import statistics
import sys
import tempfile
from pathlib import Path
from time import perf_counter

from db.connect import prepare, raw
from db.store import Store
from tests.db.invented import BENCH, HEAD_OF_SHEET, fill, reading
from workbench.records import KeptReading
from workbench.shop import Shop

INSERT = "INSERT INTO readings VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)"


def main(folder: str | None = None, count: str = "1000") -> None:
    with tempfile.TemporaryDirectory(dir=folder) as place:
        bare_path, store_path, shop_path = (Path(place) / f"{n}.sqlite" for n in ("bare", "store", "shop"))
        for path in (bare_path, store_path, shop_path):
            made = Store.open(path, bench=BENCH)
            fill(made)
            made.close()
        bare = raw(bare_path)
        prepare(bare, bare_path)
        store = Store.open(store_path, bench=BENCH)
        shop = Shop(str(shop_path), bench=BENCH)
        shop.open().result()

        took: dict[str, list[float]] = {"bare sqlite3 commit": [], "Store.writing": [], "Shop.keep_reading": []}
        for number in range(int(count)):
            kept = reading(number)
            started = perf_counter()
            _bare(bare, kept)
            bared = perf_counter()
            _stored(store, kept)
            stored = perf_counter()
            shop.keep_reading(kept).result()
            shopped = perf_counter()
            for name, seconds in zip(took, (bared - started, stored - bared, shopped - stored), strict=True):
                took[name].append(seconds)
        shop.close()
        store.close()
        bare.close()
    _report(took)


def _bare(connection: sqlite3.Connection, kept: KeptReading) -> None:
    pair = kept.reading.pair
    row = (kept.id.hex, HEAD_OF_SHEET.id.hex, kept.place, pair.positive, pair.negative, kept.reading.ohms, None)
    connection.execute("BEGIN IMMEDIATE")
    connection.execute(INSERT, (*row, kept.typed, kept.taken_at.isoformat(), BENCH.hex))
    connection.execute("COMMIT")


def _stored(store: Store, kept: KeptReading) -> None:
    from db.queries import sheets

    with store.writing() as s:
        sheets.keep_reading(s, kept)


def _report(took: dict[str, list[float]]) -> None:
    base = took["bare sqlite3 commit"]
    print(f"{'':22}{'p50':>10}{'p95':>10}{'p99':>10}   p50 against bare")
    for name, seconds in took.items():
        cut = statistics.quantiles(seconds, n=100)
        ratio = statistics.median(seconds) / statistics.median(base)
        figures = "".join(f"{cut[i] * 1e3:>7.3f} ms" for i in (49, 94, 98))
        print(f"{name:22}{figures}   {ratio:.2f}")


if __name__ == "__main__":
    main(*sys.argv[1:])
