"""What a shop starts with."""

from collections.abc import Sequence
from datetime import datetime
from uuid import UUID, uuid5

from sqlalchemy.orm import Session

from db.keep import row_of
from db.queries import meters as meter_queries
from db.queries import patterns as pattern_queries
from db.tables import MeterRow, PatternRow
from workbench.records import NamedMeter
from workbench.stator.meter import Meter
from workbench.stator.pattern import Pattern

# what a shop starts with has the same ids everywhere: kept under another name since, it is not added anew
_NAMES = UUID("7f0a4c52-93b1-4a0e-8c64-2d1e5b8a9f36")


def add_missing(
    session: Session, patterns: Sequence[Pattern], meters: Sequence[tuple[str, Meter]], made_at: datetime
) -> None:
    """Adds the patterns and meters of whose name there is none; touches no other.

    Patterns of one name are its revisions, oldest first: all of them are added, or none.
    """
    revisions: dict[str, list[Pattern]] = {}
    for pattern in patterns:
        revisions.setdefault(pattern.name, []).append(pattern)
    for name, own in revisions.items():
        id = uuid5(_NAMES, f"pattern/{name}")
        if pattern_queries.by_name(session, name) is not None or row_of(session, PatternRow, id) is not None:
            continue
        for number, pattern in enumerate(own, 1):
            pattern_queries.save(session, pattern, made_at, id=revision_id(name, number), pattern_id=id)
    known = {m.name for m in meter_queries.all_meters(session)}
    for name, meter in meters:
        id = uuid5(_NAMES, f"meter/{name}")
        if name not in known and row_of(session, MeterRow, id) is None:
            meter_queries.save(session, NamedMeter(id, name, meter), made_at)


def revision_id(name: str, number: int) -> UUID:
    """The id of a pattern's revision, where this shop was stocked with it."""
    return uuid5(_NAMES, f"pattern/{name}/{number}")
