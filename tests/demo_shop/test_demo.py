"""The invented shop: the same from the same date and seed, as big as asked for, and alive on its day."""

import sqlite3
from collections import Counter
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest

from demo_shop.named import NAMED, RETURNED_TAG
from demo_shop.reader import read_part
from demo_shop.roll import stories
from demo_shop.story import BENCH_TAG
from demo_shop.write import Asked, write_demo
from tests.demo_shop.conftest import DAY, TODAY, Write, Written
from workbench.exchange.starters import starter_patterns, starter_revisions
from workbench.records import CardSize, Outcome, Whose
from workbench.shop import Shop
from workbench.sitting.bench import Bench
from workbench.sitting.card import asserts_of
from workbench.stator.judge import SheetVerdict


def every_row(path: Path) -> dict[str, list[str]]:
    """Every value of every row of every table, to the byte."""
    with sqlite3.connect(path) as c:
        tables = [name for (name,) in c.execute("SELECT name FROM sqlite_master WHERE type = 'table'")]
        return {t: sorted(repr(row) for row in c.execute(f"SELECT * FROM {t}")) for t in tables}


def rows(path: Path, asked: str) -> list[tuple[object, ...]]:
    with sqlite3.connect(path) as c:
        return c.execute(asked).fetchall()


def test_the_same_date_and_seed_give_the_same_rows_to_the_byte(tmp_path: Path) -> None:
    for name in ("one", "two"):
        write_demo(str(tmp_path / name), Asked(day=DAY))
    one, two = every_row(tmp_path / "one"), every_row(tmp_path / "two")
    assert one == two
    not_yet = {"drafts", "spool_draws", "repairs"}
    assert all(rows for table, rows in one.items() if table not in not_yet)
    write_demo(str(tmp_path / "later"), Asked(day=DAY + timedelta(days=40)))
    write_demo(str(tmp_path / "other"), Asked(day=DAY, seed=7))
    said = "SELECT typed FROM readings ORDER BY taken_at, id"
    assert rows(tmp_path / "later", said) == rows(tmp_path / "one", said)
    assert rows(tmp_path / "other", said) != rows(tmp_path / "one", said)
    moved = "SELECT julianday(max(taken_at)) FROM readings"
    ((then,),), ((now,),) = rows(tmp_path / "one", moved), rows(tmp_path / "later", moved)
    assert now - then == pytest.approx(40)  # type: ignore[operator]


def test_three_years_of_a_shop_up_to_the_day(written: Written) -> None:
    jobs = [job.job for job in written.shop.jobs]
    moments = [j.opened_at for j in jobs] + [j.closed_at for j in jobs if j.closed_at]
    moments += [k.taken_at for j in written.shop.jobs for k in j.readings]
    moments += [c.made_at for j in written.shop.jobs for c in j.cards]
    assert max(moments) < TODAY
    assert min(moments) < TODAY - timedelta(days=900)
    assert sum(j.opened_at > TODAY - timedelta(days=30) for j in jobs) >= 4
    assert [j.number for j in jobs] == list(range(jobs[0].number, jobs[0].number + len(jobs)))
    days = [j.opened_at.date() for j in jobs]
    assert days == sorted(days)


def test_units_return_and_patterns_take_turns(written: Written) -> None:
    visits = Counter(job.unit.tag for job in written.shop.jobs)
    assert len(visits) == len(written.told) == 64
    assert sum(n > 1 for n in visits.values()) >= 64 / 3
    assert len({s.pattern for s, _ in written.told}) >= len(starter_patterns()) - 2
    assert len(written.shop.patterns().result()) == len(starter_patterns()) < len(starter_revisions())


def test_the_words_of_a_job_are_filled_in(written: Written) -> None:
    jobs = [j.job for j in written.shop.jobs]
    for word in ("complaint", "seen", "approved", "found", "done", "closed_at"):
        assert sum(bool(getattr(j, word)) for j in jobs) > 10, word
    assert all(j.complaint for j in jobs)


def test_cards_were_printed_and_some_again(written: Written) -> None:
    made = [c for j in written.shop.jobs for c in j.cards]
    assert {c.whose for c in made} == set(Whose)
    assert {c.size for c in made} == set(CardSize)
    assert {c.copy for c in made} == {1, 2}
    for job in written.shop.jobs:
        for head in job.sheets:
            mine = tuple(c for c in job.cards if c.sheet_id == head.id)
            assert written.shop.cards_of(head.id).result() == mine


def test_the_last_card_of_a_part_is_still_what_its_sheet_says(written: Written) -> None:
    for story, jobs in written.told:
        last = next((c for c in reversed(jobs[-1].cards)), None)
        file = written.shop.find_unit(story.tag).result()
        assert file is not None
        if last is not None:
            assert last.asserts == asserts_of(file), story.tag


def test_tags_go_on_in_the_order_in_which_units_came(written: Written) -> None:
    first = {s.tag: s.first for s, _ in written.told}
    assert list(first) == sorted(first, key=lambda t: (-first[t], t))
    in_order = sorted(first)
    assert [first[t] for t in in_order] == sorted(first.values(), reverse=True)
    assert in_order[-1] == BENCH_TAG
    assert written.shop.suggest_tag().result() == "SL-0148"
    assert [u.tag for u in written.shop.recent_units(2).result()] == [BENCH_TAG, "SL-0146"]


@pytest.mark.parametrize("units", [1, 2, 9, 10, 150])
def test_it_is_as_big_as_asked_for(write: Write, units: int) -> None:
    made = write(units=units)
    tags = [u.tag for u in made.shop.recent_units(1000).result()]
    assert len(tags) == len(set(tags)) == units
    assert BENCH_TAG in tags
    assert units == 1 or RETURNED_TAG in tags


def test_a_larger_shop_holds_the_smaller_one() -> None:
    few = {s.tag: s for s in stories(64)}
    many = {s.tag: s for s in stories(200)}
    assert {t: many[t] for t in few} == few


def test_every_unit_opens_at_the_bench(written: Written) -> None:
    for story, jobs in written.told:
        file = written.shop.find_unit(story.tag).result()
        assert file is not None
        bench = Bench(file, written.shop)
        head = jobs[-1].sheets[-1]
        assert bench.judged.verdict is written.judged(jobs[-1], head).verdict
        assert file.decided == (jobs[-1].decisions[-1] if jobs[-1].decisions else None)


@pytest.mark.parametrize("story", NAMED, ids=lambda s: s.tag)
def test_a_named_unit_ends_as_its_note_says(written: Written, story: object) -> None:
    tag = story.tag  # type: ignore[attr-defined]
    file = written.shop.find_unit(tag).result()
    assert file is not None
    bench = Bench(file, written.shop)
    if file.decided is None:
        assert bench.judged.verdict is SheetVerdict.UNFINISHED
        return
    good = file.decided.outcome is Outcome.PASS
    assert bench.judged.verdict is (SheetVerdict.GOOD if good else SheetVerdict.FAIL)


def test_the_part_on_the_bench_fails_and_shows_why(tmp_path: Path) -> None:
    write_demo(str(tmp_path / "demo.sqlite"), Asked(units=1))
    shop = Shop(str(tmp_path / "demo.sqlite"))
    shop.open().result()
    bench = read_part(shop, BENCH_TAG)
    assert bench.judged.verdict is SheetVerdict.FAIL
    assert bench.offered is None
    coil = bench.pattern.winding("low-speed coil")
    assert (coil.start, coil.finish) in {tuple(p) for p in bench.judged.failed}
    shop.close()


def test_by_itself_it_is_written_for_today(tmp_path: Path) -> None:
    before = datetime.now(UTC).date()
    write_demo(str(tmp_path / "demo.sqlite"), Asked(units=1))
    ((opened,),) = rows(tmp_path / "demo.sqlite", "SELECT opened_at FROM jobs")
    day = date.fromisoformat(str(opened)[:10])
    assert before - timedelta(days=1) <= day <= datetime.now(UTC).date() - timedelta(days=1)
