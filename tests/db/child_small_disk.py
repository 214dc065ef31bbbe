"""Run as `python -m tests.db.child_small_disk DEED FOLDER STORE` in a mount namespace of its own; prints what it saw.

FOLDER becomes a small disk of its own, with a copy of STORE on it.
"""

import errno
import os
import shutil
import subprocess
import sys
from pathlib import Path

from db.revision import HEAD, HISTORY, REVISIONS, History
from db.store import Store
from db.trouble import StoreTrouble
from tests.db.invented import BENCH, reading
from tests.db.snapshot import snapshot
from workbench.shop import Shop


def main(deed: str, folder: Path, source: Path) -> None:
    subprocess.run(["mount", "-t", "tmpfs", "-o", "size=1m", "none", str(folder)], check=True)
    path = Path(shutil.copy(source, folder / "shop.sqlite"))
    if deed == "full":
        _full(path)
        return
    target = path
    if deed == "read-only-disk":
        subprocess.run(["mount", "-o", "remount,ro", str(folder)], check=True)
    elif deed == "read-only-file":
        subprocess.run(["mount", "--bind", str(path), str(path)], check=True)
        subprocess.run(["mount", "-o", "remount,ro,bind", str(path)], check=True)
    elif deed in ("full-new", "full-amid-new", "full-old", "full-copy"):
        _fill_up(folder / "ballast")
        if deed in ("full-amid-new", "full-copy"):
            os.truncate(folder / "ballast", (folder / "ballast").stat().st_size - (100 << 10))
        target = folder / "new.sqlite" if deed.endswith("new") else path
    elif deed == "read-only-place":
        subprocess.run(["mount", "-o", "remount,ro", str(folder)], check=True)
        target = folder / "deeper" / "new.sqlite"
    history = _longer(folder.parent) if deed in ("full-copy", "full-amid-upgrade") else HISTORY
    before = snapshot(folder)
    try:
        Store.open(target, bench=BENCH, history=history)
    except StoreTrouble as e:
        _say(e.sentence)
    after = snapshot(folder)
    if deed.startswith("full"):  # a draft came and went, which leaves its time on the folder and nothing else
        after["."] = before["."]
    _say("untouched" if after == before else f"touched: {[n for n in after if after[n] != before.get(n)]}")


def _longer(folder: Path) -> History:
    """A history with one revision more, which needs more room than there is."""
    scripts = Path(shutil.copytree(HISTORY.scripts, folder / "migrations"))
    following = f"{int(HEAD) + 1:04}"
    (scripts / "versions" / f"{following}_next.py").write_text(
        f"from alembic import op\nrevision, down_revision = '{following}', '{HEAD}'\n"
        "def upgrade() -> None:\n    op.execute('CREATE TABLE ballast AS SELECT zeroblob(2000000) AS weight')\n"
    )
    return History((*REVISIONS, following), scripts)


def _full(path: Path) -> None:
    """Readings until the disk is full; room; the one that failed once more."""
    shop = Shop(str(path), bench=BENCH)
    shop.open().result()
    shop.keep_reading(reading(0)).result()
    ballast = path.with_name("ballast")
    _fill_up(ballast)
    kept = failed = 0
    for number in range(1, 400):
        try:
            shop.keep_reading(reading(number)).result()
            kept = number
        except StoreTrouble as e:
            _say(e.sentence)
            failed = number
            break
    ballast.unlink()
    shop.keep_reading(reading(failed)).result()
    shop.keep_reading(reading(kept)).result()
    file = shop.find_unit("KL-0148").result()
    shop.close()
    assert file is not None
    _say(f"{failed - kept} {len(file.readings) - 4 == failed + 1}")


def _fill_up(ballast: Path) -> None:
    with ballast.open("wb", buffering=0) as f:
        try:
            while f.write(bytes(1024)):
                pass
        except OSError as e:
            if e.errno != errno.ENOSPC:
                raise


def _say(line: str) -> None:
    sys.stdout.write(f"{line}\n")


if __name__ == "__main__":
    main(sys.argv[1], Path(sys.argv[2]), Path(sys.argv[3]))
