"""A power cut at any moment loses no reading that was acknowledged.

Killing a process proves little, for the system's cache outlives it. Here the files are rebuilt as a disk would hold
them that kept only what was synced, and the same harness is shown to find losses where syncs are left out.
"""

import pickle
import random
import subprocess
import sys
from pathlib import Path

import pytest

from db.store import Store
from db.tables import ReadingRow
from db.trouble import StoreTrouble
from tests.db import powercut
from tests.db.child_power import READINGS
from tests.db.invented import BENCH
from tests.db.powercut import Op, lost_after_cuts

pytestmark = pytest.mark.skipif(powercut.why_not() is not None, reason=str(powercut.why_not()))

Noted = tuple[dict[str, bytes], list[Op]]


def _noted(filled_file: Path, folder: Path, synchronous: str) -> Noted:
    base = filled_file.read_bytes()
    (folder / "shop.sqlite").write_bytes(base)
    notes = folder / "notes"
    command = [sys.executable, "-m", "tests.db.child_power", str(folder / "shop.sqlite"), str(notes), synchronous]
    subprocess.run(command, check=True, timeout=60)
    ops: list[Op] = pickle.loads(notes.read_bytes())
    assert sum(op.kind == "ack" for op in ops) == READINGS
    assert {f.name for f in folder.iterdir()} == {"shop.sqlite", "shop.sqlite-wal", "shop.sqlite-shm", "notes"}
    return {"shop.sqlite": base}, ops


@pytest.fixture(scope="module")
def noted(filled_file: Path, tmp_path_factory: pytest.TempPathFactory) -> Noted:
    return _noted(filled_file, tmp_path_factory.mktemp("power"), "full")


def _survivors(folder: Path, files: dict[str, bytes]) -> set[str]:
    """The ids (hex) of all readings in the store that is opened after the cut. Raises StoreTrouble if it is spoilt."""
    for old in folder.iterdir():
        old.unlink()
    for name, content in files.items():
        (folder / name).write_bytes(content)
    store = Store.open(folder / "shop.sqlite", bench=BENCH)  # checks the whole file as well
    try:
        with store.reading() as s:
            assert s.connection().exec_driver_sql("PRAGMA quick_check").scalars().all() == ["ok"]
            return {row.id.hex for row in s.query(ReadingRow)}
    finally:
        store.close()


def _cuts(ops: list[Op], count: int, dice: random.Random) -> set[int]:
    """Some after any operation, some right after an acknowledgement, some amid a checkpoint."""
    acks = [i + 1 for i, op in enumerate(ops) if op.kind == "ack"]
    amid = [i + 1 for i, op in enumerate(ops) if op.file == "shop.sqlite"]
    assert amid, "no checkpoint was noted: the cuts would miss the riskiest moment"
    some = (dice.sample(among, min(count, len(among))) for among in (range(len(ops)), acks, amid))
    return {len(ops)}.union(*some)


def test_with_only_what_was_synced(noted: Noted, tmp_path: Path) -> None:
    base, ops = noted
    cuts = _cuts(ops, 100, random.Random(1))
    assert lost_after_cuts(base, ops, cuts, None, lambda files: _survivors(tmp_path, files)) == []


@pytest.mark.parametrize("seed", [2, 3])
def test_with_any_part_of_what_was_not_synced(seed: int, noted: Noted, tmp_path: Path) -> None:
    base, ops = noted
    dice = random.Random(seed)
    cuts = _cuts(ops, 60, dice)
    assert lost_after_cuts(base, ops, cuts, dice, lambda files: _survivors(tmp_path, files)) == []


def test_the_same_harness_finds_what_is_lost_without_syncs(filled_file: Path, tmp_path: Path) -> None:
    (tmp_path / "run").mkdir()
    (tmp_path / "after").mkdir()
    base, ops = _noted(filled_file, tmp_path / "run", "off")

    def survivors(files: dict[str, bytes]) -> set[str]:
        try:
            return _survivors(tmp_path / "after", files)
        except StoreTrouble:
            return set()

    lost = lost_after_cuts(base, ops, [len(ops)], None, survivors)
    assert [len(missing) for _, missing in lost] == [READINGS]
