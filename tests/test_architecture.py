"""The rooms keep to themselves: import contracts, and what is loaded before it is needed."""

import ast
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
SOURCES = sorted(p for room in ("workbench", "db", "demo_shop", "resources") for p in (ROOT / room).rglob("*.py"))


def test_import_contracts_hold() -> None:
    run = subprocess.run([Path(sys.executable).parent / "lint-imports"], cwd=ROOT, capture_output=True, text=True)
    assert run.returncode == 0, run.stdout + run.stderr


@pytest.mark.parametrize("source", SOURCES, ids=lambda p: str(p.relative_to(ROOT)))
def test_files_and_classes_are_one_thing(source: Path) -> None:
    text = source.read_text()
    assert len(text.splitlines()) <= 500
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.ClassDef):
            assert node.end_lineno is not None
            assert node.end_lineno - node.lineno < 300, node.name


def _loaded(code: str) -> set[str]:
    program = f"{code}\nimport sys\nprint(*sys.modules)"
    run = subprocess.run([sys.executable, "-c", program], cwd=ROOT, capture_output=True, text=True, check=True)
    return {name.partition(".")[0] for name in run.stdout.split()}


HEAVY = {"alembic", "scipy", "reportlab", "networkx", "sqlalchemy", "pypdfium2", "pyqtgraph", "jsonschema"}


def test_the_window_paints_before_anything_heavy_is_loaded() -> None:
    code = """
import os
os.environ["QT_QPA_PLATFORM"] = "offscreen"
from workbench.window.app import look_of, make_app
from workbench.window.mainwindow import MainWindow
app = make_app()
window = MainWindow(look_of(app, dark=False), "/nowhere/at/all.sqlite")
painted = window.grab()
assert not painted.isNull()
window.shop.close()
"""
    assert not _loaded(code) & HEAVY


def test_judging_loads_neither_qt_nor_sql() -> None:
    code = """
import io, sys
sys.stdin = io.TextIOWrapper(io.BytesIO(b""))
from workbench.cli import main
main(["judge"])
"""
    assert not _loaded(code) & (HEAVY | {"PySide6", "shiboken6"})
