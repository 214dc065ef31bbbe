"""From booking to a scanned card: the tag a part comes in with, copies, reprints, and what a card is worth later."""

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from io import BytesIO
from pathlib import Path
from typing import Any
from uuid import UUID

import pytest
from pypdf import PdfReader
from PySide6.QtCore import QSettings, Qt
from shiboken6 import isValid

from db.queries import sheets
from db.trouble import StoreTrouble
from tests.journeys.conftest import Hand, Open
from workbench.cards.check import check_code
from workbench.cards.scan import card_text
from workbench.records import CardSize, Whose
from workbench.sitting.card import asserts_of, file_of
from workbench.window import settings
from workbench.window.card.dialog import CardDialog
from workbench.window.card.kind import Kind

K = Qt.Key


@pytest.fixture(autouse=True)
def own_settings(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = str(tmp_path / "bench.ini")
    monkeypatch.setattr(settings, "_file", lambda: QSettings(path, QSettings.Format.IniFormat))


def opened(hand: Hand) -> CardDialog:
    hand.until(lambda: hand.window.card_dialog is not None and hand.window.card_dialog.print_button.isEnabled())
    assert hand.window.card_dialog is not None
    return hand.window.card_dialog


def text_of(card: CardDialog) -> str:
    return " ".join(" ".join(p.extract_text() for p in PdfReader(BytesIO(card.drawn.pdf)).pages).split())


def take(hand: Hand, card: CardDialog, kind: Kind, size: CardSize) -> str:
    card.kinds.setCurrentText(str(kind))
    card.sizes.setCurrentIndex(list(CardSize).index(size))
    hand.until(lambda: card.print_button.isEnabled() and card.size_chosen is size and card.kind is kind)
    return text_of(card)


def scan(hand: Hand, text: str) -> None:
    """What a scanner types, with its Enter."""
    hand.window.to_counter()
    hand.counter.search.clear()
    hand.qtbot.keyClicks(hand.counter.search, text)
    hand.qtbot.keyClick(hand.counter.search, K.Key_Return)


def code_on(hand: Hand) -> str:
    bench = hand.bench
    return card_text(bench.unit.tag, bench.head.id, check_code(asserts_of(file_of(bench))))


def test_a_part_is_booked_and_its_tag_stands_ready_to_print(open_window: Open, tmp_path: Path) -> None:
    hand = open_window(tmp_path / "shop.sqlite")
    page = hand.counter
    hand.until(lambda: page.tag.text())
    page.label.setText("red sled, tag 7")
    page.complaint.setPlainText("no spark when warm")
    page.pattern.setCurrentIndex(0)
    hand.front()
    hand.qtbot.keyClick(page.label, K.Key_K, Qt.KeyboardModifier.ControlModifier)
    card = opened(hand)
    assert card.kind is Kind.INTAKE
    said = text_of(card)
    assert hand.bench.unit.tag in said
    assert "no spark when warm" in said
    assert "red sled, tag 7" in said
    card.reject()


def test_copies_sizes_and_reprints(demo: Hand, tmp_path: Path) -> None:
    demo.type("155.2")
    demo.safe()
    demo.press(demo.page.card)
    card = opened(demo)
    assert "Customer’s copy" in text_of(card)
    assert "turns" not in text_of(card).replace("Shorted turns", "")
    shops = take(demo, card, Kind.SHOP, CardSize.LABEL)
    assert "Shop’s copy" in shops
    assert "Winding data" in shops
    card.save_to(tmp_path / "one.pdf")
    demo.until(lambda: "Reprint: copy 2" in text_of(card))  # what leaves next is one
    assert "Reprint" not in take(demo, card, Kind.CUSTOMER, CardSize.LABEL)
    card.reject()
    demo.until(lambda: demo.window.card_dialog is None)
    demo.press(demo.page.card)
    again = opened(demo)
    assert again.size_chosen is CardSize.LABEL  # as it was last
    assert "Reprint" not in text_of(again)
    again.reject()


def test_a_scanned_card_brings_its_part_and_says_what_it_is_worth(demo: Hand, tmp_path: Path) -> None:
    demo.type("155.2")
    demo.safe()
    demo.press(demo.page.card)
    card = opened(demo)
    code = code_on(demo)
    card.save_to(tmp_path / "card.pdf")
    demo.until(lambda: "Reprint" in text_of(card))
    card.reject()
    scan(demo, code.lower())
    demo.until(lambda: demo.said() == "The card says what the sheet says.")
    demo.bench.undo()
    demo.safe()
    demo.until(lambda: demo.bench.lines.every[0].kept.strike is not None)
    scan(demo, code)
    demo.until(lambda: demo.said() == "This card is outdated: 1 reading was struck since. Print it anew.")
    altered = code[:-1] + ("0" if code[-1] != "0" else "1")
    scan(demo, altered)
    demo.until(lambda: demo.said().startswith("This card was altered, or is not one of this shop's"))


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("PLUGFACE 2 K-1 x y", "no card's whole code"),
        ("PLUGFACE 9 K-1 x y", "newer Plugface"),
        (card_text("K-1", UUID(int=7), "0123456789"), "No sheet of this store"),
    ],
)
def test_a_text_that_is_no_card_of_this_store_is_said(demo: Hand, text: str, said: str) -> None:
    scan(demo, text)
    demo.until(lambda: said in demo.counter.not_found.sentence)


def test_a_card_saved_and_closed_at_once_comes_to_no_harm(demo: Hand, tmp_path: Path) -> None:
    demo.press(demo.page.card)
    card = opened(demo)
    with drawing_waits(demo):
        card.save_to(tmp_path / "card.pdf")
        demo.qtbot.keyClick(card, K.Key_Escape)
        demo.until(lambda: not isValid(card))
    settled(demo)
    assert demo.window.card_dialog is None
    demo.press(demo.page.card)
    assert "Reprint: copy 2" in text_of(opened(demo))


def test_another_size_asked_for_and_closed_at_once_comes_to_nothing(demo: Hand) -> None:
    demo.press(demo.page.card)
    card = opened(demo)
    with drawing_waits(demo):
        card.sizes.setCurrentIndex(0)
        assert not card.print_button.isEnabled()
        demo.qtbot.keyClick(card, K.Key_Escape)
        demo.until(lambda: not isValid(card))
    settled(demo)
    assert demo.window.card_dialog is None
    demo.press(demo.page.card)
    assert opened(demo) is not card


def test_of_two_choices_in_a_hurry_only_the_last_is_ever_shown(demo: Hand, monkeypatch: pytest.MonkeyPatch) -> None:
    demo.press(demo.page.card)
    card = opened(demo)
    seen: list[tuple[bool, Kind]] = []
    real = card.show_drawn

    def noted(*made: Any) -> None:
        real(*made)
        seen.append(("Winding data" in text_of(card), card.kind))

    monkeypatch.setattr(card, "show_drawn", noted)
    card.kinds.setCurrentText(str(Kind.SHOP))
    card.kinds.setCurrentText(str(Kind.CUSTOMER))
    settled(demo)
    demo.until(lambda: seen and card.print_button.isEnabled())
    assert seen == [(False, Kind.CUSTOMER)]


def test_what_is_noted_is_what_left(demo: Hand, tmp_path: Path) -> None:
    demo.press(demo.page.card)
    card = opened(demo)
    take(demo, card, Kind.SHOP, CardSize.TAG)
    card.save_to(tmp_path / "card.pdf")
    demo.until(lambda: "Reprint" in text_of(card))
    (made,) = demo.window.shop.cards_of(demo.bench.head.id).result()
    assert (made.whose, made.size, made.how, made.copy) == (Whose.SHOP, CardSize.TAG, "saved", 1)
    assert made.asserts == asserts_of(file_of(demo.bench))
    take(demo, card, Kind.INTAKE, CardSize.TAG)
    card.save_to(tmp_path / "tag.pdf")
    settled(demo)
    assert demo.window.shop.cards_of(demo.bench.head.id).result() == (made,)  # an intake tag is no card


def test_readings_that_are_not_kept_hold_the_bench_and_no_tag_or_word_goes_astray(
    demo: Hand, monkeypatch: pytest.MonkeyPatch
) -> None:
    other = next(u.tag for u in demo.counter.counter.units if u.tag != demo.bench.unit.tag)
    file = demo.window.shop.find_unit(other).result()
    assert file is not None

    def refused(*_: object) -> object:
        raise StoreTrouble("The disk is full.")

    with monkeypatch.context() as broken:
        broken.setattr(sheets, "keep_reading", refused)
        demo.type("155.2")
        demo.until(lambda: demo.bench.lines.lost == 1)
    before = demo.said()
    scan(demo, card_text(other, file.sheet.id, check_code(asserts_of(file))))
    demo.until(lambda: demo.counter.counter.said and "readings that are not kept" in demo.counter.not_found.sentence)
    settled(demo)
    assert demo.said() == before
    page = demo.counter
    page.label.setText("red sled")
    page.pattern.setCurrentIndex(0)
    demo.press(page.book_and_tag)
    settled(demo)
    assert demo.window.card_dialog is None


@contextmanager
def drawing_waits(hand: Hand) -> Iterator[None]:
    """The back desk is at something else."""
    done = threading.Event()
    hand.window._back.do(lambda: done.wait(10), lambda _: None, lambda _: None)
    try:
        yield
    finally:
        done.set()


def settled(hand: Hand) -> None:
    """All that was asked of the store and of the back desk is answered, and what that asked for too."""
    for _ in range(4):
        heard: list[object] = []
        hand.window.shop.meters(heard.append)
        hand.until(lambda heard=heard: heard)
        hand.window._back.do(lambda: None, heard.append, heard.append)
        hand.until(lambda heard=heard: len(heard) == 2)
