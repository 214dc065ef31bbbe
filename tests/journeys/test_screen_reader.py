"""The real program, used through the system's accessibility bus alone: what a screen reader can see, press and hear."""

import json
import os
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import pytest

import workbench

CLIENT = Path(__file__).with_name("reader_client.py")
SYSTEM_PYTHON = "/usr/bin/python3"
TOOLS = ("Xvfb", "dbus-run-session", "xdotool")
HAS_BINDING = "import gi; gi.require_version('Atspi', '2.0'); from gi.repository import Atspi"
ENTRY = "What the meter shows, or two pins"
SECONDS = 100


def missing() -> str:
    lacks = [t for t in TOOLS if shutil.which(t) is None]
    here = Path(SYSTEM_PYTHON).exists()
    if not here or subprocess.run([SYSTEM_PYTHON, "-c", HAS_BINDING], capture_output=True).returncode:
        lacks.append("gir1.2-atspi-2.0 with python3-gi")
    if not any(Path(p, "at-spi-bus-launcher").exists() for p in ("/usr/libexec", "/usr/lib/at-spi2-core")):
        lacks.append("at-spi2-core")
    return ", ".join(lacks)


LACKS = missing()
pytestmark = pytest.mark.skipif(bool(LACKS), reason=f"no screen reader's client here: {LACKS} not installed")


@pytest.fixture
def display() -> Iterator[str]:
    """A screen of its own, by a number that is free."""
    read, write = os.pipe()
    server = subprocess.Popen(
        ["Xvfb", "-displayfd", str(write), "-screen", "0", "1366x768x24", "-nolisten", "tcp"],
        pass_fds=(write,),
        stderr=subprocess.DEVNULL,
    )
    os.close(write)
    with os.fdopen(read) as told:
        number = told.readline().strip()  # ends empty if the server does
    try:
        assert number, "no screen could be made"
        yield f":{number}"
    finally:
        server.terminate()
        server.wait(10)


def use(display: str, *steps: tuple[Any, ...]) -> list[Any]:
    """Each step's answer."""
    with TemporaryDirectory(prefix="plugface-reader-") as folder:  # short enough for a socket's path
        asked = Path(folder, "steps.json")
        asked.write_text(json.dumps(steps))
        env = os.environ | {
            "DISPLAY": display,
            "QT_QPA_PLATFORM": "xcb",
            "QT_LINUX_ACCESSIBILITY_ALWAYS_ON": "1",
            "XDG_RUNTIME_DIR": folder,
            "TMPDIR": folder,  # the program is ended at work, and clears nothing away by itself
            "NO_AT_BRIDGE": "",
        }
        for stale in ("WAYLAND_DISPLAY", "AT_SPI_BUS_ADDRESS", "DBUS_SESSION_BUS_ADDRESS"):
            env.pop(stale, None)
        program = [sys.executable, "-m", "workbench", "demo", "--date", "2026-03-02"]
        ran = subprocess.run(
            ["dbus-run-session", "--", SYSTEM_PYTHON, "-W", "ignore", str(CLIENT), str(asked), *program],
            cwd=Path(workbench.__file__).parents[1],
            env=env,
            capture_output=True,
            text=True,
            timeout=SECONDS,
        )
        assert ran.returncode == 0, ran.stderr
        assert list(Path(folder).glob("plugface-demo-store-*")), "the demo's store is left somewhere else"
    found: list[Any] = json.loads(ran.stdout.splitlines()[-1])
    return found


def test_a_pair_is_found_picked_read_and_its_verdict_heard(display: str) -> None:
    shows = "the practice part's meter shows"
    before, pin, _, _, picked, other, hint, _, result, after = use(
        display,
        ("table", "Pairs of plug P"),
        ("see", "pin 3, socket, plug P"),
        ("press", "pin 3, socket, plug P"),
        ("press", "pin 2, blade, plug P"),
        ("hear", "In hand"),
        ("see", "pin 2, blade, plug P"),
        ("label", shows),
        ("type", ENTRY, {"found": 6}),
        ("hear", "P 3 – 2:"),
        ("table", "Pairs of plug P"),
    )
    assert before[1][1] == "P 3 – 2: not read, should be 15.3 … 18.7 Ω, planned"
    assert pin[0] == "check box"
    assert picked == "In hand: P 3 – 2."
    assert other[1].startswith("picked")
    assert other[2] is True
    typed = hint.removeprefix(shows).strip()
    assert float(typed) == pytest.approx(17.4, abs=1)  # what a sound coil shows, leads and all
    assert result.startswith("P 3 – 2: 17.")
    assert ", in. Next: P 1 – 3." in result
    assert after[1][1].startswith("P 3 – 2: 17.")
    assert " in, should be 15.3 … 18.7 Ω" in after[1][1]
    assert after[0] == before[0]


def test_the_sheets_verdict_a_question_and_a_refusal_are_heard(display: str) -> None:
    shows = "the practice part's meter shows"
    _, out, remedy, _, fail, weighed, tag, _, refusal = use(
        display,
        ("label", shows),
        ("type", ENTRY, {"found": 0}),
        ("hear", "P 1 – 3:"),
        ("hear", ""),
        ("type", ENTRY, {"found": 0}),
        ("hear", "P 1 – 3:"),
        ("hear", ""),
        ("see", "Verdict of the sheet"),
        ("type", ENTRY, "nonsense"),
        ("hear", "nonsense"),
    )[1:]
    assert out.startswith("P 1 – 3: ")
    assert out.endswith(" Ω, out.")  # no other pair is next: it is to be read again, and that is heard
    assert "read it again" in remedy
    assert "out. The sheet: FAIL. Next: " in fail
    assert weighed.startswith("Next: ")  # weighed meanwhile, another pair tells more
    assert tag[1] == "FAIL"
    assert refusal.startswith("“nonsense” is not a reading: ")
