"""The counter: find a part by its tag or by what it is called, or book one in."""

from collections.abc import Callable

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import (
    QBoxLayout,
    QComboBox,
    QFormLayout,
    QFrame,
    QHBoxLayout,
    QLineEdit,
    QPlainTextEdit,
    QScrollArea,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from workbench.records import PatternRevision, UnitListed
from workbench.sitting.counter import Booking, Counter, Place
from workbench.sitting.say import Said, Tone
from workbench.sitting.unitline import unit_line
from workbench.window.bench.rows import Row, RowList
from workbench.window.counter.preview import PatternPreview
from workbench.window.look import Look
from workbench.window.parts import ElidedLabel, Panel, SaidLine, button, form_row, label, row_of
from workbench.window.theme import redress


class TagField(QLineEdit):
    """Down goes on to the list."""

    down = Signal()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Down:
            self.down.emit()
        else:
            super().keyPressEvent(event)


class CounterPage(QWidget):
    """Renders a Counter and sends it keys and clicks."""

    def __init__(
        self,
        look: Look,
        counter: Counter,
        shop_name: str,
        like: Callable[[], None],
        meters: Callable[[], None],
        odds: Callable[[], None],
        patterns: Callable[[], None],
        which: Callable[[], None] = lambda: None,
    ) -> None:
        super().__init__()
        self.counter = counter
        self._look = look
        self.search = TagField()
        self.search.setProperty("role", "value")
        self.search.setAccessibleName("Tag, or what the part is called by")
        self.search.setPlaceholderText("Type or scan a tag")
        self.search.setClearButtonEnabled(True)
        self.search.textEdited.connect(lambda _: counter.changed(Place.FIND))
        self.search.textEdited.connect(counter.search)
        self.search.down.connect(self._to_list)
        self.search.returnPressed.connect(self._find)
        self.to_bench = button("To the bench", self._find, strong=True)
        self.units = RowList(look, "Units")
        self.units.activated.connect(lambda _: self._chosen())
        self.units.clicked.connect(lambda _: self._chosen())
        self.said = SaidLine()
        self.not_found = SaidLine(1)
        self.nothing = label("", "quiet", wrap=True)
        self.tag, self.label = QLineEdit(), QLineEdit()
        self.tag.textEdited.connect(lambda _: counter.changed(Place.TAG))
        self.label.textEdited.connect(lambda _: counter.changed(Place.LABEL))
        self.complaint = QPlainTextEdit()
        self.seen = QPlainTextEdit()
        for field in (self.complaint, self.seen):
            field.setTabChangesFocus(True)
            field.setMaximumHeight(look.sizes.px(64))
        self.pattern = QComboBox()
        self.pattern.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.pattern.activated.connect(lambda _: counter.changed(Place.PATTERN))
        self.preview = PatternPreview(look)
        self.pattern.currentIndexChanged.connect(lambda _: self.preview.show_pattern(self._revision))
        self.pattern.setPlaceholderText("Choose by the faces of its plugs")
        self.patterns = button("Patterns", patterns, key="Ctrl+T", tip="The shop's patterns: draw, prove, compare them")
        self.which = button(
            "Which one is this?", which, key="Ctrl+W", tip="No papers: read it, and see which it may be"
        )
        self.begun = label("", "quiet", wrap=True)
        self.carried = label("", "quiet", wrap=True)
        self.without = button(
            "Leave that out", lambda: counter.carry(None), tip="They stay with the part without papers"
        )
        self._carried: object = None
        self.meters = button("Meters", meters, key="Ctrl+M", tip="The shop's meters and their ranges")
        self.odds = button("Odds", odds, key="Ctrl+O", tip="What this shop finds, and the odds that follow from it")
        self.liking = button("This bench", like, key="Ctrl+,", tip="The shop's name, looks, text size, tones, pedal")
        self.book = button("Book it in", self._book, key="Ctrl+B", strong=True)
        self.book_and_tag = button(
            "Book and tag",
            lambda: self._book(tag_it=True),
            key="Ctrl+K",
            tip="And print its intake tag",
        )
        self._suggested = ""
        self._heard: Said | None = None
        self._lay_out(shop_name)
        counter.on_change = self.refresh
        self.refresh()

    def _lay_out(self, shop_name: str) -> None:
        s = self._look.sizes
        bar = QFrame()
        bar.setProperty("role", "bar")
        row = QHBoxLayout(bar)
        row.setContentsMargins(20, 12, 20, 12)
        self.name = ElidedLabel("title")
        self.name.setText(shop_name)
        row.addWidget(self.name, 1)
        row.addWidget(self.patterns)
        row.addWidget(self.meters)
        row.addWidget(self.odds)
        row.addWidget(self.liking)
        find = Panel("Find a part")
        line = QHBoxLayout()
        line.addWidget(self.search, 1)
        line.addWidget(self.to_bench)
        find.body.addLayout(line)
        find.body.addWidget(self.not_found)
        find.body.addWidget(self.nothing)
        find.body.addWidget(self.units, 1)
        new = Panel("Book a part in")
        form = QFormLayout()
        form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.ExpandingFieldsGrow)
        form.setLabelAlignment(Qt.AlignmentFlag.AlignLeft)
        form.setVerticalSpacing(s.px(10))
        form_row(form, "&Tag", self.tag)
        form_row(form, "&Off what, whose", self.label, tip="machine, owner, owner's tag")
        form_row(form, "&Complaint", self.complaint, tip="as the customer said it")
        form_row(form, "&Pattern", self.pattern)
        form_row(form, "&Seen", self.seen, tip="what is to be seen of it: splices, burnt varnish, a bent tooth")
        new.body.addLayout(form)
        new.body.addWidget(
            label("Wire colours are no evidence: choose the pattern by the faces of its plugs.", "quiet", wrap=True)
        )
        new.body.addWidget(self.which)
        new.body.addWidget(self.begun)
        new.body.addWidget(self.carried)
        new.body.addWidget(self.without)
        new.body.addLayout(row_of(self.book_and_tag, self.book))
        new.body.addWidget(self.said)
        new.body.addWidget(self.preview, 1)
        new.body.addStretch(0)
        new.setMinimumWidth(s.px(430))
        inner = QWidget()
        self._columns = QBoxLayout(QBoxLayout.Direction.LeftToRight, inner)
        self._columns.setContentsMargins(12, 12, 12, 12)
        self._columns.setSpacing(12)
        self._columns.addWidget(find, 3)
        self._columns.addWidget(new, 2)
        self.search.setMinimumWidth(s.px(320))
        self.units.setMinimumHeight(s.px(200))
        scroll = QScrollArea()
        scroll.setAccessibleName("The counter")
        scroll.setWidgetResizable(True)
        scroll.setFrameShape(QFrame.Shape.NoFrame)
        scroll.setWidget(inner)
        page = QVBoxLayout(self)
        page.setContentsMargins(0, 0, 0, 0)
        page.setSpacing(0)
        page.addWidget(bar)
        page.addWidget(scroll, 1)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """One above the other where large text leaves no room side by side."""
        super().resizeEvent(event)
        ways = QBoxLayout.Direction
        self._columns.setDirection(ways.TopToBottom if self.width() < self._look.sizes.px(1000) else ways.LeftToRight)

    def refresh(self) -> None:
        c = self.counter
        self.units.rows.show_rows([_row(u) for u in c.units])
        self.nothing.setText(c.nothing)
        self.nothing.setVisible(bool(c.nothing))
        self.begun.setText(c.without_papers)
        self.begun.setVisible(bool(c.without_papers))
        names = [r.pattern.name for r in c.patterns]
        if [self.pattern.itemText(i) for i in range(self.pattern.count())] != names:
            kept = self.pattern.currentText()
            self.pattern.clear()
            self.pattern.addItems(names)
            self.pattern.setCurrentIndex(names.index(kept) if kept in names else -1)
        self._show_carried()
        if self.tag.text() in ("", self._suggested):
            self._suggested = c.suggested
            self.tag.setText(c.suggested)
        self._say(c.said, c.place)

    def _show_carried(self) -> None:
        """What was read of a part without papers, on its way to this booking."""
        carried = self.counter.carried
        names = [r.pattern_id for r in self.counter.patterns]
        if carried is not None and carried is not self._carried and carried.revision.pattern_id in names:
            self.pattern.setCurrentIndex(names.index(carried.revision.pattern_id))
            self._carried = carried
        elif carried is None:
            self._carried = None
        self.carried.setText(carried.words if carried is not None else "")
        for w in (self.carried, self.without):
            w.setVisible(carried is not None)

    def _say(self, said: Said | None, place: Place) -> None:
        """Beside what it is about; a field that is refused is marked, and has the focus when it is first refused."""
        about_finding = place is Place.FIND
        is_new = said is not self._heard
        self._heard = said
        for line, its in ((self.not_found, about_finding), (self.said, not about_finding)):
            line.say(said if its else None)
            if its and said is not None and said.tone is Tone.REFUSES:
                line.setAccessibleName(said.sentence)
        fields = {Place.FIND: self.search, Place.TAG: self.tag, Place.LABEL: self.label, Place.PATTERN: self.pattern}
        for about, field in fields.items():
            refused = said is not None and said.tone is Tone.REFUSES and about is place
            if (field.property("state") == "refused") is not refused:
                field.setProperty("state", "refused" if refused else "")
                redress(field)
            if refused and is_new and self.isVisible():
                field.setFocus()

    def clear_form(self) -> None:
        """After a part was booked in."""
        self._suggested = self.counter.suggested
        self.tag.setText(self._suggested)
        self.label.clear()
        self.complaint.clear()
        self.seen.clear()
        self.pattern.setCurrentIndex(-1)
        self.search.clear()

    def _find(self) -> None:
        self.counter.find(self.search.text())

    def _to_list(self) -> None:
        if self.counter.units:
            self.units.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def _chosen(self) -> None:
        key = self.units.key()
        if isinstance(key, str):
            self.counter.find(key)

    @property
    def _revision(self) -> PatternRevision | None:
        """The chosen pattern."""
        chosen = self.pattern.currentIndex()
        return self.counter.patterns[chosen] if 0 <= chosen < len(self.counter.patterns) else None

    def _book(self, *, tag_it: bool = False) -> None:
        revision = self._revision
        complaint, seen = self.complaint.toPlainText(), self.seen.toPlainText()
        self.counter.book(Booking(self.tag.text(), self.label.text(), complaint, revision, seen), tag_it=tag_it)

    def take_focus(self) -> None:
        """Where one goes on: to find a part; where one is to be booked in with its readings, to say what it is off."""
        if self.counter.carried is not None:
            self.label.setFocus()
            return
        self.search.setFocus()
        self.search.selectAll()


def _row(listed: UnitListed) -> Row:
    line = unit_line(listed)
    return Row(line.tag, line.tag, line.about, line.standing, line.verdict, line.spoken)
