"""Any day at the counter, in any order, with closing and opening again in between: the store says what was done.

Beside the store runs a plain model of what must be kept; after every step the two are compared.
"""

import tempfile
from dataclasses import replace
from pathlib import Path
from uuid import UUID

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import Bundle, RuleBasedStateMachine, consumes, initialize, invariant, rule

from tests.db.invented import BENCH, DECIDED, HEAD_OF_SHEET, JOB, METER, PATTERN, UNIT, at, uid
from workbench.records import Decided, Job, KeptReading, Outcome, SheetHead, Strike, Unit
from workbench.shop import Shop
from workbench.stator.pattern import CORE, Pair
from workbench.stator.sheet import Reading

PAIRS = (Pair("P.1", "P.3"), Pair("P.3", "P.2"), Pair("P.1", CORE))


class Days(RuleBasedStateMachine):
    sheets = Bundle("sheets")
    readings = Bundle("readings")

    @initialize()
    def open_for_the_first_time(self) -> None:
        self.folder = tempfile.TemporaryDirectory()
        self.ids = 5000
        self.units: dict[str, Unit] = {}
        self.jobs: dict[str, Job] = {}
        self.heads: dict[UUID, SheetHead] = {}
        self.kept: dict[UUID, list[KeptReading]] = {}
        self.decided: dict[UUID, Decided] = {}
        self.latest: dict[UUID, UUID] = {}
        self.open()
        self.shop.save_meter(METER).result()
        self.revision = self.shop.save_pattern(PATTERN).result()

    def open(self) -> None:
        self.shop = Shop(str(Path(self.folder.name) / "shop.sqlite"), bench=BENCH)
        self.shop.open().result()

    def id(self) -> UUID:
        self.ids += 1
        return uid(self.ids)

    @rule(target=sheets, tag=st.sampled_from(["KL-0001", "KL-0002", "ø-3"]))
    def book_and_begin(self, tag: str) -> UUID:
        unit = self.units.get(tag) or replace(UNIT, id=self.id(), tag=tag)
        job = replace(JOB, id=self.id(), unit_id=unit.id, number=0)
        self.units[tag], self.jobs[tag] = self.shop.book(unit, job).result()
        return self.begin(self.jobs[tag].id)

    @rule(target=sheets, sheet=sheets)
    def begin_another(self, sheet: UUID) -> UUID:
        return self.begin(self.heads[sheet].job_id)

    def begin(self, job_id: UUID) -> UUID:
        head = replace(HEAD_OF_SHEET, id=self.id(), job_id=job_id, revision_id=self.revision.id)
        self.heads[head.id] = self.shop.begin_sheet(head).result().sheet
        self.kept[head.id] = []
        self.latest[job_id] = head.id
        return head.id

    @rule(
        target=readings,
        sheet=sheets,
        pair=st.sampled_from(PAIRS),
        ohms=st.none() | st.floats(0, 1999),
        times=st.integers(1, 3),
    )
    def keep(self, sheet: UUID, pair: Pair, ohms: float | None, times: int) -> tuple[UUID, UUID]:
        """Sent more than once where an answer was lost."""
        rows = self.kept[sheet]
        kept = KeptReading(self.id(), sheet, len(rows) + 1, Reading(pair, ohms), f"{ohms}", at(len(rows)))
        for _ in range(times):
            self.shop.keep_reading(kept).result()
        rows.append(kept)
        return sheet, kept.id

    @rule(reading=consumes(readings))
    def undo(self, reading: tuple[UUID, UUID]) -> None:
        sheet, reading_id = reading
        strike = self.shop.strike(Strike(self.id(), reading_id, "undone", at(99))).result()
        rows = self.kept[sheet]
        rows[:] = [replace(k, strike=strike) if k.id == reading_id else k for k in rows]

    @rule(sheet=sheets, celsius=st.floats(-60, 300))
    def warm_up(self, sheet: UUID, celsius: float) -> None:
        head = self.heads[sheet]
        changed = replace(head, conditions=replace(head.conditions, celsius=celsius))
        self.heads[sheet] = self.shop.change_conditions(changed).result()

    @rule(sheet=sheets, outcome=st.sampled_from(Outcome))
    def decide(self, sheet: UUID, outcome: Outcome) -> None:
        job_id = self.heads[sheet].job_id
        self.decided[job_id] = self.shop.decide(
            replace(DECIDED, id=self.id(), job_id=job_id, sheet_id=sheet, outcome=outcome)
        ).result()

    @rule()
    def close_and_open_again(self) -> None:
        self.shop.close()
        self.open()

    @invariant()
    def the_store_says_what_was_done(self) -> None:
        if not hasattr(self, "units"):
            return
        for tag, unit in self.units.items():
            file = self.shop.find_unit(tag).result()
            job = self.jobs[tag]
            sheet = self.latest[job.id]
            assert file is not None
            assert (file.unit, file.job, file.sheet) == (unit, job, self.heads[sheet])
            assert file.readings == tuple(self.kept[sheet])
            assert file.decided == self.decided.get(job.id)
        assert {u.tag for u in self.shop.recent_units().result()} == set(self.units)

    def teardown(self) -> None:
        if hasattr(self, "shop"):
            self.shop.close()
            self.folder.cleanup()


TestDays = Days.TestCase
TestDays.settings = settings(max_examples=12, stateful_step_count=25, deadline=None)
