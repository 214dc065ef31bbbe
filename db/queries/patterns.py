"""Patterns and their revisions."""

from datetime import datetime
from uuid import UUID

from sqlalchemy import Select, func, select
from sqlalchemy.orm import Session

from db.bodies import digest_of, pattern_of, pattern_text
from db.keep import add
from db.tables import PatternRevisionRow, PatternRow
from workbench.records import PatternRevision, new_id
from workbench.stator.pattern import Pattern


def save(
    session: Session,
    pattern: Pattern,
    made_at: datetime,
    id: UUID | None = None,
    pattern_id: UUID | None = None,
) -> PatternRevision:
    """A further revision of the pattern of that name, or its first; the latest one where nothing changed.

    `pattern_id`: a new pattern's.
    """
    latest = by_name(session, pattern.name)
    body = pattern_text(pattern)
    if latest is not None and pattern_text(latest.pattern) == body:
        return latest
    if latest is None:
        pattern_id = pattern_id or new_id()
        add(session, PatternRow, {"id": pattern_id, "name": pattern.name, "made_at": made_at})
    else:
        pattern_id = latest.pattern_id
    id = id or new_id()
    values = {
        "id": id,
        "pattern_id": pattern_id,
        "number": latest.number + 1 if latest else 1,
        "body": body,
        "digest": digest_of(body),
        "made_at": made_at,
    }
    add(session, PatternRevisionRow, values)
    return revision(session, id)


def latest(session: Session) -> tuple[PatternRevision, ...]:
    """The latest revision of every pattern, by name."""
    return tuple(record(r) for r in session.scalars(_latest().order_by(PatternRow.name)))


def by_name(session: Session, name: str) -> PatternRevision | None:
    row = session.scalar(_latest().where(PatternRow.name == name))
    return None if row is None else record(row)


def revision(session: Session, id: UUID) -> PatternRevision:
    """Raises LookupError."""
    row = session.get(PatternRevisionRow, id)
    if row is None:
        raise LookupError(f"there is no pattern revision {id}")
    return record(row)


def _latest() -> "Select[PatternRevisionRow]":
    r = PatternRevisionRow
    newest = select(r.pattern_id, func.max(r.number).label("number")).group_by(r.pattern_id).subquery()
    return (
        select(r)
        .join(newest, (r.pattern_id == newest.c.pattern_id) & (r.number == newest.c.number))
        .join(PatternRow, PatternRow.id == r.pattern_id)
    )


def record(row: PatternRevisionRow) -> PatternRevision:
    return PatternRevision(row.id, row.pattern_id, row.number, pattern_of(row.body), row.made_at)
