"""The rewind desk: which winding, how far each page is, and the page in hand."""

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import QSignalBlocker, QTimer
from PySide6.QtWidgets import QComboBox, QFrame, QHBoxLayout, QStackedWidget, QVBoxLayout, QWidget

from workbench.sitting.rewindcautions import rewind_cautions
from workbench.sitting.rewinding import Rewinding
from workbench.window.bench.rows import Row, RowList
from workbench.window.look import Look
from workbench.window.parts import ElidedLabel, Panel, Room, SaidLine, button, label, shortcut
from workbench.window.rewind.deskpage import DeskPage
from workbench.window.rewind.pages import PAGES

LEFT, NARROW_LEFT = 196, 150
EDGE = 2  # a Room's edge around the page's panels, so that all of them end on one line
STANDING = {"": "nothing written yet", "begun": "begun", "finished": "finished"}
FEWEST = 3  # pages in sight where the text is large


class RewindPage(QWidget):
    """Renders a Rewinding; each of `PAGES` renders its part."""

    def __init__(
        self, look: Look, rewinding: Rewinding, *, to_bench: Callable[[], None], shelf: Callable[[], None]
    ) -> None:
        super().__init__()
        self.rewinding = rewinding
        self._look = look
        self.to_bench = button("Bench", to_bench, key="Ctrl+B", tip="Back to the part on the bench; all is kept")
        self.tag, self.unit, self.job = ElidedLabel("title"), ElidedLabel(), ElidedLabel("quiet")
        self.standing = ElidedLabel("quiet")
        self.winding = QComboBox()
        self.winding.setAccessibleName("Winding")
        self.winding.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
        for name in rewinding.windings:
            self.winding.addItem(name, name)
        self.winding.activated.connect(lambda _: rewinding.choose(self.winding.currentData()))
        self.shelf = button("Shelf", shelf, key="Ctrl+S", tip="The spools of wire, and what is left of them")
        self.list = RowList(look, "Pages")
        self.list.selectionModel().currentChanged.connect(lambda *_: self._page_chosen())
        self.stack = QStackedWidget()
        self._made: dict[int, DeskPage] = {}
        self.said = SaidLine(1)
        self._lay_out()
        for i in range(len(PAGES)):
            shortcut(self, f"Ctrl+{i + 1}", partial(self.show_page, i))
        rewinding.on_change = self.refresh
        self.refresh()  # the first page is made once the desk is seen, or when it is asked for
        row = self.list.sizeHintForRow(0)
        self.list.setMinimumHeight(min(len(PAGES), FEWEST) * row + 8)
        self.list.setMaximumHeight(len(PAGES) * row + 8)
        with QSignalBlocker(self.list.selectionModel()):
            self.list.select_key(0)

    def _lay_out(self) -> None:
        s = self._look.sizes
        bar = QFrame()
        bar.setProperty("role", "bar")
        row = QHBoxLayout(bar)
        row.setContentsMargins(16, 6, 16, 6)
        row.setSpacing(s.px(16))
        row.addWidget(self.to_bench)
        for lines, stretch in (((self.tag, self.unit), 3), ((self.job, self.standing), 3)):
            block = QVBoxLayout()
            block.setSpacing(0)
            for line in lines:
                block.addWidget(line)
            row.addLayout(block, stretch)
        caption = label("&Winding")
        caption.setBuddy(self.winding)
        row.addWidget(caption)
        row.addWidget(self.winding)
        row.addWidget(self.shelf)
        side = Panel("Rewind")
        cautions = QWidget()
        cautions.setProperty("role", "clear")
        told = QVBoxLayout(cautions)
        told.setContentsMargins(0, 0, 0, 0)
        for about, text in rewind_cautions():
            told.addWidget(label(f"{about} {text}", "quiet", wrap=True))
        told.addStretch(1)
        side.body.addWidget(self.list, 9)
        side.body.addWidget(Room(cautions), 1)
        side.setFixedWidth(s.px(LEFT if s.scale < 1.4 else NARROW_LEFT))
        work = QHBoxLayout()
        work.setSpacing(12)
        beside = QVBoxLayout()
        beside.setContentsMargins(0, EDGE, 0, EDGE)
        beside.addWidget(side)
        work.addLayout(beside)
        work.addWidget(self.stack, 1)
        below = QVBoxLayout()
        below.setContentsMargins(12, 12, 12, 8)
        below.setSpacing(8)
        below.addLayout(work, 1)
        below.addWidget(self.said)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(bar)
        column.addLayout(below, 1)

    @property
    def page(self) -> DeskPage:
        """The one in front."""
        shown = self.stack.currentWidget()
        if isinstance(shown, DeskPage):
            return shown
        return self._page(0)

    @property
    def pages(self) -> tuple[DeskPage, ...]:
        """All of them; one that was never seen is made."""
        return tuple(self._page(at) for at in range(len(PAGES)))

    # ---- shown

    def refresh(self) -> None:
        r = self.rewinding
        self.tag.setText(r.unit.tag)
        self.unit.setText(r.unit.label)
        self.job.setText(f"Job {r.job.number}: {r.job.complaint}")
        self.standing.setText(f"{r.winding}: {STANDING[r.standing(r.winding)]}")
        self.winding.setCurrentIndex(r.windings.index(r.winding) if r.winding in r.windings else -1)
        done = [kind.done(r) for kind in PAGES]
        self.list.rows.show_rows(
            [Row(i, k.name, d, "", "", f"{k.name}: {d}") for i, (k, d) in enumerate(zip(PAGES, done, strict=True))]
        )
        # the others are shown when they come to the front
        if self._made:
            self.page.show_rewinding()
        self.said.say(r.said)

    def show_page(self, at: int) -> None:
        """Brings a page to the front, and the focus to its work."""
        self.list.select_key(at)
        self._see(at)
        self.page.take_focus()

    def leave(self) -> None:
        """Another page takes its place: news of this rewind has nothing left to draw on."""
        self.rewinding.on_change = lambda: None

    def take_focus(self) -> None:
        QTimer.singleShot(0, self, lambda: self.page.take_focus())

    # ---- inside

    def _page_chosen(self) -> None:
        at = self.list.key()
        if isinstance(at, int):
            self._see(at)

    def _see(self, at: int) -> None:
        seen_before = at in self._made
        page = self._page(at)
        if self.stack.currentWidget() is not page:
            self.stack.setCurrentWidget(page)
            if seen_before:
                page.show_rewinding()

    def _page(self, at: int) -> DeskPage:
        """Made when it is first seen, so that the desk opens at once."""
        if at not in self._made:
            self._made[at] = PAGES[at].make(self._look, self.rewinding, self.stack)
            self.stack.addWidget(self._made[at])
            self._made[at].show_rewinding()
        return self._made[at]
