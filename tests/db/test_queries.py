"""What is written reads back as it was; twice is once; a stale edit is refused."""

import math
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sqlalchemy import select
from sqlalchemy.exc import IntegrityError, StatementError

from db import queries
from db.columns import UTC_LENGTH, utc_text
from db.keep import IdTakenError
from db.store import Store
from db.tables import JobRow, ReadingRow
from db.trouble import ChangedElsewhere, Refused
from tests.db.invented import (
    BENCH,
    CARD,
    DECIDED,
    DRAFT,
    HEAD_OF_SHEET,
    JOB,
    METER,
    PATTERN,
    PATTERN_ID,
    READINGS,
    STRIKE,
    UNIT,
    WIDER,
    at,
    fill,
    reading,
    uid,
)
from workbench.records import BenchFile, CardMade, CardSize, KeptReading, Outcome, Strike, Unit, UnitListed, Whose
from workbench.stator.pattern import Pair
from workbench.stator.sheet import Conditions, Reading


def _file(store: Store) -> BenchFile:
    with store.reading() as s:
        file = queries.sheets.bench_file(s, "KL-0148")
    assert file is not None
    return file


def test_writing_everything_twice_is_writing_it_once(store: Store) -> None:
    before = _file(store)
    with store.writing() as s:
        queries.meters.save(s, METER)
        queries.units.save(s, UNIT)
        queries.jobs.open_job(s, JOB)
        queries.sheets.begin(s, HEAD_OF_SHEET)
        for kept in READINGS:
            queries.sheets.keep_reading(s, kept)
        queries.sheets.strike(s, STRIKE)
        queries.jobs.decide(s, DECIDED)
        assert queries.cards.note(s, CARD) == CARD
    assert _file(store) == before
    with store.reading() as s:
        assert queries.cards.of_sheet(s, HEAD_OF_SHEET.id) == (CARD,)


def test_an_id_that_is_kept_with_something_else_is_a_fault(store: Store) -> None:
    other = replace(READINGS[1], typed="248", reading=Reading(Pair("P.1", "P.3"), 248.0, 2000.0))
    with pytest.raises(IdTakenError, match="ohms, typed"), store.writing() as s:
        queries.sheets.keep_reading(s, other)
    assert _file(store).readings == READINGS


def test_a_place_in_the_sheet_is_taken_once(store: Store) -> None:
    with pytest.raises(IntegrityError, match=r"readings\.place"), store.writing() as s:
        queries.sheets.keep_reading(s, replace(reading(1), place=2))


def test_readings_come_in_their_places(store: Store) -> None:
    with store.writing() as s:
        for number, place in ((1, 9), (2, 8), (3, 10)):
            queries.sheets.keep_reading(s, replace(reading(number), place=place))
    assert [k.place for k in _file(store).readings] == [1, 2, 3, 4, 8, 9, 10]


def test_nothing_of_a_transaction_that_fails_is_kept(store: Store) -> None:
    def keep_both() -> None:
        with store.writing() as s:
            queries.sheets.keep_reading(s, reading(1))
            queries.sheets.keep_reading(s, replace(READINGS[1], typed="248"))

    with pytest.raises(IdTakenError):
        keep_both()
    assert _file(store).readings == READINGS


@pytest.mark.parametrize("ohms", [math.nan, math.inf, -math.inf])
def test_a_number_that_is_none_is_never_kept_as_an_overload(ohms: float, store: Store) -> None:
    kept = replace(reading(1), reading=Reading(Pair("P.1", "P.3"), ohms))
    with pytest.raises(ValueError, match="ohms must be a finite number"), store.writing() as s:
        queries.sheets.keep_reading(s, kept)


texts = st.text(st.characters(exclude_categories=["Cs"]), max_size=12)
moments = st.datetimes(
    datetime(1990, 1, 1),
    datetime(2120, 1, 1),
    timezones=st.integers(-14 * 60, 14 * 60).map(lambda m: timezone(timedelta(minutes=m))),
)


@given(
    typed=texts,
    ohms=st.none() | st.floats(allow_nan=False, allow_infinity=False),
    upto=st.none() | st.floats(min_value=1e-3, max_value=1e12),
    taken_at=moments,
    nodes=st.lists(texts, min_size=2, max_size=2, unique=True),
)
@settings(max_examples=60, deadline=None)
def test_a_reading_reads_back_as_it_was_typed(
    scratch: Store, typed: str, ohms: float | None, upto: float | None, taken_at: datetime, nodes: list[str]
) -> None:
    kept = KeptReading(uid(2000), HEAD_OF_SHEET.id, 2000, Reading(Pair(*nodes), ohms, upto), typed, taken_at)
    with scratch.writing() as s:
        queries.sheets.keep_reading(s, kept)
        back = queries.sheets.readings_of(s, HEAD_OF_SHEET.id)[-1]
        s.rollback()
    assert back == kept
    assert back.taken_at.tzinfo is UTC


@pytest.fixture(scope="module")
def scratch(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Store]:
    store = Store.open(tmp_path_factory.mktemp("scratch") / "shop.sqlite", bench=BENCH)
    fill(store)
    yield store
    store.close()


@given(st.lists(moments, min_size=2, max_size=5))
def test_the_order_of_the_text_is_the_order_of_the_times(times: list[datetime]) -> None:
    assert [utc_text(t) for t in sorted(times)] == sorted(utc_text(t) for t in times)
    assert {len(utc_text(t)) for t in times} == {UTC_LENGTH}


def test_times_are_kept_as_utc_text(store: Store) -> None:
    eastern = datetime(2026, 2, 3, 12, 0, tzinfo=timezone(timedelta(hours=2)))
    with store.writing() as s:
        queries.sheets.keep_reading(s, replace(reading(1), taken_at=eastern))
        text = s.connection().exec_driver_sql("SELECT taken_at FROM readings WHERE place = 101").scalar_one()
    assert text == "2026-02-03T10:00:00.000000Z"


def test_a_time_without_a_zone_is_refused(store: Store) -> None:
    naive = datetime(2026, 2, 3, 12, 0)
    with pytest.raises(StatementError, match="without a zone"), store.writing() as s:
        queries.sheets.keep_reading(s, replace(reading(1), taken_at=naive))


def test_every_row_names_its_bench(shop_file: Path) -> None:
    second = Store.open(shop_file, bench=uid(77))
    with second.writing() as s:
        queries.sheets.keep_reading(s, reading(1))
    with second.reading() as s:
        rows = s.scalars(select(ReadingRow).order_by(ReadingRow.place)).all()
        assert [r.made_on for r in rows] == [BENCH] * len(READINGS) + [uid(77)]
    second.close()


def test_edits_carry_the_version_on(store: Store) -> None:
    warmer = replace(HEAD_OF_SHEET, conditions=Conditions(24.0, 1.0), meter_zeroed=True, iron_ohms=None)
    closed = replace(JOB, found="fine winding sound", closed_at=at(40))
    moved = replace(UNIT, label="Sled from the far shore", pattern_id=uid(5))
    finer = replace(METER, name="bench meter, grey")
    with store.writing() as s:
        assert queries.sheets.change_conditions(s, warmer) == replace(warmer, version=2)
        assert queries.jobs.edit_job(s, closed) == replace(closed, version=2)
        assert queries.units.save(s, moved) == replace(moved, version=2)
        assert queries.meters.save(s, finer) == replace(finer, version=2)
    file = _file(store)
    assert (file.sheet, file.job) == (replace(warmer, version=2), replace(closed, version=2))
    assert file.unit == replace(moved, version=2)
    assert file.sheet.meter_name == "bench meter, yellow", "the sheet keeps the meter as it was then"


def test_a_stale_edit_is_refused_and_overwrites_nothing(store: Store) -> None:
    mine, theirs = replace(JOB, found="mine"), replace(JOB, found="theirs")
    with store.writing() as s:
        queries.jobs.edit_job(s, theirs)
    with pytest.raises(ChangedElsewhere, match="was changed elsewhere meanwhile"), store.writing() as s:
        queries.jobs.edit_job(s, mine)
    for stale in (replace(UNIT, label="x", version=7), replace(UNIT, label="x", version=0)):
        with pytest.raises(ChangedElsewhere), store.writing() as s:
            queries.units.save(s, stale)
    for head in (replace(HEAD_OF_SHEET, iron_ohms=9.0, version=3),):
        with pytest.raises(ChangedElsewhere), store.writing() as s:
            queries.sheets.change_conditions(s, head)
    assert _file(store).job.found == "theirs"
    assert _file(store).unit == UNIT


def test_an_edit_sent_again_after_a_lost_answer_is_not_made_twice(store: Store) -> None:
    edited = replace(JOB, done="cleaned the plug")
    for _ in range(2):
        with store.writing() as s:
            assert queries.jobs.edit_job(s, edited).version == 2


def test_a_pattern_gets_a_revision_only_where_something_changed(store: Store) -> None:
    same_in_whole_numbers = replace(WIDER, windings=(replace(WIDER.windings[0], ohms=245), WIDER.windings[1]))
    with store.writing() as s:
        unchanged = queries.patterns.save(s, same_in_whole_numbers, at(50))
        back = queries.patterns.save(s, PATTERN, at(51))
        assert [r.pattern for r in queries.patterns.latest(s)] == [PATTERN]
        assert queries.patterns.by_name(s, PATTERN.name) == back
        assert queries.patterns.by_name(s, "no such pattern") is None
    assert (unchanged.number, unchanged.made_at) == (2, at(30))
    assert (back.number, back.pattern_id) == (3, unchanged.pattern_id)
    assert _file(store).revision.number == 1, "a sheet keeps the revision it was judged against"


def test_two_meters_can_not_share_a_name(store: Store) -> None:
    with pytest.raises(Refused, match="named 'bench meter, yellow' already"), store.writing() as s:
        queries.meters.save(s, replace(METER, id=uid(500)))


def test_a_tag_is_found_in_any_case_and_spacing_and_taken_once(store: Store) -> None:
    with store.reading() as s:
        assert queries.units.by_tag(s, "  kl-0148 ") == UNIT
        assert queries.units.by_tag(s, "KL-014") is None
    with pytest.raises(Refused, match="The tag KL-0148 is on another part already"), store.writing() as s:
        queries.units.save(s, replace(UNIT, id=uid(500), tag="kl-0148"))
    with pytest.raises(ValueError, match="needs a tag"), store.writing() as s:
        queries.units.save(s, replace(UNIT, id=uid(500), tag="  "))


def test_a_unit_is_listed_with_its_latest_job_and_what_holds_of_it(store: Store) -> None:
    def listed() -> UnitListed:
        with store.reading() as s:
            found = next(u for u in queries.listed.recent(s, 5) if u.unit.id == UNIT.id)
            assert found in queries.listed.search(s, UNIT.tag, 5)
        return found

    with store.writing() as s:
        for i, outcome in enumerate((Outcome.REWIND, Outcome.SCRAP)):
            queries.jobs.decide(s, replace(DECIDED, id=uid(900 + i), outcome=outcome))
    now = listed()
    assert now.job is not None
    assert now.decided is not None
    assert (now.job.number, now.decided.outcome) == (1, Outcome.SCRAP)
    with store.writing() as s:
        queries.jobs.open_job(s, replace(JOB, id=uid(71), number=2, complaint="back again"))
    now = listed()
    assert now.job is not None
    assert (now.job.number, now.job.complaint, now.decided) == (2, "back again", None)


def test_search_takes_words_in_any_order_and_case(store: Store) -> None:
    other = Unit(uid(500), "KL_0149", "100% quad", None, at(2))
    with store.writing() as s:
        queries.units.save(s, other)

    def found(text: str, limit: int = 9) -> list[str]:
        with store.reading() as s:
            return [u.tag for u in queries.listed.search(s, text, limit)]

    assert found("øRE harbour") == ["KL-0148"]
    assert found("kl") == ["KL-0148", "KL_0149"]
    assert found("kl", 1) == ["KL-0148"]
    assert found("0% q") == ["KL_0149"]
    assert found("kl_") == ["KL_0149"], "an underscore is itself, not any letter"
    assert found("kl nowhere") == found("  ") == []


@pytest.mark.parametrize(
    ("tags", "suggested"),
    [
        ([], "KL-0149"),
        (["KL-0300", "kl-0500", "KL-0299"], "KL-0501"),
        (["Q9999"], "Q10000"),
        (["loan part"], "KL-0149"),
        (["B-7", "17"], "18"),
        (["K%-01"], "K%-02"),
        (["Shed 007"], "Shed 008"),
        (["KL-１７"], "KL-0149"),
    ],
)
def test_the_next_tag_goes_on_from_the_latest(tags: list[str], suggested: str, store: Store) -> None:
    with store.writing() as s:
        for i, tag in enumerate(tags):
            queries.units.save(s, Unit(uid(500 + i), tag, "", None, at(100 + i)))
        assert queries.units.next_tag(s) == suggested
        assert queries.units.by_tag(s, suggested) is None


def test_the_first_tag_of_a_new_shop(tmp_path: Path) -> None:
    store = Store.open(tmp_path / "new.sqlite", bench=BENCH)
    with store.reading() as s:
        assert queries.units.next_tag(s) == "T-0001"
        assert queries.jobs.next_number(s) == 1
        assert queries.listed.recent(s, 5) == ()
    store.close()


def test_a_unit_that_comes_back(store: Store) -> None:
    """The latest job counts, and its latest sheet, by their numbers: the clock may have been set back."""
    with store.writing() as s:
        other = queries.units.save(s, Unit(uid(500), "KL-0149", "", None, at(50)))
        job = queries.jobs.open_job(s, replace(JOB, id=uid(501), number=0, opened_at=at(-9000)))
        assert job.number == 2
        assert [u.unit for u in queries.listed.recent(s, 5)] == [UNIT, other]
        assert queries.sheets.bench_file(s, "KL-0148") is None, "its latest job has no sheet yet"
        assert queries.jobs.unit_and_latest(s, "kl-0148") == (UNIT, job)
        first, second = (
            replace(HEAD_OF_SHEET, id=uid(510), job_id=job.id, started_at=at(80)),
            replace(HEAD_OF_SHEET, id=uid(511), job_id=job.id, started_at=at(-9000)),
        )
        for head in (first, second):
            queries.sheets.begin(s, head)
        for i, outcome in enumerate((Outcome.REWIND, Outcome.SCRAP)):
            decided = replace(DECIDED, id=uid(520 + i), job_id=job.id, outcome=outcome, decided_at=at(90 - i))
            queries.jobs.decide(s, decided)
    file = _file(store)
    assert (file.job, file.sheet, file.readings) == (job, second, ())
    assert file.decided is not None
    assert file.decided.outcome is Outcome.SCRAP


def test_a_job_number_is_given_once(store: Store) -> None:
    with pytest.raises(Refused, match="There is a job 1 already"), store.writing() as s:
        queries.jobs.open_job(s, replace(JOB, id=uid(501)))
    asked = replace(JOB, id=uid(501), number=0)
    for _ in range(2):
        with store.writing() as s:
            assert queries.jobs.open_job(s, asked).number == 2
    with store.reading() as s:
        assert len(s.scalars(select(JobRow)).all()) == 2


def test_a_reading_is_struck_once(store: Store) -> None:
    with pytest.raises(Refused, match=r"struck out already \(undone\)"), store.writing() as s:
        queries.sheets.strike(s, Strike(uid(600), STRIKE.reading_id, "probe slipped", at(60)))


def test_cards_are_counted_within_their_sheet(store: Store) -> None:
    with store.writing() as s:
        of = HEAD_OF_SHEET.id
        second = queries.cards.note(s, CardMade(uid(601), of, 1, "saved", at(61)))
        again = queries.cards.note(s, CardMade(uid(601), of, 1, "saved", at(61)))
        shops = queries.cards.note(s, CardMade(uid(604), of, 1, "printed", at(61), Whose.SHOP, CardSize.LABEL, "said"))
        other_sheet = queries.sheets.begin(s, replace(HEAD_OF_SHEET, id=uid(602)))
        first_there = queries.cards.note(s, CardMade(uid(603), other_sheet.id, 1, "saved", at(62)))
    assert (shops.copy, shops.size, shops.asserts) == (2, CardSize.LABEL, "said")
    assert (second.copy, again, first_there.copy) == (1, second, 1)  # the customer's by themselves, the shop's too


def test_a_draft_is_kept_changed_and_dropped(store: Store) -> None:
    with store.reading() as s:
        (first,) = queries.drafts.of_kind(s, DRAFT.kind)
    assert first == replace(DRAFT, version=1)
    changed = replace(first, body='{"plugs":["P"]}', changed_at=at(20))
    other = replace(DRAFT, id=uid(52), title="another", changed_at=at(16))
    with store.writing() as s:
        assert queries.drafts.save(s, changed).version == 2
        queries.drafts.save(s, other)
        with pytest.raises(ChangedElsewhere):
            queries.drafts.save(s, replace(changed, body="{}"))
    with store.reading() as s:
        assert [d.title for d in queries.drafts.of_kind(s, DRAFT.kind)] == ["half a plug", "another"]
        assert queries.drafts.of_kind(s, "elsewhere") == ()
    with store.writing() as s:
        for _ in range(2):
            queries.drafts.drop(s, first)
    with store.reading() as s:
        assert [d.title for d in queries.drafts.of_kind(s, DRAFT.kind)] == ["another"]


def test_units_known_good_are_those_that_passed_and_only_by_what_holds(store: Store) -> None:
    def known() -> list[tuple[str, bool, int]]:
        with store.reading() as s:
            return [
                (g.tag, g.ran_well, len(g.past.readings)) for g in queries.good.of_pattern(s, PATTERN_ID)
            ]  # fmt: skip

    assert known() == [(UNIT.tag, True, 3)]  # the struck reading doesn't count
    with store.writing() as s:
        queries.jobs.decide(s, replace(DECIDED, id=uid(901), outcome=Outcome.REWIND, ran_well=False))
    assert known() == []
    with store.writing() as s:
        queries.jobs.decide(s, replace(DECIDED, id=uid(902), verdict="not proved", ran_well=False))
    assert known() == []
    with store.writing() as s:
        queries.jobs.decide(s, replace(DECIDED, id=uid(903), verdict="not proved", ran_well=True))
    assert known() == [(UNIT.tag, True, 3)]
    with store.reading() as s:
        assert queries.good.of_pattern(s, uid(404)) == ()
