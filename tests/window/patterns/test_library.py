"""The library: a pattern found, its revisions beside it, a draft gone on with or dropped."""

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from tests.drafting.drawn import wired
from tests.sitting.fakes import AT, TAPPED, TWO_COILS, starter
from workbench.records import KeptDraft, PatternRevision, new_id
from workbench.sitting.draftkeep import body_of
from workbench.window.look import Look
from workbench.window.patterns.library import LibraryPage
from workbench.window.theme import LIGHT, Sizes

K, LEFT = Qt.Key, Qt.MouseButton.LeftButton
ONE = PatternRevision(new_id(), new_id(), 2, starter(TWO_COILS), AT)
OLDER = replace(ONE, id=new_id(), number=1, pattern=replace(ONE.pattern, checks=None))
OTHER = PatternRevision(new_id(), new_id(), 1, starter(TAPPED), AT)
DRAFT = KeptDraft(new_id(), "pattern", "half a plug", "{}", AT, AT)


@pytest.fixture
def library(dressed: QApplication, qtbot: QtBot) -> LibraryPage:
    page = LibraryPage(Look(LIGHT, Sizes()), lambda: None, lambda: None)
    qtbot.addWidget(page)
    page.resize(1366, 728)
    page.show()
    page.show_patterns((ONE, OTHER), ())
    return page


def titles(page: LibraryPage) -> list[str]:
    return [r.title for r in page.rows.rows.rows]


def test_words_find_it_and_enter_opens_it(library: LibraryPage, qtbot: QtBot) -> None:
    assert titles(library) == [TWO_COILS, TAPPED]
    assert library.count.text() == "2 of them"
    QTest.keyClicks(library.search, "grounded tap")
    assert titles(library) == [TAPPED]
    assert library.count.text() == "1 of 2"
    with qtbot.waitSignal(library.opens) as told:
        QTest.keyClick(library.search, K.Key_Return)
    assert told.args == [OTHER]
    library.search.clear()
    QTest.keyClicks(library.search, "high-speed")  # a winding's
    assert titles(library) == [TWO_COILS]
    QTest.keyClicks(library.search, " nowhere")
    assert titles(library) == []
    assert not library.open.isEnabled()
    assert library.past.none.text() == "No pattern is chosen."


def test_the_one_that_is_clicked_shows_its_revisions(library: LibraryPage, qtbot: QtBot) -> None:
    at = library.rows.visualRect(library.rows.rows.index(1)).center()
    with qtbot.waitSignal(library.chose) as told:
        QTest.mouseClick(library.rows.viewport(), LEFT, pos=at)
    assert told.args == [OTHER]
    assert library.past.aside.text() == TAPPED
    library.past.show_revisions((OLDER, ONE))  # come too late
    assert [r.key for r in library.past.rows.rows.rows] == [OTHER.id]
    library.rows.select_key(ONE.id)
    library.past.show_revisions((OLDER, ONE))
    rows = library.past.rows.rows.rows
    assert [(r.title, r.value) for r in rows] == [("revision 2", "stands"), ("revision 1", "earlier")]
    assert rows[1].detail.startswith("made on 20")
    assert pictured(library)


def test_an_older_one_is_looked_at(library: LibraryPage, qtbot: QtBot) -> None:
    library.past.show_revisions((OLDER, ONE))
    assert library.past.chosen == ONE
    library.past.rows.select_key(OLDER.id)
    with qtbot.waitSignal(library.past.looks) as told:
        QTest.mouseClick(library.past.look_at, LEFT)
    assert told.args == [OLDER]
    with qtbot.waitSignal(library.past.compares) as told:
        QTest.mouseClick(library.past.compare, LEFT)
    assert told.args == [ONE]


def test_a_draft_stands_first_goes_on_and_is_dropped_only_when_that_is_meant(
    library: LibraryPage, qtbot: QtBot
) -> None:
    assert library.drop.isHidden()
    library.show_patterns((ONE, OTHER), (replace(DRAFT, id=new_id(), body=body_of(wired(), None)), DRAFT))
    library.rows.select_key(library.rows.rows.rows[0].key)
    assert pictured(library)  # as far as it is drawn
    library.show_patterns((ONE, OTHER), (DRAFT,))
    library.rows.select_key(DRAFT.id)
    assert titles(library)[0] == "half a plug"
    assert library.rows.rows.rows[0].value == "goes on"
    assert not library.bands.isEnabled()
    assert library.past.none.isVisible()
    with qtbot.waitSignal(library.goesOn) as told:
        QTest.mouseClick(library.open, LEFT)
    assert told.args == [DRAFT]
    dropped: list[object] = []
    library.drops.connect(dropped.append)
    QTest.mouseClick(library.drop, LEFT)
    _drop, keep = library.said.buttons
    QTest.mouseClick(keep, LEFT)
    assert dropped == []
    assert library.said.sentence == ""
    QTest.mouseClick(library.drop, LEFT)
    QTest.mouseClick(library.said.buttons[0], LEFT)
    assert dropped == [DRAFT]


def test_words_pass_over_drafts_too_so_that_enter_opens_what_was_found(library: LibraryPage, qtbot: QtBot) -> None:
    library.show_patterns((ONE, OTHER), (DRAFT,))
    QTest.keyClicks(library.search, "grounded tap")
    assert titles(library) == [TAPPED]
    with qtbot.waitSignal(library.opens) as told:
        QTest.keyClick(library.search, K.Key_Return)
    assert told.args == [OTHER]
    library.search.setText("half")
    assert titles(library) == ["half a plug"]


def test_a_further_revision_is_the_one_chosen(library: LibraryPage) -> None:
    library.rows.select_key(OTHER.id)
    further = replace(OTHER, id=new_id(), number=2)
    library.show_patterns((ONE, further), (DRAFT,))
    assert library.chosen == further
    library.choose(new_id())
    assert library.chosen == further


def test_a_picture_shows_the_face_and_takes_no_picks(library: LibraryPage) -> None:
    picture = library.past.face.picture
    assert picture is not None
    pins = library.past.face.face.buttons
    assert pins
    assert not any(p.isVisible() for p in pins)
    first = picture.grab().toImage()
    QTest.mouseClick(picture, LEFT, pos=pins[0].geometry().center())
    assert picture.grab().toImage() == first
    library.rows.select_key(OTHER.id)
    assert picture.grab().toImage() != first
    assert "plug" in picture.accessibleName()


def pictured(page: LibraryPage) -> bool:
    picture = page.past.face.picture
    return picture is not None and picture.isVisible()
