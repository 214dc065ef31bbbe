"""An older store brought up to date, after a copy of it was laid beside it. The only place that needs Alembic."""

import sqlite3
from contextlib import closing, suppress
from datetime import UTC, datetime
from pathlib import Path

from sqlalchemy import Engine, text

from db.connect import BEGIN, engine_for, raw, world
from db.look import revision_of
from db.place import make_private_file, sync_folder
from db.revision import History
from db.trouble import StoreTrouble


def upgrade(path: Path, found: str, history: History) -> Path:
    """The copy that was made. Raises StoreTrouble with the store as it was."""
    copy = copy_beside(path, found)
    engine = engine_for(path)
    try:
        with world(path):
            climb(engine, path, history)
    except StoreTrouble:
        engine.dispose()
        with suppress(StoreTrouble):  # a sound store that was not changed needs no copy of itself
            if revision_of(path, history) == found:
                copy.unlink()
        raise
    finally:
        engine.dispose()
    return copy


def copy_beside(path: Path, found: str) -> Path:
    """A whole copy of the store, whose name says its revision and the time (UTC). Raises StoreTrouble."""
    when = datetime.now(UTC).strftime("%Y-%m-%dT%H-%M-%S-%f")
    copy = path.with_name(f"{path.stem}.revision-{found}.{when}Z{path.suffix}")
    try:
        make_private_file(copy)
        with closing(raw(path)) as source, closing(raw(copy)) as target:
            target.execute("PRAGMA synchronous=FULL")
            source.backup(target)
            if target.execute("PRAGMA quick_check(1)").fetchone() != ("ok",):
                raise sqlite3.DatabaseError("the copy is not sound")
    except (OSError, sqlite3.Error) as e:
        copy.unlink(missing_ok=True)
        raise StoreTrouble(
            f"The store {path} must be brought up to date, and the copy that is made first could not be written "
            f"({e}). Nothing was changed. Make room on its disk, close what else uses the store, and try again."
        ) from e
    sync_folder(path.parent)
    return copy


def climb(engine: Engine, path: Path, history: History) -> None:
    """Runs what scripts are wanting, all in one transaction."""
    from alembic import command
    from alembic.config import Config

    config = Config()
    config.set_main_option("script_location", str(history.scripts).replace("%", "%%"))
    with engine.connect().execution_options(**{BEGIN: "BEGIN IMMEDIATE"}) as c:
        raw_connection = c.connection.driver_connection
        assert isinstance(raw_connection, sqlite3.Connection)
        # A rebuilt table is dropped and made anew, which must not pull at its children.
        raw_connection.execute("PRAGMA foreign_keys=OFF")
        with c.begin():
            config.attributes["connection"] = c
            command.upgrade(config, history.head)
            if c.execute(text("PRAGMA foreign_key_check")).first() is not None:
                raise AssertionError(f"the upgrade of {path} to {history.head} left rows without their parents")
        # The file itself says its revision, not only its log: a look at it must be enough.
        raw_connection.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchall()
        raw_connection.execute("PRAGMA foreign_keys=ON")
