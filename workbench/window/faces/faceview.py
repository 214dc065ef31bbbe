"""Plugs as they are held: their cavities as buttons, the readings as lines between them, ground at hand."""

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Signal
from PySide6.QtGui import (
    QHideEvent,
    QMouseEvent,
    QPainter,
    QPainterPath,
    QPaintEvent,
    QRegion,
    QResizeEvent,
    QShowEvent,
)
from PySide6.QtWidgets import QLabel, QWidget

from workbench.sitting.faceplan import Box, FacePlan, words_of_all
from workbench.stator.pattern import CORE
from workbench.window.faces.arrange import Arrangement, Item, arrange, least_size
from workbench.window.faces.drawnplug import DrawnPlug
from workbench.window.faces.header import Header
from workbench.window.faces.lines import Lines, Stage, draw_lines, region_of
from workbench.window.faces.nodebutton import NodeButton
from workbench.window.faces.nodes import Nodes
from workbench.window.faces.paints import Paints, paints
from workbench.window.faces.plugtitle import PlugTitle
from workbench.window.faces.pulse import Pulse
from workbench.window.faces.routes import Route
from workbench.window.faces.sift import Sifted, sift
from workbench.window.faces.stage import free_corner, make_stage, ticks
from workbench.window.faces.state import FaceState, Mark
from workbench.window.fonts import font
from workbench.window.theme import LIGHT, Sizes, Theme

MARGIN, GAP, BETWEEN = 12, 14, 30
LEAST_RADIUS, MOST_RADIUS = 22.0, 46.0
Plans = tuple[FacePlan, ...]


class FaceView(QWidget):
    """Shows a FaceState; `pinPressed(node)` when a pin or ground ("core") is pressed by mouse, key or reader.

    `plugChosen(name)` when one of several plugs is pressed at its title or on its plastic.
    """

    pinPressed = Signal(str)
    plugChosen = Signal(str)

    def __init__(
        self, parent: QWidget | None = None, theme: Theme = LIGHT, text_scale: float = 1.0, *, moves: bool = False
    ) -> None:
        """`moves`: the offered pair pulses while the window is active; not where reduced motion is wished."""
        super().__init__(parent)
        self._theme, self._sizes, self._moves = theme, Sizes(text_scale), moves
        self._state: FaceState | None = None
        self._plugs: tuple[DrawnPlug, ...] = ()
        self._stage: Stage | None = None
        self._laid: object = None
        self._sifted = Sifted((), {}, 0)
        self._lines = Lines()
        self._ticks, self._offered = QPainterPath(), QRegion()
        self.pulse = Pulse(self, lambda: self.update(self._offered))
        self._header = Header(self)
        self.title, self.words = self._header.title, self._header.words
        self.more = QLabel(self)
        self.more.hide()
        self._nodes = Nodes(self, self.pinPressed.emit, self.plugChosen.emit)
        self.ground = self._nodes.ground
        self._paints: Paints = paints(theme, self._sizes, LEAST_RADIUS)
        self._dress()

    # ---- told

    def set_theme(self, theme: Theme, text_scale: float = 1.0) -> None:
        self._theme, self._sizes = theme, Sizes(text_scale)
        self._dress()
        self._lay_out()

    def set_corner(self, corner: QWidget) -> None:
        """What stands at the right of the first row."""
        corner.setParent(self)
        corner.show()
        self._header.corner = corner
        self.updateGeometry()

    def set_state(self, state: FaceState) -> None:
        """Buttons are kept while their plug stays shown, so that the focus does too."""
        before, self._state = self._state, state
        plans = state.plans
        if before is None or [p.connector for p in before.plans] != [p.connector for p in plans]:
            self._nodes.make(plans)
        if before is None or before.plans != plans:
            self._nodes.turn(plans)
            self._header.say(plans)
            names = " and ".join(p.connector.name for p in plans)
            self.setAccessibleName(f"Face of plug {names}" if len(plans) == 1 else f"Faces of plugs {names}")
            self.setAccessibleDescription(self.words.text())
            self.updateGeometry()
        for title, held in zip(self.titles, words_of_all(plans)[1], strict=False):
            title.tell(title.node == state.plan.connector.name, held)
        said = _spoken(state.marks)
        for button in self.buttons:
            button.setEnabled(state.active)
            button.say(button.node in state.picked, said.get(button.node, []))
        self._lay_out()

    # ---- asked

    @property
    def state(self) -> FaceState | None:
        return self._state

    @property
    def buttons(self) -> tuple[NodeButton, ...]:
        """The pins in the order of their plugs, then ground."""
        return self._nodes.all

    @property
    def titles(self) -> tuple[PlugTitle, ...]:
        """One for each plug where several are shown."""
        return tuple(self._nodes.titles.values())

    def button(self, node: str) -> NodeButton:
        """Raises KeyError where no plug shown has such a node."""
        return self.ground if node == CORE else self._nodes.pins[node]

    @property
    def values(self) -> tuple[tuple[str, QRectF], ...]:
        """The values that found room, with their boxes in px."""
        return tuple((label.text, label.box) for label in self._lines.labels)

    @property
    def routes(self) -> dict[Mark, Route]:
        """The way of each line, in px."""
        return {m: d.route for m, d in self._lines.drawn.items()}

    @property
    def drawn(self) -> tuple[Mark, ...]:
        """The marks that have a line here."""
        return tuple(self._lines.drawn)

    def fits(self, plans: Plans, size: QSize) -> bool:
        """Whether a face so large shows all of these with every cavity at least 44 px wide."""
        width = size.width() - 2 * MARGIN
        height = size.height() - 2 * MARGIN - self._header.height(plans, width)
        return self._arranged(plans, width, height).scale >= LEAST_RADIUS * self._growth

    def least_size(self, plans: Plans) -> QSize:
        """Leaves every cavity at least 44 px wide."""
        wide, high = least_size(self._items(plans), LEAST_RADIUS * self._growth, _between(plans))
        if self._header.corner is not None:
            wide = max(wide, self._header.corner.sizeHint().width())
        header = self._header.height(plans, round(wide))
        return QSize(round(wide) + 2 * MARGIN + 1, round(high) + header + 2 * MARGIN + 1)

    def minimumSizeHint(self) -> QSize:
        return QSize(200, 200) if self._state is None else self.least_size(self._state.plans)

    def sizeHint(self) -> QSize:
        return self.minimumSizeHint().expandedTo(QSize(560, 360))

    # ---- events

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._lay_out()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._breathe()

    def hideEvent(self, event: QHideEvent) -> None:
        super().hideEvent(event)
        self._breathe()

    def event(self, event: QEvent) -> bool:
        """The window's waking and sleeping reaches a widget within it here only."""
        done = super().event(event)
        if event.type() in (QEvent.Type.WindowActivate, QEvent.Type.WindowDeactivate):
            self._breathe()
        return done

    def mousePressEvent(self, event: QMouseEvent) -> None:
        plug = next((d for d in self._plugs if d.body.contains(event.position())), None)
        if plug is not None and len(self._plugs) > 1:
            self.plugChosen.emit(plug.plan.connector.name)
        super().mousePressEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for plug in self._plugs:
            plug.paint(painter, self._paints)
        if not self._ticks.isEmpty():
            painter.strokePath(self._ticks, self._paints.tick)
        self._lines.paint(painter, self.pulse.strength)
        for plug in self._plugs:
            plug.write_key(painter, self._paints)

    # ---- inside

    @property
    def _growth(self) -> float:
        return max(1.0, min(1.5, self._sizes.scale))

    def _items(self, plans: Plans) -> list[Item]:
        title = PlugTitle.height_at(self._sizes) if len(plans) > 1 else 0
        ground = self.ground.sizeHint()
        plugs = [Item(p.width, p.height, 0, title) for p in plans]
        return [*plugs, Item(0, 0, ground.width(), ground.height(), sinks=True)]

    def _arranged(self, plans: Plans, width: float, height: float) -> Arrangement:
        least, most = LEAST_RADIUS * self._growth, MOST_RADIUS * self._growth
        return arrange(self._items(plans), width, height, _between(plans), most, least)

    def _dress(self) -> None:
        self._header.dress(self._theme, self._sizes)
        self.more.setFont(font(self._sizes.quiet))
        self.more.setStyleSheet(f"color: {self._theme.quiet}; font-size: {self._sizes.quiet}px;")
        self._paints = paints(self._theme, self._sizes, self._paints.radius)
        self.ground.set_paints(self._paints)

    def _lay_out(self) -> None:
        state = self._state
        if state is None:
            return
        sifted = sift(state.marks, state.picked)
        corner = self._header.corner
        key = (
            (state.plans, self.size(), self._theme, self._sizes, sifted.count),
            corner.sizeHint() if corner is not None else None,
        )
        if key != self._laid:
            self._laid = key
            self._place(state.plans, sifted.count)
        assert self._stage is not None
        if self._lines.stage is not self._stage or sifted != self._sifted:
            self._sifted = sifted
            self._lines = draw_lines(sifted.shown, self._stage, self._paints, self._lines)
            self._offered = region_of(self._lines.offered)
            self._ticks = ticks(sifted.hidden, self._stage)
            self._breathe()
        self.update()

    def _place(self, plans: Plans, hidden: int) -> None:
        """Where plugs and ground lie, and what lines have to keep clear of."""
        width = self.width() - 2 * MARGIN
        header = self._header.lay_out(plans, MARGIN, MARGIN, width)
        room = QRectF(self.rect()).adjusted(MARGIN, MARGIN + header, -MARGIN, -MARGIN)
        self.more.setVisible(hidden > 0)
        boxes: tuple[Box, ...] = self._spread(plans, room)
        taken: tuple[Box, ...] = ()
        if hidden:
            self.more.setText(f"{hidden} more {'reading' if hidden == 1 else 'readings'} in All pairs")
            said = self.more.sizeHint()
            corner = free_corner(room, said, boxes)
            if corner is None:
                boxes = self._spread(plans, room.adjusted(0, 0, 0, -said.height() - 2))
                corner = QRectF(room.left(), room.bottom() - said.height(), said.width(), said.height())
            self.more.setGeometry(corner.toAlignedRect())
            taken = (Box(corner.x(), corner.y(), corner.width(), corner.height()),)
        g = boxes[-1]
        self.ground.setGeometry(round(g.x), round(g.y), round(g.width), round(g.height))
        titles = tuple(t.geometry() for t in self.titles)
        taken += tuple(Box(t.x(), t.y(), t.width(), t.height()) for t in titles)
        self._stage = make_stage(self._plugs, self.ground, room, taken)

    def _spread(self, plans: Plans, room: QRectF) -> tuple[Box, ...]:
        """The boxes of the plugs, titles included, and of ground; the buttons are put where they belong."""
        found = self._arranged(plans, room.width(), room.height())
        if found.scale < 4:
            # too small a room: it is cut, not lost
            found = arrange(self._items(plans), 1e4, 1e4, _between(plans), 4.0)
        self._paints = p = paints(self._theme, self._sizes, found.scale)
        boxes = tuple(Box(room.left() + b.x, room.top() + b.y, b.width, b.height) for b in found.boxes)
        plugs = []
        for plan, box in zip(plans, boxes, strict=False):
            title = box.height - plan.height * found.scale
            plugs.append(DrawnPlug.at(plan, QPointF(box.x, box.y + title), found.scale))
        self._plugs = tuple(plugs)
        self._nodes.place(self._plugs, boxes, p, self._sizes, BETWEEN - 6)
        return boxes

    def _breathe(self) -> None:
        """The pulse runs only where it is seen and wished."""
        wanted = self._moves and not self._offered.isEmpty() and self.isVisible() and self.isActiveWindow()
        if self.pulse.run(wanted):
            self.update(self._offered)


def _between(plans: Plans) -> int:
    return GAP if len(plans) == 1 else BETWEEN


def _spoken(marks: tuple[Mark, ...]) -> dict[str, list[str]]:
    """What each node has to say of its readings."""
    out: dict[str, list[str]] = {}
    for m in marks:
        for node, other in ((m.one, m.other), (m.other, m.one)):
            far = "ground" if other == CORE else "pin " + other.replace(".", " ")
            out.setdefault(node, []).append(f"{m.spoken} to {far}")
    return out
