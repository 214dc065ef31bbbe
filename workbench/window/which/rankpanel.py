"""Which pattern it may be: each with its share, likeliest first; and how the chosen one would lie."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QSizePolicy

from workbench.drafting.draft import Draft
from workbench.sitting.patternviews import Hand
from workbench.sitting.whichviews import ROWS, PatternView, WhichView
from workbench.window.bench.rows import Row
from workbench.window.bench.sayspanel import SaysList
from workbench.window.look import Look
from workbench.window.parts import Panel, label
from workbench.window.patterns.wiringface import WiringFace

BLANK = "Choose a pattern above to see its plugs, and which of this part's pins would be which."


class RankPanel(Panel):
    """`chose(PatternView or None)`: the one that is looked at; the likeliest until another is chosen."""

    chose = Signal(object)

    def __init__(self, look: Look) -> None:
        super().__init__("Which it may be")
        self.body.setSpacing(4)
        self.list = SaysList(look, "Patterns it may be", ROWS + 1, chooses=True)
        self.list.selectionModel().currentChanged.connect(lambda now, _: self._choose(now.row()))
        self.foot = label("", "quiet", wrap=True)
        self.body.addWidget(self.list, 1)
        self.body.addWidget(self.foot)
        self.body.addStretch(0)
        self._view: WhichView | None = None
        self._held: object = None  # the pattern that was chosen by hand
        self._showing = False

    @property
    def chosen(self) -> PatternView | None:
        """None where there is nothing to choose."""
        at = self.list.currentIndex()
        if not at.isValid() or self._view is None:
            return None
        key = self.list.rows.rows[at.row()].key
        assert isinstance(key, PatternView)
        return key

    @property
    def is_blank(self) -> bool:
        return self._view is None or not self._view.rows

    def show_which(self, view: WhichView) -> None:
        if view == self._view:
            return
        self._view = view
        self._showing = True
        self.list.rows.show_rows([Row(v, v.title, v.detail, v.percent, "", v.spoken) for v in view.rows])
        ids = [_id(v) for v in view.rows]
        at = ids.index(self._held) if self._held in ids else 0
        if ids:
            self.list.setCurrentIndex(self.list.rows.index(at))
        self._showing = False
        self.foot.setText(view.foot)
        self.setAccessibleDescription(view.spoken)
        self.chose.emit(self.chosen)

    def _choose(self, row: int) -> None:
        if self._showing or row < 0:
            return
        chosen = self.chosen
        self._held = _id(chosen) if chosen is not None and row > 0 else None
        self.chose.emit(chosen)


def _id(view: PatternView) -> object:
    return view.revision.pattern_id if view.revision is not None else "none"


class LaidPanel(Panel):
    """Which pin is which, and the plugs of the pattern that is looked at, with its windings."""

    def __init__(self, look: Look) -> None:
        super().__init__("As it would lie")
        self._hand = Hand()
        self._draft: Draft | None = None
        self._view: PatternView | None = None
        self.words = label(BLANK, "quiet", wrap=True)
        self.face = WiringFace(look, lambda _: None, self._see_plug, takes=False)
        assert self.face.picture is not None
        self.face.picture.setMinimumSize(look.sizes.px(120), look.sizes.px(150))  # only to look at
        self.face.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Ignored)
        self.face.setMinimumHeight(look.sizes.px(150))
        self.body.addWidget(self.words)
        self.body.addWidget(self.face, 1)
        self.body.addStretch(0)
        self.face.hide()

    def show_pattern(self, view: PatternView | None) -> None:
        """None of them has nothing to lie on."""
        before, self._view = self._view, view
        if view is None or view.revision is None:
            self.aside.setText("")
            self.words.setText(BLANK)
            self.face.hide()
            return
        if before is not None and (before.revision, before.lies) == (view.revision, view.lies):
            return
        self.aside.setText(view.title)
        self.words.setText(view.lies)
        self._draft, self._hand = Draft.of(view.revision.pattern), Hand()
        self._hand.follow(self._draft)
        self.face.show()
        self.face.show_draft(self._draft, self._hand)

    def _see_plug(self, name: str) -> None:
        self._hand.plug = name
        if self._draft is not None:
            self.face.show_draft(self._draft, self._hand)
