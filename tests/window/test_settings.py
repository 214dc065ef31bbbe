"""What this bench likes, kept and read back, whatever someone wrote into the file."""

import pytest
from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from workbench.window import settings
from workbench.window.likingdialog import LikingDialog
from workbench.window.look import Look
from workbench.window.settings import Liking


@pytest.fixture(autouse=True)
def own_file(tmp_path: object, monkeypatch: pytest.MonkeyPatch) -> None:
    path = f"{tmp_path}/bench.ini"
    monkeypatch.setattr(settings, "_file", lambda: QSettings(path, QSettings.Format.IniFormat))


def test_at_first_the_next_pair_pulses_and_verdicts_sound() -> None:
    assert settings.load() == Liking(tones=True, moves=True)


def test_what_is_liked_comes_back() -> None:
    liked = Liking("dark", 1.5, tones=True, moves=False, pedal="F9", shop="Otter Quay, sleds & cycles", learns=False)
    settings.save(liked)
    assert settings.load() == liked


@pytest.mark.parametrize(("name", "value"), [("theme", "purple"), ("text_scale", "huge"), ("tones", "maybe")])
def test_what_cannot_be_read_is_as_at_first(name: str, value: str) -> None:
    file = settings._file()
    file.setValue(name, value)
    file.sync()
    assert settings.load() == Liking(tones=True, moves=True)


def test_a_shops_name_written_by_hand_is_taken_as_it_reads() -> None:
    with open(settings._file().fileName(), "w", encoding="utf-8") as file:
        file.write("[General]\nshop=Otter Quay, sleds and cycles\n")
    assert settings.load().shop == "Otter Quay, sleds and cycles"


def test_text_is_never_smaller_than_usual_nor_beyond_twice() -> None:
    for wanted, got in ((0.1, 1.0), (9.0, 2.0)):
        settings.save(Liking(text_scale=wanted))
        assert settings.load().text_scale == got


def test_the_dialog_says_what_is_wanted(dressed: QApplication, qtbot: QtBot) -> None:
    liked = Liking("light", 1.25, tones=True, moves=True, pedal="F9", learns=False)
    dialog = LikingDialog(None, Look(), liked)  # type: ignore[arg-type]
    qtbot.addWidget(dialog)
    assert dialog.liking == liked
    dialog.moves.click()
    dialog.theme.setCurrentIndex(2)
    dialog.shop.setText("  Otter Quay ")
    assert dialog.liking == Liking("dark", 1.25, tones=True, moves=False, pedal="F9", shop="Otter Quay", learns=False)


def test_a_shop_that_has_its_name_given_is_not_asked_for_one(dressed: QApplication, qtbot: QtBot) -> None:
    for names in (True, False):
        dialog = LikingDialog(None, Look(), Liking(), names=names)  # type: ignore[arg-type]
        qtbot.addWidget(dialog)
        dialog.show()
        assert dialog.shop.isVisible() is names
        dialog.reject()


def test_whether_the_odds_follow_is_kept_by_itself() -> None:
    settings.save(Liking("dark", pedal="F9"))
    settings.keep_learns(False)
    assert settings.load() == Liking("dark", pedal="F9", learns=False)
    settings.keep_learns(True)
    assert settings.load().learns
