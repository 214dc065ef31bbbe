"""All plugs of a draft with ground and inner points, to join two of them; what is joined is drawn as lines."""

from collections.abc import Callable

from PySide6.QtCore import QSize
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QPushButton, QSizePolicy, QVBoxLayout, QWidget

from workbench.drafting.draft import Draft
from workbench.sitting.faceplan import View, face_plan
from workbench.sitting.patternviews import Hand
from workbench.window.faces.faceview import FaceView
from workbench.window.faces.state import FaceState, Mark
from workbench.window.look import Look
from workbench.window.parts import label
from workbench.window.patterns.facepicture import FacePicture


class WiringFace(QWidget):
    def __init__(
        self, look: Look, press: Callable[[str], None], see_plug: Callable[[str], None], *, takes: bool = True
    ) -> None:
        """`takes` False: only a picture, but for which plug is in sight."""
        super().__init__()
        self._takes = takes
        self._press, self._lit = press, frozenset[str]()
        self.face = FaceView(theme=look.theme, text_scale=look.sizes.scale)
        self.face.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.face.pinPressed.connect(press)
        self.face.plugChosen.connect(see_plug)
        self.plug = QComboBox()
        self.plug.setAccessibleName("Plug in sight")
        self.plug.activated.connect(lambda i: see_plug(self.plug.itemText(i)))
        self.none = label("No plug is drawn yet.", "quiet")
        self.points_row = QHBoxLayout()
        self._points: dict[str, QPushButton] = {}
        self._points_said = label("Inner points:", "quiet")
        self.points_row.addWidget(self._points_said)
        self.points_row.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.none)
        column.addWidget(self.plug)
        self.picture = FacePicture(self.face) if not takes else None
        column.addWidget(self.picture or self.face, 1)
        column.addLayout(self.points_row)
        self._shown: tuple[Draft, Hand] | None = None

    def show_draft(self, draft: Draft, hand: Hand) -> None:
        self._shown = draft, hand
        plans = tuple(face_plan(c, View(wire_side=hand.wire_side)) for c in draft.plugs)
        self.none.setVisible(not plans)
        (self.picture or self.face).setVisible(bool(plans))
        names = [p.name for p in draft.plugs]
        if [self.plug.itemText(i) for i in range(self.plug.count())] != names:
            self.plug.clear()
            self.plug.addItems(names)
        together = len(plans) > 1 and self.face.fits(plans, self.face.size())
        self.plug.setVisible(len(plans) > 1 and not together)
        if plans:
            plan = next((p for p in plans if p.connector.name == hand.plug), plans[0])
            self.plug.setCurrentIndex(names.index(plan.connector.name))
            marks = tuple(Mark(e.start, e.finish, e.name, chosen=e.name in self._lit) for e in draft.edges)
            shown = {s.node for p in (plans if together else (plan,)) for s in p.spots}
            here = tuple(m for m in marks if m.one in shown or m.other in shown)
            picked = frozenset(hand.nodes) | (self._lit & {*draft.pins})
            self.face.set_state(FaceState(plan, here, picked, beside=plans if together else ()))
        if self.picture is not None:
            self.picture.take()
        self._show_points(hand.inner_points(draft) if self._takes else (), hand)

    def light(self, names: frozenset[str]) -> None:
        """Windings, links and pins that a remark is about."""
        if names != self._lit:
            self._lit = names
            if self._shown is not None:
                self.show_draft(*self._shown)

    def point(self, name: str) -> QPushButton:
        """Raises KeyError."""
        return self._points[name]

    def _show_points(self, names: tuple[str, ...], hand: Hand) -> None:
        for gone in [n for n in self._points if n not in names]:
            old = self._points.pop(gone)
            old.hide()
            old.setParent(None)
            old.deleteLater()
        for name in names:
            if name not in self._points:
                made = QPushButton(name)
                made.setCheckable(True)
                made.setAutoDefault(False)
                made.setProperty("role", "switch")
                made.setAccessibleName(f"Inner point {name}")
                made.clicked.connect(lambda _=False, n=name: self._press(n))
                self._points[name] = made
                self.points_row.insertWidget(self.points_row.count() - 1, made)
            self._points[name].setChecked(name in hand.nodes)
            self._points[name].setEnabled(self._takes)
        self._points_said.setVisible(bool(names))

    def sizeHint(self) -> QSize:
        return QSize(560, 380)
