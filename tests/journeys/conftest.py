"""A real window on a real store, used by clicks and keys; closed afterwards."""

import shutil
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QMessageBox
from pytestqt.qtbot import QtBot

from demo_shop.build import PracticePart, bench_part
from demo_shop.run import write_demo
from demo_shop.story import BENCH_TAG
from tests.window.conftest import nothing_left_behind  # noqa: F401 - a fixture for these tests too
from workbench.sitting.bench import Bench
from workbench.window.app import look_of
from workbench.window.bench.desk import BenchDesk
from workbench.window.bench.page import BenchPage
from workbench.window.counter.page import CounterPage
from workbench.window.mainwindow import MainWindow

HERE = Path(__file__).parent
# what the offscreen platform says of itself
HARMLESS = r"^This plugin does not support (propagateSizeHints\(\)|raise\(\)|grabbing the keyboard)"


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    for item in items:
        if HERE in item.path.parents:
            item.add_marker(pytest.mark.qt_log_level_fail("WARNING"))
            item.add_marker(
                pytest.mark.qt_log_ignore(
                    r"^This plugin does not support (propagateSizeHints\(\)|raise\(\)|grabbing the keyboard)"
                )
            )


@dataclass
class Hand:
    """What a technician does at the window."""

    qtbot: QtBot
    window: MainWindow

    @property
    def page(self) -> BenchPage:
        assert self.window.bench_page is not None
        return self.window.bench_page

    @property
    def benches(self) -> BenchDesk:
        assert self.window.benches is not None
        return self.window.benches

    @property
    def bench(self) -> Bench:
        return self.page.bench

    @property
    def counter(self) -> CounterPage:
        assert self.window.counter is not None
        return self.window.counter

    def until(self, done: Callable[[], object]) -> None:
        self.qtbot.waitUntil(lambda: bool(done()), timeout=10_000)

    def click(self, *nodes: str) -> None:
        """Real clicks on real cavities, going to the plug that has them."""
        for node in nodes:
            plug = node.partition(".")[0]
            face = self.page.face
            if node != "core" and plug != self.bench.plug:
                thumb = next(t for t in face.strip.thumbs if t.node == plug)
                self.qtbot.mouseClick(thumb, Qt.MouseButton.LeftButton)
            self.qtbot.mouseClick(face.face.button(node), Qt.MouseButton.LeftButton)

    def type(self, text: str) -> None:
        """Keys in the entry field, then Enter."""
        field = self.page.entry.field
        self.qtbot.keyClicks(field, text)
        self.qtbot.keyClick(field, Qt.Key.Key_Return)

    def read(self, one: str, other: str, typed: str) -> None:
        self.click(one, other)
        self.type(typed)

    def press(self, button: object) -> None:
        self.qtbot.mouseClick(button, Qt.MouseButton.LeftButton)

    def safe(self) -> None:
        self.until(lambda: not self.bench.lines.saving)

    def said(self) -> str:
        return self.page.entry.said.sentence

    def front(self) -> None:
        """The window in front, which a closed dialog leaves open on a screen without a window manager."""
        self.window.activateWindow()
        self.until(self.window.isActiveWindow)

    def shortcut(self, key: Qt.Key) -> None:
        """Ctrl and a key, with the focus where the hands left it."""
        self.front()
        self.qtbot.keyClick(self.window.focusWidget() or self.window, key, Qt.KeyboardModifier.ControlModifier)

    def close(self) -> None:
        self.window.close()


Open = Callable[..., Hand]


@pytest.fixture
def open_window(qtbot: QtBot, qapp: QApplication, monkeypatch: pytest.MonkeyPatch) -> Iterator[Open]:
    opened: list[Hand] = []

    def make(store: Path, *, ready: bool = True, dark: bool = False, text_scale: float = 1.0, **more: object) -> Hand:
        look = look_of(qapp, dark=dark, text_scale=text_scale)
        window = MainWindow(look, str(store), **more)  # type: ignore[arg-type]
        hand = Hand(qtbot, window)
        opened.append(hand)
        window.show()
        if ready:
            hand.until(lambda: window.counter is not None and window.counter.counter.patterns)
        return hand

    yield make
    # a failed test must not wait for an answer that nobody gives
    monkeypatch.setattr(QMessageBox, "question", lambda *_: QMessageBox.StandardButton.Close)
    for hand in opened:
        if hand.window.dialog is not None:
            hand.window.dialog.reject()
        if hand.window.card_dialog is not None:
            hand.window.card_dialog.reject()
        hand.window.close()
        hand.window.deleteLater()


@pytest.fixture(scope="session")
def _demo_store(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("demo") / "demo.sqlite"
    with pytest.MonkeyPatch.context() as at:  # made before the test's own data folder stands
        at.setenv("XDG_DATA_HOME", str(path.parent))
        write_demo(str(path))
    return path


@pytest.fixture(scope="session")
def stocked(_demo_store: Path) -> Path:
    """A shop's store to copy: it has units, and every pattern and meter that ships."""
    return _demo_store


@pytest.fixture
def demo(open_window: Open, _demo_store: Path, tmp_path: Path) -> Hand:
    """The demo, its failing part on the bench, in a store of the test's own."""
    own = tmp_path / "demo.sqlite"
    shutil.copyfile(_demo_store, own)
    part = PracticePart(bench_part())
    hand = open_window(own, start_tag=BENCH_TAG, practice=(BENCH_TAG, part.shows))
    hand.until(lambda: hand.window.bench_page is not None)
    return hand
