"""What is asked of the store and written to it, by noun. Every function takes a Session and gives records.

A noun is imported when it is first used, so that importing this package costs nothing.
"""

from importlib import import_module
from types import ModuleType
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from db.queries import (
        cards,
        drafts,
        found,
        good,
        jobs,
        listed,
        meters,
        patterns,
        rewinds,
        sheets,
        shelf,
        stock,
        units,
        whole,
    )

__all__ = [
    "cards", "drafts", "found", "good", "jobs", "listed", "meters", "patterns", "rewinds", "sheets", "shelf",
    "stock", "units", "whole",
]  # fmt: skip


def __getattr__(name: str) -> ModuleType:
    if name not in __all__:
        raise AttributeError(name)
    return import_module(f"db.queries.{name}")
