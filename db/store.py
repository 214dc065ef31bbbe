"""The open store: sessions that write and sessions that read, on one connection that lives as long as it."""

import os
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path
from uuid import UUID

from sqlalchemy import Engine
from sqlalchemy.engine import Connection
from sqlalchemy.orm import Session

from db.connect import BEGIN, engine_for, engine_to_read, world
from db.create import create
from db.look import reading_mode, refuse_lost_log, refuse_older, refuse_unwritable, revision_of
from db.place import bench_id, path_of
from db.queries.benches import know_bench
from db.revision import HISTORY, History
from db.trouble import Moment, StoreTrouble
from db.upgrade import upgrade
from workbench.records import now

NO_BENCH = UUID(int=0)


def none_there(path: Path) -> StoreTrouble:
    return StoreTrouble(f"There is no store at {path}. Nothing was made. Look at the path and try again.")


class Store:
    """A store of this program's revision, open. Belongs to one thread at a time."""

    def __init__(self, path: Path, bench: UUID, engine: Engine, connection: Connection) -> None:
        self.path = path
        self.bench = bench
        self.engine = engine
        self._connection = connection

    @classmethod
    def open(
        cls,
        place: str | os.PathLike[str],
        *,
        bench: UUID | None = None,
        history: History = HISTORY,
        make: bool = True,
        clock: Callable[[], datetime] = now,
    ) -> "Store":
        """Opens, makes or brings up to date the store at a path or sqlite URL.

        `bench`: this bench's id; by default the one kept in the user's data folder. `make`: whether a store that
        isn't there is made. `clock`: what moment it is. Raises StoreTrouble, having changed nothing.
        """
        path = path_of(place)
        refuse_unwritable(path)
        if not os.path.lexists(path):
            if not make:
                raise none_there(path)
            refuse_lost_log(path)
            create(path)
        found = revision_of(path, history)
        if found != history.head:
            upgrade(path, found, history)
        bench = bench_id() if bench is None else bench
        engine = engine_for(path)
        try:
            with world(path, Moment.ASKING):
                store = cls(path, bench, engine, engine.connect())
            store._introduce(clock)
        except BaseException:
            engine.dispose()
            raise
        return store

    @classmethod
    def look(cls, place: str | os.PathLike[str], *, history: History = HISTORY) -> "Store":
        """A store that is only read: nothing is made, brought up to date or written, not even which bench this is.

        Raises StoreTrouble, also where the store is of an older revision.
        """
        path = path_of(place)
        if not os.path.lexists(path):
            raise none_there(path)
        refuse_older(path, revision_of(path, history), history)
        engine = engine_to_read(path, reading_mode(path))
        try:
            with world(path, Moment.ASKING):
                return cls(path, NO_BENCH, engine, engine.connect())
        except BaseException:
            engine.dispose()
            raise

    def _introduce(self, clock: Callable[[], datetime]) -> None:
        with self.reading(Moment.ASKING) as session:
            known = know_bench(session, self.bench, make_at=None)
        if not known:
            with self.writing(Moment.ASKING) as session:
                know_bench(session, self.bench, make_at=clock())

    @contextmanager
    def writing(self, moment: Moment = Moment.WRITING) -> Iterator[Session]:
        """One transaction, on disk when the block ends; nothing of it if the block raises. Raises StoreTrouble."""
        with world(self.path, moment), self._session("BEGIN IMMEDIATE") as session, session.begin():
            session.connection()  # begins now: whoever can't write must know before anything is asked
            yield session

    @contextmanager
    def reading(self, moment: Moment = Moment.ASKING) -> Iterator[Session]:
        """One consistent view. Raises StoreTrouble."""
        with world(self.path, moment), self._session("BEGIN") as session:
            yield session

    def _session(self, begin: str) -> Session:
        self._connection.execution_options(**{BEGIN: begin})
        return Session(self._connection, autoflush=False, expire_on_commit=False, info={"bench": self.bench})

    def close(self) -> None:
        self._connection.close()
        self.engine.dispose()
