"""What a shop starts with."""

from collections.abc import Sequence
from datetime import datetime

from sqlalchemy.orm import Session

from db.queries import meters as meter_queries
from db.queries import patterns as pattern_queries
from workbench.records import NamedMeter, new_id
from workbench.stator.meter import Meter
from workbench.stator.pattern import Pattern


def add_missing(
    session: Session, patterns: Sequence[Pattern], meters: Sequence[tuple[str, Meter]], made_at: datetime
) -> None:
    """Adds the patterns and meters of whose name there is none; touches no other."""
    for pattern in patterns:
        if pattern_queries.by_name(session, pattern.name) is None:
            pattern_queries.save(session, pattern, made_at)
    known = {m.name for m in meter_queries.all_meters(session)}
    for name, meter in meters:
        if name not in known:
            meter_queries.save(session, NamedMeter(new_id(), name, meter))
