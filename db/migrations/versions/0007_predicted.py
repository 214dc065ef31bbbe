"""What the windings that were wound anew should read on a sheet, by their rewinds."""

import sqlalchemy as sa
from alembic import op

revision = "0007"
down_revision = "0006"


def upgrade() -> None:
    op.add_column("sheets", sa.Column("predicted", sa.Text(), nullable=False, server_default="[]"))
