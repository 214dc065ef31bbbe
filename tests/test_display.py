"""What is said where no window can open."""

import ctypes

import pytest

from workbench import display


@pytest.fixture
def no_display(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"):
        monkeypatch.delenv(name, raising=False)


@pytest.mark.usefixtures("no_display")
def test_no_display_is_told_apart_from_one_that_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    found = display.probe()
    assert (found.usable, found.qt) == (False, True)
    assert "no display" in found.sentence
    monkeypatch.setenv("DISPLAY", ":1")
    assert display.probe().usable
    assert display.platforms() == "xcb;offscreen"
    monkeypatch.setenv("WAYLAND_DISPLAY", "wayland-0")
    assert display.platforms() == "wayland;xcb;offscreen"


def test_a_missing_library_is_named_with_its_package(monkeypatch: pytest.MonkeyPatch) -> None:
    real = ctypes.CDLL

    def without(name: str, *more: object) -> object:
        if "libqxcb" in name:
            raise OSError("libxcb-icccm.so.4: cannot open shared object file: No such file or directory")
        if name.startswith("libxcb-keysyms"):
            raise OSError(f"{name}: cannot open shared object file: No such file or directory")
        return real(None) if name.startswith("lib") else real(name, *more)  # type: ignore[arg-type]

    monkeypatch.setattr(ctypes, "CDLL", without)
    sentence = display.why_unseen()
    assert "libxcb-icccm.so.4, libxcb-keysyms.so.1" in sentence
    assert sentence.endswith("sudo apt-get install libxcb-icccm4 libxcb-keysyms1.")


def test_a_display_that_does_not_answer_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(display, "missing_libraries", lambda *_, **__: [])
    monkeypatch.setenv("DISPLAY", ":77")
    monkeypatch.delenv("WAYLAND_DISPLAY", raising=False)
    assert display.why_unseen() == "The display ':77' does not answer."
