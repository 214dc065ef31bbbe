"""The card on screen: look, save, print."""

from collections.abc import Callable, Sequence
from pathlib import Path

from PySide6.QtCore import QMarginsF, QRectF, QSizeF, Qt
from PySide6.QtGui import QImage, QPageLayout, QPageSize, QPainter, QPixmap
from PySide6.QtPrintSupport import QPrintDialog, QPrinter
from PySide6.QtWidgets import QDialog, QFileDialog, QHBoxLayout, QLabel, QScrollArea, QVBoxLayout, QWidget

from workbench.sitting.say import Said, Tone
from workbench.window.card.pages import page_images
from workbench.window.look import Look
from workbench.window.parts import SaidLine, button, label

CARD_MM = QSizeF(100, 150)


class CardDialog(QDialog):
    """Shows `pdf`, drawn at the screen's own dots in `shown`.

    Tells `made("saved")` or `made("printed")` when a card left the program.
    """

    def __init__(
        self, parent: QWidget, look: Look, pdf: bytes, shown: Sequence[QImage], name: str, made: Callable[[str], None]
    ) -> None:
        super().__init__(parent)
        self._pdf, self._name, self._made = pdf, name, made
        self.setWindowTitle(f"Card of {name}")
        ratio = self.devicePixelRatioF()
        pages = QWidget()
        row = QHBoxLayout(pages)
        row.setSpacing(16)
        self.pages = []
        for i, image in enumerate(shown, 1):
            image.setDevicePixelRatio(ratio)
            page = QLabel()
            page.setPixmap(QPixmap.fromImage(image))
            page.setAccessibleName(f"Card {i} of {len(shown)}")
            self.pages.append(page)
            row.addWidget(page)
        scroll = QScrollArea()
        scroll.setWidget(pages)
        scroll.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.said = SaidLine(1)
        self.print_button = button("Print", self.print_card, key="Ctrl+P", strong=True)
        self.save_button = button("Save as PDF", self.save_card, key="Ctrl+S")
        close = button("Close", self.reject, key="Esc")
        buttons = QHBoxLayout()
        buttons.addStretch(1)
        for b in (close, self.save_button, self.print_button):
            buttons.addWidget(b)
        column = QVBoxLayout(self)
        column.addWidget(label(f"Card of {name}", "title"))
        column.addWidget(scroll, 1)
        column.addWidget(self.said)
        column.addLayout(buttons)
        first = shown[0].deviceIndependentSize()
        room = self.screen().availableGeometry()
        wide = int(first.width() * min(len(shown), 2)) + look.sizes.px(70)
        self.resize(min(wide, room.width() - 40), min(int(first.height()) + look.sizes.px(190), room.height() - 40))

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
        self._made("saved")

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
        printer.setPageSize(QPageSize(CARD_MM, QPageSize.Unit.Millimeter, "Card"))
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
        self._made("printed")
