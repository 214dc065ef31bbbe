"""What keeps append-only tables append-only: triggers, so that no program at all can edit a reading."""

from sqlalchemy import event
from sqlalchemy.schema import DDL

from db.tables import Row

APPEND_ONLY = ("pattern_revisions", "readings", "strikes", "decisions", "cards", "spool_draws", "repairs")


def trigger_sql(table: str, deed: str) -> str:
    """`deed`: UPDATE or DELETE."""
    return (
        f"CREATE TRIGGER {table}_no_{deed.lower()} BEFORE {deed} ON {table} "
        f"BEGIN SELECT RAISE(ABORT, '{table} are append-only'); END"
    )


for _table in APPEND_ONLY:
    for _deed in ("UPDATE", "DELETE"):
        event.listen(
            Row.metadata.tables[_table],
            "after_create",
            DDL(trigger_sql(_table, _deed)).execute_if(dialect="sqlite"),  # type: ignore[no-untyped-call]
        )
