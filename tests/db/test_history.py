"""A unit's sheets of all its jobs, in the order they were begun, with the readings that count; one of them opened."""

from dataclasses import replace
from datetime import timedelta
from pathlib import Path

from sqlalchemy import event

from db import queries
from db.store import Store
from tests.db.invented import (
    BENCH,
    DECIDED,
    HEAD_OF_SHEET,
    JOB,
    METER,
    PATTERN,
    READINGS,
    REPAIR,
    REWIND,
    UNIT,
    WIDER_ID,
    at,
    reading,
    uid,
)
from workbench.records import BenchFile, KeptRewind, Outcome, PatternRevision, SheetHead, as_read
from workbench.shop import Shop


def _comes_back(store: Store, number: int, minutes: float, sheet: int, readings: int = 1) -> SheetHead:
    """Another visit of the unit, on the pattern as it is now."""
    job = replace(JOB, id=uid(5000 + number), number=number, opened_at=at(minutes))
    head = replace(
        HEAD_OF_SHEET,
        id=uid(sheet),
        job_id=job.id,
        revision_id=WIDER_ID,
        started_at=at(minutes),
        note=f"visit {number}",
    )
    with store.writing() as s:
        queries.jobs.open_job(s, job)
        queries.sheets.begin(s, head)
        for i in range(readings):
            kept = replace(reading(i, head.id), id=uid(sheet * 1000 + i), place=1 + i)
            queries.sheets.keep_reading(s, kept)
    return head


def test_history_holds_every_sheet_with_what_it_was_judged_against(store: Store) -> None:
    second = _comes_back(store, 2, 500, sheet=6001)
    with store.reading() as s:
        past = queries.sheets.of_unit(s, UNIT.id)
    assert [(p.job_number, p.head) for p in past] == [(1, HEAD_OF_SHEET), (2, second)]
    assert [p.revision.number for p in past] == [1, 2]
    kept = PatternRevision(HEAD_OF_SHEET.revision_id, past[0].revision.pattern_id, 1, PATTERN, at(-2))
    assert past[0].revision == as_read(kept, HEAD_OF_SHEET) != kept
    assert [p.outcome for p in past] == [DECIDED.outcome, None]
    assert past[0].readings == tuple(k for k in READINGS if k.strike is None)
    assert [k.typed for k in past[1].readings] == ["240.0"]
    assert past[0].head.meter == METER.meter


def test_a_clock_that_was_set_back_changes_no_order(store: Store) -> None:
    _comes_back(store, 2, -900, sheet=6001)
    _comes_back(store, 3, -2000, sheet=6002)
    with store.reading() as s:
        assert [p.job_number for p in queries.sheets.of_unit(s, UNIT.id)] == [1, 2, 3]


def test_a_sheet_without_readings_is_there_and_another_units_is_not(store: Store) -> None:
    empty = _comes_back(store, 2, 500, sheet=6001, readings=0)
    other = replace(UNIT, id=uid(70), tag="KL-0149")
    job = replace(JOB, id=uid(71), unit_id=other.id, number=9)
    with store.writing() as s:
        queries.units.save(s, other)
        queries.jobs.open_job(s, job)
        queries.sheets.begin(s, replace(HEAD_OF_SHEET, id=uid(72), job_id=job.id))
    with store.reading() as s:
        past = queries.sheets.of_unit(s, UNIT.id)
        assert [p.head.id for p in past] == [HEAD_OF_SHEET.id, empty.id]
        assert past[1].readings == ()
        assert queries.sheets.of_unit(s, uid(404)) == ()


def test_the_last_decision_of_a_job_is_its_sheets(store: Store) -> None:
    second = _comes_back(store, 2, 500, sheet=6001)
    for i, outcome in enumerate((Outcome.REWIND, Outcome.REPAIR)):
        made = replace(DECIDED, id=uid(900 + i), job_id=second.job_id, sheet_id=second.id, outcome=outcome)
        with store.writing() as s:
            queries.jobs.decide(s, made)
    with store.reading() as s:
        assert [p.outcome for p in queries.sheets.of_unit(s, UNIT.id)][-1] is Outcome.REPAIR


def test_fifty_sheets_take_as_many_questions_as_one(store: Store) -> None:
    for number in range(2, 51):
        _comes_back(store, number, 10 * number, sheet=6000 + number, readings=12)
    asked: list[str] = []
    event.listen(store.engine, "before_cursor_execute", lambda c, cur, sql, *more: asked.append(sql))
    with store.reading() as s:
        past = queries.sheets.of_unit(s, UNIT.id)
    assert len(past) == 50
    assert sum(len(p.readings) for p in past) == 3 + 49 * 12
    assert len([q for q in asked if q.lstrip().upper().startswith("SELECT")]) == 3


def test_an_old_sheet_opens_with_its_own_job(store: Store) -> None:
    _comes_back(store, 2, 500, sheet=6001)
    with store.reading() as s:
        old = queries.sheets.file_of(s, HEAD_OF_SHEET.id)
        new = queries.sheets.file_of(s, uid(6001))
        assert queries.sheets.file_of(s, uid(404)) is None
    revision = PatternRevision(HEAD_OF_SHEET.revision_id, uid(5), 1, PATTERN, at(-2))
    judged = as_read(revision, HEAD_OF_SHEET)
    rewinds = (replace(REWIND, version=1),)
    assert old == BenchFile(UNIT, JOB, judged, HEAD_OF_SHEET, READINGS, DECIDED, (REPAIR,), rewinds)
    assert old.rewound_at == REWIND.done_at
    assert new is not None
    assert (old.rewound_before, new.rewinds, new.rewound_before) == ((), (), rewinds)  # as it was wound by then
    assert (new.job.number, new.sheet.note, new.decided) == (2, "visit 2", None)


def test_a_sheet_knows_the_rewinds_of_earlier_visits_alone(store: Store) -> None:
    _comes_back(store, 2, 500, sheet=6001)
    with store.reading() as s:
        second = queries.sheets.file_of(s, uid(6001))
    assert second is not None
    assert REWIND.done_at is not None
    with store.writing() as s:
        queries.rewinds.save(s, KeptRewind(uid(7001), second.job.id, REWIND.winding, "{}", at(900), at(901)))
        again = replace(HEAD_OF_SHEET, id=uid(6002), started_at=REWIND.done_at + timedelta(minutes=1))
        same_visit = queries.sheets.begun(s, again)
        first = queries.sheets.file_of(s, HEAD_OF_SHEET.id)
    assert first is not None
    assert (same_visit.rewound_before, first.rewound_before) == ((), ())
    assert [r.id for r in second.rewound_before] == [REWIND.id]


def test_the_door_tells_history_opens_an_old_sheet_and_keeps_a_note(shop_file: Path) -> None:
    shop = Shop(str(shop_file), bench=BENCH)
    shop.open().result()
    noted = replace(HEAD_OF_SHEET, note="moisture under the varnish\nbaked for an hour")
    assert shop.change_conditions(noted).result() == replace(noted, version=2)
    (past,) = shop.history(UNIT.id).result()
    assert past.head == replace(noted, version=2)
    file = shop.open_sheet(HEAD_OF_SHEET.id).result()
    assert file is not None
    assert file.sheet == past.head
    shop.close()


def test_what_was_decided_before_a_sheet_was_begun_is_not_decided_on_it(store: Store) -> None:
    retest = replace(HEAD_OF_SHEET, id=uid(6002), predicted=(), started_at=at(600))
    with store.writing() as s:
        assert queries.sheets.begun(s, retest).decided is None
        old = queries.sheets.file_of(s, HEAD_OF_SHEET.id)
        assert old is not None
        assert old.decided == DECIDED
        now = replace(DECIDED, id=uid(903), sheet_id=retest.id, decided_at=at(601))
        queries.jobs.decide(s, now)
        for sheet in (retest, HEAD_OF_SHEET):  # it is of the visit, and later than both
            file = queries.sheets.file_of(s, sheet.id)
            assert file is not None
            assert file.decided == now
