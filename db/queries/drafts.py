"""What is being worked on: kept at each step, so that a pulled plug loses nothing, and dropped once it is a record."""

from dataclasses import replace

from sqlalchemy import delete, select
from sqlalchemy.orm import Session

from db.keep import add, edit, row_of
from db.tables import DraftRow
from workbench.records import KeptDraft


def of_kind(session: Session, kind: str) -> tuple[KeptDraft, ...]:
    """The latest changed first."""
    rows = session.scalars(select(DraftRow).where(DraftRow.kind == kind).order_by(DraftRow.changed_at.desc()))
    return tuple(
        KeptDraft(r.id, r.kind, r.title, r.body, r.made_at, r.changed_at, r.version) for r in rows
    )  # fmt: skip


def save(session: Session, draft: KeptDraft) -> KeptDraft:
    """Adds a draft, or edits the one kept under its id; as it is kept then. Raises ChangedElsewhere."""
    changing = {"title": draft.title, "body": draft.body, "changed_at": draft.changed_at}
    if row_of(session, DraftRow, draft.id) is None:
        values = {"id": draft.id, "kind": draft.kind, "made_at": draft.made_at, "version": 1}
        add(session, DraftRow, values | changing)
        return replace(draft, version=1)
    what = f"draft {draft.title}"
    return replace(draft, version=edit(session, DraftRow, what, {"id": draft.id, **changing}, draft.version))


def drop(session: Session, draft: KeptDraft) -> None:
    """Nothing is said where it is gone already."""
    session.execute(delete(DraftRow).where(DraftRow.id == draft.id))
