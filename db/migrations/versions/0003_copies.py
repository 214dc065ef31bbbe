"""A card says whose copy it is, of which size, and what it said; each kind of copy is counted by itself."""

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"


def upgrade() -> None:
    # Another unique constraint needs another table. Nothing hangs on this one, and its triggers go with it.
    op.rename_table("cards", "cards_before")
    op.create_table(
        "cards",
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.Column("sheet_id", sa.Uuid(), nullable=False),
        sa.Column("copy", sa.Integer(), nullable=False),
        sa.Column("how", sa.Text(), nullable=False),
        sa.Column("made_at", sa.String(27), nullable=False),
        sa.Column("made_on", sa.Uuid(), nullable=False),
        sa.Column("whose", sa.Text(), nullable=False),
        sa.Column("size", sa.Text(), nullable=False),
        sa.Column("asserts", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_cards"),
        sa.UniqueConstraint("sheet_id", "whose", "copy", name="uq_cards_sheet_id_whose_copy"),
        sa.CheckConstraint("copy >= 1", name="ck_cards_copy"),
        sa.CheckConstraint("how IN ('saved', 'printed')", name="ck_cards_how"),
        sa.CheckConstraint("whose IN ('customer', 'shop')", name="ck_cards_whose"),
        sa.CheckConstraint("size IN ('label', 'stand', 'tag')", name="ck_cards_size"),
        sa.ForeignKeyConstraint(["sheet_id"], ["sheets.id"], name="fk_cards_sheet_id_sheets"),
        sa.ForeignKeyConstraint(["made_on"], ["benches.id"], name="fk_cards_made_on_benches"),
    )
    # until now there was one kind of card and one size
    op.execute(
        "INSERT INTO cards (id, sheet_id, copy, how, made_at, made_on, whose, size, asserts) "
        "SELECT id, sheet_id, copy, how, made_at, made_on, 'customer', 'stand', '' FROM cards_before"
    )
    op.drop_table("cards_before")
    for deed in ("UPDATE", "DELETE"):
        op.execute(
            f"CREATE TRIGGER cards_no_{deed.lower()} BEFORE {deed} ON cards "
            f"BEGIN SELECT RAISE(ABORT, 'cards are append-only'); END"
        )
