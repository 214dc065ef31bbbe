"""The shelf of wire: spools by what is left of them, drawn down once for each rewind."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from db.keep import add, edit, row_of
from db.queries import rewinds
from db.tables import SpoolDrawRow, SpoolRow
from db.trouble import Refused
from workbench.records import KeptRewind, Spool, SpoolDraw, now


def spools(session: Session) -> tuple[Spool, ...]:
    """By name, in any case."""
    rows = session.scalars(select(SpoolRow).order_by(func.lower(SpoolRow.name), SpoolRow.name))
    return tuple(_record(r) for r in rows)


def save(session: Session, spool: Spool, made_at: datetime | None = None) -> Spool:
    """Adds a spool, or edits the one kept under its id (weighed anew, say); as it is kept then.

    Raises Refused where another spool has that name, ChangedElsewhere.
    """
    taken = session.scalar(select(SpoolRow.id).where(SpoolRow.name == spool.name, SpoolRow.id != spool.id))
    if taken is not None:
        raise Refused(
            f"Another spool is named {spool.name!r} already. Nothing was written. Give this one a name of its own."
        )
    values = {"id": spool.id, "name": spool.name, "gauge": spool.gauge, "build": spool.build, "grams": spool.grams,
              "note": spool.note}  # fmt: skip
    if row_of(session, SpoolRow, spool.id) is None:
        add(session, SpoolRow, values | {"version": 1, "made_at": made_at or now()})
        return replace(spool, version=1)
    return replace(spool, version=edit(session, SpoolRow, f"spool {spool.name}", values, spool.version))


def finish(session: Session, rewind: KeptRewind, draws: Sequence[SpoolDraw]) -> KeptRewind:
    """Keeps a rewind as done, and what it took off the shelf; a second time draws nothing more.

    Raises Refused, with nothing written, where a spool has less left than is to be drawn.
    """
    kept = rewinds.save(session, rewind)
    for d in draws:
        drawn = session.scalar(
            select(SpoolDrawRow.id).where(
                SpoolDrawRow.rewind_id == d.rewind_id, SpoolDrawRow.spool_id == d.spool_id, SpoolDrawRow.id != d.id
            )
        )
        if drawn is not None:
            continue
        spool = session.scalar(select(SpoolRow).where(SpoolRow.id == d.spool_id))
        if spool is None:
            raise Refused("That spool is not on the shelf any more. Nothing was written: choose another one.")
        values = {
            "id": d.id,
            "spool_id": d.spool_id,
            "rewind_id": d.rewind_id,
            "grams": d.grams,
            "drawn_at": d.drawn_at,
        }
        if not add(session, SpoolDrawRow, values):
            continue
        if spool.grams < d.grams:
            raise Refused(
                f"The spool {spool.name} has {spool.grams:.0f} g left, and {d.grams:.0f} g are to be taken off it. "
                "Nothing was written. Weigh the spool anew, or choose another one."
            )
        left = {"id": spool.id, "grams": spool.grams - d.grams}
        edit(session, SpoolRow, f"spool {spool.name}", left, spool.version)
        session.expire(spool)
    return kept


def _record(r: SpoolRow) -> Spool:
    return Spool(r.id, r.name, r.gauge, r.build, r.grams, r.note, r.version)
