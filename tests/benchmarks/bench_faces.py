"""A face's speed: `python -m tests.benchmarks.bench_faces`. Interleaved in one run; reported, never asserted.

What one more reading costs, among ten on a plug of five and one of two at 640 x 440: set_state, its new way worked
out, and the paint it causes. Beside it as many symbols, lines and texts in a pyqtgraph plot that is told of the same
reading, and drawn by a bare QPainter that knows them all beforehand.
"""

import argparse
import os
import statistics
import time

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import QPoint
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QApplication, QWidget

from tests.benchmarks.peers import Bare, Plotted
from tests.sitting.plugs import STAGGERED_5, plug
from workbench.sitting.faceplan import face_plan
from workbench.window import theme
from workbench.window.faces.faceview import FaceView
from workbench.window.faces.routes import route
from workbench.window.faces.state import FaceState, Mark, Standing, Tone

PLUGS = (STAGGERED_5, plug("L", [(0, 0), (1, 0)]))
PLANS = tuple(face_plan(c) for c in PLUGS)
PAIRS = (
    ("B.1", "B.2"), ("B.1", "B.3"), ("B.2", "B.3"), ("B.4", "B.5"), ("B.1", "B.5"),
    ("B.3", "core"), ("L.1", "L.2"), ("B.5", "L.1"), ("L.2", "core"), ("B.2", "L.2"),
)  # fmt: skip
TONES = (Tone.IN, Tone.OUT, Tone.CLOSE, Tone.CONTINUOUS)
MARKS = tuple(Mark(*pair, str(97.4 + i), TONES[i % 4]) for i, pair in enumerate(PAIRS))
MORE = Mark("B.3", "B.4", "12.5", Tone.IN, Standing.PENDING)
SIZE = (640, 440)


def _painted(widget: QWidget, image: QImage) -> float:
    start = time.perf_counter()
    QWidget.render(widget, image, QPoint(0, 0))  # a plot's own render is another one
    return 1000 * (time.perf_counter() - start)


def _ratio(ours: list[float], theirs: list[float]) -> float:
    return statistics.median(a / b for a, b in zip(ours, theirs, strict=True))


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--runs", type=int, default=300)
    runs = parser.parse_args().runs
    app = QApplication([])
    theme.apply(app, theme.LIGHT)
    face = FaceView()
    face.resize(*SIZE)
    before, after = (FaceState(PLANS[0], m, frozenset({"B.3", "B.4"}), beside=PLANS) for m in (MARKS, (*MARKS, MORE)))
    face.set_state(after)
    face.show()
    app.processEvents()
    bare, plotted = Bare(face), Plotted(face, MORE)
    bare.show()
    plotted.show()
    app.processEvents()
    image = QImage(*SIZE, QImage.Format.Format_ARGB32_Premultiplied)
    told, both, shown, ours, plain, plot, taken = [], [], [], [], [], [], []
    for _ in range(runs):
        face.set_state(before)
        plotted.take(False)
        app.processEvents()
        route.cache_clear()
        start = time.perf_counter()
        face.set_state(after)
        told.append(1000 * (time.perf_counter() - start))
        both.append(told[-1] + _painted(face, image))
        start = time.perf_counter()
        app.processEvents()  # the paint on the screen, backing store and all
        shown.append(told[-1] + 1000 * (time.perf_counter() - start))
        start = time.perf_counter()
        plotted.take(True)
        taking = 1000 * (time.perf_counter() - start)
        taken.append(taking + _painted(plotted, image))
        app.processEvents()
        ours.append(_painted(face, image))
        plain.append(_painted(bare, image))
        plot.append(_painted(plotted, image))
    median = statistics.median
    print(f"set_state with one reading more:  median {median(told):.2f} ms")
    print(f"set_state and paint:              median {median(both):.2f} ms (aim: well under 4)")
    print(f"set_state and paint on screen:    median {median(shown):.2f} ms")
    print(f"one reading more, and repaint: ours {median(both):.2f} ms, pyqtgraph {median(taken):.2f} ms, "
          f"bare painter {median(plain):.2f} ms (its marks known beforehand)")  # fmt: skip
    print(f"  ours / pyqtgraph {_ratio(both, taken):.2f}, ours / bare painter {_ratio(both, plain):.2f} (aim <= 1.5)")
    print(f"repaint alone: ours {median(ours):.2f} ms, pyqtgraph {median(plot):.2f} ms, "
          f"bare painter {median(plain):.2f} ms")  # fmt: skip
    print(f"  ours / pyqtgraph {_ratio(ours, plot):.2f}, ours / bare painter {_ratio(ours, plain):.2f} (aim <= 1.5)")


if __name__ == "__main__":
    main()
