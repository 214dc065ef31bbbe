"""Units: booked in, found again by tag or by any word of their label."""

import re
import unicodedata
from dataclasses import replace

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from db.keep import Values, add, edit, row_of
from db.tables import JobRow, UnitRow
from db.trouble import Refused
from workbench.records import Unit

FIRST_TAG = "T-0001"


def save(session: Session, unit: Unit) -> Unit:
    """Adds a unit, or edits the one kept under its id; as it is kept then.

    Raises Refused where another unit has that tag, ChangedElsewhere, ValueError for a blank tag.
    """
    if not key_of(unit.tag):
        raise ValueError("a unit needs a tag")
    other = by_tag(session, unit.tag)
    if other is not None and other.id != unit.id:
        raise Refused(
            f"The tag {other.tag} is on another part already ({other.label or 'no label'}). Nothing was written. "
            "Find that part by its tag, or give this one another tag."
        )
    if row_of(session, UnitRow, unit.id) is None:
        add(session, UnitRow, _values(unit) | {"version": 1})
        return replace(unit, version=1)
    return replace(unit, version=edit(session, UnitRow, f"unit {unit.tag}", _values(unit), unit.version))


def by_tag(session: Session, tag: str) -> Unit | None:
    """In any case and spacing."""
    row = session.scalar(select(UnitRow).where(UnitRow.tag_key == key_of(tag)))
    return None if row is None else record(row)


def recent(session: Session, limit: int) -> tuple[Unit, ...]:
    """Those with the latest jobs first."""
    last = select(JobRow.unit_id, func.max(JobRow.number).label("number")).group_by(JobRow.unit_id).subquery()
    query = (
        select(UnitRow)
        .outerjoin(last, last.c.unit_id == UnitRow.id)
        .order_by(func.coalesce(last.c.number, 0).desc(), UnitRow.made_at.desc())
        .limit(limit)
    )
    return tuple(record(r) for r in session.scalars(query))


def search(session: Session, text: str, limit: int) -> tuple[Unit, ...]:
    """Those whose tag and label hold every word of `text`, in any case, by tag. A blank text finds nothing."""
    words = key_of(text).split()
    if not words:
        return ()
    query = select(UnitRow).order_by(UnitRow.tag_key).limit(limit)
    for word in words:
        query = query.where(UnitRow.found_by.contains(word, autoescape=True))
    return tuple(record(r) for r in session.scalars(query))


def next_tag(session: Session) -> str:
    """A free tag that goes on from the latest one that ends in a number."""
    tags = session.scalars(select(UnitRow.tag).order_by(UnitRow.made_at.desc()).limit(50))
    split = next((m for t in tags if (m := re.fullmatch(r"(.*?)([0-9]{1,15})", t))), None)
    if split is None:
        return FIRST_TAG
    prefix, width = split[1], len(split[2])
    alike = session.scalars(select(UnitRow.tag_key).where(UnitRow.tag_key.startswith(key_of(prefix), autoescape=True)))
    known = len(key_of(prefix))
    highest = max(int(t[known:]) for t in alike if re.fullmatch(r"[0-9]{1,15}", t[known:]))
    return f"{prefix}{highest + 1:0{width}d}"


def key_of(text: str) -> str:
    """What a tag is compared by: any case, width and spacing."""
    return " ".join(unicodedata.normalize("NFKC", text).casefold().split())


def record(row: UnitRow) -> Unit:
    return Unit(row.id, row.tag, row.label, row.pattern_id, row.made_at, row.version)


def _values(unit: Unit) -> Values:
    return {
        "id": unit.id,
        "tag": unit.tag,
        "tag_key": key_of(unit.tag),
        "label": unit.label,
        "found_by": key_of(f"{unit.tag} {unit.label}"),
        "pattern_id": unit.pattern_id,
        "made_at": unit.made_at,
    }
