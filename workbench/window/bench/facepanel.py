"""The plug in sight, drawn as it is held, with what was read between its pins."""

from PySide6.QtWidgets import QHBoxLayout, QSizePolicy

from workbench.sitting.bench import Bench
from workbench.sitting.faceplan import face_plan
from workbench.sitting.views import LineView, face_lines
from workbench.stator.pattern import Connector
from workbench.window.faces.faceview import FaceView
from workbench.window.faces.plugstrip import PlugStrip
from workbench.window.faces.state import FaceState, Mark, Standing, Tone
from workbench.window.look import Look
from workbench.window.parts import Panel, button


class FacePanel(Panel):
    def __init__(self, look: Look, bench: Bench) -> None:
        super().__init__("")
        self.setAccessibleName("Face")
        self._bench = bench
        self.face = FaceView(theme=look.theme, text_scale=look.sizes.scale)
        self.face.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.face.pinPressed.connect(bench.press)
        self.strip = PlugStrip(theme=look.theme, text_scale=look.sizes.scale)
        self.strip.plugChosen.connect(bench.see_plug)
        self.strip.set_plugs(bench.pattern.connectors, bench.plug or "")
        self.turn = button("Turn it", bench.turn, key="Ctrl+T", tip="A quarter turn, to match the hand")
        self.flip = button("From wire side", bench.flip, key="Ctrl+W", tip="Mirrored, as seen from the wires")
        self.head.addWidget(self.turn)
        self.head.addWidget(self.flip)
        row = QHBoxLayout()
        row.addWidget(self.strip)
        row.addWidget(self.face, 1)
        self.body.addLayout(row, 1)

    def show_bench(self) -> None:
        bench = self._bench
        plug = self._connector()
        if plug is None:
            return
        self.strip.set_chosen(plug.name)
        self.title.setText(f"Plug {plug.name}")
        plan = face_plan(plug, bench.view)
        self.aside.setText(plan.words)
        self.flip.setText("From mating side" if bench.view.wire_side else "From wire side")
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
