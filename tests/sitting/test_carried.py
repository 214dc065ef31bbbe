"""What was read of a part without papers comes with it when it is booked in: all or none, in the pattern's names."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import pytest

from tests.sitting.fakes import AT, HANDHELD, TWO_COILS
from tests.sitting.test_whichsitting import BY_NAME, laid, with_plugs_of
from workbench.records import BenchFile, Job, KeptReading, PatternRevision, SheetHead, Unit
from workbench.sitting.carried import NOT_KEPT, Carried
from workbench.sitting.counter import Booking, Counter
from workbench.stator.pattern import Pair

REVISION = BY_NAME[TWO_COILS]


class Records:
    """Answers at once; `fails`: readings can't be kept."""

    def __init__(self, revision: PatternRevision, *, fails: bool = False) -> None:
        self.fails = fails
        self.revision = revision
        self.readings: list[KeptReading] = []
        self.heads: list[SheetHead] = []

    def unit_by_tag(self, tag: str, then: Any = None, failed: Any = None) -> None:
        then(None)

    def book(self, unit: Unit, job: Job, then: Any = None, failed: Any = None) -> None:
        self.booked = unit, job
        then((unit, job))

    def begin_sheet(self, head: SheetHead, then: Any = None, failed: Any = None) -> None:
        self.heads.append(head)
        then(BenchFile(*self.booked, self.revision, head, (), None))

    def keep_readings(self, kept: Sequence[KeptReading], then: Any = None, failed: Any = None) -> None:
        if self.fails:
            failed(OSError("The disk is full."))
        else:
            self.readings += kept
            then(tuple(kept))


class Booked:
    def __init__(self, *, fails: bool = False, revision: PatternRevision = REVISION) -> None:
        self.which, _ = with_plugs_of(TWO_COILS)
        lay = laid(self.which, REVISION.pattern)
        for text in ("A1 A3 155.2", "A1 ground OL", "A1 A2 9", "B1 B2 0.6"):
            self.which.enter(text)
        self.which.strike(self.which.part.seen[2].id, "slipped")
        self.which.change_conditions(
            replace(self.which.head, conditions=replace(self.which.head.conditions, celsius=31.5), meter_zeroed=True)
        )
        self.records = Records(revision, fails=fails)
        self.arrived = 0
        self.carried = Carried(self.which.part, REVISION, lay, self.records, self._arrived)
        self.counter = Counter(self.records)  # type: ignore[arg-type]  # only what booking asks for
        self.counter.meters = (HANDHELD,)
        self.files: list[BenchFile] = []
        self.remarks: list[str] = []
        self.counter.on_bench = self.files.append
        self.counter.on_remark = lambda unit, sentence: self.remarks.append(sentence)
        self.counter.carry(self.carried)
        self.counter.book(Booking("SL-9", "a quad from the pier", "", revision))

    def _arrived(self) -> None:
        self.arrived += 1


def test_readings_come_in_the_patterns_names_with_meter_and_conditions() -> None:
    made = Booked()
    (file,) = made.files
    assert [(k.place, k.typed) for k in file.readings] == [(1, "155.2"), (2, "OL"), (3, "0.6")]
    assert file.readings[0].reading.pair == Pair("P.1", "P.3")
    assert file.readings[1].reading.pair == Pair("P.1", "core")
    assert file.readings[2].reading.pair == Pair("L.1", "L.2")
    assert {k.sheet_id for k in file.readings} == {file.sheet.id}
    assert [k.taken_at for k in file.readings] == [s.taken_at for s in made.which.part.counted]
    assert (file.sheet.conditions.celsius, file.sheet.meter_zeroed) == (31.5, True)
    assert (file.sheet.job_id, file.sheet.revision_id) == (file.job.id, REVISION.id)
    assert file.sheet.started_at != AT
    assert tuple(made.records.readings) == file.readings
    assert made.remarks == ["The 3 readings taken before are on this sheet."]
    assert made.arrived == 1
    assert made.counter.carried is None


def test_what_can_not_be_kept_stays_where_it_was_and_is_said() -> None:
    made = Booked(fails=True)
    (file,) = made.files
    assert file.readings == ()
    assert made.remarks == [f"{NOT_KEPT} The disk is full."]
    assert made.arrived == 0


def test_a_pattern_that_was_changed_meanwhile_is_told() -> None:
    plug, *others = REVISION.pattern.connectors
    windings = tuple(w for w in REVISION.pattern.windings if w.start.startswith("L"))
    pattern = replace(
        REVISION.pattern,
        connectors=(replace(plug, cavities=plug.cavities[3:]), *others),
        windings=windings, checks=None, layout=None,
    )  # fmt: skip
    made = Booked(revision=replace(REVISION, pattern=pattern))
    assert made.remarks == [NOT_KEPT]
    assert made.arrived == 0


def test_a_part_of_another_pattern_takes_nothing_along() -> None:
    made = Booked(revision=BY_NAME["three-phase wye"])
    (file,) = made.files
    assert file.readings == ()
    assert made.remarks == []
    assert made.counter.carried is made.carried  # it waits for its own


def test_nothing_comes_once_it_was_left_out() -> None:
    made = Booked(revision=BY_NAME["three-phase wye"])
    made.counter.carry(None)
    made.counter.book(Booking("SL-10", "another", "", REVISION))
    assert made.files[-1].readings == ()


@pytest.mark.parametrize(("number", "said"), [(0, "Meter and temperature"), (1, "One reading"), (3, "3 readings")])
def test_what_comes_along_is_said_before(number: int, said: str) -> None:
    made = Booked()
    part = replace(made.which.part, seen=made.which.part.seen[:2][:number] if number < 3 else made.which.part.seen)
    assert replace(made.carried, part=part).words.startswith(said)
    assert TWO_COILS in made.carried.words
