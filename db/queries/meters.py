"""The meters the shop knows by name."""

from dataclasses import replace
from datetime import datetime

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from db.bodies import meter_of, meter_text
from db.keep import add, edit, row_of
from db.tables import MeterRow
from db.trouble import Refused
from workbench.records import NamedMeter, now


def all_meters(session: Session) -> tuple[NamedMeter, ...]:
    """By name, in any case."""
    rows = session.scalars(select(MeterRow).order_by(func.lower(MeterRow.name), MeterRow.name))
    return tuple(NamedMeter(r.id, r.name, meter_of(r.body), r.version) for r in rows)


def save(session: Session, named: NamedMeter, made_at: datetime | None = None) -> NamedMeter:
    """Adds a meter (made at present, unless told otherwise), or edits the one kept under its id; as it is kept then.

    Raises Refused where another meter has that name, ChangedElsewhere.
    """
    taken = session.scalar(select(MeterRow.id).where(MeterRow.name == named.name, MeterRow.id != named.id))
    if taken is not None:
        raise Refused(
            f"Another meter is named {named.name!r} already. Nothing was written. Give this one a name of its own."
        )
    values = {"id": named.id, "name": named.name, "body": meter_text(named.meter)}
    if row_of(session, MeterRow, named.id) is None:
        add(session, MeterRow, values | {"version": 1, "made_at": made_at or now()})
        return replace(named, version=1)
    return replace(named, version=edit(session, MeterRow, f"meter {named.name}", values, named.version))
