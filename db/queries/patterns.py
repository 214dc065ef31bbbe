"""Patterns and their revisions."""

from collections.abc import Sequence
from datetime import datetime
from uuid import UUID

from sqlalchemy import Select, func, select
from sqlalchemy.orm import Session

from db.bodies import digest_of, pattern_of, pattern_text
from db.keep import add
from db.tables import PatternRevisionRow, PatternRow
from db.trouble import PatternsThere
from workbench.records import Arrival, Brought, PatternRevision, new_id
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


def bring_in(
    session: Session, patterns: Sequence[Pattern], made_at: datetime, *, as_revisions: bool
) -> tuple[Brought, ...]:
    """Patterns from elsewhere, in their order; one that is kept already, as whatever revision, is not kept twice.

    `as_revisions`: whether those that differ from the shop's of their name become further revisions of it. Raises
    PatternsThere where they may not.
    """
    out: list[Brought] = []
    others: dict[str, None] = {}
    for pattern in patterns:
        kept = _kept_as(session, pattern)
        if kept is not None:
            out.append(Brought(kept, Arrival.KEPT))
        elif not as_revisions and by_name(session, pattern.name) is not None:
            others[pattern.name] = None
        else:
            made = save(session, pattern, made_at)
            out.append(Brought(made, Arrival.NEW if made.number == 1 else Arrival.REVISION))
    if others:  # what was saved above goes with the transaction
        raise PatternsThere(tuple(others))
    return tuple(out)


def _kept_as(session: Session, pattern: Pattern) -> PatternRevision | None:
    """The newest revision that says just this."""
    r = PatternRevisionRow
    query = select(r).join(PatternRow, PatternRow.id == r.pattern_id).where(PatternRow.name == pattern.name)
    same = query.where(r.digest == digest_of(pattern_text(pattern))).order_by(r.number.desc())
    row = session.scalars(same).first()
    return None if row is None else record(row)


def latest(session: Session) -> tuple[PatternRevision, ...]:
    """The latest revision of every pattern, by name."""
    return tuple(record(r) for r in session.scalars(_latest().order_by(PatternRow.name)))


def revisions(session: Session, pattern_id: UUID) -> tuple[PatternRevision, ...]:
    """Every revision of a pattern, oldest first."""
    r = PatternRevisionRow
    return tuple(record(x) for x in session.scalars(select(r).where(r.pattern_id == pattern_id).order_by(r.number)))


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
