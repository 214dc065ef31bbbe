"""`plugface rewind`, as a whole process."""

import json
import subprocess
import sys

from tests.exchange.rewind.asks import example
from workbench.exchange.rewind import ASKS as ASKS_BY_NAME

HEAVY = "alembic scipy reportlab networkx sqlalchemy PySide6 shiboken6 pypdfium2 pyqtgraph"
ASKS = [example(name)["ask"] for name in ("wire", "coil", "strip", "layout", "substitute")]


def test_every_ask_is_answered_and_a_refusal_told_by_the_exit() -> None:
    lines = "".join(json.dumps(a) + "\n" for a in ASKS)
    good = subprocess.run(
        [sys.executable, "-m", "workbench", "rewind"], input=lines, capture_output=True, text=True, timeout=60
    )
    assert (good.returncode, good.stderr) == (0, "")
    answers = [json.loads(line) for line in good.stdout.splitlines()]
    assert [a["id"] for a in answers] == [a["id"] for a in ASKS]
    assert not any("error" in a for a in answers)
    misses = json.dumps(example("coil-misses")["ask"]) + "\n" + lines
    mixed = subprocess.run(
        [sys.executable, "-m", "workbench", "rewind"], input=misses, capture_output=True, text=True, timeout=60
    )
    assert mixed.returncode == 1
    first, *rest = [json.loads(line) for line in mixed.stdout.splitlines()]
    assert "too many" in first["error"]
    assert rest == answers


def test_its_help_tells_what_it_reads_and_every_ask() -> None:
    told = subprocess.run(
        [sys.executable, "-m", "workbench", "rewind", "--help"], capture_output=True, text=True, timeout=60
    ).stdout
    assert "standard input" in told
    for name in ASKS_BY_NAME:
        assert name in told


def test_it_loads_neither_qt_nor_sql() -> None:
    code = f"""
import io, sys
sys.stdin = io.TextIOWrapper(io.BytesIO({"".join(json.dumps(a) + chr(10) for a in ASKS).encode()!r}))
from workbench.cli import main
assert main(["rewind"]) == 0
print(*(m for m in {HEAVY.split()!r} if m in sys.modules), file=sys.stderr)
"""
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=60)
    assert (ran.returncode, ran.stderr.strip()) == (0, "")
