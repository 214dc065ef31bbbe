"""The window's speed: `python -m tests.benchmarks.bench_window`. Ratios in one run, interleaved.

First paint and usable: whole processes, our window against an empty PySide6 window beside a pyqtgraph plot.
Press to painted: from the key that ends a number to the end of the paint it causes, on the real bench: with each page
of what is to be read in sight, on a part that is new here and on one whose history is drawn.
"""

import argparse
import os
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

EMPTY = """
import time; start = time.perf_counter()
from PySide6.QtCore import QEvent
from PySide6.QtWidgets import QApplication, QMainWindow
import pyqtgraph
app = QApplication([])
class Window(QMainWindow):
    def event(self, event):
        done = super().event(event)
        if event.type() == QEvent.Type.UpdateRequest:
            print(time.perf_counter() - start); app.exit()
        return done
window = Window()
window.setCentralWidget(pyqtgraph.PlotWidget())
window.resize(1366, 728); window.show(); app.exec()
"""

RETURNED_TAG = "SL-0139"  # of the demo shop: it has been here before

OURS = """
import time; start = time.perf_counter()
import sys
from PySide6.QtCore import QEvent
from workbench.window.app import look_of, make_app
from workbench.window.mainwindow import MainWindow
app = make_app()
painted = []
class Window(MainWindow):
    def event(self, event):
        done = super().event(event)
        if not painted and event.type() == QEvent.Type.UpdateRequest:
            painted.append(time.perf_counter() - start)
        return done
def ready():
    window.bench_page.grab()
    print(painted[0], time.perf_counter() - start); app.exit()
window = Window(look_of(app, dark=False), sys.argv[1], start_tag=sys.argv[2], ready=ready)
window.show(); app.exec()
window.close()
"""


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--runs", type=int, default=9)
    runs = parser.parse_args().runs
    from demo_shop.run import write_demo
    from demo_shop.story import BENCH_TAG

    with tempfile.TemporaryDirectory() as folder:
        store = str(Path(folder) / "demo.sqlite")
        write_demo(store)
        first, usable, empty = [], [], []
        for i in range(runs + 1):
            e = _numbers(EMPTY)
            o = _numbers(OURS, store, BENCH_TAG)
            if i:  # the first pair warms the file cache
                empty.append(e[0])
                first.append(o[0] / e[0])
                usable.append(o[1] / e[0])
        print(f"empty PySide6 + pyqtgraph window: {1000 * statistics.median(empty):.0f} ms to its first paint")
        print(f"first paint / empty window: {statistics.median(first):.2f} (aim <= 1.3)")
        print(f"usable / empty window:      {statistics.median(usable):.2f} (aim <= 2.0)")
        for tag in (BENCH_TAG, RETURNED_TAG):
            for at in range(3):
                own = str(Path(folder) / f"{tag}-{at}.sqlite")
                shutil.copyfile(store, own)
                _press_to_painted(own, tag, at)


def _numbers(code: str, *args: str) -> list[float]:
    run = subprocess.run([sys.executable, "-c", code, *args], capture_output=True, text=True, check=True, timeout=60)
    return [float(x) for x in run.stdout.split()]


def _press_to_painted(store: str, tag: str, at: int) -> None:
    """`at`: which of the pages of what is to be read."""
    from PySide6.QtCore import Qt
    from PySide6.QtTest import QTest

    from demo_shop.pictures import wait_for
    from workbench.window.app import look_of, make_app
    from workbench.window.mainwindow import MainWindow

    app = make_app()
    window = MainWindow(look_of(app, dark=False), store, start_tag=tag)
    window.show()
    wait_for(app, lambda: window.bench_page is not None)
    page = window.bench_page
    assert page is not None
    wait_for(app, lambda: page.history_known)
    panel = page.checks_panel
    tab = (panel.pairs, panel.checks, panel.coils)[at]
    QTest.mouseClick(tab, Qt.MouseButton.LeftButton)
    app.processEvents()
    times = []
    plan = page.bench.pattern.checks or ()
    for i in range(120):
        page.bench.pick(plan[i % len(plan)])
        app.processEvents()
        for key in "154.3":
            QTest.keyClick(page.entry.field, key)
        if i % len(plan) > 4:
            page.entry.field.clear()
            QTest.keyClick(page.entry.field, "O")
            QTest.keyClick(page.entry.field, "L")
        start = time.perf_counter()
        QTest.keyClick(page.entry.field, Qt.Key.Key_Return)
        if page.bench.said and page.bench.said.choices:
            QTest.keyClick(page.entry.field, Qt.Key.Key_Return)
        app.sendPostedEvents()
        app.processEvents()
        times.append(1000 * (time.perf_counter() - start))
        wait_for(app, lambda: not page.bench.lines.saving)
    times.sort()
    p95 = times[int(0.95 * len(times))]
    shown = f"{tab.text()}, {'a history drawn' if page.history.plot else 'no history'}"
    print(f"Enter to painted, {shown}: median {statistics.median(times):.1f} ms, p95 {p95:.1f} ms (a frame: 16 ms)")
    window.close()
    window.deleteLater()
    app.processEvents()


if __name__ == "__main__":
    main()
