"""The plug in sight, drawn as it is held, with what was read between its pins."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from workbench.sitting.bench import Bench
from workbench.sitting.faceplan import face_plan
from workbench.sitting.views import LineView, face_lines
from workbench.stator.pattern import Connector
from workbench.window.faces.faceview import FaceView
from workbench.window.faces.plugstrip import PlugStrip
from workbench.window.faces.state import FaceState, Mark, Standing, Tone
from workbench.window.look import Look
from workbench.window.parts import button, rename

WIRE_SIDE, MATING_SIDE = "Wire side", "Mating side"


class FacePanel(QWidget):
    def __init__(self, look: Look, bench: Bench) -> None:
        super().__init__()
        self._bench = bench
        self.face = FaceView(theme=look.theme, text_scale=look.sizes.scale)
        self.face.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.face.pinPressed.connect(bench.press)
        self.strip = PlugStrip(theme=look.theme, text_scale=look.sizes.scale)
        self.strip.plugChosen.connect(bench.see_plug)
        self.strip.set_plugs(bench.pattern.connectors, bench.plug or "")
        self.turn = button("Turn it", bench.turn, key="Ctrl+T", tip="A quarter turn, to match the hand")
        self.flip = button(WIRE_SIDE, bench.flip, key="Ctrl+W", tip="Mirrored, as seen from the wires")
        hand = QVBoxLayout()
        hand.setSpacing(8)
        hand.addWidget(self.strip, alignment=Qt.AlignmentFlag.AlignHCenter)
        hand.addStretch(1)
        hand.addWidget(self.turn)
        hand.addWidget(self.flip)
        row = QHBoxLayout(self)
        row.setContentsMargins(14, 12, 6, 10)
        row.addLayout(hand)
        row.addWidget(self.face, 1)

    def show_bench(self) -> None:
        bench = self._bench
        plug = self._connector()
        if plug is None:
            return
        self.strip.set_chosen(plug.name)
        plan = face_plan(plug, bench.view)
        rename(self.flip, MATING_SIDE if bench.view.wire_side else WIRE_SIDE)
        marks = [_mark(v) for v in face_lines(bench) if self._touches(v, plug)]
        offered = bench.offered
        if offered is not None and not any(bench.expectations.same(offered, v.pair) for v in face_lines(bench)):
            marks.append(Mark(offered.positive, offered.negative, standing=Standing.OFFERED))
        self.face.set_state(FaceState(plan, tuple(marks), frozenset(bench.picked)))

    def _connector(self) -> Connector | None:
        return next((c for c in self._bench.pattern.connectors if c.name == self._bench.plug), None)

    @staticmethod
    def _touches(v: LineView, plug: Connector) -> bool:
        return any(node in plug.nodes for node in v.pair)


def _mark(v: LineView) -> Mark:
    tone = Tone(v.word) if v.word in set(Tone) else Tone.PLAIN
    standing = Standing.KEPT if v.safe else Standing.PENDING
    return Mark(v.pair.positive, v.pair.negative, v.text, tone, standing, v.chosen)
