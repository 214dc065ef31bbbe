"""`plugface which`, as a whole process."""

import json
import subprocess
import sys
from pathlib import Path

from tests.exchange.test_which import PART, a_pattern, library_text

HEAVY = "alembic scipy reportlab networkx sqlalchemy PySide6 shiboken6 pypdfium2 pyqtgraph"


def run(*args: str, stdin: str = "") -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "workbench", "which", *args], input=stdin, capture_output=True, text=True, timeout=60
    )


def test_it_answers_line_by_line_and_tells_a_refusal_by_its_exit(tmp_path: Path) -> None:
    shelf = tmp_path / "shelf.jsonl"
    shelf.write_bytes(library_text(a_pattern("low"), a_pattern("high", 150)))
    good = run("--library", str(shelf), stdin=json.dumps(PART) + "\n\n")
    assert (good.returncode, good.stderr) == (0, "")
    assert json.loads(good.stdout)["patterns"][0]["name"] == "low"
    wrong = PART | {"id": "wrong", "celsius": 900}
    mixed = run("--library", str(shelf), stdin=f"{json.dumps(wrong)}\n{json.dumps(PART)}\n")
    answers = [json.loads(line) for line in mixed.stdout.splitlines()]
    assert mixed.returncode == 1
    assert [a["id"] for a in answers] == ["wrong", "part-1"]
    assert answers[0]["error"].startswith("celsius: ")


def test_a_library_with_a_bad_line_answers_nothing(tmp_path: Path) -> None:
    shelf = tmp_path / "shelf.jsonl"
    shelf.write_bytes(library_text(a_pattern("low"), a_pattern("off", -1)))
    ran = run("--library", str(shelf), stdin=json.dumps(PART))
    assert (ran.returncode, ran.stdout) == (2, "")
    (line,) = ran.stderr.splitlines()
    assert line.startswith(f"Line 2 of the library {shelf} can't be used: windings[0].ohms: ")
    assert run(stdin=json.dumps(PART)).returncode == 2


def test_it_loads_neither_qt_nor_sql(tmp_path: Path) -> None:
    shelf = tmp_path / "shelf.jsonl"
    shelf.write_bytes(library_text(a_pattern("low")))
    code = f"""
import io, sys
sys.stdin = io.TextIOWrapper(io.BytesIO({json.dumps(PART).encode()!r}))
from workbench.cli import main
assert main(["which", "--library", {str(shelf)!r}]) == 0
print(*(m for m in {HEAVY.split()!r} if m in sys.modules), file=sys.stderr)
"""
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=60)
    assert (ran.returncode, ran.stderr.strip()) == (0, "")
