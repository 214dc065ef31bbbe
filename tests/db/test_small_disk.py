"""Disks that are full or read-only: real ones, small, mounted in a namespace of the test's own."""

import shutil
import subprocess
import sys
from functools import cache
from pathlib import Path

import pytest


@cache
def _can_mount() -> bool:
    unshare = shutil.which("unshare")
    if unshare is None:
        return False
    tried = subprocess.run(
        [unshare, "-m", "mount", "-t", "tmpfs", "-o", "size=64k", "none", "/mnt"], capture_output=True, check=False
    )
    return tried.returncode == 0


pytestmark = pytest.mark.skipif(not _can_mount(), reason="no small disk can be mounted here (needs unshare and root)")


def _run(deed: str, shop_file: Path, tmp_path: Path) -> list[str]:
    folder = tmp_path / "disk"
    folder.mkdir()
    command = [sys.executable, "-m", "tests.db.child_small_disk", deed, str(folder), str(shop_file)]
    child = subprocess.run(["unshare", "-m", *command], capture_output=True, text=True, timeout=60, check=False)
    assert child.returncode == 0, child.stderr
    return child.stdout.splitlines()


def test_a_write_on_a_full_disk_is_told_and_can_be_sent_again(shop_file: Path, tmp_path: Path) -> None:
    sentence, outcome = _run("full", shop_file, tmp_path)
    assert "is full" in sentence
    assert "stays on the screen and can be tried again" in sentence
    assert outcome == "1 True", "the first that failed follows the last that was kept, and all are there at the end"


@pytest.mark.parametrize(
    ("deed", "happened"),
    [
        ("read-only-disk", "can't be written to"),
        ("read-only-file", "can't be written to"),
        ("read-only-place", "is missing and can't be made (read-only file system)"),
        ("full-new", "is full"),
        ("full-amid-new", "is full"),
        ("full-old", "is full"),
        ("full-copy", "the copy that is made first could not be written"),
        ("full-amid-upgrade", "is full"),
    ],
)
def test_opening_there_is_refused_with_nothing_touched(
    deed: str, happened: str, shop_file: Path, tmp_path: Path
) -> None:
    sentence, outcome = _run(deed, shop_file, tmp_path)
    assert happened in sentence
    assert " Nothing was changed. " in sentence
    assert outcome == "untouched"
