"""What every test stands on: no display, a data folder of its own, and silence as part of passing."""

import logging
import os
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

os.environ["QT_QPA_PLATFORM"] = "offscreen"

settings.register_profile("bench", deadline=None, suppress_health_check=[HealthCheck.too_slow], print_blob=True)
settings.load_profile("bench")


@pytest.fixture(autouse=True)
def _own_data_folder(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> Path:
    """No test reads or writes the user's own store."""
    home: Path = tmp_path_factory.mktemp("home")
    for name in ("XDG_DATA_HOME", "XDG_CONFIG_HOME", "XDG_CACHE_HOME"):
        monkeypatch.setenv(name, str(home / name.lower()))
    return home


@pytest.fixture(autouse=True)
def _silence(caplog: pytest.LogCaptureFixture) -> Iterator[None]:
    """A warning in the log fails the test."""
    yield
    loud = [r for when in ("setup", "call") for r in caplog.get_records(when) if r.levelno >= logging.WARNING]
    assert not loud, [r.getMessage() for r in loud]
