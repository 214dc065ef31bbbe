"""Whole jobs at once: for what brings many of them along, and would wait for the disk at every reading."""

from collections.abc import Sequence

from sqlalchemy.orm import Session

from db.queries import cards, jobs, sheets, units
from workbench.records import WholeJob


def keep(session: Session, many: Sequence[WholeJob]) -> None:
    """Adds each job with its unit, sheets, readings, strikes, decisions and cards, by the rules of each of them.

    What is kept already, under the same ids and saying the same, is left as it is. Raises what adding them one by one
    would raise; then none of the jobs is kept.
    """
    for whole in many:
        units.save(session, whole.unit)
        jobs.open_job(session, whole.job)
        for head in whole.sheets:
            sheets.begin(session, head)
        for kept in whole.readings:
            sheets.keep_reading(session, kept)
            if kept.strike is not None:
                sheets.strike(session, kept.strike)
        for decided in whole.decisions:
            jobs.decide(session, decided)
        for card in whole.cards:
            cards.note(session, card)
