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
from workbench.window.card.pages import page_images
from workbench.window.look import Look
from workbench.window.parts import SaidLine, button, label


class CardDialog(QDialog):
    """Shows a card, drawn at the screen's own dots.

    `left("saved")` or `left("printed")` when one left the program; `chosen` when another size or kind is wanted:
    `show_pages` is called once that is made.
    """

    left = Signal(str)
    chosen = Signal()

    def __init__(self, parent: QWidget, look: Look, name: str, kind: Kind = Kind.CUSTOMER) -> None:
        super().__init__(parent)
        self._pdf, self._name, self._look = b"", name, look
        self._shown_size = CardSize.STAND
        self.setWindowTitle(f"Card of {name}")
        self.kinds, self.sizes = QComboBox(), QComboBox()
        self.kinds.addItems([str(k) for k in Kind])
        self.kinds.setCurrentText(str(kind))
        self.kinds.setAccessibleName("What is put on paper")
        self.sizes.addItems([s.name for s in STOCKS.values()])
        self.sizes.setAccessibleName("On what")
        self.pages: list[QLabel] = []
        self._scroll = QScrollArea()
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
        column.addWidget(label(f"Card of {name}", "title"))
        column.addLayout(choice)
        column.addWidget(self._scroll, 1)
        column.addWidget(self.said)
        column.addLayout(buttons)
        for box in (self.kinds, self.sizes):
            box.currentIndexChanged.connect(lambda _: self._choose())

    @property
    def kind(self) -> Kind:
        return list(Kind)[self.kinds.currentIndex()]

    @property
    def size_chosen(self) -> CardSize:
        return list(STOCKS)[self.sizes.currentIndex()]

    def show_pages(self, size: CardSize, pdf: bytes, images: Sequence[QImage]) -> None:
        """A card as it is made: it can be printed and saved from now on."""
        self._pdf, self._shown_size = pdf, size
        self.sizes.blockSignals(True)  # shown, not chosen
        self.sizes.setCurrentIndex(list(STOCKS).index(size))
        self.sizes.blockSignals(False)
        held = QWidget()
        row = QHBoxLayout(held)
        row.setSpacing(16)
        self.pages = []
        for i, image in enumerate(images, 1):
            image.setDevicePixelRatio(self.devicePixelRatioF())
            page = QLabel()
            page.setPixmap(QPixmap.fromImage(image))
            page.setAccessibleName(f"Card {i} of {len(images)}")
            self.pages.append(page)
            row.addWidget(page)
        self._scroll.setWidget(held)
        self._allow(True)
        if not self.isVisible():
            self._fit(images)

    def _fit(self, images: Sequence[QImage]) -> None:
        first = images[0].deviceIndependentSize()
        room = self.screen().availableGeometry()
        s = self._look.sizes
        wide = max(int(first.width() * min(len(images), 2)) + s.px(70), s.px(460))
        self.resize(min(wide, room.width() - 40), min(int(first.height()) + s.px(230), room.height() - 40))

    def _choose(self) -> None:
        self._allow(False)  # nothing may leave that isn't what is asked for
        self.chosen.emit()

    def _allow(self, made: bool) -> None:
        for b in (self.print_button, self.save_button):
            b.setEnabled(made)

    def save_card(self) -> None:
        where, _ = QFileDialog.getSaveFileName(self, "Save the card", f"{self._name}.pdf", "PDF (*.pdf)")
        if where:
            self.save_to(Path(where))

    def save_to(self, path: Path) -> None:
        try:
            path.write_bytes(self._pdf)
        except OSError as e:
            self.said.say(Said(Tone.REFUSES, f"The card is not saved ({e.strerror}). Choose another place."))
            return
        self.said.say(Said(Tone.TELLS, f"Saved as {path}"))
        self.left.emit("saved")

    def print_card(self) -> None:
        printer = QPrinter(QPrinter.PrinterMode.HighResolution)
        if not printer.isValid():
            self.said.say(
                Said(Tone.REFUSES, "The system knows no printer. Save the card as PDF and print it elsewhere.")
            )
            return
        if QPrintDialog(printer, self).exec() == QDialog.DialogCode.Accepted:
            self.print_on(printer)

    def print_on(self, printer: QPrinter) -> None:
        """Each page on its own sheet, at its own size where the printer takes it, else fitted."""
        stock = STOCKS[self._shown_size]
        printer.setPageSize(QPageSize(QSizeF(*stock.size), QPageSize.Unit.Point, "Card"))
        printer.setPageMargins(QMarginsF(0, 0, 0, 0), QPageLayout.Unit.Millimeter)
        printer.setFullPage(True)
        printer.setDocName(f"Card of {self._name}")
        painter = QPainter()
        if not painter.begin(printer):
            self.said.say(
                Said(Tone.REFUSES, "The printer does not take the card. Nothing was printed; look at it and try again.")
            )
            return
        try:
            for i, image in enumerate(page_images(self._pdf, min(printer.resolution(), 600))):
                if i:
                    printer.newPage()
                page = QRectF(painter.viewport())
                size = QSizeF(image.size()).scaled(page.size(), Qt.AspectRatioMode.KeepAspectRatio)
                painter.drawImage(QRectF(page.topLeft(), size), image)
        finally:
            painter.end()
        self.said.say(Said(Tone.TELLS, f"Sent to {printer.printerName() or printer.outputFileName()}"))
        self.left.emit("printed")
