"""Column types of the store."""

from datetime import UTC, datetime
from typing import Any

from sqlalchemy import String
from sqlalchemy.engine import Dialect
from sqlalchemy.types import TypeDecorator

UTC_LENGTH = 27  # 2026-11-25T09:14:53.000000Z


class UtcTime(TypeDecorator[datetime]):
    """A moment in UTC, kept as ISO text with microseconds and Z: the text's order is the time's order."""

    impl = String(UTC_LENGTH)
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> str | None:
        """Raises ValueError for a time that doesn't say its zone."""
        return None if value is None else utc_text(value)

    def process_result_value(self, value: Any, dialect: Dialect) -> datetime | None:
        return None if value is None else datetime.fromisoformat(value)


def utc_text(moment: datetime) -> str:
    if moment.tzinfo is None:
        raise ValueError("a time without a zone can't be kept")
    return moment.astimezone(UTC).isoformat(timespec="microseconds").replace("+00:00", "Z")
