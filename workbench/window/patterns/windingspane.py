"""What joins the pins: windings, elements, links, inner points; and the form of the one in hand."""

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QComboBox, QFormLayout, QHBoxLayout, QLabel, QLineEdit, QSizePolicy, QVBoxLayout, QWidget

from workbench import words
from workbench.drafting import windings
from workbench.drafting.draft import Draft
from workbench.drafting.edits import free_name
from workbench.draftwords import KIND_WORDS
from workbench.sitting.conditions import FormError
from workbench.sitting.patterndesk import PatternDesk
from workbench.sitting.patternviews import Hand
from workbench.sitting.windingform import Band, WindingForm, applied, form_of
from workbench.stator.pattern import CORE, Element, Kind, Link, Winding
from workbench.window.bench.rows import Row, RowList
from workbench.window.look import Look
from workbench.window.parts import allow, button, form_row, label, row_of
from workbench.window.patterns.endsfield import EndsField, node_text
from workbench.window.patterns.pointname import InHand
from workbench.window.theme import redress

ELEMENTS = ((None, "a winding"), (Element.DIODE, "a diode"), (Element.ELECTRONICS, "electronics"))


class WindingsPane(QWidget):
    """`point(name)`: a node that is there from now on. `joined`: the two in hand are."""

    joined = Signal()

    def __init__(
        self, look: Look, desk: PatternDesk, hand: Hand, point: Callable[[str], None], from_unit: Callable[[], None],
    ) -> None:  # fmt: skip
        super().__init__()
        self.source = label("", "quiet", wrap=True)
        self._desk, self._hand, self._point = desk, hand, point
        self._shown: WindingForm | None = None
        self._edge: Winding | Link | None = None  # whose form is shown
        self.in_hand = InHand(look, desk, hand, self._put_typed)
        self.winding = button("Winding", self.add_winding, key="Ctrl+Shift+W", tip="Between the two nodes in hand")
        self.link = button("Link", self.add_link, key="Ctrl+Shift+L", tip="A plain wire between them")
        self.point = button("Inner point", self._add_point, key="Ctrl+Shift+I", tip="A node that no pin reaches")
        self.unit = button("Ohms from a unit", from_unit, key="Ctrl+Shift+U", tip="Known good, read on these pins")
        self.diode = button("Diode", self.add_diode, key="Ctrl+Shift+D", tip="Between them; it has no ohms")
        self.electronics = button(
            "Electronics", self.add_electronics, key="Ctrl+Shift+E", tip="Between them; it has no ohms"
        )
        self.joining = QWidget()  # stands below the faces, where the nodes are
        joins = QVBoxLayout(self.joining)
        joins.setContentsMargins(0, 0, 0, 0)
        joins.setSpacing(look.sizes.px(6))
        joins.addWidget(self.in_hand)
        joins.addLayout(row_of(self.winding, self.link, self.diode, self.electronics, self.point))
        self.rows = RowList(look, "Windings and links")
        # what the form leaves, so that a refusal below it has room
        self.rows.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Ignored)
        self.rows.selectionModel().selectionChanged.connect(lambda *_: self._chosen())
        self.name, self.word, self.wire = QLineEdit(), QLineEdit(), QLineEdit()
        self.kind = _choices([KIND_WORDS[k] for k in Kind])
        self.element = _choices([w for _, w in ELEMENTS])
        self.band = _choices([b.value for b in Band])
        self.ohms, self.percent, self.low, self.high = QLineEdit(), QLineEdit(), QLineEdit(), QLineEdit()
        self.trouble = label("", wrap=True)
        self.trouble.setProperty("verdict", "out")
        self.trouble.hide()
        self.apply = button("Put it so", self.apply_form, key="Ctrl+Return", strong=True)
        self.drop = button("Drop it", self._drop, key="Ctrl+Shift+K")
        self.form = QFormLayout()
        self.form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.ExpandingFieldsGrow)
        self.ends = EndsField()
        for caption, field, tip in (
            ("&Name", self.name, ""), ("&From", self.ends, ""), ("&Is", self.element, ""), ("&Kind", self.kind, ""),
            ("Shop's &word", self.word, ""), ("&Band", self.band, ""),
        ):  # fmt: skip
            form_row(self.form, caption, field, tip=tip)
        self._within, self._to = (label("±"), label("%")), (label("to"),)
        self._value = _side_by_side(self.ohms, self._within[0], self.percent, self._within[1])
        self._limits = _side_by_side(self.low, self._to[0], self.high)
        form_row(self.form, "&Ohms", self._value)
        form_row(self.form, "L&imits", self._limits)
        for field, said, tip in (
            (self.ohms, "Ohms", "155, 0.4, 1k2"), (self.percent, "± %", "10"), (self.low, "Low", ""),
            (self.high, "High", ""),
        ):  # fmt: skip
            field.setAccessibleName(said)
            field.setAccessibleDescription(tip)
            field.setToolTip(tip)
            field.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
            field.setMinimumWidth(look.sizes.px(70))
        form_row(self.form, "Wi&re", self.wire, tip="gauge, strands")
        form_row(self.form, "Band from", self.source)
        for box in (self.element, self.band):
            box.currentIndexChanged.connect(lambda _: self._fit())
        for field in (self.name, self.word, self.ohms, self.percent, self.low, self.high, self.wire):
            field.returnPressed.connect(self.apply_form)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(look.sizes.px(6))
        column.addWidget(self.rows, 1)
        column.addWidget(self.unit)
        column.addLayout(self.form)
        column.addWidget(self.trouble)
        column.addLayout(row_of(self.drop, self.apply))

    # ---- shown

    def show_desk(self) -> None:
        draft = self._desk.draft
        self.rows.rows.show_rows([_row(draft, e) for e in draft.edges])
        self.in_hand.show_hand()
        self.ends.show_nodes((*draft.pins, CORE, *self._hand.inner_points(draft)))
        for b in (self.winding, self.link, self.diode, self.electronics):
            allow(b, len(self._hand.nodes) == 2, "Click its two ends on the faces first")
        self._show_form()

    def show_edge(self, name: str) -> None:
        self.rows.select_key(name)
        self._show_form(anew=True)

    @property
    def chosen(self) -> Winding | Link | None:
        key = self.rows.key()
        return next((e for e in self._desk.draft.edges if e.name == key), None)

    def _show_form(self, *, anew: bool = False) -> None:
        edge = self._edge = self.chosen
        is_winding = isinstance(edge, Winding)
        always: tuple[QWidget, ...] = (self.name, self.apply, self.drop, self.high, self.ends.start, self.ends.finish)
        wound: tuple[QWidget, ...] = (
            self.element, self.kind, self.word, self.band, self.ohms, self.percent, self.low, self.wire,
        )  # fmt: skip
        for w in always:
            allow(w, edge is not None, "Choose a winding or wire in the list first")
        for w in wound:
            w.setEnabled(is_winding)
        form = form_of(edge) if edge is not None else WindingForm("")
        if form != self._shown or anew:
            self._shown = form
            self._mark("", "")
            self.ends.choose(form.start, form.finish)
            self.element.setCurrentIndex([e for e, _ in ELEMENTS].index(form.element))
            self.kind.setCurrentIndex(list(Kind).index(form.kind))
            self.band.setCurrentIndex(list(Band).index(form.band))
            for field, text in (
                (self.name, form.name), (self.word, form.word), (self.ohms, form.ohms), (self.percent, form.percent),
                (self.low, form.low), (self.high, form.high), (self.wire, form.wire),
            ):  # fmt: skip
                field.setText(text)
        self._fit()

    def _fit(self) -> None:
        """Only what the band needs is asked for."""
        edge, band = self.chosen, list(Band)[self.band.currentIndex()]
        wound = isinstance(edge, Winding) and self.element.currentIndex() == 0
        link = isinstance(edge, Link)
        under = link or band is Band.UNDER
        shown = {
            self.element: not link, self.kind: not link, self.word: not link, self.wire: not link,
            self.band: wound,
            self._value: wound and band is not Band.UNDER,
            self._limits: link or (wound and band is not Band.PERCENT),
        }  # fmt: skip
        source = edge.band_from if isinstance(edge, Winding) and wound else ""
        self.source.setText(source)
        self.form.setRowVisible(self.source, bool(source))
        for field, visible in shown.items():
            self.form.setRowVisible(field, visible)
        for w in (self.percent, *self._within):
            w.setVisible(wound and band is Band.PERCENT)
        for w in (self.low, *self._to):
            w.setVisible(not under)
        caption = self.form.labelForField(self._limits)
        assert isinstance(caption, QLabel)
        caption.setText("&Up to" if link else "&Under" if under else "L&imits")

    # ---- done

    def add_winding(self) -> None:
        self._join(windings.connect)

    def add_link(self) -> None:
        self._join(windings.link)

    def add_diode(self) -> None:
        self._join(partial(_element, element=Element.DIODE))

    def add_electronics(self) -> None:
        self._join(partial(_element, element=Element.ELECTRONICS))

    def _join(self, how: Callable[[Draft, str, str], tuple[Draft, str]]) -> None:
        nodes = self._hand.nodes
        if len(nodes) != 2:
            self._desk.tell("Choose two nodes on the faces first: pins, ground, or an inner point.")
            return
        made = ""

        def edit(draft: Draft) -> Draft:
            nonlocal made
            new, made = how(draft, *nodes)
            return new

        if self._desk.edit(edit):
            self.joined.emit()
            self.show_edge(made)
            self.name.setFocus()
            self.name.selectAll()

    def _add_point(self) -> None:
        self._point(windings.inner_point(self._desk.draft))

    def _typed(self) -> WindingForm:
        return WindingForm(
            self.name.text(), list(Kind)[self.kind.currentIndex()], self.word.text(),
            ELEMENTS[self.element.currentIndex()][0], list(Band)[self.band.currentIndex()], self.ohms.text(),
            self.percent.text(), self.low.text(), self.high.text(), self.wire.text(), *self.ends.ends,
        )  # fmt: skip

    def commit(self) -> bool:
        """What was typed and not put yet, of the form and of an inner point's name; False where it can't be."""
        return self._put_typed() and self.in_hand.commit()

    def _put_typed(self) -> bool:
        last = self._edge
        edge = next((e for e in self._desk.draft.edges if last is not None and e.name == last.name), None)
        if edge is None or self._shown is None:
            return True
        shown, typed = self._shown, self._typed()
        told = (typed.name, typed.high, typed.start, typed.finish)
        if typed == shown or (isinstance(edge, Link) and told == (shown.name, shown.high, shown.start, shown.finish)):
            return True
        return self._put(edge, typed)

    def apply_form(self) -> None:
        edge = self.chosen
        if edge is not None:
            self._put(edge, self._typed())

    def _put(self, edge: Winding | Link, form: WindingForm) -> bool:
        try:
            new = applied(self._desk.draft, edge.name, form)
        except FormError as e:
            self._mark(e.field, e.sentence)
            return False
        self._mark("", "")
        if not self._desk.edit(lambda _: new):
            return False
        self.show_edge(" ".join(form.name.split()))  # which a new name among the rows has let go of
        return True

    def _chosen(self) -> None:
        """Another one: what was typed of the last is put first, or stays in hand with what is wrong with it."""
        last, wanted = self._edge, self.rows.key()
        if wanted is None or last is None or wanted == last.name:
            self._show_form()
        elif self._put_typed():
            self.rows.select_key(wanted)
            self._show_form()
        else:
            self.rows.select_key(last.name)

    def _drop(self) -> None:
        edge = self.chosen
        if edge is not None:
            self._desk.edit(lambda d: windings.drop_edge(d, edge.name))

    def _mark(self, field: str, sentence: str) -> None:
        self.trouble.setText(sentence)
        self.trouble.setVisible(bool(sentence))
        for name in ("name", "ohms", "percent", "low", "high"):
            w: QLineEdit = getattr(self, name)
            state = "refused" if name == field else ""
            if w.property("state") != state:
                w.setProperty("state", state)
                redress(w)
            if name == field:
                w.setFocus()
        self.ends.mark(field == "finish")
        if field == "finish":
            self.ends.finish.setFocus()


def _element(draft: Draft, a: str, b: str, *, element: Element) -> tuple[Draft, str]:
    made, name = windings.connect(draft, a, b)
    named = windings.rename_edge(made, name, free_name(str(element), {e.name for e in made.edges}))
    name = named.windings[-1].name
    return windings.set_element(named, name, element), name


def _row(draft: Draft, e: Winding | Link) -> Row:
    where = f"{node_text(e.start)} – {node_text(e.finish)}"
    if isinstance(e, Link):
        value = f"up to {words.ohms_words(e.limit_ohms)}"
        return Row(e.name, e.name, f"link, {where}", value, "", f"{e.name}: link, {where}, {value}")
    kind = str(e.element) if e.element is not None else e.word or KIND_WORDS[e.kind].partition(":")[0]
    told = e.element is None and (e.ohms is not None or e.low_ohms is not None)
    value = words.ohms_words(e.nominal) if told else "not by ohms" if e.element is not None else "ohms?"
    if told and e.is_under:
        value = words.winding_band_words(e)
    return Row(e.name, e.name, f"{kind}, {where}", value, "", f"{e.name}: {kind}, {where}, {value}")


def _side_by_side(*parts: QWidget) -> QWidget:
    """Alike in width where they are typed in; the first takes the focus of the whole."""
    made = QWidget()
    row = QHBoxLayout(made)
    row.setContentsMargins(0, 0, 0, 0)
    row.setSpacing(6)
    for w in parts:
        row.addWidget(w, 1 if isinstance(w, QLineEdit) else 0)
    made.setFocusProxy(parts[0])
    return made


def _choices(texts: list[str]) -> QComboBox:
    made = QComboBox()
    made.addItems(texts)
    made.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
    made.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
    return made
