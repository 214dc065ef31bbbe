"""What is append-only stays so whoever asks; every connection holds what the rest relies on."""

import sqlite3
from pathlib import Path

import pytest
from sqlalchemy import insert, text
from sqlalchemy.exc import IntegrityError

from db.connect import PRAGMAS, engine_for, prepare
from db.store import Store
from db.tables import ReadingRow, StrikeRow
from db.trouble import StoreTrouble
from tests.db.invented import BENCH, HEAD_OF_SHEET, at, uid

APPEND_ONLY = ("pattern_revisions", "readings", "strikes", "decisions", "cards")


@pytest.mark.parametrize("table", APPEND_ONLY)
def test_no_program_can_edit_or_delete(table: str, shop_file: Path) -> None:
    """Not even one that is not ours, on a bare connection with SQLite's own defaults."""
    connection = sqlite3.connect(shop_file)
    before = connection.execute(f"SELECT * FROM {table}").fetchall()
    assert before
    for deed in (f"UPDATE {table} SET made_on = made_on", f"DELETE FROM {table}"):
        with pytest.raises(sqlite3.IntegrityError, match="append-only"):
            connection.execute(deed)
    assert connection.execute(f"SELECT * FROM {table}").fetchall() == before
    connection.close()


@pytest.mark.parametrize("table", APPEND_ONLY)
def test_replacing_a_row_is_editing_it(table: str, store: Store) -> None:
    with pytest.raises(IntegrityError, match="append-only"), store.writing() as s:
        s.execute(text(f"INSERT OR REPLACE INTO {table} SELECT * FROM {table}"))


def test_every_pooled_connection_holds_the_pragmas(shop_file: Path) -> None:
    engine = engine_for(shop_file)
    connections = [engine.connect() for _ in range(3)]
    for c in connections:
        held = {name: c.exec_driver_sql(f"PRAGMA {name}").scalar_one() for name in PRAGMAS}
        assert held == {
            "journal_mode": "wal",
            "synchronous": 2,  # FULL
            "foreign_keys": 1,
            "recursive_triggers": 1,
            "busy_timeout": 2000,
            "fullfsync": 1,
            "checkpoint_fullfsync": 1,
        }
    for c in connections:
        c.close()
    engine.dispose()


def test_a_pragma_that_does_not_hold_is_refused(tmp_path: Path) -> None:
    """A database in memory stands for a place that can't keep a log."""
    memory = sqlite3.connect(":memory:", isolation_level=None)
    with pytest.raises(StoreTrouble, match="can't keep it safe"):
        prepare(memory, tmp_path / "shop.sqlite")
    memory.close()


def test_a_child_needs_its_parent(store: Store) -> None:
    row = {
        "id": uid(900),
        "sheet_id": uid(901),
        "place": 1,
        "node_from": "P.1",
        "node_to": "P.2",
        "typed": "1",
        "taken_at": at(0),
        "made_on": BENCH,
    }
    with pytest.raises(IntegrityError, match="FOREIGN KEY"), store.writing() as s:
        s.execute(insert(ReadingRow).values(row))


@pytest.mark.parametrize(
    ("changed", "constraint"),
    [
        ({"place": 0}, "ck_readings_place"),
        ({"node_to": "P.1"}, "ck_readings_nodes"),
        ({"range_upto_ohms": 0.0}, "ck_readings_range_upto_ohms"),
        ({"place": 2}, "readings.sheet_id, readings.place"),
    ],
)
def test_rows_that_can_not_be_true(changed: dict[str, object], constraint: str, store: Store) -> None:
    row = {
        "id": uid(900),
        "sheet_id": HEAD_OF_SHEET.id,
        "place": 50,
        "node_from": "P.1",
        "node_to": "P.2",
        "typed": "1",
        "taken_at": at(0),
        "made_on": BENCH,
    }
    with pytest.raises(IntegrityError, match=constraint), store.writing() as s:
        s.execute(insert(ReadingRow).values(row | changed))


def test_a_strike_has_a_reason(store: Store) -> None:
    row = {"id": uid(900), "reading_id": uid(12), "reason": "  ", "struck_at": at(0), "made_on": BENCH}
    with pytest.raises(IntegrityError, match="ck_strikes_reason"), store.writing() as s:
        s.execute(insert(StrikeRow).values(row))
