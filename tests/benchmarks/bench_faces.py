"""A face's speed: `python -m tests.benchmarks.bench_faces`. Interleaved in one run; reported, never asserted.

What one more reading costs, among ten on a plug of five and one of two at 640 x 440: set_state, its new way worked
out, and the paint it causes. Beside it the repaint of the whole face against the same outlines, circles, lines and
texts drawn by a bare QPainter.
"""

import argparse
import os
import statistics
import time

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import QPoint, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QImage, QPainter, QPainterPath, QPaintEvent, QPen
from PySide6.QtWidgets import QApplication, QWidget

from tests.sitting.plugs import STAGGERED_5, plug
from workbench.sitting.faceplan import face_plan
from workbench.window import theme
from workbench.window.faces.faceview import FaceView
from workbench.window.faces.routes import route
from workbench.window.faces.state import FaceState, Mark, Standing, Tone
from workbench.window.fonts import font

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


class Bare(QWidget):
    """The same marks, known beforehand, with nothing but a painter."""

    def __init__(self, face: FaceView) -> None:
        super().__init__()
        self.resize(*SIZE)
        t = theme.LIGHT
        self._edge, self._plastic, self._cavity = QPen(QColor(t.plastic_edge), 2), QColor(t.plastic), QColor(t.cavity)
        self._metal, self._ink = QColor(t.metal), QColor(t.ink)
        self._outlines = [d.body for d in face._plugs]
        self._pins = [
            (QPointF(b.geometry().center()), b.width() / 2 - 6, b.node.rpartition(".")[2]) for b in face.buttons[:-1]
        ]
        self._ground = QRectF(face.ground.geometry())
        self._curves: list[tuple[QPainterPath, QPen]] = []
        for m, d in face._lines.drawn.items():
            path = QPainterPath(QPointF(*d.route.start))
            path.cubicTo(QPointF(*d.route.first), QPointF(*d.route.second), QPointF(*d.route.end))
            self._curves.append((path, QPen(QColor(theme.verdict_ink(t, m.tone.value)), 3.5)))
        self._texts = face.values
        self._words = [(face.words.text(), QRectF(face.words.geometry()))]
        self._words += [(w.text(), QRectF(w.geometry())) for w in face.titles]
        self._fonts = (font(16, QFont.Weight.DemiBold), font(20, QFont.Weight.DemiBold), font(13))

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(self._edge)
        painter.setBrush(self._plastic)
        for outline in self._outlines:
            painter.drawPath(outline)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for path, pen in self._curves:
            painter.setPen(pen)
            painter.drawPath(path)
        values, pins, quiet = self._fonts
        painter.setPen(self._ink)
        painter.setFont(values)
        for text, box in self._texts:
            painter.fillRect(box, self._plastic)
            painter.drawText(box, Qt.AlignmentFlag.AlignCenter, text)
        painter.setFont(pins)
        for at, radius, name in self._pins:
            painter.setPen(self._edge)
            painter.setBrush(self._cavity)
            painter.drawEllipse(at, radius, radius)
            painter.setBrush(self._metal)
            painter.drawRoundedRect(
                QRectF(at.x() - 0.4 * radius, at.y() - 0.68 * radius, 0.8 * radius, 1.36 * radius), 3, 3
            )
            painter.drawText(QRectF(at.x() - 30, at.y() - 30, 60, 60), Qt.AlignmentFlag.AlignCenter, name)
        painter.setBrush(self._cavity)
        painter.drawRoundedRect(self._ground, 7, 7)
        painter.drawEllipse(self._ground.center(), 17, 17)
        painter.drawText(self._ground, Qt.AlignmentFlag.AlignBottom | Qt.AlignmentFlag.AlignHCenter, "ground")
        painter.setFont(quiet)
        for text, box in self._words:
            painter.drawText(box, 0, text)


def _painted(widget: QWidget, image: QImage) -> float:
    start = time.perf_counter()
    widget.render(image, QPoint(0, 0))
    return 1000 * (time.perf_counter() - start)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--runs", type=int, default=300)
    runs = parser.parse_args().runs
    app = QApplication([])
    theme.apply(app, theme.LIGHT)
    face = FaceView()
    face.resize(*SIZE)
    before, after = (FaceState(PLANS[0], m, frozenset({"B.3", "B.4"}), beside=PLANS) for m in (MARKS, (*MARKS, MORE)))
    face.set_state(before)
    face.show()
    app.processEvents()
    bare = Bare(face)
    bare.show()
    app.processEvents()
    image = QImage(*SIZE, QImage.Format.Format_ARGB32_Premultiplied)
    told, both, shown, ours, plain = [], [], [], [], []
    for _ in range(runs):
        face.set_state(before)
        app.processEvents()
        route.cache_clear()
        start = time.perf_counter()
        face.set_state(after)
        told.append(1000 * (time.perf_counter() - start))
        both.append(told[-1] + _painted(face, image))
        start = time.perf_counter()
        app.processEvents()  # the paint on the screen, backing store and all
        shown.append(told[-1] + 1000 * (time.perf_counter() - start))
        ours.append(_painted(face, image))
        plain.append(_painted(bare, image))
    ratio = statistics.median(a / b for a, b in zip(ours, plain, strict=True))
    print(f"set_state with one reading more:  median {statistics.median(told):.2f} ms")
    print(f"set_state and paint:              median {statistics.median(both):.2f} ms (aim: well under 4)")
    print(f"set_state and paint on screen:    median {statistics.median(shown):.2f} ms")
    a, b = statistics.median(ours), statistics.median(plain)
    print(f"repaint {a:.2f} ms, bare painter {b:.2f} ms: ratio {ratio:.2f} (aim <= 1.5)")


if __name__ == "__main__":
    main()
