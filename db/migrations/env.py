"""Run by Alembic, always on the connection and in the transaction that `db.upgrade` hands over."""

from alembic import context

context.configure(
    connection=context.config.attributes["connection"],
    render_as_batch=True,
    transaction_per_migration=False,
)
context.run_migrations()
