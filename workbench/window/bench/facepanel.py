"""The plugs of the part, drawn as they are held, with what was read between their pins."""

from PySide6.QtCore import QSize
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from workbench.sitting.bench import Bench
from workbench.sitting.faceplan import FacePlan, face_plan
from workbench.sitting.views import LineView, face_lines
from workbench.window.faces.faceview import FaceView
from workbench.window.faces.plugstrip import PlugStrip
from workbench.window.faces.state import FaceState, Mark, Standing, Tone
from workbench.window.look import Look
from workbench.window.parts import button, rename, tab_within

WIRE_SIDE, MATING_SIDE = "Wire side", "Mating side"
SPACING = 8


class FacePanel(QWidget):
    """All plugs side by side where they fit; else the one in sight, with a strip to choose another from."""

    def __init__(self, look: Look, bench: Bench, *, moves: bool = False) -> None:
        """`moves`: the offered pair pulses; not where reduced motion is wished."""
        super().__init__()
        self._bench = bench
        self.face = FaceView(theme=look.theme, text_scale=look.sizes.scale, moves=moves)
        self.face.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.face.pinPressed.connect(bench.press)
        self.face.plugChosen.connect(bench.see_plug)
        self.strip = PlugStrip(self, theme=look.theme, text_scale=look.sizes.scale)
        self.strip.plugChosen.connect(bench.see_plug)
        self.strip.set_plugs(bench.pattern.connectors, bench.plug or "")
        self.turn = button("Turn it", bench.turn, key="Ctrl+T", tip="A quarter turn, to match the hand")
        self.flip = button(WIRE_SIDE, bench.flip, key="Ctrl+W", tip="Mirrored, as seen from the wires")
        hand = QWidget()
        held = QHBoxLayout(hand)
        held.setContentsMargins(0, 0, 0, 0)
        held.setSpacing(SPACING)
        held.addWidget(self.turn)
        held.addWidget(self.flip)
        self.face.set_corner(hand)
        row = QHBoxLayout(self)
        row.setContentsMargins(6, 2, 2, 2)
        row.setSizeConstraint(QHBoxLayout.SizeConstraint.SetNoConstraint)  # the least size is this panel's to say
        row.setSpacing(SPACING)
        beside = QVBoxLayout()
        beside.setContentsMargins(8, 10, 0, 8)
        beside.addWidget(self.strip)
        beside.addStretch(1)
        row.addLayout(beside)
        row.addWidget(self.face, 1)
        tab_within(self, self.turn, self.flip, *self.strip.thumbs)  # they stand above and beside the pins

    @property
    def side_by_side(self) -> bool:
        return self.face.state is not None and bool(self.face.state.beside)

    def show_bench(self) -> None:
        bench = self._bench
        plan = self._plan()
        if plan is None:
            return
        self.strip.set_chosen(plan.connector.name)
        rename(self.flip, MATING_SIDE if bench.view.wire_side else WIRE_SIDE)
        lines = face_lines(bench)
        # the newest last, wherever its pair was read first
        ordered = sorted(lines, key=lambda v: bench.last is not None and bench.expectations.same(v.pair, bench.last))
        marks = [_mark(v) for v in ordered]
        offered = bench.offered
        if offered is not None and not any(bench.expectations.same(offered, v.pair) for v in lines):
            marks.append(Mark(offered.positive, offered.negative, standing=Standing.OFFERED))
        beside = self._beside()
        shown = {s.node for p in beside or (plan,) for s in p.spots}
        here = tuple(m for m in marks if m.one in shown or m.other in shown)
        self.face.set_state(FaceState(plan, here, frozenset(bench.picked), beside=beside))
        self._show_strip()

    def minimumSizeHint(self) -> QSize:
        """Room for the plug in sight and the strip: side by side they stand only where there is more."""
        plan = self._plan()
        if plan is None:
            return super().minimumSizeHint()
        inner = self.face.least_size((plan,))
        strip = self.strip.sizeHint() if len(self._bench.pattern.connectors) > 1 else QSize()
        return QSize(
            inner.width() + max(0, strip.width()) + 8 + SPACING + 8, max(inner.height(), strip.height() + 18) + 4
        )

    def sizeHint(self) -> QSize:
        return self.minimumSizeHint().expandedTo(QSize(560, 360))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if self.face.state is not None and bool(self._beside()) != self.side_by_side:
            self.show_bench()

    def _plan(self) -> FacePlan | None:
        bench = self._bench
        return next((face_plan(c, bench.view) for c in bench.pattern.connectors if c.name == bench.plug), None)

    def _beside(self) -> tuple[FacePlan, ...]:
        """Every plug of the part, if all of them find room."""
        plans = tuple(face_plan(c, self._bench.view) for c in self._bench.pattern.connectors)
        return plans if len(plans) > 1 and self.face.fits(plans, self.size() - QSize(8, 4)) else ()

    def _show_strip(self) -> None:
        self.strip.setVisible(not self.side_by_side and len(self._bench.pattern.connectors) > 1)


def _mark(v: LineView) -> Mark:
    tone = Tone(v.word) if v.word in set(Tone) else Tone.PLAIN
    standing = Standing.KEPT if v.safe else Standing.PENDING
    return Mark(v.pair.positive, v.pair.negative, v.text, tone, standing, v.chosen, v.speaks)
