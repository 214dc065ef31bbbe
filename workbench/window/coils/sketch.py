"""A pattern's coil layout, drawn: the core, its wound teeth, the windings' names, and those under test lit."""

from PySide6.QtCore import QPointF, QSize, Qt, Signal
from PySide6.QtGui import QMouseEvent, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QWidget

from workbench.sitting.coilplan import CoilPlan, CoilSpot, coil_plan
from workbench.sitting.faceplan import Box
from workbench.stator.layout import Facing
from workbench.stator.pattern import Pattern
from workbench.window.coils.drawing import Drawing, draw
from workbench.window.coils.labels import Arrangement, Name, arrange
from workbench.window.coils.namebutton import NameButton
from workbench.window.coils.paints import CoilPaints, coil_paints
from workbench.window.look import Look
from workbench.window.parts import tab_within

LEAST = QSize(230, 200)
MARGIN = 4
NEAR = 3.0  # px beside a coil that still count as on it
NOTHING = "This pattern has no coil layout."
COUNTED = {
    Facing.OUTWARD: "teeth pointing outward, numbered clockwise from the top",
    Facing.INWARD: "teeth pointing inward, numbered clockwise from the top",
    Facing.STRAIGHT: "legs, numbered from the left",
}


class CoilSketch(QWidget):
    """Shows a pattern's layout; `windingPressed(name)` when a coil or a name is pressed by mouse, key or reader.

    The Tab key stops at each name; arrows go round from one to the next. `toothPressed(number)` where `takes_teeth`,
    when the mouse presses the core and no coil.
    """

    windingPressed = Signal(str)
    toothPressed = Signal(int)

    def __init__(self, look: Look, *, takes_teeth: bool = False) -> None:
        super().__init__()
        self._takes_teeth = takes_teeth
        self._look = look
        self._pattern: Pattern | None = None
        self._plan: CoilPlan | None = None
        self._lit: frozenset[str] = frozenset()
        self._hovered = self._pressed = ""
        self._names: dict[str, NameButton] = {}
        self._paints: CoilPaints = coil_paints(look.theme, look.sizes)
        self._arranged = Arrangement(1.0, (0.0, 0.0), ())
        self._drawing: Drawing | None = None
        self.setAccessibleName("Coil layout")
        self.setMouseTracking(True)

    def set_pattern(self, pattern: Pattern) -> None:
        """Names are kept while the pattern stays the same, so that the focus does too."""
        if pattern == self._pattern:
            return
        self._pattern, self._plan = pattern, coil_plan(pattern)
        for old in self._names.values():
            old.hide()
            old.setParent(None)
            old.deleteLater()
        self._names = {}
        self._hover("")
        self._pressed = ""
        if self._plan is not None:
            self.setAccessibleDescription(f"{len(self._plan.teeth)} {COUNTED[self._plan.facing]}")
            self._make_names(self._plan)
        else:
            self.setAccessibleDescription(NOTHING)
        self._lay_out()

    def set_lit(self, windings: frozenset[str]) -> None:
        """Lights the windings under test; names that have no coil here are passed over."""
        if windings != self._lit:
            self._lit = windings
            for name, made in self._names.items():
                made.say(name in windings)
            self.update()

    def set_look(self, look: Look) -> None:
        self._look, self._paints = look, coil_paints(look.theme, look.sizes)
        for made in self._names.values():
            made.set_paints(self._paints)
        self._lay_out()

    @property
    def lit(self) -> frozenset[str]:
        """Of the windings that are drawn, those that are lit."""
        return self._lit & self._names.keys()

    @property
    def names(self) -> tuple[NameButton, ...]:
        return tuple(self._names.values())

    def name(self, winding: str) -> NameButton:
        """Raises KeyError for a winding that has no coil here."""
        return self._names[winding]

    def centre_of(self, coil: CoilSpot) -> QPointF:
        """Where a coil of this sketch's plan lies, in px."""
        return QPointF(*self._arranged.px(coil.centre))

    @property
    def plan(self) -> CoilPlan | None:
        return self._plan

    def minimumSizeHint(self) -> QSize:
        return LEAST

    def sizeHint(self) -> QSize:
        s = self._look.sizes
        return QSize(s.px(300), s.px(240))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._lay_out()

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if self._drawing is not None:
            self._drawing.paint(painter, self._paints, self._lit, self._hovered)
            return
        painter.setPen(self._paints.quiet)
        painter.setFont(self._paints.name)
        wrapped = Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap
        painter.drawText(self.rect().adjusted(MARGIN, 0, -MARGIN, 0), wrapped, NOTHING)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        self._hover(self._winding_at(event.position()))
        if self._takes_teeth:
            at_hand = self._hovered or self._tooth_at(event.position())
            self.setCursor(Qt.CursorShape.PointingHandCursor if at_hand else Qt.CursorShape.ArrowCursor)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        if event.button() is Qt.MouseButton.LeftButton:
            self._pressed = self._winding_at(event.position())
            tooth = self._tooth_at(event.position())
            if self._takes_teeth and not self._pressed and tooth is not None:
                self.toothPressed.emit(tooth)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        pressed, self._pressed = self._pressed, ""
        if pressed and event.button() is Qt.MouseButton.LeftButton and self._winding_at(event.position()) == pressed:
            self.windingPressed.emit(pressed)

    def tooth_middle(self, number: int) -> QPointF:
        """Where a tooth's number is written, in px. Raises StopIteration for a tooth that is not there."""
        assert self._plan is not None
        return QPointF(*self._arranged.px(next(t.at for t in self._plan.teeth if t.number == number)))

    def _tooth_at(self, at: QPointF) -> int | None:
        return self._plan.tooth_at(*self._place(at)) if self._plan is not None and self._drawing is not None else None

    def _place(self, at: QPointF) -> tuple[float, float]:
        a = self._arranged
        return (at.x() - a.origin[0]) / a.scale, (at.y() - a.origin[1]) / a.scale

    def _winding_at(self, at: QPointF) -> str:
        if self._plan is None or self._drawing is None:
            return ""
        a = self._arranged
        x, y = self._place(at)
        coil = self._plan.coil_at(x, y) or self._plan.coil_at(x, y, NEAR / a.scale)
        return coil.winding if coil else ""

    def _hover(self, winding: str) -> None:
        if winding == self._hovered:
            return
        self._hovered = winding
        self.setToolTip(self._names[winding].accessibleName() if winding else "")
        self.setCursor(Qt.CursorShape.PointingHandCursor if winding else Qt.CursorShape.ArrowCursor)
        self.update()

    def _make_names(self, plan: CoilPlan) -> None:
        for w in plan.windings:
            made = NameButton(w, self, self._step, self._hover)
            made.set_paints(self._paints)
            made.say(w.name in self._lit)
            made.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
            made.clicked.connect(lambda _=False, n=w.name: self.windingPressed.emit(n))
            self._names[w.name] = made
            made.show()
        tab_within(self, *self._names.values())

    def _step(self, winding: str, by: int) -> None:
        names = list(self._names)
        self._names[names[(names.index(winding) + by) % len(names)]].setFocus(Qt.FocusReason.OtherFocusReason)

    def _lay_out(self) -> None:
        plan, self._drawing = self._plan, None
        if plan is not None and self.width() > 2 * MARGIN and self.height() > 2 * MARGIN:
            room = Box(MARGIN, MARGIN, self.width() - 2 * MARGIN, self.height() - 2 * MARGIN)
            firsts = [plan.coils[w.coils[0]] for w in plan.windings]
            hints = [n.sizeHint() for n in self._names.values()]
            wished = [
                Name(min(h.width(), room.width), h.height(), plan.lead(w.name)[1])
                for h, w in zip(hints, plan.windings, strict=True)
            ]
            self._arranged = arrange(wished, plan.box, room, plan.solid, round_=plan.facing is not Facing.STRAIGHT)
            self._place_names(firsts)
            self._drawing = draw(plan, self._arranged, self._paints.number)
        self.update()

    def _place_names(self, firsts: list[CoilSpot]) -> None:
        for made, box, coil in zip(self._names.values(), self._arranged.boxes, firsts, strict=True):
            made.plain = box is None
            if box is None:
                x, y = self._arranged.px(coil.centre)
                made.setGeometry(round(x) - 9, round(y) - 9, 18, 18)
            else:
                made.setGeometry(round(box.x), round(box.y), round(box.width), round(box.height))
