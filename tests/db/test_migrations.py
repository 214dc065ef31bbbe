"""Models and migrations agree to the letter; an up-to-date store needs no Alembic; an older one is copied first."""

import shutil
import sqlite3
import subprocess
import sys
from pathlib import Path

import pytest
from alembic.config import Config
from alembic.script import ScriptDirectory

from db import connect, queries
from db.create import make_tables
from db.revision import HEAD, HISTORY, REVISIONS, History
from db.store import Store
from db.trouble import StoreTrouble
from db.upgrade import climb
from tests.db.invented import BENCH, READINGS

AFTER = f"{int(HEAD) + 1:04}"
NEXT = f"""
import sqlalchemy as sa
from alembic import op

revision = "{AFTER}"
down_revision = "{HEAD}"


def upgrade() -> None:
    op.create_table("shelves", sa.Column("id", sa.Uuid(), nullable=False))
    with op.batch_alter_table("jobs", recreate="always") as jobs:  # made anew, with rows that hang on it
        jobs.add_column(sa.Column("shelf", sa.Text(), nullable=True))
"""


def _history(folder: Path, script: str) -> History:
    """One that goes on from the true one by a throw-away revision."""
    scripts = Path(shutil.copytree(HISTORY.scripts, folder / "migrations 100%"))
    (scripts / "versions" / f"{AFTER}_next.py").write_text(script, encoding="utf-8")
    return History((*REVISIONS, AFTER), scripts)


def _ddl(path: Path) -> list[tuple[str, str, str | None]]:
    connection = sqlite3.connect(path)
    rows = connection.execute("SELECT type, name, sql FROM sqlite_master ORDER BY type, name").fetchall()
    connection.close()
    # SQLite writes a column that was added later on the line of the one before it; nothing else may differ
    return [(kind, name, " ".join(sql.split()) if sql else None) for kind, name, sql in rows]


def _empty(path: Path) -> Path:
    sqlite3.connect(path).execute("VACUUM").connection.close()
    return path


def test_the_head_is_the_scripts_head() -> None:
    config = Config()
    config.set_main_option("script_location", str(HISTORY.scripts))
    scripts = ScriptDirectory.from_config(config)
    assert scripts.get_heads() == [HEAD]
    assert tuple(r.revision for r in scripts.walk_revisions())[::-1] == REVISIONS


def test_tables_made_and_tables_migrated_are_the_same_text(tmp_path: Path) -> None:
    made, migrated = _empty(tmp_path / "made.sqlite"), _empty(tmp_path / "migrated.sqlite")
    engine = connect.engine_for(made)
    with engine.begin() as c:
        make_tables(c)
    engine.dispose()
    engine = connect.engine_for(migrated)
    climb(engine, migrated, HISTORY)
    engine.dispose()
    assert _ddl(made) == _ddl(migrated)
    assert {kind for kind, _, _ in _ddl(made)} == {"table", "index", "trigger"}


def test_opening_an_up_to_date_store_imports_no_alembic(tmp_path: Path) -> None:
    code = (
        "import sys; from uuid import uuid4; from db.store import Store\n"
        f"for _ in range(2): Store.open({str(tmp_path / 'new.sqlite')!r}, bench=uuid4()).close()\n"
        "sys.exit('alembic' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", code], timeout=60).returncode == 0


def test_an_older_store_is_copied_then_brought_up_to_date(shop_file: Path, tmp_path: Path) -> None:
    before = shop_file.read_bytes()
    history = _history(tmp_path, NEXT)
    store = Store.open(shop_file, bench=BENCH, history=history)
    with store.reading() as s:
        file = queries.sheets.bench_file(s, "KL-0148")
        assert file is not None
        assert file.readings == READINGS
        assert s.connection().exec_driver_sql("SELECT shelf FROM jobs").all() == [(None,)]
        assert s.connection().exec_driver_sql("PRAGMA foreign_keys").scalar_one() == 1
    store.close()

    (copy,) = shop_file.parent.glob(f"shop.revision-{HEAD}.*Z.sqlite")
    assert copy.stat().st_mode & 0o777 == 0o600
    assert _dump(copy) == _dump_of(before, tmp_path / "as-it-was.sqlite")

    Store.open(shop_file, bench=BENCH, history=history).close()
    assert len(list(shop_file.parent.glob("shop.revision-*.sqlite"))) == 1, "an up-to-date store is not copied again"


def test_the_file_itself_says_its_revision_after_an_upgrade(shop_file: Path, tmp_path: Path) -> None:
    """Whoever else holds the store open keeps the log from being folded in at the end; a look must not need it."""
    holder = sqlite3.connect(shop_file)
    holder.execute("SELECT * FROM units").fetchall()
    Store.open(shop_file, bench=BENCH, history=_history(tmp_path, NEXT)).close()
    alone = sqlite3.connect(f"{shop_file.as_uri()}?immutable=1", uri=True)
    assert alone.execute("SELECT version_num FROM alembic_version").fetchone() == (AFTER,)
    alone.close()
    holder.close()


def test_an_upgrade_that_fails_leaves_the_store_as_it_was(shop_file: Path, tmp_path: Path) -> None:
    before = _dump(shop_file)
    history = _history(tmp_path, NEXT + "    raise RuntimeError('half way')\n")
    with pytest.raises(RuntimeError, match="half way"):
        Store.open(shop_file, bench=BENCH, history=history)
    assert _dump(shop_file) == before
    Store.open(shop_file, bench=BENCH).close()


def test_a_newer_store_is_refused(shop_file: Path, tmp_path: Path) -> None:
    Store.open(shop_file, bench=BENCH, history=_history(tmp_path, NEXT)).close()
    before = shop_file.read_bytes()
    with pytest.raises(StoreTrouble, match="made by a newer Plugface") as refusal:
        Store.open(shop_file, bench=BENCH)
    assert AFTER in refusal.value.sentence
    assert shop_file.read_bytes() == before


def _dump(path: Path) -> list[str]:
    connection = sqlite3.connect(path)
    lines = list(connection.iterdump())
    connection.close()
    return lines


def _dump_of(content: bytes, path: Path) -> list[str]:
    path.write_bytes(content)
    return _dump(path)
