"""A look at what lies at the store's place, without a trace, before anything opens it for writing."""

import os
import sqlite3
from contextlib import closing
from pathlib import Path

from db.connect import APPLICATION_ID, raw, world
from db.revision import History
from db.trouble import StoreTrouble, damaged, full, has_no_room

_MAGIC = b"SQLite format 3\0"
_APPLICATION_ID_AT = 68  # bytes into the header, SQLite file format 1.3


def beside(path: Path, ending: str) -> Path:
    return path.with_name(path.name + ending)


def refuse_unwritable(path: Path) -> None:
    """Raises StoreTrouble where the file, or the folder that must hold its log, can't be written to or is full."""
    for one in (path, path.parent):
        if one.exists() and not os.access(one, os.R_OK | os.W_OK):
            raise StoreTrouble(
                f"The store {path} can't be written to: {'the file' if one == path else 'its folder'} is read-only. "
                "Nothing was changed. "
                "Give this user the right to write there, or choose another place for the store."
            )
    if path.exists() and has_no_room(path.parent):  # SQLite would leave the beginnings of a log behind
        raise full(path)


def refuse_lost_log(path: Path) -> None:
    """A log without its store holds records: a new store beside it would spoil them."""
    log = beside(path, "-wal")
    if log.exists() and log.stat().st_size:
        raise StoreTrouble(
            f"The store {path} is gone but its log {log.name} is still there, and holds records. Nothing was changed. "
            "Put the store's file back beside it; if it is lost, move the log away and put back the latest copy."
        )


def revision_of(path: Path, history: History) -> str:
    """The revision of a sound store that this program knows. Raises StoreTrouble; changes nothing."""
    _refuse_strangers(path)
    with world(path), closing(raw(path, reading_mode(path))) as connection:
        found = _stamp(connection)
        if found not in history.revisions:
            raise _newer(path, found) if found else damaged(path)
        if connection.execute("PRAGMA quick_check(1)").fetchone() != ("ok",):
            raise damaged(path)
    return found


def reading_mode(path: Path) -> str:
    """How to read without a trace. With a log beside it the file alone is half the truth, and only an ordinary
    reader sees both."""
    log = beside(path, "-wal")
    return "ro" if log.exists() and log.stat().st_size else "ro&immutable=1"


def refuse_older(path: Path, found: str, history: History) -> None:
    """For a reader, who can't bring it up to date."""
    if found != history.head:
        raise StoreTrouble(
            f"The store {path} is of an older revision ({found}), and only to be read here. Nothing was changed. "
            "Open it once with Plugface, which brings it up to date, then try again."
        )


def _stamp(connection: sqlite3.Connection) -> str:
    """Empty where there is none."""
    known = connection.execute("SELECT 1 FROM sqlite_master WHERE name = 'alembic_version'").fetchone()
    row = connection.execute("SELECT version_num FROM alembic_version").fetchone() if known else None
    return str(row[0]) if row else ""


def _newer(path: Path, found: str) -> StoreTrouble:
    return StoreTrouble(
        f"The store {path} was made by a newer Plugface (its revision {found} is not known here). Nothing was changed. "
        "Use the newer program on it, or choose another place for a store of this one."
    )


def _refuse_strangers(path: Path) -> None:
    if not path.is_file():
        raise StoreTrouble(f"{path} is not a file. Nothing was changed. Choose the path of a file for the store.")
    try:
        with path.open("rb") as f:
            header = f.read(100)
    except OSError as e:
        raise StoreTrouble(
            f"The store {path} can't be read. Nothing was changed. "
            "Check that its disk is connected and that this user may read it, then try again."
        ) from e
    if not header:
        raise StoreTrouble(
            f"The file {path} is empty: there are no records in it. Nothing was changed. If there should be some, "
            "put back the latest copy; if not, remove the empty file and a new store is made."
        )
    if not header.startswith(_MAGIC):
        raise StoreTrouble(
            f"The file {path} is not a store, or its beginning is damaged. Nothing was changed. "
            "If it should hold your records, keep it aside and put back the latest copy; else choose another place."
        )
    stamped = header[_APPLICATION_ID_AT : _APPLICATION_ID_AT + 4]
    if int.from_bytes(stamped, "big") != APPLICATION_ID:
        raise StoreTrouble(
            f"The file {path} belongs to another program. Nothing was changed. Choose another place for the store."
        )
