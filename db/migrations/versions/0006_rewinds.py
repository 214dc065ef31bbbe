"""The rewind desk: the shelf of wire, what was drawn from it, rewinds, repairs."""

import sqlalchemy as sa
from alembic import op

revision = "0006"
down_revision = "0005"

APPEND_ONLY = ("spool_draws", "repairs")


def upgrade() -> None:
    _shelf()
    _rewinds()
    for table in APPEND_ONLY:
        for deed in ("UPDATE", "DELETE"):
            op.execute(
                f"CREATE TRIGGER {table}_no_{deed.lower()} BEFORE {deed} ON {table} "
                f"BEGIN SELECT RAISE(ABORT, '{table} are append-only'); END"
            )


def _shelf() -> None:
    op.create_table(
        "spools",
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("gauge", sa.Text(), nullable=False),
        sa.Column("build", sa.Text(), nullable=False),
        sa.Column("grams", sa.Float(), nullable=False),
        sa.Column("note", sa.Text(), nullable=False),
        sa.Column("made_at", sa.String(27), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("made_on", sa.Uuid(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_spools"),
        sa.UniqueConstraint("name", name="uq_spools_name"),
        sa.CheckConstraint("length(name) > 0", name="ck_spools_name"),
        sa.CheckConstraint("grams >= 0", name="ck_spools_grams"),
        sa.ForeignKeyConstraint(["made_on"], ["benches.id"], name="fk_spools_made_on_benches"),
    )


def _rewinds() -> None:
    op.create_table(
        "rewinds",
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.Column("job_id", sa.Uuid(), nullable=False),
        sa.Column("winding", sa.Text(), nullable=False),
        sa.Column("body", sa.Text(), nullable=False),
        sa.Column("made_at", sa.String(27), nullable=False),
        sa.Column("done_at", sa.String(27), nullable=True),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("made_on", sa.Uuid(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_rewinds"),
        sa.ForeignKeyConstraint(["job_id"], ["jobs.id"], name="fk_rewinds_job_id_jobs"),
        sa.ForeignKeyConstraint(["made_on"], ["benches.id"], name="fk_rewinds_made_on_benches"),
    )
    op.create_index("ix_rewinds_job_id", "rewinds", ["job_id"])
    op.create_table(
        "spool_draws",
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.Column("spool_id", sa.Uuid(), nullable=False),
        sa.Column("rewind_id", sa.Uuid(), nullable=False),
        sa.Column("grams", sa.Float(), nullable=False),
        sa.Column("drawn_at", sa.String(27), nullable=False),
        sa.Column("made_on", sa.Uuid(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_spool_draws"),
        sa.UniqueConstraint("rewind_id", "spool_id", name="uq_spool_draws_rewind_id_spool_id"),
        sa.CheckConstraint("grams > 0", name="ck_spool_draws_grams"),
        sa.ForeignKeyConstraint(["spool_id"], ["spools.id"], name="fk_spool_draws_spool_id_spools"),
        sa.ForeignKeyConstraint(["rewind_id"], ["rewinds.id"], name="fk_spool_draws_rewind_id_rewinds"),
        sa.ForeignKeyConstraint(["made_on"], ["benches.id"], name="fk_spool_draws_made_on_benches"),
    )
    op.create_table(
        "repairs",
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.Column("job_id", sa.Uuid(), nullable=False),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("where", sa.Text(), nullable=False),
        sa.Column("note", sa.Text(), nullable=False),
        sa.Column("repaired_at", sa.String(27), nullable=False),
        sa.Column("made_on", sa.Uuid(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_repairs"),
        sa.UniqueConstraint("job_id", "place", name="uq_repairs_job_id_place"),
        sa.CheckConstraint("place >= 1", name="ck_repairs_place"),
        sa.ForeignKeyConstraint(["job_id"], ["jobs.id"], name="fk_repairs_job_id_jobs"),
        sa.ForeignKeyConstraint(["made_on"], ["benches.id"], name="fk_repairs_made_on_benches"),
    )
