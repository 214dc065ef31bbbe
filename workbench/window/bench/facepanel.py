"""The plugs of the part, drawn as they are held, with what was read between their pins."""

from collections.abc import Callable
from typing import Protocol

from PySide6.QtCore import QSize
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from workbench.sitting.faceplan import FacePlan, View, face_plan
from workbench.sitting.views import LineView
from workbench.stator.pattern import Connector, Pair
from workbench.window.faces.faceview import FaceView
from workbench.window.faces.plugstrip import PlugStrip
from workbench.window.faces.state import FaceState, Mark, Standing, Tone
from workbench.window.look import Look
from workbench.window.parts import button, rename, tab_within

WIRE_SIDE, MATING_SIDE = "Wire side", "Mating side"
SPACING = 8


class Faced(Protocol):
    """A sitting whose plugs are shown: `plug` is the one in sight, `offered` the pair to read next."""

    @property
    def connectors(self) -> tuple[Connector, ...]: ...

    @property
    def plug(self) -> str | None: ...

    @property
    def view(self) -> View: ...

    @property
    def picked(self) -> tuple[str, ...]: ...

    @property
    def offered(self) -> Pair | None: ...

    @property
    def last(self) -> Pair | None: ...

    def same(self, one: Pair, other: Pair) -> bool: ...

    def press(self, node: str) -> None: ...

    def see_plug(self, plug: str) -> None: ...

    def turn(self) -> None: ...

    def flip(self) -> None: ...


class FacePanel(QWidget):
    """All plugs side by side where they fit; else the one in sight, with a strip to choose another from."""

    def __init__(
        self, look: Look, bench: Faced, lines: Callable[[], tuple[LineView, ...]], *, moves: bool = False
    ) -> None:
        """`lines()`: what was read. `moves`: the offered pair pulses; not where reduced motion is wished."""
        super().__init__()
        self._bench, self._lines = bench, lines
        self._plugs = bench.connectors
        self.face = FaceView(theme=look.theme, text_scale=look.sizes.scale, moves=moves)
        self.face.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.face.pinPressed.connect(bench.press)
        self.face.plugChosen.connect(bench.see_plug)
        self.strip = PlugStrip(self, theme=look.theme, text_scale=look.sizes.scale)
        self.strip.plugChosen.connect(bench.see_plug)
        self.strip.set_plugs(bench.connectors, bench.plug or "")
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
        if bench.connectors is not self._plugs:
            self._plugs = bench.connectors
            self.strip.set_plugs(self._plugs, plan.connector.name)
            tab_within(self, self.turn, self.flip, *self.strip.thumbs)
            self.updateGeometry()
        self.strip.set_chosen(plan.connector.name)
        rename(self.flip, MATING_SIDE if bench.view.wire_side else WIRE_SIDE)
        lines = self._lines()
        # the newest last, wherever its pair was read first
        ordered = sorted(lines, key=lambda v: bench.last is not None and bench.same(v.pair, bench.last))
        marks = [_mark(v) for v in ordered]
        offered = bench.offered
        if offered is not None and not any(bench.same(offered, v.pair) for v in lines):
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
        strip = self.strip.sizeHint() if len(self._bench.connectors) > 1 else QSize()
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
        return next((face_plan(c, bench.view) for c in bench.connectors if c.name == bench.plug), None)

    def _beside(self) -> tuple[FacePlan, ...]:
        """Every plug of the part, if all of them find room."""
        plans = tuple(face_plan(c, self._bench.view) for c in self._bench.connectors)
        return plans if len(plans) > 1 and self.face.fits(plans, self.size() - QSize(8, 4)) else ()

    def _show_strip(self) -> None:
        self.strip.setVisible(not self.side_by_side and len(self._bench.connectors) > 1)


def _mark(v: LineView) -> Mark:
    tone = Tone(v.word) if v.word in set(Tone) else Tone.PLAIN
    standing = Standing.KEPT if v.safe else Standing.PENDING
    return Mark(v.pair.positive, v.pair.negative, v.text, tone, standing, v.chosen, v.speaks)
