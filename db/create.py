"""A new store: built whole beside its place, then given its name at one stroke."""

from contextlib import suppress
from pathlib import Path
from uuid import uuid4

from sqlalchemy import insert
from sqlalchemy.engine import Connection

import db.triggers  # noqa: F401 - hangs the triggers on the tables
from db.connect import APPLICATION_ID, engine_for, raw, world
from db.look import beside
from db.place import make_folder, make_private_file, place_new, remove_folders
from db.revision import HEAD
from db.tables import STAMP, Row
from db.trouble import StoreTrouble


def create(path: Path) -> None:
    """Makes an empty store of the head revision. Raises StoreTrouble and leaves nothing behind."""
    made = make_folder(path.parent)
    draft = path.with_name(f".{path.name}.{uuid4().hex}.new")
    try:
        with world(path):
            make_private_file(draft)
            _build(draft)
            place_new(draft, path)
    except FileExistsError:
        return  # another start of the program made it meanwhile; it is looked at like any other
    except OSError as e:
        raise StoreTrouble(
            f"The store {path} can't be made ({(e.strerror or 'no reason given').lower()}). Nothing was changed. "
            "Make room there, give this user the right to write there, or choose another place for the store."
        ) from e
    finally:
        for ending in ("", "-wal", "-shm", "-journal"):
            with suppress(NotADirectoryError):  # a file stands where the folder should be: there is no draft
                beside(draft, ending).unlink(missing_ok=True)
        if not path.exists():
            remove_folders(made)


def _build(draft: Path) -> None:
    # The id must stand in the file itself, not only in its log: it is read there before SQLite opens it.
    connection = raw(draft)
    try:
        connection.execute("PRAGMA synchronous=FULL")
        connection.execute(f"PRAGMA application_id={APPLICATION_ID}")
    finally:
        connection.close()
    engine = engine_for(draft)
    try:
        with engine.begin() as c:
            make_tables(c)
        with engine.connect() as c:
            c.connection.driver_connection.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchall()  # type: ignore[union-attr]
    finally:
        engine.dispose()


def make_tables(connection: Connection) -> None:
    """Every table, index and trigger of the head revision, and its stamp."""
    Row.metadata.create_all(connection)
    STAMP.create(connection)
    connection.execute(insert(STAMP).values(version_num=HEAD))
