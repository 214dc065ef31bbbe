"""A rewind to work on without a store: its keeper notes what it is asked, and answers when the test lets it."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Any
from uuid import UUID

from tests.sitting.fakes import AT, WYE, Asked, bench_file
from workbench.records import KeptRewind, SheetHead, Spool, SpoolDraw
from workbench.sitting.keeper import Failed, Then
from workbench.sitting.rewinding import Rewinding

SPOOLS = (
    Spool(UUID(int=11), "top shelf 18", "AWG 18", "heavy", 1200.0, version=1),
    Spool(UUID(int=12), "top shelf 20", "AWG 20", "heavy", 640.0, version=1),
    Spool(UUID(int=13), "short end 17", "AWG 17", "heavy", 40.0, version=1),
    Spool(UUID(int=14), "drawer 0.9", "0.900 mm", "grade-2", 900.0, version=1),
)


class RewindAsked(Asked):
    def ack(self) -> None:
        assert self.open
        self.open = False
        if self.then is not None:
            self.then(replace(self.record, version=self.record.version + 1))


class RewindKeeperFake:
    def __init__(self, *, at_once: bool = True) -> None:
        self.asked: list[RewindAsked] = []
        self.draws: list[tuple[SpoolDraw, ...]] = []
        self.at_once = at_once

    @property
    def waiting(self) -> list[RewindAsked]:
        return [a for a in self.asked if a.open]

    def of(self, what: str) -> list[Any]:
        return [a.record for a in self.asked if a.what == what]

    def save_rewind(self, rewind: KeptRewind, then: Then | None = None, failed: Failed | None = None) -> None:
        self._note(RewindAsked("rewind", rewind, then, failed))

    def finish_rewind(
        self, rewind: KeptRewind, draws: Sequence[SpoolDraw], then: Then | None = None, failed: Failed | None = None
    ) -> None:
        self.draws.append(tuple(draws))
        self._note(RewindAsked("finish", rewind, then, failed))

    def save_spool(self, spool: Spool, then: Then | None = None, failed: Failed | None = None) -> None:
        self._note(RewindAsked("spool", spool, then, failed))

    def _note(self, asked: RewindAsked) -> None:
        self.asked.append(asked)
        if self.at_once:
            asked.ack()


def rewinding(
    pattern: str = WYE, *, at_once: bool = True, kept: Sequence[KeptRewind] = (), spools: Sequence[Spool] = SPOOLS,
    winding: str = "", head: SheetHead | None = None, before: Sequence[KeptRewind] = (),
) -> tuple[Rewinding, RewindKeeperFake]:  # fmt: skip
    file, keeper = bench_file(pattern), RewindKeeperFake(at_once=at_once)
    pattern_ = file.revision.pattern
    r = Rewinding(
        file.unit, file.job, pattern_, kept, spools, keeper, clock=lambda: AT, winding=winding, head=head, before=before
    )
    return r, keeper
