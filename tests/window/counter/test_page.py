"""The counter's page over a shop that only notes what it is asked."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any
from uuid import uuid4

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from tests.sitting.fakes import AT, HANDHELD, TWO_COILS, WYE, starter
from workbench.records import BenchFile, Job, KeptDraft, PatternRevision, SheetHead, Unit, UnitListed, new_id, now
from workbench.sitting.counter import Counter
from workbench.window.counter.page import CounterPage
from workbench.window.look import Look
from workbench.window.patterns.canvas import PlugCanvas
from workbench.window.theme import LIGHT, Sizes

REVISIONS = tuple(PatternRevision(uuid4(), uuid4(), 1, starter(n), AT) for n in (TWO_COILS, WYE))
UNITS = tuple(Unit(uuid4(), f"SL-{n}", f"sled no. {n}", REVISIONS[0].pattern_id, AT) for n in (1, 2, 3))


@dataclass
class Records:
    """Answers at once; `asked` holds every question that names something."""

    asked: list[tuple[str, Any]] = field(default_factory=list)
    suggestion: str = "SL-4"
    drafted: tuple[KeptDraft, ...] = ()

    def patterns(self, then: Any = None, failed: Any = None) -> None:
        then(REVISIONS)

    def meters(self, then: Any = None, failed: Any = None) -> None:
        then((HANDHELD,))

    def last_meter(self, then: Any = None, failed: Any = None) -> None:
        then(None)

    def drafts(self, kind: str, then: Any = None, failed: Any = None) -> None:
        then(self.drafted)

    def suggest_tag(self, then: Any = None, failed: Any = None) -> None:
        then(self.suggestion)

    def recent_units(self, limit: int = 20, then: Any = None, failed: Any = None) -> None:
        then(tuple(map(UnitListed, UNITS)))

    def search_units(self, text: str, limit: int = 20, then: Any = None, failed: Any = None) -> None:
        self.asked.append(("search", text))
        then(tuple(UnitListed(u) for u in UNITS if text.lower() in u.tag.lower()))

    def find_unit(self, tag: str, then: Any = None, failed: Any = None) -> None:
        self.asked.append(("find", tag))
        then(None)

    def unit_by_tag(self, tag: str, then: Any = None, failed: Any = None) -> None:
        then(None)

    def book(self, unit: Unit, job: Job, then: Any = None, failed: Any = None) -> None:
        self.asked.append(("book", (unit, job)))
        self.booked = unit, job
        then((unit, job))

    def begin_sheet(self, head: SheetHead, then: Any = None, failed: Any = None) -> None:
        self.asked.append(("sheet", head))
        then(BenchFile(*self.booked, REVISIONS[0], head, (), None))


@pytest.fixture
def records() -> Records:
    return Records()


@pytest.fixture
def page(dressed: QApplication, qtbot: QtBot, records: Records) -> Iterator[CounterPage]:
    counter = Counter(records)
    made = CounterPage(Look(LIGHT, Sizes()), counter, "Sandpiper Lane", *[lambda: None] * 4)
    qtbot.addWidget(made)
    made.resize(1366, 728)
    made.show()
    counter.refresh()
    yield made
    made.hide()


def listed(page: CounterPage) -> list[str]:
    return [r.title for r in page.units.rows.rows]


def test_a_part_without_papers_that_is_begun_is_told_below_its_button(page: CounterPage, records: Records) -> None:
    assert not page.begun.isVisible()
    records.drafted = (KeptDraft(new_id(), "which", "5 cavities", "{}", now(), now(), 1),)
    page.counter.refresh()
    assert page.begun.isVisible()
    assert page.begun.text() == "1 part without papers is begun: what was read is kept."


def test_typing_narrows_the_list_and_an_empty_field_shows_the_last_ones(
    page: CounterPage, records: Records, qtbot: QtBot
) -> None:
    assert listed(page) == ["SL-1", "SL-2", "SL-3"]
    qtbot.keyClicks(page.search, "sl-2")
    assert listed(page) == ["SL-2"]
    assert [t for _, t in records.asked] == ["s", "sl", "sl-", "sl-2"]
    page.search.selectAll()
    qtbot.keyClick(page.search, Qt.Key.Key_Delete)
    assert listed(page) == ["SL-1", "SL-2", "SL-3"]


def test_enter_and_the_button_look_for_the_tag(page: CounterPage, records: Records, qtbot: QtBot) -> None:
    page.search.setText(" SL-9 ")
    qtbot.keyClick(page.search, Qt.Key.Key_Return)
    qtbot.mouseClick(page.to_bench, Qt.MouseButton.LeftButton)
    assert records.asked == [("find", "SL-9"), ("find", "SL-9")]
    assert "No unit has the tag “SL-9”" in page.not_found.sentence
    assert page.said.sentence == ""
    assert page.search.property("state") == "refused"


def test_down_goes_from_the_field_to_the_list(page: CounterPage, records: Records, qtbot: QtBot) -> None:
    page.search.setFocus()
    qtbot.keyClicks(page.search, "sl-3")
    qtbot.keyClick(page.search, Qt.Key.Key_Return)
    assert page.not_found.sentence.startswith("No unit has the tag “sl-3”: choose one from the list, look")
    qtbot.keyClick(page.search, Qt.Key.Key_Down)
    qtbot.waitUntil(page.units.hasFocus)
    qtbot.keyClick(page.units, Qt.Key.Key_Return)
    assert records.asked[-1] == ("find", "SL-3")


def test_what_was_refused_is_said_no_longer_once_a_hand_goes_on_with_it(page: CounterPage, qtbot: QtBot) -> None:
    qtbot.keyClick(page.search, Qt.Key.Key_Return)
    assert page.search.property("state") == "refused"
    qtbot.keyClicks(page.search, "s")
    assert (page.not_found.sentence, page.search.property("state")) == ("", "")
    qtbot.mouseClick(page.book, Qt.MouseButton.LeftButton)
    qtbot.keyClicks(page.search, "l")
    assert (page.said.sentence[:3], page.label.property("state")) == ("Say", "refused")
    qtbot.keyClicks(page.label, "red")
    assert (page.said.sentence, page.label.property("state")) == ("", "")
    qtbot.mouseClick(page.book, Qt.MouseButton.LeftButton)
    assert page.pattern.property("state") == "refused"
    qtbot.keyClick(page.pattern, Qt.Key.Key_Down)
    assert (page.said.sentence, page.pattern.property("state")) == ("", "")


def test_an_empty_list_says_why(page: CounterPage, qtbot: QtBot) -> None:
    assert not page.nothing.isVisible()
    qtbot.keyClicks(page.search, "zz")
    assert (page.nothing.isVisible(), page.nothing.text()) == (True, "No part is called that.")
    page.search.selectAll()
    qtbot.keyClick(page.search, Qt.Key.Key_Delete)
    assert not page.nothing.isVisible()


def test_a_row_goes_to_the_bench_by_click_and_by_enter(page: CounterPage, records: Records, qtbot: QtBot) -> None:
    at = page.units.visualRect(page.units.model().index(1, 0)).center()
    qtbot.mouseClick(page.units.viewport(), Qt.MouseButton.LeftButton, pos=at)
    assert records.asked == [("find", "SL-2")]
    page.units.setFocus()
    qtbot.keyClick(page.units, Qt.Key.Key_Down)
    qtbot.keyClick(page.units, Qt.Key.Key_Return)
    assert records.asked[-1] == ("find", "SL-3")


def test_what_is_missing_is_asked_for_and_what_is_typed_stays(
    page: CounterPage, records: Records, qtbot: QtBot
) -> None:
    qtbot.mouseClick(page.book, Qt.MouseButton.LeftButton)
    assert page.said.sentence.startswith("Say what the part came off")
    assert page.not_found.sentence == ""
    qtbot.waitUntil(page.label.hasFocus)
    qtbot.keyClicks(page.label, "red sled")
    qtbot.mouseClick(page.book, Qt.MouseButton.LeftButton)
    assert page.said.sentence.startswith("Choose the pattern")
    assert (page.pattern.property("state"), page.label.property("state")) == ("refused", "")
    assert page.pattern.hasFocus()
    assert page.label.text() == "red sled"
    page.pattern.setCurrentIndex(1)
    page.tag.clear()
    qtbot.mouseClick(page.book, Qt.MouseButton.LeftButton)
    assert "needs a tag" in page.said.sentence
    assert not [a for a in records.asked if a[0] == "book"]


def test_what_was_filled_in_is_what_is_booked(page: CounterPage, records: Records, qtbot: QtBot) -> None:
    page.tag.setText("K-7")
    page.label.setText("red sled")
    page.complaint.setPlainText("no spark\nwhen warm")
    page.seen.setPlainText("a splice")
    page.pattern.setCurrentText(WYE)
    qtbot.mouseClick(page.book, Qt.MouseButton.LeftButton)
    ((_, (unit, job)), (_, head)) = records.asked
    assert (unit.tag, unit.label, unit.pattern_id) == ("K-7", "red sled", REVISIONS[1].pattern_id)
    assert (job.complaint, job.seen) == ("no spark\nwhen warm", "a splice")
    assert (head.job_id, head.revision_id, head.meter_id) == (job.id, REVISIONS[1].id, HANDHELD.id)


def test_a_fresh_suggestion_replaces_the_last_one_but_nothing_that_was_typed(
    page: CounterPage, records: Records
) -> None:
    assert page.tag.text() == "SL-4"
    records.suggestion = "SL-5"
    page.counter.refresh()
    assert page.tag.text() == "SL-5"
    page.tag.setText("K-1")
    records.suggestion = "SL-6"
    page.counter.refresh()
    assert page.tag.text() == "K-1"
    page.clear_form()
    assert (page.tag.text(), page.label.text(), page.pattern.currentIndex()) == ("SL-6", "", -1)


def test_the_chosen_pattern_stays_when_others_come(page: CounterPage, records: Records) -> None:
    page.pattern.setCurrentText(WYE)
    third = PatternRevision(uuid4(), uuid4(), 1, starter("lighting grounded with a tap"), AT)
    page.counter.patterns = (third, *REVISIONS)
    page.refresh()
    assert page.pattern.currentText() == WYE
    assert page.pattern.count() == 3


def test_one_above_the_other_where_there_is_no_room(page: CounterPage, qtbot: QtBot) -> None:
    def side_by_side() -> bool:
        find, new = page.units.mapTo(page, page.units.rect().topLeft()), page.tag.mapTo(page, page.tag.rect().topLeft())
        return find.x() + page.units.width() <= new.x()

    assert side_by_side()
    page.resize(900, 728)
    qtbot.waitUntil(lambda: not side_by_side())


def test_the_chosen_patterns_plugs_are_seen(page: CounterPage, qtbot: QtBot) -> None:
    def plugs() -> list[str]:
        return [f.accessibleName().partition(",")[0] for f in page.preview.findChildren(PlugCanvas) if f.isVisible()]

    for name in (WYE, TWO_COILS):
        page.pattern.setCurrentText(name)
        wanted = [f"Plug {c.name}" for c in starter(name).connectors]
        qtbot.waitUntil(lambda wanted=wanted: plugs() == wanted)
    page.clear_form()
    assert plugs() == []
