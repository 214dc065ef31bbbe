"""One demo shop for all of these, written once; and what was written of each unit, judged again."""

from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Future
from dataclasses import dataclass, field
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any
from uuid import UUID

import pytest

from demo_shop.build import BENCH, build, demo_day
from demo_shop.roll import UNITS, stories
from demo_shop.story import Story
from workbench.records import PatternRevision, SheetHead, WholeJob
from workbench.shop import Shop
from workbench.stator.judge import JudgedSheet, judge
from workbench.stator.sheet import Proof, Sheet

DAY = date(2026, 3, 14)
TODAY = datetime(2026, 3, 14, tzinfo=UTC)


class Heard(Shop):
    """A shop that remembers what was brought to its door."""

    def __init__(self, path: Path) -> None:
        super().__init__(str(path), bench=BENCH, clock=lambda: TODAY)
        self.jobs: list[WholeJob] = []

    def keep_jobs(self, jobs: Sequence[WholeJob], then: Any = None, failed: Any = None) -> Future[None]:
        self.jobs.extend(jobs)
        return super().keep_jobs(jobs, then, failed)


@dataclass
class Written:
    """A demo shop as written: each unit's story with its jobs, oldest first."""

    shop: Heard
    seed: int
    told: list[tuple[Story, list[WholeJob]]] = field(default_factory=list)
    revisions: dict[UUID, PatternRevision] = field(default_factory=dict)

    def of(self, kind: str) -> list[tuple[Story, list[WholeJob]]]:
        found = [(s, jobs) for s, jobs in self.told if s.kind == kind]
        assert found, kind
        return found

    def revision(self, head: SheetHead) -> PatternRevision:
        if head.revision_id not in self.revisions:
            file = self.shop.open_sheet(head.id).result()
            assert file is not None
            self.revisions[head.revision_id] = file.revision
        return self.revisions[head.revision_id]

    def judged(self, job: WholeJob, head: SheetHead, *, struck: bool = False) -> JudgedSheet:
        """What counts on a sheet; or, `struck`, what was struck out of it."""
        readings = [k.reading for k in job.readings if k.sheet_id == head.id and (k.strike is not None) == struck]
        pattern = self.revision(head).pattern
        proof = Proof(iron=head.iron_ohms is not None)
        return judge(Sheet(pattern, head.meter, head.conditions, tuple(readings), proof=proof))

    def verdicts(self, jobs: list[WholeJob]) -> list[str]:
        """Of every sheet, in order, with what was decided on it."""
        out = []
        for job in jobs:
            for head in job.sheets:
                decided = next((d for d in job.decisions if d.sheet_id == head.id), None)
                out.append(f"{self.judged(job, head).verdict}/{decided.outcome if decided else '-'}")
        return out


Write = Callable[..., Written]


@pytest.fixture(scope="session")
def write(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Write]:
    made: list[Written] = []

    def one(*, units: int = UNITS, seed: int = 20) -> Written:
        written = Written(Heard(tmp_path_factory.mktemp("demo") / "demo.sqlite"), seed)
        made.append(written)
        written.shop.open().result()
        build(written.shop, demo_day(DAY), units=units, seed=seed)
        by_tag: dict[str, list[WholeJob]] = {}
        for job in written.shop.jobs:
            by_tag.setdefault(job.unit.tag, []).append(job)
        written.told = [(s, by_tag[s.tag]) for s in stories(units, seed)]
        return written

    yield one
    for written in made:
        written.shop.close()


@pytest.fixture(scope="session")
def written(write: Write) -> Written:
    """As it is by itself."""
    return write()


@pytest.fixture(scope="session", params=[20, 1, 2])
def any_shop(request: pytest.FixtureRequest, write: Write, written: Written) -> Written:
    """Of several seeds: a story must not hang on one draw."""
    return written if request.param == 20 else write(units=120, seed=request.param)
