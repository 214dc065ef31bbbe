"""A sheet keeps what rewound windings should read on it, and which of its conditions nobody measured."""

import sqlalchemy as sa
from alembic import op

revision = "0007"
down_revision = "0006"


def upgrade() -> None:
    op.add_column("sheets", sa.Column("predicted", sa.Text(), server_default="[]", nullable=False))
    for name in ("celsius_assumed", "leads_assumed"):
        op.add_column("sheets", sa.Column(name, sa.Boolean(), server_default="0", nullable=False))
