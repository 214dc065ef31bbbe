"""Units: booked in, found again by tag."""

import re
import unicodedata
from dataclasses import replace

from sqlalchemy import select
from sqlalchemy.orm import Session

from db.keep import Values, add, edit, row_of
from db.tables import UnitRow
from db.trouble import Refused
from workbench.records import Unit

FIRST_TAG = "T-0001"
_NUMBERED = re.compile(r"(.*?)([0-9]{1,15})")


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


def next_tag(session: Session) -> str:
    """A free tag that goes on from the latest one that ends in a number."""
    latest = session.execute(select(UnitRow.tag, UnitRow.tag_key).order_by(UnitRow.made_at.desc()).limit(50))
    numbered = ((_NUMBERED.fullmatch(tag), _NUMBERED.fullmatch(key)) for tag, key in latest)
    tag, key = next((both for both in numbered if all(both)), (None, None))
    if tag is None or key is None:
        return FIRST_TAG
    keys = session.scalars(select(UnitRow.tag_key).where(UnitRow.tag_key.startswith(key[1], autoescape=True)))
    alike = [m for k in keys if (m := _NUMBERED.fullmatch(k)) and m[1] == key[1]]
    return f"{tag[1]}{max(int(m[2]) for m in alike) + 1:0{len(tag[2])}d}"


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
