"""The counter on a real store: booking, finding, coming back, and a booking that was cut off."""

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

import pytest

from tests.sitting.fakes import TWO_COILS, WYE, Desk, bench_file, starter
from workbench.exchange.starters import starter_meters, starter_patterns
from workbench.records import BenchFile, Job, KeptDraft, PatternRevision, Unit, new_id, now
from workbench.shop import Shop
from workbench.sitting.bench import Bench
from workbench.sitting.counter import LONGEST_TAG, Booking, Counter
from workbench.sitting.otherpattern import moved_words
from workbench.sitting.say import Tone
from workbench.sitting.whichpart import KIND
from workbench.stator.pattern import Pair


@dataclass
class At:
    """The counter, its shop, and what went to the bench."""

    counter: Counter
    shop: Shop
    desk: Desk
    benches: list[BenchFile] = field(default_factory=list)

    def settled(self) -> None:
        """Everything asked so far is answered."""
        seen: list[object] = []
        for _ in range(4):  # an answer may ask on
            seen.clear()
            self.shop.meters(seen.append)
            self.desk.until(lambda: bool(seen))

    def revision(self, name: str = TWO_COILS) -> PatternRevision:
        return next(r for r in self.counter.patterns if r.pattern.name == name)

    def book(self, tag: str, label: str = "red sled", complaint: str = "no spark") -> BenchFile:
        self.counter.book(Booking(tag, label, complaint, self.revision()))
        self.settled()
        return self.benches[-1]

    def refusal(self) -> str:
        said = self.counter.said
        assert said is not None
        assert said.tone is Tone.REFUSES
        return said.sentence


@pytest.fixture
def at(tmp_path: Path) -> Iterator[At]:
    desk = Desk()
    shop = Shop(str(tmp_path / "shop.sqlite"), desk.deliver)
    shop.open().result()
    shop.stock(starter_patterns(), starter_meters()).result()
    here = At(Counter(shop), shop, desk)
    here.counter.on_bench = here.benches.append
    here.counter.refresh()
    here.settled()
    yield here
    shop.close()


def test_what_the_shop_has_is_listed(at: At) -> None:
    assert {r.pattern for r in at.counter.patterns} == set(starter_patterns())
    assert {m.name for m in at.counter.meters} == {name for name, _ in starter_meters()}
    assert at.counter.suggested
    assert at.counter.units == ()


def test_parts_without_papers_that_are_begun_are_told(at: At) -> None:
    assert at.counter.without_papers == ""
    for n in range(1, 3):
        at.shop.keep_draft(KeptDraft(new_id(), KIND, "5 cavities", "{}", now(), now(), 0)).result()
        at.counter.refresh()
        at.settled()
        assert at.counter.without_papers.startswith(f"{n} part")
    assert at.counter.without_papers == "2 parts without papers are begun: what was read is kept."
    at.shop.drop_draft(at.counter.begun[0]).result()
    at.counter.refresh()
    at.settled()
    assert at.counter.without_papers == "1 part without papers is begun: what was read is kept."


def test_a_new_shop_says_that_the_first_part_is_to_be_booked_in(at: At) -> None:
    assert Counter(at.shop).nothing == ""  # nobody knows yet
    assert at.counter.nothing.startswith("No part is in the shop yet. Book the first one in")
    at.book("SL-0001")
    at.counter.refresh()
    at.settled()
    assert at.counter.nothing == ""


def test_a_booked_part_goes_to_the_bench_with_tag_job_and_an_empty_sheet(at: At) -> None:
    file = at.book(" SL-0009 ", " red sled ", " no spark ")
    assert (file.unit.tag, file.unit.label, file.job.complaint) == ("SL-0009", "red sled", "no spark")
    assert file.job.number == 1
    assert file.revision == at.revision()
    assert file.readings == ()
    assert file.sheet.iron_ohms is None  # nothing is proved yet
    assert at.shop.find_unit("SL-0009").result() == file
    at.counter.refresh()
    at.settled()
    assert [u.tag for u in at.counter.units] == ["SL-0009"]
    assert at.counter.suggested == "SL-0010"


@pytest.mark.parametrize(
    ("booking", "says"),
    [
        (("", "red sled", True), "needs a tag"),
        (("   ", "red sled", True), "needs a tag"),
        (("x" * (LONGEST_TAG + 1), "red sled", True), "at most 60"),
        (("SL-1", " ", True), "came off"),
        (("SL-1", "red sled", False), "pattern"),
    ],
)
def test_an_empty_field_is_asked_for_and_nothing_is_booked(at: At, booking: tuple[str, str, bool], says: str) -> None:
    tag, label, known = booking
    at.counter.book(Booking(tag, label, "", at.revision() if known else None))
    assert says in at.refusal()
    at.settled()
    assert at.shop.recent_units().result() == ()


def test_a_tag_that_is_taken_is_told_with_what_it_is_on(at: At) -> None:
    at.book("SL-0001", "red sled")
    at.counter.book(Booking("sl-0001", "blue quad", "", at.revision()))
    at.settled()
    assert "on another unit already (red sled)" in at.refusal()
    assert len(at.benches) == 1
    assert len(at.shop.recent_units().result()) == 1


def test_booking_twice_in_a_hurry_makes_one_unit(at: At) -> None:
    form = Booking("SL-0001", "red sled", "", at.revision())
    at.counter.book(form)
    at.counter.book(form)
    at.settled()
    assert len(at.benches) == 1
    assert len(at.shop.recent_units().result()) == 1


@pytest.mark.parametrize("typed", ["SL-0001", "sl-0001", "  Sl-0001 "])
def test_a_tag_is_found_in_any_case(at: At, typed: str) -> None:
    file = at.book("SL-0001")
    at.counter.find("nowhere")
    at.settled()
    at.counter.find(typed)
    at.settled()
    assert at.benches[-1] == file
    assert len(at.benches) == 2
    assert at.counter.said is None


def test_an_unknown_tag_and_an_empty_one_are_told(at: At) -> None:
    at.counter.find("SL-9999")
    at.settled()
    assert "No unit has the tag “SL-9999”" in at.refusal()
    at.counter.find("  ")
    assert "Type or scan a tag" in at.refusal()
    assert at.benches == []


def test_units_are_listed_by_any_words_of_tag_and_label(at: At) -> None:
    at.book("SL-0001", "red sled, rental no. 7")
    at.book("SL-0002", "blue quad")
    for text, tags in (("rental", ["SL-0001"]), ("BLUE 0002", ["SL-0002"]), ("green", []),
                       ("", ["SL-0002", "SL-0001"])):  # fmt: skip
        at.counter.search(text)
        at.settled()
        assert [u.tag for u in at.counter.units] == tags


def test_an_answer_overtaken_by_more_typing_is_dropped(at: At) -> None:
    at.book("SL-0001", "red sled")
    at.book("SL-0002", "blue quad")
    shown: list[list[str]] = []
    at.counter.on_change = lambda: shown.append([u.tag for u in at.counter.units])
    at.counter.search("red")
    at.counter.search("blue")
    at.settled()
    assert shown == [["SL-0002"]]


def test_a_part_that_comes_back_has_a_new_job_on_the_pattern_as_it_is_now(at: At) -> None:
    first = at.book("SL-0001")
    wider = starter(TWO_COILS)
    changed = type(wider)(**{f: getattr(wider, f) for f in wider.__slots__} | {"checks": (Pair("P.1", "P.2"),)})
    revised = at.shop.save_pattern(changed).result()
    at.counter.refresh()
    at.settled()
    at.counter.again(first, " dead again ")
    at.settled()
    again = at.benches[-1]
    assert again.unit == first.unit
    assert (again.job.number, again.job.complaint) == (2, "dead again")
    assert again.revision == revised
    assert again.revision.number == 2
    assert again.readings == ()
    assert at.shop.find_unit("SL-0001").result() == again


def test_a_new_sheet_stays_within_the_job_and_under_the_same_leads_but_proves_the_iron_anew(at: At) -> None:
    first = at.book("SL-0001")
    at.counter.new_sheet(first)
    at.settled()
    second = at.benches[-1]
    assert second.job == first.job
    assert second.sheet.id != first.sheet.id
    assert (second.sheet.conditions, second.sheet.meter) == (first.sheet.conditions, first.sheet.meter)
    assert second.sheet.iron_ohms is None
    assert at.shop.find_unit("SL-0001").result() == second


def test_a_part_on_the_wrong_pattern_is_moved_within_its_job_and_no_reading_moves_with_it(at: At) -> None:
    first = at.book("SL-0001")
    bench = Bench(first, at.shop)
    bench.enter("1 3 155.2")
    at.settled()
    remarks: list[str] = []
    at.counter.on_remark = lambda unit, sentence: remarks.append(sentence)
    at.shop.edit_unit(replace(first.unit, label="red sled, Tamsin's")).result()  # written meanwhile: it stays
    at.counter.move(first, at.revision(WYE))
    at.settled()
    moved = at.benches[-1]
    assert (moved.unit.id, moved.unit.label) == (first.unit.id, "red sled, Tamsin's")
    assert moved.unit.pattern_id == at.revision(WYE).pattern_id
    assert (moved.job, moved.revision, moved.readings) == (first.job, at.revision(WYE), ())
    assert (moved.sheet.conditions, moved.sheet.meter) == (first.sheet.conditions, first.sheet.meter)
    assert at.shop.find_unit("SL-0001").result() == moved
    old, new = at.shop.history(first.unit.id).result()
    assert (old.revision, [k.typed for k in old.readings]) == (first.revision, ["155.2"])
    assert new.head.id == moved.sheet.id
    assert remarks == [moved_words(first.revision, moved.revision)]


def test_a_newer_revision_is_taken_for_the_next_sheet_of_the_same_job(at: At) -> None:
    first = at.book("SL-0001")
    revised = at.shop.save_pattern(replace(first.revision.pattern, checks=(Pair("P.1", "P.2"),))).result()
    at.counter.new_sheet(first)
    at.settled()
    assert at.benches[-1].revision == first.revision  # New sheet goes on by what the job was begun by
    at.counter.move(at.benches[-1], revised)
    at.settled()
    assert (at.benches[-1].revision, at.benches[-1].unit, at.benches[-1].job) == (revised, first.unit, first.job)


def test_what_hinders_a_move_is_asked_once_all_readings_have_come_through(at: At) -> None:
    first = at.book("SL-0001")
    told: list[Exception] = []
    lost: list[str] = []
    at.counter.move(first, at.revision(WYE), told.append, hindered=lambda: "".join(lost))
    lost.append("A reading is not kept.")
    at.settled()
    assert [str(e) for e in told] == ["A reading is not kept."]
    assert at.shop.find_unit("SL-0001").result() == first
    lost.clear()
    at.counter.move(first, at.revision(WYE), told.append, hindered=lambda: "".join(lost))
    at.settled()
    assert at.benches[-1].revision == at.revision(WYE)


@pytest.mark.parametrize("with_job", [True, False])
def test_a_booking_that_was_cut_off_before_its_sheet_goes_on(at: At, with_job: bool) -> None:
    unit = Unit(new_id(), "SL-0001", "red sled", at.revision(WYE).pattern_id, now())
    if with_job:
        at.shop.book(unit, Job(new_id(), unit.id, 0, "no charge", now())).result()
    else:
        at.shop.edit_unit(unit).result()
    at.counter.find("sl-0001")
    at.settled()
    (file,) = at.benches
    assert file.unit.id == unit.id
    assert file.revision == at.revision(WYE)
    assert file.job.complaint == ("no charge" if with_job else "")
    assert file.job.number == 1
    assert at.shop.find_unit("SL-0001").result() == file


def test_a_tag_is_asked_for_with_its_own_booking_only(at: At) -> None:
    asked: list[str] = []
    at.counter.on_tag = lambda unit: asked.append(unit.tag)
    at.counter.book(Booking("SL-0001", "", "", at.revision()), tag_it=True)
    assert "came off" in at.refusal()
    file = at.book("SL-0002")
    at.counter.new_sheet(file)
    at.counter.again(file, "")
    at.settled()
    assert asked == []
    at.counter.book(Booking("SL-0003", "blue quad", "", at.revision(), "a bent tooth"), tag_it=True)
    at.settled()
    assert asked == ["SL-0003"]
    assert at.benches[-1].job.seen == "a bent tooth"


def test_a_cut_off_unit_without_a_pattern_is_told(at: At) -> None:
    at.shop.edit_unit(Unit(new_id(), "SL-0001", "red sled", None, now())).result()
    at.counter.find("SL-0001")
    at.settled()
    assert "not by which pattern" in at.refusal()


def test_a_shop_without_a_meter_says_so_wherever_a_sheet_would_begin(tmp_path: Path) -> None:
    desk = Desk()
    shop = Shop(str(tmp_path / "bare.sqlite"), desk.deliver)
    shop.open().result()
    shop.stock(starter_patterns(), ()).result()
    here = At(Counter(shop), shop, desk)
    here.counter.refresh()
    here.settled()
    here.counter.book(Booking("SL-0001", "red sled", "", here.revision()))
    assert "no meter yet" in here.refusal()
    unit = Unit(new_id(), "SL-0001", "red sled", here.revision().pattern_id, now())
    shop.book(unit, Job(new_id(), unit.id, 0, "", now())).result()
    for act in (lambda: here.counter.find("SL-0001"), lambda: here.counter.again(bench_file(), "")):
        here.counter.said = None
        act()
        here.settled()
        assert "no meter yet" in here.refusal()
    shop.close()


def test_a_store_that_fails_is_told_at_the_counter(tmp_path: Path) -> None:
    desk = Desk()
    shop = Shop(str(tmp_path / "never-opened.sqlite"), desk.deliver)
    here = At(Counter(shop), shop, desk)
    here.counter.find("SL-0001")
    desk.until(lambda: here.counter.said is not None)
    assert "The store is not open" in here.refusal()
    shop.close()


def test_a_second_press_begins_no_second_sheet_and_one_that_failed_can_be_begun_again(
    at: At, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = at.book("SL-0001")
    asked: list[tuple[Any, Any]] = []
    monkeypatch.setattr(at.shop, "begin_sheet", lambda head, then, failed: asked.append((then, failed)))
    told: list[Exception] = []
    at.counter.new_sheet(first, told.append)
    at.counter.new_sheet(first, told.append)
    assert len(asked) == 1
    asked[0][1](OSError("the disk is full"))
    assert [str(e) for e in told] == ["the disk is full"]
    assert at.counter.said is None  # it is told where it was asked for, not at the counter
    at.counter.new_sheet(first, told.append)
    assert len(asked) == 2
    asked[1][0](first)
    at.counter.new_sheet(first, told.append)
    assert len(asked) == 3


def test_a_part_that_came_back_twice_in_one_breath_gets_one_job(at: At, monkeypatch: pytest.MonkeyPatch) -> None:
    first = at.book("SL-0001")
    asked: list[object] = []
    monkeypatch.setattr(at.shop, "book", lambda unit, job, then, failed: asked.append(job))
    at.counter.again(first, "dead again")
    at.counter.again(first, "dead again")
    assert len(asked) == 1
