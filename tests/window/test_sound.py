"""Whether there may be something to play a tone on."""

import sys
import threading
from pathlib import Path
from unittest.mock import Mock

import pytest

from workbench.window.tones import Tones, can_sound

linux = pytest.mark.skipif(sys.platform != "linux", reason="looked for on Linux alone")


@linux
def test_a_sound_server_is_found_by_its_socket(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("PULSE_SERVER", raising=False)
    monkeypatch.setenv("XDG_RUNTIME_DIR", str(tmp_path))
    monkeypatch.setattr(Path, "glob", lambda self, pattern: iter(()))
    assert not can_sound()
    (tmp_path / "pipewire-0").touch()
    assert can_sound()
    (tmp_path / "pipewire-0").unlink()
    monkeypatch.setenv("PULSE_SERVER", "unix:/somewhere")
    assert can_sound()


@linux
def test_where_there_is_none_its_library_is_never_asked(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("workbench.window.tones.can_sound", lambda: False)
    asked: list[object] = []
    monkeypatch.setitem(sys.modules, "miniaudio", Mock(PlaybackDevice=asked.append, SampleFormat=Mock()))
    tones = Tones()
    tones.play("in")
    assert tones.played == "in"
    tones.close()
    for thread in threading.enumerate():
        if thread.name.startswith("tones"):
            thread.join()
    assert asked == []
