"""The readings of a sheet as the bench shows them, each with how safe it is."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from enum import StrEnum
from uuid import UUID

from workbench.records import KeptReading, Strike
from workbench.stator.sheet import Reading


class Keeping(StrEnum):
    HOLLOW = "hollow"  # on its way to the disk
    SAFE = "safe"
    LOST = "not kept"  # could not be kept; shown, not judged, can be tried again


@dataclass(frozen=True, slots=True)
class Line:
    kept: KeptReading
    keeping: Keeping

    @property
    def counts(self) -> bool:
        return self.kept.strike is None and self.keeping is not Keeping.LOST


@dataclass(frozen=True, slots=True)
class Lines:
    """All readings in the order they were taken, the struck ones among them."""

    every: tuple[Line, ...] = ()

    def __iter__(self) -> Iterator[Line]:
        return iter(self.every)

    def __len__(self) -> int:
        return len(self.every)

    @property
    def counted(self) -> tuple[Line, ...]:
        return tuple(x for x in self.every if x.counts)

    @property
    def readings(self) -> tuple[Reading, ...]:
        return tuple(x.kept.reading for x in self.counted)

    @property
    def next_place(self) -> int:
        return max((x.kept.place for x in self.every), default=0) + 1

    @property
    def saving(self) -> bool:
        return any(x.keeping is Keeping.HOLLOW for x in self.every)

    @property
    def lost(self) -> int:
        """How many could not be kept, and would be gone with the window."""
        return sum(x.keeping is Keeping.LOST for x in self.every)

    def find(self, reading_id: UUID) -> Line | None:
        return next((x for x in self.every if x.kept.id == reading_id), None)

    def added(self, kept: KeptReading) -> "Lines":
        return Lines((*self.every, Line(kept, Keeping.HOLLOW)))

    def keeping(self, reading_id: UUID, keeping: Keeping) -> "Lines":
        return Lines(tuple(replace(x, keeping=keeping) if x.kept.id == reading_id else x for x in self.every))

    def struck(self, reading_id: UUID, strike: Strike | None) -> "Lines":
        return Lines(
            tuple(replace(x, kept=replace(x.kept, strike=strike)) if x.kept.id == reading_id else x for x in self.every)
        )
