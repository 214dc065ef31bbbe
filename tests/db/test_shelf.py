"""The shelf is drawn down once for each rewind, never below nothing; repairs are never rewritten."""

import sqlite3
from dataclasses import replace

import pytest
from sqlalchemy import text
from sqlalchemy.exc import IntegrityError

from db import queries
from db.store import Store
from db.trouble import ChangedElsewhere, Refused
from tests.db.invented import DRAW, HEAD_OF_SHEET, JOB, PATTERN, REPAIR, REWIND, SPOOL, UNIT, at, uid
from tests.rewind.test_predict import planned
from workbench.exchange.rewindbody import body_to_text
from workbench.records import BY_REWIND, RepairKind, Spool


def left(store: Store) -> float:
    with store.reading() as s:
        return next(x for x in queries.shelf.spools(s) if x.id == SPOOL.id).grams


def test_a_rewind_draws_once_however_often_it_is_finished(store: Store) -> None:
    assert left(store) == 700.0
    with store.writing() as s:
        kept = queries.rewinds.of_job(s, JOB.id)[0]
        for draw in (DRAW, replace(DRAW, id=uid(999))):
            queries.shelf.finish(s, kept, (draw,))
    assert left(store) == 700.0
    other = replace(REWIND, id=uid(70), winding="coarse coil")
    with store.writing() as s:
        queries.shelf.finish(s, other, (replace(DRAW, id=uid(71), rewind_id=other.id, grams=100.0),))
    assert left(store) == 600.0


def test_what_is_not_there_can_not_be_drawn_and_then_nothing_is_written(store: Store) -> None:
    other = replace(REWIND, id=uid(70))
    with pytest.raises(Refused, match="has 700 g left, and 701 g"), store.writing() as s:
        queries.shelf.finish(s, other, (replace(DRAW, id=uid(71), rewind_id=other.id, grams=701.0),))
    assert left(store) == 700.0
    with store.reading() as s:
        assert [r.id for r in queries.rewinds.of_job(s, JOB.id)] == [REWIND.id]
    with pytest.raises(Refused, match="not on the shelf"), store.writing() as s:
        queries.shelf.finish(s, other, (replace(DRAW, id=uid(71), rewind_id=other.id, spool_id=uid(404)),))


def test_spools_are_weighed_anew_and_named_once(store: Store) -> None:
    with store.reading() as s:
        (spool,) = queries.shelf.spools(s)
    with store.writing() as s:
        assert queries.shelf.save(s, replace(spool, grams=650.0)).version == spool.version + 1
        with pytest.raises(ChangedElsewhere):
            queries.shelf.save(s, replace(spool, grams=640.0))
        with pytest.raises(Refused, match="named 'shelf 3' already"):
            queries.shelf.save(s, Spool(uid(72), "shelf 3", "0.63 mm", "grade 2", 100.0))
        queries.shelf.save(s, Spool(uid(72), "Shelf 1", "0.63 mm", "grade 2", 100.0))
    with store.reading() as s:
        assert [x.name for x in queries.shelf.spools(s)] == ["Shelf 1", "shelf 3"]


def test_a_rewind_is_kept_as_far_as_it_has_come(store: Store) -> None:
    begun = replace(REWIND, id=uid(80), done_at=None, body="{}")
    with store.writing() as s:
        first = queries.rewinds.save(s, begun)
        second = queries.rewinds.save(s, replace(first, body='{"turns":12}'))
        assert second.version == 2
        with pytest.raises(ChangedElsewhere):
            queries.rewinds.save(s, replace(first, body='{"turns":13}'))
    with store.reading() as s:
        assert queries.rewinds.of_job(s, JOB.id)[-1] == second


def test_repairs_follow_each_other_and_are_never_rewritten(store: Store) -> None:
    ground = replace(REPAIR, id=uid(90), kind=RepairKind.GROUND, repaired_at=at(1))  # by a clock that was set back
    with store.writing() as s:
        for _ in range(2):
            queries.rewinds.keep_repair(s, ground)
    with store.reading() as s:
        assert queries.rewinds.repairs_of(s, JOB.id) == (REPAIR, ground)
    for deed in ("UPDATE repairs SET note = ''", "DELETE FROM repairs", "DELETE FROM spool_draws"):
        with pytest.raises((IntegrityError, sqlite3.IntegrityError), match="append-only"), store.writing() as s:
            s.execute(text(deed))


def test_a_sheet_begun_after_a_rewind_expects_what_it_says_and_keeps_that(store: Store) -> None:
    """Whatever becomes of the rewinds later, a sheet is judged by what was expected when it was begun."""
    plain = replace(HEAD_OF_SHEET, predicted=())
    made = replace(REWIND, id=uid(90), winding="coarse", body=body_to_text(planned()))
    with store.writing() as s:
        queries.rewinds.save(s, replace(made, done_at=None))
        before = queries.sheets.begin(s, replace(plain, id=uid(91)))
        queries.shelf.finish(s, replace(made, version=1), ())
        after = queries.sheets.begin(s, replace(plain, id=uid(92)))
        queries.rewinds.save(s, replace(made, id=uid(93), body="{}", done_at=at(90)))
        assert queries.sheets.begin(s, replace(plain, id=uid(92))) == after  # begun already
    assert before.predicted == ()
    assert [p.winding for p in after.predicted] == ["coarse"]
    with store.reading() as s:
        file = queries.sheets.file_of(s, uid(92))
    assert file is not None
    assert file.sheet == after
    coarse = file.revision.pattern.windings[1]
    assert coarse.ohms == pytest.approx(after.predicted[0].ohms_20)
    assert (coarse.band_from, file.revision.pattern.windings[0]) == (BY_REWIND, PATTERN.windings[0])


def test_a_part_that_comes_back_is_read_by_its_rewind(store: Store) -> None:
    made = replace(REWIND, id=uid(90), winding="coarse", body=body_to_text(planned()))
    other = replace(UNIT, id=uid(94), tag="KL-0149")
    with store.writing() as s:
        queries.rewinds.save(s, made)
        queries.units.save(s, other)
        for n, unit in ((95, UNIT), (96, other)):
            queries.jobs.open_job(s, replace(JOB, id=uid(n), unit_id=unit.id, number=0))
        plain = replace(HEAD_OF_SHEET, predicted=())
        back = queries.sheets.begin(s, replace(plain, id=uid(97), job_id=uid(95)))
        strange = queries.sheets.begin(s, replace(plain, id=uid(98), job_id=uid(96)))
    assert [p.winding for p in back.predicted] == ["coarse"]
    assert strange.predicted == ()
