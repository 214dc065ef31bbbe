"""The buttons of the plugs shown: made, kept, ordered, walked with arrow keys."""

from collections.abc import Callable

from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QWidget

from workbench.sitting.faceplan import Box, FacePlan, Spot
from workbench.stator.pattern import CORE
from workbench.window.faces.drawnplug import DrawnPlug
from workbench.window.faces.nodebutton import RING_ROOM, GroundButton, NodeButton, PinButton
from workbench.window.faces.paints import Paints
from workbench.window.faces.plugtitle import PlugTitle
from workbench.window.theme import Sizes

WAYS = {"left": (-1, 0), "right": (1, 0), "up": (0, -1), "down": (0, 1)}


class Nodes:
    """`pins` by node in the order of their plugs, `titles` by plug where there are several, and `ground`."""

    def __init__(self, face: QWidget, press: Callable[[str], None], choose: Callable[[str], None]) -> None:
        self._face, self._press, self._choose = face, press, choose
        self.pins: dict[str, PinButton] = {}
        self.titles: dict[str, PlugTitle] = {}
        self._plug_of: dict[str, str] = {}
        self._last_pin = ""
        self.ground = GroundButton(face, self._move)
        self.ground.clicked.connect(lambda: press(CORE))

    @property
    def all(self) -> tuple[NodeButton, ...]:
        return (*self.pins.values(), self.ground)

    def make(self, plans: tuple[FacePlan, ...]) -> None:
        """Keeps what is the same as before, and puts all in their order."""
        old_pins, old_titles = self.pins, self.titles
        self.pins, self.titles = {}, {}
        self._plug_of = {s.node: p.connector.name for p in plans for s in p.spots}
        # without this, pins made late would come after all that the page holds below its face
        before: QWidget = self.ground
        for plan in plans:
            name = plan.connector.name
            if len(plans) > 1:
                title = old_titles.pop(name, None) or self._title(name)
                self.titles[name] = title
                QWidget.setTabOrder(before, title)
                before = title
            for spot in plan.spots:
                known = old_pins.get(spot.node)
                same = known is not None and (known.spot.pin, known.spot.terminal) == (spot.pin, spot.terminal)
                pin = old_pins.pop(spot.node) if same else self._pin(spot, name)
                self.pins[spot.node] = pin
                QWidget.setTabOrder(before, pin)
                before = pin
        QWidget.setTabOrder(before, self.ground)
        for old in (*old_pins.values(), *old_titles.values()):
            old.hide()
            old.setParent(None)
            old.deleteLater()
        if self._last_pin not in self.pins:
            self._last_pin = next(iter(self.pins), "")

    def turn(self, plans: tuple[FacePlan, ...]) -> None:
        """The pins where these plans have them."""
        for spot in (s for p in plans for s in p.spots):
            self.pins[spot.node].spot = spot

    def place(self, plugs: tuple[DrawnPlug, ...], boxes: tuple[Box, ...], p: Paints, sizes: Sizes, over: int) -> None:
        """Pins over their cavities; each title over its plug's outline in its box, or `over` px beyond it."""
        for plug, box in zip(plugs, boxes, strict=False):
            reach = round(plug.scale + RING_ROOM)
            for spot in plug.plan.spots:
                x, y = (round(v) for v in plug.px((spot.x, spot.y)))
                self.pins[spot.node].setGeometry(x - reach, y - reach, 2 * reach, 2 * reach)
                self.pins[spot.node].set_paints(p)
            title = self.titles.get(plug.plan.connector.name)
            if title is not None:
                title.dress(p, sizes)
                said = title.sizeHint()
                title.setGeometry(round(box.x), round(box.y), min(said.width(), round(box.width) + over), said.height())
        self.ground.set_paints(p)

    def _pin(self, spot: Spot, plug: str) -> PinButton:
        pin = PinButton(spot, plug, self._face, self._move)
        pin.clicked.connect(lambda _=False, n=spot.node: self._press(n))
        pin.show()
        return pin

    def _title(self, plug: str) -> PlugTitle:
        title = PlugTitle(plug, self._face, self._move_title)
        title.clicked.connect(lambda _=False: self._choose(plug))
        title.show()
        return title

    # ---- walked

    def _move(self, node: str, way: str) -> None:
        if node == CORE:
            if way in ("left", "up") and self._last_pin:
                self._go(self.pins[self._last_pin])
            return
        self._last_pin = node
        to = getattr(self.pins[node].spot, way) or self._beyond(node, way)
        if to is not None:
            self._go(self.pins.get(to, self.ground))

    def _move_title(self, plug: str, way: str) -> None:
        names = list(self.titles)
        at = names.index(plug) + {"left": -1, "right": 1}.get(way, 0)
        if way == "down":
            self._go(next(self.pins[n] for n, p in self._plug_of.items() if p == plug))
        elif 0 <= at < len(names):
            self._go(self.titles[names[at]])

    @staticmethod
    def _go(to: NodeButton) -> None:
        to.setFocus(Qt.FocusReason.OtherFocusReason)

    def _beyond(self, node: str, way: str) -> str | None:
        """The nearest pin of another plug that way; ground lies below or to the right of every plug."""
        dx, dy = WAYS[way]
        here = self.pins[node].geometry().center()
        best: tuple[float, str] | None = None
        for other, button in self.pins.items():
            if self._plug_of[other] == self._plug_of[node]:
                continue
            at: QPoint = button.geometry().center() - here
            ahead = at.x() * dx + at.y() * dy
            aside = abs(at.x() * dy) + abs(at.y() * dx)
            if ahead <= 0 or aside > ahead * 1.2:
                continue
            if best is None or ahead + 2 * aside < best[0]:
                best = (ahead + 2 * aside, other)
        return best[1] if best else (CORE if way in ("right", "down") else None)
