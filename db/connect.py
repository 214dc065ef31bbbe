"""Connections to the store's file, each with the pragmas that everything else relies on."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from sqlalchemy import Engine, QueuePool, create_engine, event
from sqlalchemy.engine import Connection
from sqlalchemy.exc import DBAPIError

from db.trouble import Moment, StoreTrouble, trouble_from

APPLICATION_ID = 0x506C4667  # "PlFg"
BUSY_SECONDS = 2.0
BEGIN = "store_begin"

# What must hold on every connection, as SQLite answers it. Without recursive triggers, INSERT OR REPLACE
# would delete a row of an append-only table unnoticed. fullfsync is what makes macOS flush its disks.
PRAGMAS: dict[str, str | int] = {
    "journal_mode": "wal",
    "synchronous": 2,
    "foreign_keys": 1,
    "recursive_triggers": 1,
    "busy_timeout": int(BUSY_SECONDS * 1000),
    "fullfsync": 1,
    "checkpoint_fullfsync": 1,
}


def raw(path: Path, mode: str = "rw") -> sqlite3.Connection:
    """A bare connection to a file that must exist. `mode`: rw, ro, or ro&immutable=1 (leaves no trace beside it)."""
    return sqlite3.connect(
        f"{path.as_uri()}?mode={mode}",
        uri=True,
        timeout=BUSY_SECONDS,
        isolation_level=None,  # we say BEGIN ourselves: sqlite3 would leave reads outside of it
        check_same_thread=False,
    )


def prepare(connection: sqlite3.Connection, path: Path) -> None:
    """Sets the pragmas and reads them back. Raises StoreTrouble where one doesn't hold."""
    for name, wanted in PRAGMAS.items():
        connection.execute(f"PRAGMA {name}={wanted}").fetchall()
        (held,) = connection.execute(f"PRAGMA {name}").fetchone()
        if held != wanted:
            raise StoreTrouble(
                f"The place of the store {path} can't keep it safe ({name} stays {held}). Nothing was changed. "
                "It is perhaps a network share: choose a folder on a disk of this machine."
            )


def engine_to_read(path: Path, mode: str) -> Engine:
    """An engine that can write nothing. `mode`: as for `raw`."""
    return create_engine("sqlite+pysqlite://", creator=lambda: raw(path, mode), poolclass=QueuePool, pool_size=1)


@contextmanager
def world(path: Path, moment: Moment = Moment.ASKING) -> Iterator[None]:
    """Turns an error of the world, however it is wrapped, into StoreTrouble; lets the program's own pass."""
    try:
        yield
    except (sqlite3.Error, DBAPIError) as e:
        trouble = _trouble(e, path, moment)
        if trouble is None:
            raise
        raise trouble from e


def _trouble(error: sqlite3.Error | DBAPIError, path: Path, moment: Moment) -> StoreTrouble | None:
    cause = error.orig if isinstance(error, DBAPIError) else error
    return trouble_from(cause, path, moment) if isinstance(cause, sqlite3.Error) else None


def engine_for(path: Path) -> Engine:
    """An engine whose transactions start as `BEGIN`, or as the execution option named by BEGIN says."""

    def connect() -> sqlite3.Connection:
        connection = raw(path)
        try:
            prepare(connection, path)
        except BaseException:
            connection.close()
            raise
        return connection

    engine = create_engine("sqlite+pysqlite://", creator=connect, poolclass=QueuePool, pool_size=1, max_overflow=2)

    @event.listens_for(engine, "begin")
    def begin(connection: Connection) -> None:
        how: Any = connection.get_execution_options().get(BEGIN, "BEGIN")
        connection.exec_driver_sql(how)

    return engine
