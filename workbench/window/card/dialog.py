"""The card on screen: look, save, print."""

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import QMarginsF, QRectF, QSizeF, Qt, Signal
from PySide6.QtGui import QImage, QPageLayout, QPageSize, QPainter, QPixmap
from PySide6.QtPrintSupport import QPrintDialog, QPrinter
from PySide6.QtWidgets import (
    QComboBox,
    QDialog,
    QFileDialog,
    QHBoxLayout,
    QLabel,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from workbench.cards.stock import STOCKS
from workbench.records import CardSize
from workbench.sitting.say import Said, Tone
from workbench.window.card.kind import Kind
from workbench.window.card.pages import Drawn, page_images
from workbench.window.look import Look
from workbench.window.parts import SaidLine, button, label


class CardDialog(QDialog):
    """Shows a card or an intake tag, drawn at the screen's own dots.

    `left("saved", drawn)` or `left("printed", drawn)` when one left the program; `chosen` when another size or kind
    is wanted: `show_drawn` is called once that is made.
    """

    left = Signal(str, object)
    chosen = Signal()

    def __init__(self, parent: QWidget, look: Look, name: str, drawn: Drawn) -> None:
        super().__init__(parent)
        self.drawn, self._name, self._look = drawn, name, look
        self._title = label("", "title", wrap=True)
        self._focus: QWidget | None = None
        self.kinds, self.sizes = QComboBox(), QComboBox()
        self.kinds.addItems([str(k) for k in Kind])
        self.kinds.setAccessibleName("What is put on paper")
        self.sizes.addItems([s.name for s in STOCKS.values()])
        self.sizes.setAccessibleName("On what")
        self.pages: list[QLabel] = []
        self._scroll = QScrollArea()
        self._scroll.setAccessibleName("What comes out")
        self._scroll.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.said = SaidLine(1)
        self.print_button = button("Print", self.print_card, key="Ctrl+P", strong=True)
        self.save_button = button("Save as PDF", self.save_card, key="Ctrl+S")
        close = button("Close", self.reject, key="Esc")
        choice, buttons = QHBoxLayout(), QHBoxLayout()
        for caption, box in (("&What", self.kinds), ("&On", self.sizes)):
            made = label(caption)
            made.setBuddy(box)
            choice.addWidget(made)
            choice.addWidget(box, 1)
        buttons.addStretch(1)
        for b in (close, self.save_button, self.print_button):
            buttons.addWidget(b)
        column = QVBoxLayout(self)
        column.addWidget(self._title)
        column.addLayout(choice)
        column.addWidget(self._scroll, 1)
        column.addWidget(self.said)
        column.addLayout(buttons)
        self.show_drawn(drawn)
        self._fit(drawn.images)
        for box in (self.kinds, self.sizes):
            box.currentIndexChanged.connect(lambda _: self._choose())

    @property
    def kind(self) -> Kind:
        return list(Kind)[self.kinds.currentIndex()]

    @property
    def size_chosen(self) -> CardSize:
        return list(STOCKS)[self.sizes.currentIndex()]

    @property
    def what(self) -> str:
        return "intake tag" if self.drawn.kind is Kind.INTAKE else "card"

    def show_drawn(self, drawn: Drawn) -> None:
        """What is made, with the choices that it was made by: it can be printed and saved from now on."""
        self.drawn = drawn
        for box, index in ((self.kinds, list(Kind).index(drawn.kind)), (self.sizes, list(STOCKS).index(drawn.size))):
            before = box.blockSignals(True)  # shown, not chosen
            box.setCurrentIndex(index)
            box.blockSignals(before)
        self.setWindowTitle(f"{self.what.capitalize()} of {self._name}")
        self._title.setText(self.windowTitle())
        held = QWidget()
        row = QHBoxLayout(held)
        row.setSpacing(16)
        self.pages = []
        for i, image in enumerate(drawn.images, 1):
            image.setDevicePixelRatio(self.devicePixelRatioF())
            page = QLabel()
            page.setPixmap(QPixmap.fromImage(image))
            page.setAccessibleName(f"{self.what.capitalize()} {i} of {len(drawn.images)}")
            self.pages.append(page)
            row.addWidget(page)
        self._scroll.setWidget(held)
        self._allow(True)

    def waits(self) -> None:
        """Something else is on its way: what is shown must not be taken for it."""
        self._allow(False)

    def _fit(self, images: Sequence[QImage]) -> None:
        first = images[0].deviceIndependentSize()
        room = self.screen().availableGeometry()
        s = self._look.sizes
        wide = max(int(first.width() * min(len(images), 2)) + s.px(70), s.px(460))
        self.resize(min(wide, room.width() - 40), min(int(first.height()) + s.px(230), room.height() - 40))

    def _choose(self) -> None:
        self.said.say(None)
        self.waits()
        self.chosen.emit()

    def failed(self, sentence: str) -> None:
        """What was on its way doesn't come: what was shown before still holds."""
        self.show_drawn(self.drawn)
        self.said.say(Said(Tone.REFUSES, sentence))

    def _allow(self, made: bool) -> None:
        """A button that was pressed has the focus back when it can be pressed again."""
        buttons = (self.print_button, self.save_button)
        focus = self.focusWidget()
        if not made and focus in buttons:
            self._focus = focus
        for b in buttons:
            b.setEnabled(made)
        if made and self._focus is not None:
            self._focus.setFocus()
            self._focus = None

    def save_card(self) -> None:
        proposed = "".join("-" if c in '/\\:*?"<>|' or ord(c) < 32 else c for c in self._name)  # a tag may have them
        where, _ = QFileDialog.getSaveFileName(self, f"Save the {self.what}", f"{proposed}.pdf", "PDF (*.pdf)")
        if where:
            self.save_to(Path(where))

    def save_to(self, path: Path) -> None:
        try:
            path.write_bytes(self.drawn.pdf)
        except OSError as e:
            self.said.say(Said(Tone.REFUSES, f"The {self.what} is not saved ({e.strerror}). Choose another place."))
            return
        self.said.say(Said(Tone.TELLS, f"Saved as {path}"))
        self.left.emit("saved", self.drawn)

    def print_card(self) -> None:
        printer = QPrinter(QPrinter.PrinterMode.HighResolution)
        if not printer.isValid():
            self.said.say(
                Said(Tone.REFUSES, f"The system knows no printer. Save the {self.what} as PDF and print it elsewhere.")
            )
            return
        if QPrintDialog(printer, self).exec() == QDialog.DialogCode.Accepted:
            self.print_on(printer)

    def print_on(self, printer: QPrinter) -> None:
        """Each page on its own sheet, at its own size where the printer takes it, else fitted."""
        stock = STOCKS[self.drawn.size]
        printer.setPageSize(QPageSize(QSizeF(*stock.size), QPageSize.Unit.Point, "Card"))
        printer.setPageMargins(QMarginsF(0, 0, 0, 0), QPageLayout.Unit.Millimeter)
        printer.setFullPage(True)
        printer.setDocName(self.windowTitle())
        painter = QPainter()
        if not painter.begin(printer):
            sentence = f"The printer does not take the {self.what}. Nothing was printed; look at it and try again."
            self.said.say(Said(Tone.REFUSES, sentence))
            return
        try:
            for i, image in enumerate(page_images(self.drawn.pdf, min(printer.resolution(), 600))):
                if i:
                    printer.newPage()
                page = QRectF(painter.viewport())
                size = QSizeF(image.size()).scaled(page.size(), Qt.AspectRatioMode.KeepAspectRatio)
                painter.drawImage(QRectF(page.topLeft(), size), image)
        finally:
            painter.end()
        self.said.say(Said(Tone.TELLS, f"Sent to {printer.printerName() or printer.outputFileName()}"))
        self.left.emit("printed", self.drawn)
