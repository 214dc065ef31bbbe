"""What was read of a part before it was booked in, on its way to the first sheet of its first job."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, Protocol

from workbench.records import BenchFile, Job, KeptReading, PatternRevision, SheetHead, new_id, now
from workbench.sitting.keeper import Failed, Then
from workbench.sitting.whichpart import Part
from workbench.stator.errors import FieldError
from workbench.stator.pattern import Pair
from workbench.stator.sheet import Sheet

NOT_KEPT = "The readings taken before are not kept. Nothing of them is lost: “Which one is this?” still has them."


class Readings(Protocol):
    """What is asked of whatever keeps the shop's records."""

    def keep_readings(
        self, kept: Sequence[KeptReading], then: Then | None = None, failed: Failed | None = None
    ) -> Any: ...


@dataclass(frozen=True, slots=True)
class Carried:
    """`laying`: the pattern's node under each of the part's. `arrived` is called once every reading is safe."""

    part: Part
    revision: PatternRevision
    laying: Mapping[str, str]
    keeper: Readings
    arrived: Callable[[], None]

    @property
    def number(self) -> int:
        """How many readings come with it."""
        return len(self.part.counted)

    @property
    def words(self) -> str:
        """What is said of it at the booking."""
        n, name = self.number, self.revision.pattern.name
        what = f"{n} readings" if n > 1 else "One reading" if n else "Meter and temperature"
        come = "come" if n > 1 else "comes"
        return f"{what} of the part without papers {come} with it, if it is booked in as {name}."

    def fits(self, revision: PatternRevision) -> bool:
        """Whether a part booked in on this pattern is the one that was read."""
        return revision.pattern_id == self.revision.pattern_id

    def head(self, job: Job, revision: PatternRevision) -> SheetHead:
        """A sheet on the meter and in the conditions that it was read under."""
        return replace(self.part.head, id=new_id(), job_id=job.id, revision_id=revision.id, started_at=now(), version=1)

    def onto(self, file: BenchFile, then: Callable[[BenchFile, str], None]) -> None:
        """Keeps all readings on a sheet just begun, pins in the pattern's names, or none; `then` with what to say.

        The pattern may have become one that can't have them meanwhile: then they stay where they are.
        """
        coming = [self._kept(file, place) for place in range(1, self.number + 1)]
        try:
            pattern, head = file.revision.pattern, file.sheet
            Sheet(pattern, head.meter, head.conditions, tuple(k.reading for k in coming))
        except FieldError:
            then(file, NOT_KEPT)
            return
        if not coming:
            self.arrived()
            then(file, "")
            return

        def kept(readings: Sequence[KeptReading]) -> None:
            self.arrived()
            n = self.number
            said = f"The {n} readings taken before are" if n > 1 else "The reading taken before is"
            then(replace(file, readings=tuple(readings)), f"{said} on this sheet.")

        self.keeper.keep_readings(coming, then=kept, failed=lambda e: then(file, f"{NOT_KEPT} {e}"))

    def _kept(self, file: BenchFile, place: int) -> KeptReading:
        seen = self.part.counted[place - 1]
        pair = Pair(*(self.laying[n] for n in seen.reading.pair))
        return KeptReading(
            new_id(), file.sheet.id, place, replace(seen.reading, pair=pair), seen.typed, seen.taken_at
        )  # fmt: skip
