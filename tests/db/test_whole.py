"""Whole jobs at once read back as if they had been written one by one, or not at all."""

from dataclasses import replace
from pathlib import Path

import pytest

from db import queries
from db.store import Store
from db.trouble import Refused
from tests.db.invented import BENCH, CARD, DECIDED, HEAD_OF_SHEET, JOB, READINGS, STRIKE, UNIT, at, uid
from workbench.records import BenchFile, CardMade, Strike, WholeJob
from workbench.shop import Shop

STRUCK = tuple(replace(k, strike=STRIKE) if k.id == STRIKE.reading_id else k for k in READINGS)
KEPT = WholeJob(UNIT, JOB, (HEAD_OF_SHEET,), STRUCK, (DECIDED,), (CARD,))


def another(n: int, tag: str, number: int) -> WholeJob:
    """The same happened to another unit."""
    unit = replace(UNIT, id=uid(n), tag=tag)
    job = replace(JOB, id=uid(n + 1), unit_id=unit.id, number=number)
    head = replace(HEAD_OF_SHEET, id=uid(n + 2), job_id=job.id)
    readings = []
    for i, k in enumerate(STRUCK):
        mine = uid(n + 10 + i)
        strike = k.strike and Strike(uid(n + 50 + i), mine, k.strike.reason, k.strike.struck_at)
        readings.append(replace(k, id=mine, sheet_id=head.id, strike=strike))
    decided = replace(DECIDED, id=uid(n + 3), job_id=job.id, sheet_id=head.id)
    cards = tuple(CardMade(uid(n + 4 + i), head.id, i + 1, "printed", at(40 + i)) for i in range(2))
    return WholeJob(unit, job, (head,), tuple(readings), (decided,), cards)


def file_of(store: Store, tag: str) -> BenchFile | None:
    with store.reading() as s:
        return queries.sheets.bench_file(s, tag)


def test_a_whole_job_reads_back_as_it_was(store: Store) -> None:
    one = another(5000, "KL-0200", 7200)
    with store.writing() as s:
        queries.whole.keep(s, (one,))
    file = file_of(store, "KL-0200")
    assert file is not None
    assert (file.unit, file.job, file.sheet, file.readings) == (one.unit, one.job, one.sheets[0], one.readings)
    assert file.decided == one.decisions[0]
    with store.reading() as s:
        assert queries.cards.of_sheet(s, one.sheets[0].id) == one.cards


def test_what_is_kept_already_is_left_as_it_is(store: Store) -> None:
    one = another(5000, "KL-0200", 7200)
    before = file_of(store, UNIT.tag)
    for _ in range(2):
        with store.writing() as s:
            queries.whole.keep(s, (one, KEPT, one))
    assert file_of(store, UNIT.tag) == before
    with store.reading() as s:
        assert len(queries.cards.of_sheet(s, one.sheets[0].id)) == 2


def test_one_that_is_refused_takes_the_others_with_it(store: Store) -> None:
    one, clash = another(5000, "KL-0200", 7200), another(6000, "KL-0300", 7200)
    with pytest.raises(Refused, match="7200"), store.writing() as s:
        queries.whole.keep(s, (one, clash))
    assert file_of(store, "KL-0200") is None
    assert file_of(store, "KL-0300") is None


def test_the_shop_keeps_all_of_them_or_none(shop_file: Path) -> None:
    one, two, clash = another(5000, "KL-0200", 7200), another(6000, "KL-0300", 7201), another(7000, "KL-0400", 7200)
    shop = Shop(str(shop_file), bench=BENCH)
    shop.open().result()
    with pytest.raises(Refused, match="7200"):
        shop.keep_jobs((one, two, clash)).result()
    assert shop.unit_by_tag("KL-0300").result() is None
    shop.keep_jobs((one, two)).result()
    assert [u.tag for u in shop.recent_units(2).result()] == ["KL-0300", "KL-0200"]
    shop.close()
