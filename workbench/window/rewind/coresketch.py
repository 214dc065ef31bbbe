"""The core as it stands at the bench: what is wound so far, and the tooth in hand lit."""

from PySide6.QtCore import QSize
from PySide6.QtGui import QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QWidget

from workbench.rewind.record import Laid
from workbench.sitting.coilplan import CoilPlan, plain_plan
from workbench.stator.layout import Coil, Layout, Wire
from workbench.window.coils.drawing import Drawing, draw
from workbench.window.coils.labels import Arrangement
from workbench.window.coils.paints import coil_paints
from workbench.window.look import Look

LEAST, USUAL = QSize(180, 180), QSize(330, 330)
MARGIN = 4


class CoreSketch(QWidget):
    def __init__(self, look: Look) -> None:
        super().__init__()
        self._look = look
        self._paints = coil_paints(look.theme, look.sizes)
        self._plan: CoilPlan | None = None
        self._drawing: Drawing | None = None
        self._layout: Layout | None = None
        self.lit: frozenset[str] = frozenset()
        self.setAccessibleName("The core")

    def show_laid(self, laid: Laid | None, pattern: Layout | None, step: int | None) -> None:
        """Teeth that are wound, and that of the step in hand; the others are bare. `pattern`: where nothing is laid."""
        shown = [s for s in laid.steps if s.number in laid.ticked or s.number == step] if laid is not None else []
        self.lit = frozenset((str(step),)) if step is not None else frozenset()
        layout = Layout(pattern.teeth, pattern.facing) if pattern is not None else None
        if laid is not None:
            coils = [Coil(str(s.number), s.coil.tooth, s.coil.place, s.coil.sense, Wire.HEAVY) for s in shown]
            layout = Layout(laid.scheme.teeth, laid.facing, tuple(coils))
        if layout != self._layout:
            self._layout = layout
            tones = {str(s.number): s.coil.phase - 1 for s in shown}
            self._plan = plain_plan(layout, tones) if layout is not None else None
            self._lay_out()
        lit = [s.coil.tooth for s in shown if s.number == step]
        wound = sorted({s.coil.tooth for s in shown if s.number != step})
        told = [f"tooth {lit[0]} lit" if lit else "", f"wound: {', '.join(map(str, wound))}" if wound else ""]
        self.setAccessibleDescription("; ".join(x for x in told if x))
        self.update()

    def minimumSizeHint(self) -> QSize:
        return LEAST

    def sizeHint(self) -> QSize:
        return QSize(self._look.sizes.px(USUAL.width()), self._look.sizes.px(USUAL.height()))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._lay_out()

    def paintEvent(self, event: QPaintEvent) -> None:
        if self._drawing is not None:
            painter = QPainter(self)
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            self._drawing.paint(painter, self._paints, self.lit, "")

    def _lay_out(self) -> None:
        plan, self._drawing = self._plan, None
        wide, high = self.width() - 2 * MARGIN, self.height() - 2 * MARGIN
        if plan is None or wide <= 0 or high <= 0:
            return
        box = plan.box
        scale = min(wide / box.width, high / box.height)
        origin = (
            self.width() / 2 - (box.x + box.width / 2) * scale,
            self.height() / 2 - (box.y + box.height / 2) * scale,
        )
        self._drawing = draw(plan, Arrangement(scale, origin, (None,) * len(plan.windings)), self._paints.number)
        self.update()
