"""What stands for a whole sheet: part, job, head, decision. Shown at once, put back where it can't be kept."""

from collections.abc import Callable
from datetime import datetime

from workbench.records import BenchFile, Decided, Job, Repair, SheetHead, Unit
from workbench.sitting.edited import Edited, Told
from workbench.sitting.jobwords import JobWords, labelled, words_of, written
from workbench.sitting.keeper import Keeper
from workbench.sitting.mended import mended_at


class Standing:
    """`told` hears each time of what was kept (None) or of what kept it from being."""

    def __init__(self, file: BenchFile, keeper: Keeper) -> None:
        self.decided = file.decided
        self._safe_decided = file.decided
        self._keeper = keeper
        self._head: Edited[SheetHead] = Edited(file.sheet, keeper.change_conditions)
        self.repairs = file.repairs
        self.rewound_at = file.rewound_at
        self._unit: Edited[Unit] = Edited(file.unit, keeper.edit_unit)
        self._job: Edited[Job] = Edited(file.job, keeper.edit_job)

    @property
    def head(self) -> SheetHead:
        return self._head.shown

    @property
    def unit(self) -> Unit:
        return self._unit.shown

    @property
    def job(self) -> Job:
        return self._job.shown

    @property
    def unkept(self) -> bool:
        """Whether the head shown is not the one that is kept."""
        return self._head.unkept

    @property
    def mended_at(self) -> datetime | None:
        """When the part was last mended within this job."""
        return mended_at(self.repairs, self.rewound_at)

    def repair(self, repair: Repair, told: Told) -> None:
        """Never edited: what was mended was mended."""
        self.repairs = (*self.repairs, repair)

        def failed(e: Exception) -> None:
            self.repairs = tuple(r for r in self.repairs if r is not repair)
            told(e)

        self._keeper.keep_repair(repair, then=lambda _: told(None), failed=failed)

    def change(self, head: SheetHead, can_go_back: Callable[[SheetHead], bool], told: Told) -> None:
        """`can_go_back`: whether the readings taken since would fit the head that is kept."""
        self._head.change(head, told, can_go_back)

    def write(self, words: JobWords, told: Told) -> None:
        """Only what was changed is sent."""
        before = words_of(self.unit, self.job)
        if words.label.strip() != before.label:
            self._unit.change(labelled(self.unit, words), told)
        job = written(self.job, words)
        if job != self.job:
            self._job.change(job, told)

    def decide(self, decided: Decided, told: Told) -> None:
        self.decided = decided

        def then(_: object) -> None:
            self._safe_decided = decided
            told(None)

        def failed(e: Exception) -> None:
            if self.decided is decided:  # a later decision stands by itself
                self.decided = self._safe_decided
            told(e)

        self._keeper.decide(decided, then=then, failed=failed)
