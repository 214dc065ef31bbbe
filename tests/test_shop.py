"""The one door: nothing waits, everything happens in order, and no failure vanishes."""

import sqlite3
import subprocess
import sys
import threading
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path
from queue import SimpleQueue
from typing import Any

import pytest

from db.trouble import StoreTrouble
from tests.db.invented import (
    BENCH,
    DECIDED,
    HEAD_OF_SHEET,
    JOB,
    METER,
    PATTERN,
    READINGS,
    STRIKE,
    UNIT,
    WIDER,
    reading,
)
from workbench.records import CardMade, KeptReading, new_id, now
from workbench.shop import Shop


class Desk:
    """An owner's thread that takes its news when it has time for it."""

    def __init__(self) -> None:
        self.post: SimpleQueue[Callable[[], object]] = SimpleQueue()

    def take(self, count: int) -> None:
        for _ in range(count):
            self.post.get(timeout=10)()


@pytest.fixture
def crashes() -> list[BaseException]:
    return []


@pytest.fixture
def shop(tmp_path: Path, crashes: list[BaseException]) -> Iterator[Shop]:
    """Open, with a sheet begun."""
    shop = Shop(str(tmp_path / "shop.sqlite"), bench=BENCH, on_crash=crashes.append)
    shop.open().result()
    begin(shop)
    yield shop
    shop.close()


def begin(shop: Shop) -> None:
    shop.save_meter(METER).result()
    revision = shop.save_pattern(PATTERN).result()
    shop.book(UNIT, replace(JOB, number=0)).result()
    shop.begin_sheet(replace(HEAD_OF_SHEET, revision_id=revision.id)).result()


def kept_in(path: Path) -> list[int]:
    connection = sqlite3.connect(path)
    places = [place for (place,) in connection.execute("SELECT place FROM readings ORDER BY rowid")]
    connection.close()
    return places


def test_importing_the_door_imports_no_database_and_no_window() -> None:
    code = (
        "import sys; import workbench.shop; workbench.shop.Shop('/nowhere/at/all').close()\n"
        "sys.exit(any(m.split('.')[0] in ('sqlalchemy', 'alembic', 'PySide6') for m in sys.modules))"
    )
    assert subprocess.run([sys.executable, "-c", code], timeout=60).returncode == 0


def test_a_whole_job_through_the_door(shop: Shop) -> None:
    for kept in READINGS:
        assert shop.keep_reading(kept).result() == kept
    assert shop.strike(STRIKE).result() == STRIKE
    assert shop.decide(DECIDED).result() == DECIDED
    for number, how in enumerate(("saved", "printed"), 1):
        card = CardMade(new_id(), HEAD_OF_SHEET.id, 1, how, now(), asserts="what it said")
        assert shop.note_card(card).result().copy == number
    made = shop.cards_of(HEAD_OF_SHEET.id).result()
    assert [(c.copy, c.how, c.asserts) for c in made] == [(1, "saved", "what it said"), (2, "printed", "what it said")]
    closed = shop.edit_job(replace(JOB, found="sound when cold")).result()
    warmer = shop.change_conditions(replace(HEAD_OF_SHEET, iron_ohms=0.5)).result()

    file = shop.find_unit("kl-0148").result()
    assert file is not None
    assert (file.unit, file.job, file.readings, file.decided) == (UNIT, closed, READINGS, DECIDED)
    assert (file.sheet.version, file.sheet.iron_ohms, warmer.version) == (2, 0.5, 2)
    assert shop.unit_by_tag("KL-0148").result() == (UNIT, closed)
    assert shop.edit_unit(replace(UNIT, label="sled")).result().version == 2
    assert [u.unit.label for u in shop.recent_units().result()] == ["sled"]
    assert shop.search_units("sle").result() == shop.recent_units().result()
    assert shop.suggest_tag().result() == "KL-0149"
    assert shop.meters().result() == (METER,)
    assert [r.pattern for r in shop.patterns().result()] == [PATTERN]
    assert shop.save_pattern(WIDER).result().number == 2
    assert shop.find_unit("KL-9999").result() is None


def test_a_booking_is_all_or_nothing(shop: Shop) -> None:
    with pytest.raises(StoreTrouble, match="There is a job 1 already"):
        shop.book(replace(UNIT, id=DECIDED.id, tag="KL-0200"), replace(JOB, id=STRIKE.id, number=1)).result()
    assert shop.unit_by_tag("KL-0200").result() is None


def test_a_unit_and_the_sheet_begun_on_it_are_both_kept_or_neither(shop: Shop, crashes: list[BaseException]) -> None:
    revision = shop.save_pattern(WIDER).result()
    moved = replace(UNIT, pattern_id=revision.pattern_id)
    head = replace(HEAD_OF_SHEET, id=new_id(), revision_id=revision.id, predicted=())
    nowhere = shop.begin_on(moved, replace(head, job_id=new_id()))  # a job that is not kept
    assert nowhere.exception(timeout=10) is not None
    assert len(crashes) == 1
    assert shop.unit_by_tag(UNIT.tag).result() == (UNIT, JOB)
    for _ in range(2):  # sent again, it is not done again
        file = shop.begin_on(moved, head).result()
        assert (file.unit, file.revision, file.readings) == (replace(moved, version=2), revision, ())
    assert shop.find_unit(UNIT.tag).result() == file
    assert len(shop.history(UNIT.id).result()) == 2


def test_asking_never_waits_and_news_comes_to_the_owner_in_order(tmp_path: Path) -> None:
    desk, heard = Desk(), list[tuple[str, int, bool]]()
    shop = Shop(str(tmp_path / "shop.sqlite"), desk.post.put, bench=BENCH)
    shop.open().result()
    begin(shop)

    def solid(kept: KeptReading) -> None:
        heard.append(("kept", kept.place, threading.current_thread() is threading.main_thread()))

    def count(file: Any) -> None:
        heard.append(("found", len(file.readings), threading.current_thread() is threading.main_thread()))

    hold = sqlite3.connect(tmp_path / "shop.sqlite", isolation_level=None)
    hold.execute("BEGIN IMMEDIATE")
    futures = [shop.keep_reading(reading(n), solid) for n in range(3)]
    futures_found = shop.find_unit("KL-0148", count)
    assert not any(f.done() for f in futures), "the store is held, and yet we are here"
    hold.close()
    desk.take(4)
    assert heard == [("kept", 100, True), ("kept", 101, True), ("kept", 102, True), ("found", 3, True)]
    assert futures_found.result() is not None
    shop.close()


def test_close_waits_for_all_that_was_asked(tmp_path: Path) -> None:
    shop = Shop(str(tmp_path / "shop.sqlite"), bench=BENCH)
    shop.open()
    begin(shop)
    futures = [shop.keep_reading(reading(n)) for n in range(60)]
    shop.close()
    shop.close()
    assert all(f.done() for f in futures)
    assert kept_in(tmp_path / "shop.sqlite") == [100 + n for n in range(60)]
    assert [f.name for f in tmp_path.iterdir()] == ["shop.sqlite"], "the log is folded in and gone"
    with pytest.raises(RuntimeError):
        shop.keep_reading(reading(61))


def test_a_failed_write_is_told_and_can_be_sent_again(shop: Shop, tmp_path: Path, crashes: list[BaseException]) -> None:
    told: list[StoreTrouble] = []
    solid: list[KeptReading] = []
    hold = sqlite3.connect(tmp_path / "shop.sqlite", isolation_level=None)
    hold.execute("BEGIN IMMEDIATE")
    future = shop.keep_reading(reading(1), solid.append, told.append)
    with pytest.raises(StoreTrouble):
        future.result()
    hold.close()
    assert solid == []
    assert [t.sentence for t in told] == [
        f"The store {tmp_path / 'shop.sqlite'} is locked by another program. "
        "This entry is not on disk: it stays on the screen and can be tried again. "
        "Close the other program (a second Plugface, a backup, a sync tool), or wait a moment, and try again."
    ]
    for _ in range(2):
        shop.keep_reading(reading(1), solid.append, told.append).result()
    assert solid == [reading(1)] * 2
    assert len(told) == 1
    assert kept_in(tmp_path / "shop.sqlite") == [101]
    assert crashes == []


def test_a_fault_of_the_program_reaches_the_crash_hook_and_the_future(shop: Shop, crashes: list[BaseException]) -> None:
    told: list[StoreTrouble] = []
    nameless = replace(reading(1), sheet_id=UNIT.id)
    future = shop.keep_reading(nameless, failed=told.append)
    assert future.exception(timeout=10) is not None
    assert crashes == [future.exception()]
    assert [t.sentence.partition(".")[0] for t in told] == [
        "Something unexpected went wrong in the program, and this was not done"
    ]
    assert shop.keep_reading(reading(2)).result() == reading(2), "the door still stands open"


def test_a_listener_that_fails_undoes_nothing(shop: Shop, crashes: list[BaseException]) -> None:
    def stumble(kept: KeptReading) -> None:
        raise LookupError(kept.place)

    assert shop.keep_reading(reading(1), stumble).result() == reading(1)
    assert [type(e) for e in crashes] == [LookupError]


def test_an_owner_that_is_gone_is_a_fault_that_is_heard_of(tmp_path: Path) -> None:
    crashes: list[BaseException] = []

    def gone(call: Callable[[], object]) -> None:
        raise RuntimeError("the window was deleted")

    shop = Shop(str(tmp_path / "shop.sqlite"), gone, bench=BENCH, on_crash=crashes.append)
    shop.open().result()
    assert shop.meters(then=lambda _: None).result() == ()
    shop.close()
    assert [str(e) for e in crashes] == ["the window was deleted"]


def test_without_a_hook_faults_go_where_threads_report_them(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    reported: list[Any] = []
    monkeypatch.setattr(threading, "excepthook", reported.append)
    shop = Shop(str(tmp_path / "shop.sqlite"), bench=BENCH)
    shop.open().result()
    error = shop.keep_reading(reading(1)).exception(timeout=10)
    shop.close()
    assert [r.exc_value for r in reported] == [error]


def test_what_is_asked_before_it_opens_is_refused_and_opening_may_be_tried_again(tmp_path: Path) -> None:
    path = tmp_path / "shop.sqlite"
    path.write_text("a shopping list")
    shop = Shop(str(path), bench=BENCH)
    told: list[StoreTrouble] = []
    with pytest.raises(StoreTrouble, match="is not a store"):
        shop.open(failed=told.append).result()
    with pytest.raises(StoreTrouble, match="The store is not open"):
        shop.meters(failed=told.append).result()
    assert len(told) == 2
    path.unlink()
    shop.open().result()
    shop.open().result()
    assert shop.meters().result() == ()
    shop.close()


def test_a_store_that_is_not_there_is_made_only_where_that_is_wanted(tmp_path: Path) -> None:
    shop = Shop(str(tmp_path / "shop.sqlite"), bench=BENCH)
    with pytest.raises(StoreTrouble, match="There is no store at"):
        shop.open(create=False).result()
    assert list(tmp_path.iterdir()) == []
    shop.open().result()
    shop.close()


def test_stock_adds_what_is_missing_and_leaves_what_the_shop_made(shop: Shop) -> None:
    other = replace(PATTERN, name="another of the kind")
    finer = replace(METER.meter, open_above_ohms=1e7)
    for _ in range(2):
        shop.stock((WIDER, other), ((METER.name, finer), ("second meter", finer))).result()
    assert [r.pattern for r in shop.patterns().result()] == [other, PATTERN]
    assert [(m.name, m.meter) for m in shop.meters().result()] == [
        (METER.name, METER.meter),
        ("second meter", finer),
    ]


def test_by_default_it_opens_this_users_own_store(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("platformdirs.user_data_path", lambda name, appauthor: tmp_path / name)
    shop = Shop(None)
    shop.open().result()
    shop.close()
    assert {f.name for f in (tmp_path / "plugface").iterdir()} == {"plugface.sqlite", "bench-id"}


def test_a_strike_on_a_reading_that_was_never_kept_is_a_sentence_not_a_crash(tmp_path: Path) -> None:
    from db.trouble import Refused
    from workbench.records import Strike, new_id, now

    crashes: list[BaseException] = []
    shop = Shop(str(tmp_path / "shop.sqlite"), on_crash=crashes.append)
    shop.open().result()
    with pytest.raises(Refused, match="not kept"):
        shop.strike(Strike(new_id(), new_id(), "missed the pin", now())).result()
    shop.close()
    assert crashes == []


def test_a_file_where_the_stores_folder_should_be_is_said_and_left_alone(tmp_path: Path) -> None:
    from db.trouble import StoreTrouble

    crashes: list[BaseException] = []
    (tmp_path / "shop").write_text("a shopping list")
    shop = Shop(str(tmp_path / "shop" / "shop.sqlite"), on_crash=crashes.append)
    with pytest.raises(StoreTrouble):
        shop.open().result()
    shop.close()
    assert crashes == []
    assert (tmp_path / "shop").read_text() == "a shopping list"
    assert [p.name for p in tmp_path.iterdir()] == ["shop"]
