"""How long the shop's counts take at 10,000 decided jobs: `python -m tests.benchmarks.bench_odds [JOBS]`.

Against one bare count of the table's rows on the same connection. Reported, never asserted.
"""

import sqlite3
import statistics
import sys
import tempfile
from dataclasses import replace
from pathlib import Path
from time import perf_counter

from db import queries
from db.store import Store
from tests.db.invented import BENCH, HEAD_OF_SHEET, PATTERN, UNIT, at, fill, uid
from workbench.exchange.starters import starter_revisions
from workbench.findings.faults import JUDGE_FAULTS
from workbench.records import Decided, Job, Outcome

TIMES = 15


def main(jobs: str = "10000") -> None:
    with tempfile.TemporaryDirectory() as folder:
        store = Store.open(Path(folder) / "shop.sqlite", bench=BENCH)
        fill(store)
        _decide(store, int(jobs))
        bare = sqlite3.connect(store.path)
        took: dict[str, list[float]] = {"bare count": [], "found.counts": []}
        for _ in range(TIMES):
            started = perf_counter()
            bare.execute("SELECT count(*), max(length(found)) FROM decisions").fetchone()
            took["bare count"].append(perf_counter() - started)
            with store.reading() as s:
                started = perf_counter()
                counts = queries.found.counts(s)
                took["found.counts"].append(perf_counter() - started)
        bare.close()
        store.close()
    print(f"{counts.number(None)} jobs in {len(counts.by_family)} families")
    for name, seconds in took.items():
        print(f"{name:14}{1e3 * statistics.median(seconds):8.2f} ms")


def _decide(store: Store, jobs: int) -> None:
    """Every fifth job decided twice."""
    with store.writing() as s:
        ids = [queries.patterns.save(s, p, at(0)).id for p in (PATTERN, *starter_revisions())]
        for n in range(jobs):
            job = Job(uid(10_000 + n), UNIT.id, 10 + n, "", at(n))
            queries.jobs.open_job(s, job)
            head = replace(
                HEAD_OF_SHEET, id=uid(1_000_000 + n), job_id=job.id, revision_id=ids[n % len(ids)], started_at=at(n)
            )
            queries.sheets.begin(s, head)
            for again in range(1 + (n % 5 == 0)):
                found = JUDGE_FAULTS[(n + again) % len(JUDGE_FAULTS)]
                made = Decided(
                    uid(2_000_000 + 2 * n + again), job.id, head.id, Outcome.REPAIR, "", "fail", at(n), found
                )
                queries.jobs.decide(s, made)


if __name__ == "__main__":
    main(*sys.argv[1:])
