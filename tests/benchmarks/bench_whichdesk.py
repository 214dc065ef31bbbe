"""At the desk for parts without papers: a reading entered till its ranking is drawn, 300 patterns in the shop.

    python -m tests.benchmarks.bench_whichdesk

The weighing is worked out on a thread of its own; what is told of the window's thread is what it is kept from doing
else. A frame is 16 ms. The peer, in the same run, is the bare comparison without a window. Reported, never asserted.
"""

import os
import statistics
import time

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

import numpy as np
from PySide6.QtCore import QSize
from PySide6.QtWidgets import QApplication

from tests.matching.drawn import a_library, an_unknown
from tests.sitting.fakes import AT, HANDHELD
from tests.sitting.test_whichsitting import Records
from workbench.matching.library import Library
from workbench.matching.weighing import weigh
from workbench.records import PatternRevision, new_id
from workbench.sitting.whichdraft import fresh_head
from workbench.sitting.whichsitting import WhichSitting
from workbench.window.app import look_of, make_app
from workbench.window.which.page import WhichPage

PATTERNS, PARTS, FRAME = 300, 25, 16.0


def main() -> None:
    app = make_app()
    patterns = a_library(4711, PATTERNS)
    revisions = tuple(PatternRevision(new_id(), new_id(), 1, p, AT) for p in patterns)
    rng = np.random.default_rng(4711)
    work: list[tuple[object, object]] = []
    hands: list[float] = []
    ranked: list[float] = []
    bare: list[float] = []
    library = Library.of(patterns)
    for _ in range(PARTS):
        part = an_unknown(rng, patterns[int(rng.integers(PATTERNS))])
        sitting = WhichSitting(
            Records(), fresh_head(HANDHELD), revisions, reckon=lambda do, then: work.append((do, then))
        )
        page = WhichPage(look_of(app), sitting, lambda: (), to_counter=lambda: None)
        page.resize(QSize(1366, 728))
        page.show()
        for plug in part.plugs:
            sitting.put_on(plug)
        _answer(app, work)
        for _ in range(4):
            if sitting.offered is None:
                break
            before = time.perf_counter()
            sitting.enter(f"{float(rng.uniform(0.2, 300)):.1f}")
            app.processEvents()
            hands.append(1e3 * (time.perf_counter() - before))
            ranked.append(_answer(app, work))
            p = sitting.part
            before = time.perf_counter()
            weigh(library.candidates(p.plugs), p.head.meter, p.head.conditions, p.readings)
            bare.append(1e3 * (time.perf_counter() - before))
        page.leave()
        page.close()
        page.deleteLater()
    for name, times in (("a reading entered and drawn", hands), ("its ranking shown and drawn", ranked)):
        ordered = sorted(times)
        print(
            f"{name}: median {statistics.median(times):.1f} ms, p95 {ordered[int(0.95 * len(ordered))]:.1f} ms "
            f"(a frame is {FRAME:.0f}); / the bare comparison {statistics.median(times) / statistics.median(bare):.1f}"
        )


def _answer(app: QApplication, work: list) -> float:  # type: ignore[type-arg]
    """Works out what was asked last elsewhere, then brings it: how long the window's thread had to do with it (ms)."""
    answers = [(then, do()) for do, then in work]
    work.clear()
    before = time.perf_counter()
    for then, answer in answers:
        then(answer)
    app.processEvents()
    return 1e3 * (time.perf_counter() - before)


if __name__ == "__main__":
    main()
