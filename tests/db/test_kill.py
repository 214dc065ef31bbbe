"""A program that is killed amid its work loses nothing that it said was kept."""

import signal
import subprocess
import sys
from pathlib import Path

from db.store import Store
from db.tables import ReadingRow
from tests.db.invented import BENCH

KEPT_BEFORE_THE_KILL = 150


def test_all_that_was_acknowledged_is_there_after_a_kill(shop_file: Path) -> None:
    command = [sys.executable, "-m", "tests.db.child_keeps", str(shop_file)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as child:
        assert child.stdout is not None
        printed = [child.stdout.readline() for _ in range(KEPT_BEFORE_THE_KILL)]
        child.kill()
        printed += child.stdout.readlines()
    assert child.returncode == -signal.SIGKILL
    acknowledged = {line.strip() for line in printed if line.endswith("\n")}
    assert len(acknowledged) >= KEPT_BEFORE_THE_KILL
    store = Store.open(shop_file, bench=BENCH)
    with store.reading() as s:
        assert acknowledged <= {row.id.hex for row in s.query(ReadingRow)}
    store.close()
