"""What a sitting asks of whatever keeps the shop's records."""

from collections.abc import Callable
from typing import Any, Protocol

from workbench.records import Decided, Job, KeptReading, Repair, SheetHead, Strike, Unit

Then = Callable[[Any], None]
Failed = Callable[[Exception], None]


class Keeper(Protocol):
    """Each call returns at once; one of the two callbacks follows when the record is safe, or could not be kept."""

    def keep_reading(self, kept: KeptReading, then: Then | None = None, failed: Failed | None = None) -> Any: ...

    def strike(self, strike: Strike, then: Then | None = None, failed: Failed | None = None) -> Any: ...

    def decide(self, decided: Decided, then: Then | None = None, failed: Failed | None = None) -> Any: ...

    def keep_repair(self, repair: Repair, then: Then | None = None, failed: Failed | None = None) -> Any: ...

    def edit_unit(self, unit: Unit, then: Then | None = None, failed: Failed | None = None) -> Any: ...

    def edit_job(self, job: Job, then: Then | None = None, failed: Failed | None = None) -> Any: ...

    def change_conditions(self, head: SheetHead, then: Then | None = None, failed: Failed | None = None) -> Any: ...
