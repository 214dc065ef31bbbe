"""Entry, lists, band and top bar, each shown what a bench says, without a window around it."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace

import pytest
from PySide6.QtCore import QEvent, QPoint, Qt
from PySide6.QtGui import QColor, QImage, QKeyEvent
from PySide6.QtWidgets import QApplication, QListView
from pytestqt.qtbot import QtBot

from tests.sitting.fakes import bench_of, sound
from workbench.sitting import views
from workbench.sitting.say import Said, Tone
from workbench.stator.pattern import Pair
from workbench.window.bench import entrybar
from workbench.window.bench.bandpanel import BandPanel
from workbench.window.bench.entrybar import EntryBar
from workbench.window.bench.rows import Row, RowList
from workbench.window.bench.tagshape import TagShape
from workbench.window.bench.topbar import TopBar
from workbench.window.look import Look
from workbench.window.theme import LIGHT, Sizes, verdict_ink, verdict_tint

LOOK = Look(LIGHT, Sizes())
K, NO = Qt.Key, Qt.KeyboardModifier.NoModifier
PAD = Qt.KeyboardModifier.KeypadModifier


# ---- the entry


@dataclass
class Told:
    bar: EntryBar
    heard: list[str] = field(default_factory=list)


@pytest.fixture
def entry(dressed: QApplication, qtbot: QtBot) -> Iterator[Told]:
    heard: list[str] = []
    bar = EntryBar(
        LOOK,
        lambda text: heard.append(f"enter {text}"),
        lambda: heard.append("open"),
        lambda: heard.append("next"),
        lambda text: heard.append(f"typing {text}"),
    )
    qtbot.addWidget(bar)
    bar.resize(660, 160)
    bar.show()
    yield Told(bar, heard)
    bar.hide()


def test_a_number_pad_says_all_there_is_to_say(entry: Told, qtbot: QtBot) -> None:
    for key in (K.Key_1, K.Key_Period, K.Key_5, K.Key_Enter):
        qtbot.keyClick(entry.bar.field, key, PAD)
    assert entry.heard[-1] == "enter 1.5"
    entry.heard.clear()
    entry.bar.field.clear()
    qtbot.keyClick(entry.bar.field, K.Key_Asterisk, PAD)
    qtbot.keyClick(entry.bar.field, K.Key_Slash, PAD)
    assert entry.heard == ["open", "next"]
    assert entry.bar.field.text() == ""


def test_a_star_amid_a_number_is_not_an_overload(entry: Told, qtbot: QtBot) -> None:
    qtbot.keyClicks(entry.bar.field, "15")
    qtbot.keyClick(entry.bar.field, K.Key_Asterisk)
    assert "open" not in entry.heard


@pytest.mark.parametrize(("key", "text", "the_benchs"), [
    (K.Key_E, "", True), (K.Key_E, "17", True), (K.Key_D, "17", True), (K.Key_Z, "", True), (K.Key_Z, "17", False),
    (K.Key_A, "17", False), (K.Key_C, "17", False), (K.Key_V, "", False),
])  # fmt: skip
def test_which_keys_the_field_leaves_to_the_bench(entry: Told, key: K, text: str, the_benchs: bool) -> None:
    entry.bar.field.setText(text)
    asked = QKeyEvent(QEvent.Type.ShortcutOverride, key, Qt.KeyboardModifier.ControlModifier)
    asked.ignore()
    QApplication.sendEvent(entry.bar.field, asked)
    assert asked.isAccepted() is not the_benchs


def test_a_key_of_the_benchs_is_the_benchs_even_where_fields_use_it(
    entry: Told, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Fields use Ctrl+E and Ctrl+D on Linux desktops, but not without a display; Ctrl+A they use everywhere."""
    assert {K.Key_E, K.Key_D} <= set(entrybar.BENCH_KEYS)
    monkeypatch.setattr(entrybar, "BENCH_KEYS", (K.Key_A,))
    asked = QKeyEvent(QEvent.Type.ShortcutOverride, K.Key_A, Qt.KeyboardModifier.ControlModifier)
    asked.ignore()
    QApplication.sendEvent(entry.bar.field, asked)
    assert not asked.isAccepted()


def test_what_was_refused_is_marked_and_replaced_by_typing_anew(entry: Told, qtbot: QtBot) -> None:
    bar = entry.bar
    refusal = Said(Tone.REFUSES, "That is no reading.")
    bar.show_entry("1 – 3", "junk", refusal, "")
    assert bar.field.property("state") == "refused"
    assert bar.said.sentence == refusal.sentence
    qtbot.keyClicks(bar.field, "15")
    assert bar.field.text() == "15"
    bar.show_entry("1 – 3", "15", refusal, "")  # news from elsewhere: what is being typed stays as it is
    qtbot.keyClicks(bar.field, "5")
    assert bar.field.text() == "155"
    bar.show_entry("1 – 3", "", None, "")
    assert bar.field.property("state") == ""


def test_the_last_result_is_large_and_coloured_by_its_word(entry: Told) -> None:
    bar = entry.bar
    bar.show_result("1 – 3", "153.9 ± 3.9 Ω", "out")
    assert bar.result.fontInfo().pixelSize() >= 48
    assert bar.result.palette().color(bar.result.foregroundRole()) == QColor(verdict_ink(LIGHT, "out"))
    assert (bar.read.text(), bar.result.text(), bar.word.text()) == ("1 – 3", "153.9 ± 3.9 Ω", "out")


# ---- the lists


ROWS = tuple(Row(i, f"{i} – 3", "up to 5 Ω", "", "", f"pair {i}") for i in range(4))


@pytest.fixture
def rows(dressed: QApplication, qtbot: QtBot) -> Iterator[RowList]:
    made = RowList(LOOK, "Checks")
    qtbot.addWidget(made)
    made.resize(300, 240)
    made.rows.show_rows(ROWS)
    made.show()
    yield made
    made.hide()


def test_a_selection_stays_while_its_row_changes(rows: RowList) -> None:
    changed: list[int] = []
    rows.rows.dataChanged.connect(lambda a, b: changed.append(a.row()))
    rows.select_key(2)
    assert rows.key() == 2
    rows.rows.show_rows([replace(r, value="155 Ω", word="in") if r.key == 1 else r for r in ROWS])
    assert changed == [1]
    assert rows.key() == 2
    rows.select_key("no such key")
    assert rows.key() is None


def test_each_row_is_spoken_and_whole_in_its_tip(rows: RowList) -> None:
    model = rows.model()
    for role in (Qt.ItemDataRole.AccessibleTextRole, Qt.ItemDataRole.ToolTipRole, Qt.ItemDataRole.DisplayRole):
        assert [model.index(i, 0).data(role) for i in range(4)] == [r.spoken for r in ROWS]
    assert rows.accessibleName() == "Checks"


def drawn(rows: RowList, row: Row) -> QImage:
    rows.rows.show_rows([row])
    return rows.viewport().grab().toImage()


def test_what_is_not_safe_yet_struck_or_out_looks_so(rows: RowList) -> None:
    plain = Row(1, "1 – 3", "shown 155", "153 ± 4 Ω", "in", "")
    looks = [
        drawn(rows, r)
        for r in (
            plain,
            replace(plain, hollow=True),
            replace(plain, struck=True),
            replace(plain, word="out"),
            replace(plain, value="", word=""),
        )
    ]
    assert all(a != b for i, a in enumerate(looks) for b in looks[:i])


def test_a_row_is_large_enough_and_long_words_do_not_widen_the_list(rows: RowList, qtbot: QtBot) -> None:
    assert rows.visualRect(rows.model().index(0, 0)).height() >= 40
    rows.rows.show_rows([Row(1, "t" * 300, "d" * 300, "153.9 ± 3.9 Ω", "in", "")])
    qtbot.waitUntil(lambda: rows.visualRect(rows.model().index(0, 0)).width() <= rows.viewport().width())
    assert rows.horizontalScrollBarPolicy() is Qt.ScrollBarPolicy.ScrollBarAlwaysOff
    assert isinstance(rows, QListView)


# ---- the band


Draw = Callable[[str], tuple[BandPanel, QImage]]


@pytest.fixture
def draw(dressed: QApplication, qtbot: QtBot) -> Draw:
    """The band of the first check with this number read; none for an empty text."""
    panel = BandPanel(LOOK)
    qtbot.addWidget(panel)
    panel.resize(340, 220)
    panel.show()

    def drawn(typed: str) -> tuple[BandPanel, QImage]:
        bench, _ = bench_of()
        pair = bench.offered
        if typed:
            bench.enter(typed)
            if len(bench.lines) == 0:
                bench.enter(typed)
        panel.show_band(views.band(bench, pair))
        return panel, panel.scale.grab().toImage()

    return drawn


def inked(image: QImage, colour: str) -> list[QPoint]:
    wanted = QColor(colour)
    return [
        QPoint(x, y) for x in range(image.width()) for y in range(image.height()) if image.pixelColor(x, y) == wanted
    ]


def test_nothing_read_the_band_alone(draw: Draw) -> None:
    panel, image = draw("")
    assert panel.scale.accessibleDescription().split(": ")[1].startswith("not read, band 139.5 … 170.5")
    assert panel.band.text().startswith("139.5 … 170.5 Ω, from the pattern")
    assert inked(image, verdict_ink(LIGHT, "out")) == []


def test_a_value_stands_where_it_belongs_on_the_scale(draw: Draw) -> None:
    places = []
    for typed in ("142.0", "155.2", "168.0"):
        panel, image = draw(typed)
        ink = inked(image, verdict_ink(LIGHT, views_word(panel)))
        assert ink
        axis = [p.x() for p in ink if p.y() > image.height() * 0.35]
        places.append(sum(axis) / len(axis))
    assert places == sorted(places)
    assert places[0] < places[1] < places[2]


def test_its_bar_reaches_as_far_as_its_u_both_ways(draw: Draw) -> None:
    _, image = draw("155.2")
    value, band = inked(image, verdict_ink(LIGHT, "in")), inked(image, verdict_tint(LIGHT, "in"))
    assert value
    left, right = min(p.x() for p in band), max(p.x() for p in band)
    bench, _ = bench_of()
    bench.enter("155.2")
    row = bench.last_row(bench.last) if bench.last else None
    assert row is not None
    assert row.corrected is not None
    px = (right - left) / (170.5 - 139.5)
    middle = left + (row.corrected.ohms - 139.5) * px
    within = range(left + 3, right - 2)  # the band's ends have the same ink
    caps = [p.x() for p in value if p.y() > image.height() * 0.35 and abs(p.x() - middle) > 6 and p.x() in within]
    assert min(caps) == pytest.approx(middle - row.corrected.expanded * px, abs=2.5)
    assert max(caps) == pytest.approx(middle + row.corrected.expanded * px, abs=2.5)


def views_word(panel: BandPanel) -> str:
    return panel.scale.accessibleDescription().split(": ")[1].split(",")[0].rsplit(" ", 1)[1]


def test_a_value_far_off_is_drawn_at_the_edge_and_said(draw: Draw) -> None:
    panel, image = draw("12.0k")
    assert " out, band" in panel.scale.accessibleDescription()
    ink = inked(image, verdict_ink(LIGHT, "out"))
    assert ink
    marker = [p.x() for p in ink if p.y() > image.height() * 0.35]
    assert image.width() - 20 <= min(marker) <= image.width() - 11  # its dot, not only the end of its bar
    assert "Above" in panel.note.text()


def test_where_open_belongs_there_is_no_scale(dressed: QApplication, qtbot: QtBot) -> None:
    panel = BandPanel(LOOK)
    qtbot.addWidget(panel)
    bench, _ = bench_of()
    panel.show_band(views.band(bench, Pair("P.1", "core")))
    assert panel.scale.isHidden()
    assert "open" in panel.band.text()
    panel.show_band(views.band(bench, None))
    assert "Pick two pins" in panel.note.text()


# ---- the top


def test_each_verdict_has_a_shape_of_its_own_and_is_written(dressed: QApplication, qtbot: QtBot) -> None:
    tag = TagShape(LOOK)
    qtbot.addWidget(tag)
    tag.resize(tag.sizeHint())
    outlines = []
    for word in ("GOOD", "FAIL", "NOT PROVED", "UNFINISHED"):
        tag.show_word(word)
        assert tag.accessibleDescription() == word
        image = tag.grab().toImage()
        outlines.append(image.copy(image.width() - 18, 0, 18, image.height()))  # the far edge, clear of the word
        notch = image.pixelColor(image.width() - 6, image.height() // 2)
        if word in ("GOOD", "FAIL"):  # both filled, the one whole and the other torn
            assert (notch == image.pixelColor(0, 0)) is (word == "FAIL")
    assert all(a != b for i, a in enumerate(outlines) for b in outlines[:i])


def test_what_the_top_says_follows_the_sheet(dressed: QApplication, qtbot: QtBot) -> None:
    top = TopBar(LOOK, lambda: None, lambda: None)
    qtbot.addWidget(top)
    bench, _ = bench_of()
    top.show_heading(views.heading(bench))
    assert (top.tag.text(), top.unit.text(), top.verdict.word) == ("T-0001", "red sled", "UNFINISHED")
    assert top.progress.text() == "0 of 9 checks read"
    while bench.offered is not None:
        bench.enter(sound(bench, bench.offered))
    top.show_heading(views.heading(bench))
    assert top.verdict.word == "GOOD"
    assert top.progress.text() == "all 9 checks read"


@pytest.mark.parametrize("two", [False, True])
def test_long_names_do_not_widen_the_top(dressed: QApplication, qtbot: QtBot, two: bool) -> None:
    top = TopBar(LOOK, lambda: None, lambda: None)
    qtbot.addWidget(top)
    top.set_two_rows(two)
    bench, _ = bench_of()
    short = top.minimumSizeHint().width()
    long = "machine " * 40
    top.show_heading(replace(views.heading(bench), tag="T" * 60, label=long, job=long, meter=long, pattern=long))
    assert top.minimumSizeHint().width() <= max(short, 1366)
    top.resize(1366, top.sizeHint().height())
    top.show()
    for w in (top.to_counter, top.edit, top.verdict):
        at = w.mapTo(top, QPoint(0, 0))
        assert at.x() >= 0
        assert at.x() + w.width() <= 1366
