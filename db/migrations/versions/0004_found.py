"""A decision says what the part was found to have."""

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"


def upgrade() -> None:
    # Added in place: no row is rewritten, so the triggers that keep decisions as they are need not be lifted.
    op.add_column("decisions", sa.Column("found", sa.Text(), server_default="", nullable=False))
    op.add_column("decisions", sa.Column("found_where", sa.Text(), server_default="", nullable=False))
