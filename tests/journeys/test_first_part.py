"""An empty shop: a part booked in, read to good, carded, decided on, and found again."""

from pathlib import Path

from pypdf import PdfReader
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialogButtonBox

from tests.journeys.conftest import Hand, Open
from workbench.records import Outcome
from workbench.sitting.lines import Keeping
from workbench.stator.judge import SheetVerdict
from workbench.stator.pattern import Pair
from workbench.window.bench.conditionsdialog import ConditionsDialog
from workbench.window.bench.dialogs import DecideDialog

SOUND = (
    ("P.1", "P.3", "155.4"), ("P.3", "P.2", "17.1"), ("P.1", "P.2", "172,3"), ("P.4", "P.5", ".3"),
    ("L.1", "L.2", "0.6"), ("P.1", "core", "OL"), ("P.4", "core", "open"), ("L.1", "core", "OL"), ("P.1", "L.1", "OL"),
)  # fmt: skip


def book(hand: Hand, pattern: str = "two ignition coils on a common pin") -> str:
    """By keyboard alone: from the tag's field on."""
    counter, bot = hand.counter, hand.qtbot
    hand.until(lambda: counter.tag.text())
    tag = counter.tag.text()
    counter.tag.setFocus()
    bot.keyClick(counter.tag, Qt.Key.Key_Tab)
    assert hand.window.focusWidget() is counter.label
    bot.keyClicks(counter.label, "Marsh 300 sled, green")
    bot.keyClick(counter.label, Qt.Key.Key_Tab)
    bot.keyClicks(counter.complaint, "no spark at all")
    bot.keyClick(counter.complaint, Qt.Key.Key_Tab)
    assert hand.window.focusWidget() is counter.pattern
    bot.keyClicks(counter.pattern, pattern[:6])
    assert counter.pattern.currentText() == pattern
    bot.keyClick(counter.pattern, Qt.Key.Key_Tab)
    bot.keyClick(counter.book, Qt.Key.Key_Space)
    hand.until(lambda: hand.window.bench_page is not None)
    return tag


def prove_iron(hand: Hand) -> None:
    hand.press(hand.page.top.edit)
    dialog = hand.page.dialog
    assert isinstance(dialog, ConditionsDialog)
    dialog.iron.selectAll()
    hand.qtbot.keyClicks(dialog.iron, "0.3")
    hand.press(dialog.buttons.button(QDialogButtonBox.StandardButton.Ok))
    hand.until(lambda: hand.bench.head.version == 2)


def test_a_part_is_read_to_good_carded_and_found_again(open_window: Open, tmp_path: Path) -> None:
    store = tmp_path / "shop" / "shop.sqlite"
    hand = open_window(store)
    assert store.stat().st_mode & 0o777 == 0o600
    tag = book(hand)
    assert hand.page.top.tag.text() == tag
    assert hand.page.top.verdict.word == "UNFINISHED"
    prove_iron(hand)
    for one, other, typed in SOUND:
        hand.read(one, other, typed)
        assert hand.page.entry.field.text() == ""
    hand.safe()
    assert hand.page.top.verdict.word == "GOOD"
    assert {x.keeping for x in hand.bench.lines} == {Keeping.SAFE}

    hand.press(hand.page.decide_button)
    dialog = hand.page.dialog
    assert isinstance(dialog, DecideDialog)
    hand.press(dialog.choices[Outcome.PASS])
    hand.qtbot.keyClicks(dialog.note, "plug cleaned")
    hand.press(dialog.buttons.button(QDialogButtonBox.StandardButton.Ok))
    assert "Pass" in hand.page.decided.text()

    for copy in (1, 2):
        hand.press(hand.page.card)
        hand.until(lambda: hand.window.card_dialog is not None)
        card = hand.window.card_dialog
        assert card is not None
        file = tmp_path / f"card-{copy}.pdf"
        card.save_to(file)
        text = " ".join(page.extract_text() for page in PdfReader(file).pages)
        assert "GOOD" in text
        assert tag in text
        assert "plug cleaned" in text
        assert ("copy 2" in text.lower()) is (copy == 2)
        card.reject()
        hand.until(lambda: hand.window.card_dialog is None)
    before = [x.kept for x in hand.bench.lines]
    decided = hand.bench.decided
    hand.close()

    back = open_window(store)
    back.qtbot.keyClicks(back.counter.search, tag.lower())
    back.qtbot.keyClick(back.counter.search, Qt.Key.Key_Return)
    back.until(lambda: back.window.bench_page is not None)
    assert [x.kept for x in back.bench.lines] == before
    assert back.bench.decided == decided
    assert back.page.top.verdict.word == "GOOD"
    assert "plug cleaned" in back.page.decided.text()


def test_a_whole_sheet_from_the_number_pad(open_window: Open, tmp_path: Path) -> None:
    hand = open_window(tmp_path / "shop.sqlite")
    book(hand)
    prove_iron(hand)
    field, bot = hand.page.entry.field, hand.qtbot
    plan = hand.bench.pattern.checks
    assert plan is not None
    for check, (_, _, typed) in zip(plan, SOUND, strict=True):
        assert hand.bench.pair == check  # offered, and picked already
        if typed in ("OL", "open"):
            bot.keyClick(field, Qt.Key.Key_Asterisk, Qt.KeyboardModifier.KeypadModifier)
        else:
            bot.keyClicks(field, typed.replace(",", "."))
            bot.keyClick(field, Qt.Key.Key_Enter, Qt.KeyboardModifier.KeypadModifier)
    assert hand.bench.judged.verdict is SheetVerdict.GOOD
    hand.safe()


def test_slash_goes_on_without_a_reading(open_window: Open, tmp_path: Path) -> None:
    hand = open_window(tmp_path / "shop.sqlite")
    book(hand)
    hand.click("P.4", "P.5")
    hand.qtbot.keyClick(hand.page.entry.field, Qt.Key.Key_Slash)
    assert hand.bench.pair == Pair("L.1", "L.2")  # the check after that one
    assert len(hand.bench.lines) == 0


def test_a_unit_is_found_in_the_list_and_comes_back_with_a_new_job(open_window: Open, tmp_path: Path) -> None:
    hand = open_window(tmp_path / "shop.sqlite")
    tag = book(hand)
    hand.read("P.1", "P.3", "155")
    hand.safe()
    hand.press(hand.page.decide_button)
    assert isinstance(hand.page.dialog, DecideDialog)
    hand.press(hand.page.dialog.choices[Outcome.SCRAP])
    hand.page.dialog.accept()
    hand.press(hand.page.top.to_counter)
    counter = hand.counter
    hand.until(lambda: counter.units.rows.rows)
    hand.qtbot.mouseClick(
        counter.units.viewport(),
        Qt.MouseButton.LeftButton,
        pos=counter.units.visualRect(counter.units.rows.index(0)).center(),
    )
    hand.until(lambda: hand.window.stack.currentWidget() is hand.window.bench_page)
    assert hand.bench.unit.tag == tag
    first = hand.bench.job
    hand.press(hand.page.again)
    dialog = hand.page.dialog
    assert dialog is not None
    hand.qtbot.keyClicks(dialog.complaint, "back again")  # type: ignore[attr-defined]
    dialog.accept()
    hand.until(lambda: hand.bench.job.id != first.id)
    assert (hand.bench.job.complaint, hand.bench.job.number) == ("back again", first.number + 1)
    assert len(hand.bench.lines) == 0
