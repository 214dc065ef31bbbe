"""The first store: benches, patterns, meters, units, jobs, sheets, readings, strikes, decisions, cards."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None

APPEND_ONLY = ("pattern_revisions", "readings", "strikes", "decisions", "cards")


def upgrade() -> None:
    _patterns_and_meters()
    _units_and_jobs()
    _sheets()
    _decisions_and_cards()
    for table in APPEND_ONLY:
        for deed in ("UPDATE", "DELETE"):
            op.execute(
                f"CREATE TRIGGER {table}_no_{deed.lower()} BEFORE {deed} ON {table} "
                f"BEGIN SELECT RAISE(ABORT, '{table} are append-only'); END"
            )


def _patterns_and_meters() -> None:
    op.create_table(
        "benches",
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.Column("made_at", sa.String(27), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_benches"),
    )
    op.create_table(
        "patterns",
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("made_at", sa.String(27), nullable=False),
        sa.Column("made_on", sa.Uuid(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_patterns"),
        sa.UniqueConstraint("name", name="uq_patterns_name"),
        sa.CheckConstraint("length(name) > 0", name="ck_patterns_name"),
        sa.ForeignKeyConstraint(["made_on"], ["benches.id"], name="fk_patterns_made_on_benches"),
    )
    op.create_table(
        "pattern_revisions",
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.Column("pattern_id", sa.Uuid(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("body", sa.Text(), nullable=False),
        sa.Column("digest", sa.String(64), nullable=False),
        sa.Column("made_at", sa.String(27), nullable=False),
        sa.Column("made_on", sa.Uuid(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_pattern_revisions"),
        sa.UniqueConstraint("pattern_id", "number", name="uq_pattern_revisions_pattern_id_number"),
        sa.CheckConstraint("number >= 1", name="ck_pattern_revisions_number"),
        sa.CheckConstraint("length(digest) = 64", name="ck_pattern_revisions_digest"),
        sa.ForeignKeyConstraint(["pattern_id"], ["patterns.id"], name="fk_pattern_revisions_pattern_id_patterns"),
        sa.ForeignKeyConstraint(["made_on"], ["benches.id"], name="fk_pattern_revisions_made_on_benches"),
    )
    op.create_table(
        "meters",
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("body", sa.Text(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("made_at", sa.String(27), nullable=False),
        sa.Column("made_on", sa.Uuid(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_meters"),
        sa.UniqueConstraint("name", name="uq_meters_name"),
        sa.CheckConstraint("length(name) > 0", name="ck_meters_name"),
        sa.CheckConstraint("version >= 1", name="ck_meters_version"),
        sa.ForeignKeyConstraint(["made_on"], ["benches.id"], name="fk_meters_made_on_benches"),
    )


def _units_and_jobs() -> None:
    op.create_table(
        "units",
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.Column("tag", sa.Text(), nullable=False),
        sa.Column("tag_key", sa.Text(), nullable=False),
        sa.Column("label", sa.Text(), nullable=False),
        sa.Column("found_by", sa.Text(), nullable=False),
        sa.Column("pattern_id", sa.Uuid(), nullable=True),
        sa.Column("made_at", sa.String(27), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("made_on", sa.Uuid(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_units"),
        sa.UniqueConstraint("tag_key", name="uq_units_tag_key"),
        sa.CheckConstraint("length(tag_key) > 0", name="ck_units_tag_key"),
        sa.CheckConstraint("version >= 1", name="ck_units_version"),
        sa.ForeignKeyConstraint(["pattern_id"], ["patterns.id"], name="fk_units_pattern_id_patterns"),
        sa.ForeignKeyConstraint(["made_on"], ["benches.id"], name="fk_units_made_on_benches"),
    )
    op.create_index("ix_units_made_at", "units", ["made_at"])
    op.create_table(
        "jobs",
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.Column("unit_id", sa.Uuid(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("complaint", sa.Text(), nullable=False),
        sa.Column("seen", sa.Text(), nullable=False),
        sa.Column("approved", sa.Text(), nullable=False),
        sa.Column("found", sa.Text(), nullable=False),
        sa.Column("done", sa.Text(), nullable=False),
        sa.Column("opened_at", sa.String(27), nullable=False),
        sa.Column("closed_at", sa.String(27), nullable=True),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("made_on", sa.Uuid(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_jobs"),
        sa.UniqueConstraint("number", name="uq_jobs_number"),
        sa.CheckConstraint("number >= 1", name="ck_jobs_number"),
        sa.CheckConstraint("version >= 1", name="ck_jobs_version"),
        sa.ForeignKeyConstraint(["unit_id"], ["units.id"], name="fk_jobs_unit_id_units"),
        sa.ForeignKeyConstraint(["made_on"], ["benches.id"], name="fk_jobs_made_on_benches"),
    )
    op.create_index("ix_jobs_unit_id_number", "jobs", ["unit_id", "number"])


def _sheets() -> None:
    op.create_table(
        "sheets",
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.Column("job_id", sa.Uuid(), nullable=False),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("revision_id", sa.Uuid(), nullable=False),
        sa.Column("meter_id", sa.Uuid(), nullable=False),
        sa.Column("meter_name", sa.Text(), nullable=False),
        sa.Column("meter_body", sa.Text(), nullable=False),
        sa.Column("celsius", sa.Float(), nullable=False),
        sa.Column("celsius_uncertainty", sa.Float(), nullable=False),
        sa.Column("lead_ohms", sa.Float(), nullable=False),
        sa.Column("lead_uncertainty_ohms", sa.Float(), nullable=False),
        sa.Column("source", sa.Text(), nullable=False),
        sa.Column("meter_zeroed", sa.Boolean(), nullable=False),
        sa.Column("iron_ohms", sa.Float(), nullable=True),
        sa.Column("started_at", sa.String(27), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("made_on", sa.Uuid(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_sheets"),
        sa.UniqueConstraint("job_id", "place", name="uq_sheets_job_id_place"),
        sa.CheckConstraint("place >= 1", name="ck_sheets_place"),
        sa.CheckConstraint("celsius BETWEEN -60 AND 300", name="ck_sheets_celsius"),
        sa.CheckConstraint("celsius_uncertainty >= 0", name="ck_sheets_celsius_uncertainty"),
        sa.CheckConstraint("lead_ohms >= 0 AND lead_uncertainty_ohms >= 0", name="ck_sheets_leads"),
        sa.CheckConstraint("source IN ('room', 'infrared', 'probe')", name="ck_sheets_source"),
        sa.CheckConstraint("meter_zeroed IN (0, 1)", name="ck_sheets_meter_zeroed"),
        sa.CheckConstraint("version >= 1", name="ck_sheets_version"),
        sa.ForeignKeyConstraint(["job_id"], ["jobs.id"], name="fk_sheets_job_id_jobs"),
        sa.ForeignKeyConstraint(
            ["revision_id"], ["pattern_revisions.id"], name="fk_sheets_revision_id_pattern_revisions"
        ),
        sa.ForeignKeyConstraint(["meter_id"], ["meters.id"], name="fk_sheets_meter_id_meters"),
        sa.ForeignKeyConstraint(["made_on"], ["benches.id"], name="fk_sheets_made_on_benches"),
    )
    op.create_table(
        "readings",
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.Column("sheet_id", sa.Uuid(), nullable=False),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("node_from", sa.Text(), nullable=False),
        sa.Column("node_to", sa.Text(), nullable=False),
        sa.Column("ohms", sa.Float(), nullable=True),
        sa.Column("range_upto_ohms", sa.Float(), nullable=True),
        sa.Column("typed", sa.Text(), nullable=False),
        sa.Column("taken_at", sa.String(27), nullable=False),
        sa.Column("made_on", sa.Uuid(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_readings"),
        sa.UniqueConstraint("sheet_id", "place", name="uq_readings_sheet_id_place"),
        sa.CheckConstraint("place >= 1", name="ck_readings_place"),
        sa.CheckConstraint("node_from <> node_to", name="ck_readings_nodes"),
        sa.CheckConstraint("range_upto_ohms > 0", name="ck_readings_range_upto_ohms"),
        sa.ForeignKeyConstraint(["sheet_id"], ["sheets.id"], name="fk_readings_sheet_id_sheets"),
        sa.ForeignKeyConstraint(["made_on"], ["benches.id"], name="fk_readings_made_on_benches"),
    )
    op.create_table(
        "strikes",
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.Column("reading_id", sa.Uuid(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("struck_at", sa.String(27), nullable=False),
        sa.Column("made_on", sa.Uuid(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_strikes"),
        sa.UniqueConstraint("reading_id", name="uq_strikes_reading_id"),
        sa.CheckConstraint("length(trim(reason)) > 0", name="ck_strikes_reason"),
        sa.ForeignKeyConstraint(["reading_id"], ["readings.id"], name="fk_strikes_reading_id_readings"),
        sa.ForeignKeyConstraint(["made_on"], ["benches.id"], name="fk_strikes_made_on_benches"),
    )


def _decisions_and_cards() -> None:
    op.create_table(
        "decisions",
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.Column("job_id", sa.Uuid(), nullable=False),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("sheet_id", sa.Uuid(), nullable=False),
        sa.Column("outcome", sa.Text(), nullable=False),
        sa.Column("note", sa.Text(), nullable=False),
        sa.Column("verdict", sa.Text(), nullable=False),
        sa.Column("decided_at", sa.String(27), nullable=False),
        sa.Column("made_on", sa.Uuid(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_decisions"),
        sa.UniqueConstraint("job_id", "place", name="uq_decisions_job_id_place"),
        sa.CheckConstraint("place >= 1", name="ck_decisions_place"),
        sa.CheckConstraint("outcome IN ('pass', 'repair', 'rewind', 'scrap')", name="ck_decisions_outcome"),
        sa.ForeignKeyConstraint(["job_id"], ["jobs.id"], name="fk_decisions_job_id_jobs"),
        sa.ForeignKeyConstraint(["sheet_id"], ["sheets.id"], name="fk_decisions_sheet_id_sheets"),
        sa.ForeignKeyConstraint(["made_on"], ["benches.id"], name="fk_decisions_made_on_benches"),
    )
    op.create_table(
        "cards",
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.Column("sheet_id", sa.Uuid(), nullable=False),
        sa.Column("copy", sa.Integer(), nullable=False),
        sa.Column("how", sa.Text(), nullable=False),
        sa.Column("made_at", sa.String(27), nullable=False),
        sa.Column("made_on", sa.Uuid(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_cards"),
        sa.UniqueConstraint("sheet_id", "copy", name="uq_cards_sheet_id_copy"),
        sa.CheckConstraint("copy >= 1", name="ck_cards_copy"),
        sa.CheckConstraint("how IN ('saved', 'printed')", name="ck_cards_how"),
        sa.ForeignKeyConstraint(["sheet_id"], ["sheets.id"], name="fk_cards_sheet_id_sheets"),
        sa.ForeignKeyConstraint(["made_on"], ["benches.id"], name="fk_cards_made_on_benches"),
    )
