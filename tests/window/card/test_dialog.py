"""The card on screen, on paper and as a file."""

import os
from collections.abc import Callable
from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader
from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QImage
from PySide6.QtPrintSupport import QPrintDialog, QPrinter
from PySide6.QtWidgets import QApplication, QFileDialog, QMainWindow
from pytestqt.qtbot import QtBot
from reportlab.pdfgen.canvas import Canvas

from workbench.records import CardSize
from workbench.sitting.say import Tone
from workbench.window.card import dialog as module
from workbench.window.card.dialog import CardDialog
from workbench.window.card.kind import Kind
from workbench.window.card.pages import Drawn, page_images
from workbench.window.look import Look
from workbench.window.theme import LIGHT, Sizes

MM = 72 / 25.4
Show = Callable[..., CardDialog]


def paper(pages: int) -> bytes:
    """Cards with a black block at the left end of the first page, the middle of the second."""
    out = BytesIO()
    canvas = Canvas(out, pagesize=(100 * MM, 150 * MM), invariant=1)
    for i in range(pages):
        canvas.drawString(20, 300, f"GOOD K-0042 page {i + 1}")
        canvas.rect((5 + 40 * i) * MM, 5 * MM, 20 * MM, 20 * MM, fill=1)
        canvas.showPage()
    canvas.save()
    return out.getvalue()


def drawn(pdf: bytes, kind: Kind = Kind.CUSTOMER, size: CardSize = CardSize.STAND) -> Drawn:
    return Drawn(kind, size, pdf, tuple(page_images(pdf, 96)))


@pytest.fixture
def made() -> list[str]:
    return []


@pytest.fixture
def show(dressed: QApplication, qtbot: QtBot, made: list[str]) -> Show:
    def shown(pages: int = 1, name: str = "K-0042") -> CardDialog:
        window = QMainWindow()
        qtbot.addWidget(window)
        pdf = paper(pages)
        card = CardDialog(window, Look(LIGHT, Sizes()), name, drawn(pdf))
        card.left.connect(lambda how, what: made.append(how))
        qtbot.addWidget(card)
        card.window_kept = window  # type: ignore[attr-defined]  # lives as long as its dialog
        card.show()
        return card

    return shown


def dark_at(image: QImage, x_mm: float, y_mm_from_bottom: float) -> bool:
    x, y = x_mm / 100 * image.width(), (1 - y_mm_from_bottom / 150) * image.height()
    return image.pixelColor(round(x), round(y)).lightness() < 60


def test_each_page_is_shown_whole(show: Show) -> None:
    card = show(2)
    assert [p.accessibleName() for p in card.pages] == ["Card 1 of 2", "Card 2 of 2"]
    for page in card.pages:
        shown = page.pixmap().deviceIndependentSize()
        assert (shown.width() / 96 * 25.4, shown.height() / 96 * 25.4) == pytest.approx((100, 150), abs=0.5)
        assert page.size() == page.pixmap().deviceIndependentSize().toSize()
    assert card.windowTitle() == "Card of K-0042"


def test_a_page_becomes_the_image_of_its_size_the_right_way_up() -> None:
    one, two = page_images(paper(2), 96)
    assert one.size() == two.size() == QSize(378, 567)
    assert [dark_at(one, 15, 15), dark_at(one, 55, 15), dark_at(one, 15, 135)] == [True, False, False]
    assert [dark_at(two, 15, 15), dark_at(two, 55, 15)] == [False, True]


def test_saved_where_it_was_asked_for(
    show: Show, qtbot: QtBot, made: list[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[str] = []

    def where(parent: object, title: str, proposed: str, kinds: str) -> tuple[str, str]:
        asked.append(proposed)
        return str(tmp_path / "card.pdf"), kinds

    monkeypatch.setattr(QFileDialog, "getSaveFileName", where)
    card = show()
    qtbot.mouseClick(card.save_button, Qt.MouseButton.LeftButton)
    assert asked == ["K-0042.pdf"]
    assert "GOOD K-0042" in PdfReader(tmp_path / "card.pdf").pages[0].extract_text()
    assert str(tmp_path / "card.pdf") in card.said.sentence
    assert made == ["saved"]


def test_no_place_given_nothing_saved(show: Show, made: list[str], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: ("", ""))
    card = show()
    card.save_card()
    assert (made, card.said.sentence) == ([], "")


def test_a_place_that_takes_nothing_is_said_and_notes_no_card(show: Show, made: list[str], tmp_path: Path) -> None:
    card = show()
    card.save_to(tmp_path / "no such folder" / "card.pdf")
    assert card.said.said is not None
    assert card.said.said.tone is Tone.REFUSES
    assert "not saved" in card.said.sentence
    assert os.strerror(2) in card.said.sentence
    assert "another place" in card.said.sentence
    assert made == []


@pytest.mark.parametrize("pages", [1, 2])
def test_printed_page_by_page_at_its_own_size(show: Show, made: list[str], tmp_path: Path, pages: int) -> None:
    card = show(pages)
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
    printer.setOutputFileName(str(tmp_path / "out.pdf"))
    card.print_on(printer)
    printed = PdfReader(tmp_path / "out.pdf")
    assert len(printed.pages) == pages
    for page in printed.pages:
        assert (float(page.mediabox.width) / MM, float(page.mediabox.height) / MM) == pytest.approx((100, 150), abs=0.5)
    images = page_images((tmp_path / "out.pdf").read_bytes(), 96)
    assert dark_at(images[0], 15, 15)
    assert not dark_at(images[0], 55, 15)
    assert dark_at(images[-1], 15 + 40 * (pages - 1), 15)
    assert not dark_at(images[-1], 15, 100)
    assert made == ["printed"]
    assert card.said.sentence.startswith("Sent to")


def test_a_printer_that_takes_nothing_is_said(show: Show, made: list[str], tmp_path: Path, qtlog: object) -> None:
    card = show()
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
    printer.setOutputFileName(str(tmp_path / "no such folder" / "out.pdf"))
    with qtlog.disabled():  # type: ignore[attr-defined]  # Qt says it too
        card.print_on(printer)
    assert "Nothing was printed" in card.said.sentence
    assert made == []


def test_no_printer_at_all_is_said(show: Show, qtbot: QtBot, made: list[str], monkeypatch: pytest.MonkeyPatch) -> None:
    class NoPrinter(QPrinter):
        def isValid(self) -> bool:
            return False

    monkeypatch.setattr(module, "QPrinter", NoPrinter)
    card = show()
    qtbot.mouseClick(card.print_button, Qt.MouseButton.LeftButton)
    assert card.said.sentence.startswith("The system knows no printer.")
    assert made == []


def test_a_print_that_was_thought_better_of_notes_no_card(
    show: Show, made: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    class Some(QPrinter):
        def isValid(self) -> bool:
            return True

    class Declined(QPrintDialog):
        def exec(self) -> int:
            return 0

    monkeypatch.setattr(module, "QPrinter", Some)
    monkeypatch.setattr(module, "QPrintDialog", Declined)
    card = show()
    card.print_card()
    assert (made, card.said.sentence) == ([], "")


def test_another_size_or_kind_is_asked_for_and_nothing_leaves_until_it_is_made(show: Show, qtbot: QtBot) -> None:
    card = show()
    asked: list[tuple[Kind, CardSize]] = []
    card.chosen.connect(lambda: asked.append((card.kind, card.size_chosen)))
    assert (card.kind, card.size_chosen) == (Kind.CUSTOMER, CardSize.STAND)
    qtbot.keyClick(card.sizes, Qt.Key.Key_Up)
    qtbot.keyClick(card.kinds, Qt.Key.Key_Down)
    assert asked == [(Kind.CUSTOMER, CardSize.LABEL), (Kind.SHOP, CardSize.LABEL)]
    assert not card.print_button.isEnabled()
    assert not card.save_button.isEnabled()
    card.show_drawn(drawn(paper(2), Kind.SHOP, CardSize.LABEL))
    assert card.print_button.isEnabled()
    assert len(card.pages) == 2
    assert len(asked) == 2  # shown, not asked for again


def test_printed_at_the_size_of_its_label(show: Show, tmp_path: Path) -> None:
    card = show()
    card.show_drawn(drawn(paper(1), Kind.CUSTOMER, CardSize.LABEL))
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
    printer.setOutputFileName(str(tmp_path / "out.pdf"))
    card.print_on(printer)
    (page,) = PdfReader(tmp_path / "out.pdf").pages
    assert (float(page.mediabox.width) / MM, float(page.mediabox.height) / MM) == pytest.approx((62, 100), abs=0.5)


def test_what_does_not_come_leaves_what_was_chosen_before(show: Show) -> None:
    card = show()
    card.kinds.setCurrentText(str(Kind.SHOP))
    card.failed("It could not be drawn.")
    assert (card.kind, card.print_button.isEnabled()) == (Kind.CUSTOMER, True)
    assert card.said.sentence == "It could not be drawn."


def test_an_intake_tag_is_called_one(show: Show) -> None:
    card = show()
    card.show_drawn(drawn(paper(1), Kind.INTAKE, CardSize.TAG))
    assert card.windowTitle() == "Intake tag of K-0042"
    assert [p.accessibleName() for p in card.pages] == ["Intake tag 1 of 1"]


def test_a_tag_that_no_file_may_be_called_by_is_proposed_without_what_forbids_it(
    show: Show, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[str] = []

    def where(*given: object) -> tuple[str, str]:
        asked.append(str(given[2]))
        return "", ""

    monkeypatch.setattr(QFileDialog, "getSaveFileName", where)
    show(name="A/7: sled\\3").save_card()
    assert asked == ["A-7- sled-3.pdf"]


def test_a_pressed_button_has_the_focus_back_when_the_next_copy_is_made(show: Show, qtbot: QtBot) -> None:
    card = show()
    card.activateWindow()
    card.print_button.setFocus()
    card.waits()
    assert not card.print_button.isEnabled()
    card.show_drawn(drawn(paper(1)))
    assert card.focusWidget() is card.print_button
