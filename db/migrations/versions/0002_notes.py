"""A sheet takes a note."""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"


def upgrade() -> None:
    # Added in place: no row is rewritten, and what hangs on the table stays where it is.
    op.add_column("sheets", sa.Column("note", sa.Text(), server_default="", nullable=False))
