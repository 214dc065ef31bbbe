"""How rows are written: adding twice is harmless, and an edit must start from the version that is kept."""

import math
from collections.abc import Mapping
from functools import cache
from typing import Any
from uuid import UUID

from sqlalchemy import Table, Update, bindparam, func, select, update
from sqlalchemy.dialects.sqlite import insert
from sqlalchemy.dialects.sqlite.dml import Insert
from sqlalchemy.orm import Session

from db.queries.benches import bench_of
from db.tables import Row
from db.trouble import ChangedElsewhere

Values = dict[str, Any]


class IdTakenError(ValueError):
    """A row with this id is kept already and says something else: a fault of the program."""


def table_of(row: type[Row]) -> Table:
    table = row.__table__
    assert isinstance(table, Table)
    return table


@cache
def _insert(row: type[Row]) -> Insert:
    # Only the id may collide quietly; every other contradiction must be heard.
    return insert(table_of(row)).on_conflict_do_nothing(index_elements=["id"]).execution_options(preserve_rowcount=True)


def add(session: Session, row: type[Row], values: Values, counted: Mapping[str, Any] | None = None) -> bool:
    """Adds a row, or finds it kept already; True if it was added now.

    `counted`: columns that the store finds out itself, and so are not compared. Raises IdTakenError where the id
    is kept with other values, ValueError for a number that is not finite (SQLite would keep NaN as null).
    """
    _refuse_unfinite(values)
    sent = values | dict(counted or {}) | {"made_on": bench_of(session)}
    if session.connection().execute(_insert(row), sent).rowcount == 1:
        return True
    kept = row_of(session, row, values["id"])
    different = [k for k, v in values.items() if kept is None or kept[k] != v]
    if different:
        raise IdTakenError(f"{table_of(row).name} {values['id']} is kept with another {', '.join(different)}")
    return False


def edit(session: Session, row: type[Row], what: str, values: Values, version: int) -> int:
    """Changes a row that still stands at `version`; the version it has then.

    An edit that is kept already is not made again. Raises ChangedElsewhere, or LookupError where there is no such row.
    """
    _refuse_unfinite(values)
    kept = row_of(session, row, values["id"])
    if kept is None:
        raise LookupError(f"{table_of(row).name} {values['id']} is not kept")
    same = all(kept[k] == v for k, v in values.items())
    if same and kept["version"] in (version, version + 1):
        return int(kept["version"])
    changed = session.connection().execute(
        _update(row), {"of_id": values["id"], "of_version": version, **values, "version": version + 1}
    )
    if changed.rowcount != 1:
        raise ChangedElsewhere(what)
    return version + 1


@cache
def _update(row: type[Row]) -> Update:
    t = table_of(row)
    return update(t).where(t.c.id == bindparam("of_id"), t.c.version == bindparam("of_version"))


def row_of(session: Session, row: type[Row], id: UUID) -> Mapping[str, Any] | None:
    t = table_of(row)
    found = session.connection().execute(select(t).where(t.c.id == id)).first()
    return None if found is None else found._asdict()


def next_place(session: Session, row: type[Row], counter: str, **within: Any) -> int:
    """One more than the highest `counter` among the rows that agree with `within`; from 1."""
    t = table_of(row)
    query = select(func.coalesce(func.max(t.c[counter]), 0) + 1)
    for name, value in within.items():
        query = query.where(t.c[name] == value)
    return int(session.connection().execute(query).scalar_one())


def _refuse_unfinite(values: Values) -> None:
    for name, value in values.items():
        if isinstance(value, float) and not math.isfinite(value):
            raise ValueError(f"{name} must be a finite number, not {value}")
