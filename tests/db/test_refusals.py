"""What can't be opened is refused with a calm sentence, and nothing at all is touched."""

import errno
import os
import sqlite3
import threading
from collections.abc import Callable
from pathlib import Path

import pytest

from db import create, queries
from db.connect import APPLICATION_ID
from db.store import Store
from db.trouble import StoreTrouble
from tests.db.invented import BENCH, fill
from tests.db.snapshot import snapshot


def _newer(path: Path) -> None:
    _run(path, "UPDATE alembic_version SET version_num = '0417'")


def _no_stamp(path: Path) -> None:
    _run(path, "DELETE FROM alembic_version")


def _other_program(path: Path) -> None:
    path.unlink()
    _run(path, "CREATE TABLE notes (words TEXT)")


def _not_a_database(path: Path) -> None:
    path.write_bytes(b"a shopping list\n" * 40)


def _empty(path: Path) -> None:
    path.write_bytes(b"")


def _page_of_garbage(path: Path) -> None:
    content = bytearray(path.read_bytes())
    content[4096 * 3 : 4096 * 4] = b"\xa5" * 4096
    path.write_bytes(content)


def _cut_short(path: Path) -> None:
    content = path.read_bytes()
    path.write_bytes(content[: len(content) // 2])


def _header_only(path: Path) -> None:
    path.write_bytes(path.read_bytes()[:100])


def _folder(path: Path) -> None:
    path.unlink()
    path.mkdir()


def _lost_link(path: Path) -> None:
    path.unlink()
    path.symlink_to(path.with_name("elsewhere.sqlite"))


def _log_without_store(path: Path) -> None:
    path.rename(path.with_name("shop.sqlite-wal"))


def _run(path: Path, sql: str) -> None:
    connection = sqlite3.connect(path)
    connection.execute(sql)
    connection.commit()
    connection.close()


@pytest.mark.parametrize(
    ("spoil", "happened"),
    [
        (_newer, "made by a newer Plugface (its revision 0417 is not known here)"),
        (_no_stamp, "is damaged"),
        (_other_program, "belongs to another program"),
        (_not_a_database, "is not a store, or its beginning is damaged"),
        (_empty, "is empty"),
        (_page_of_garbage, "is damaged"),
        (_cut_short, "is damaged"),
        (_header_only, "is damaged"),
        (_folder, "is not a file"),
        (_lost_link, "is not a file"),
        (_log_without_store, "is gone but its log"),
    ],
)
def test_refused_with_nothing_touched(spoil: Callable[[Path], None], happened: str, shop_file: Path) -> None:
    spoil(shop_file)
    before = snapshot(shop_file.parent)
    with pytest.raises(StoreTrouble) as refusal:
        Store.open(shop_file, bench=BENCH)
    _is_calm(refusal.value.sentence, happened, shop_file)
    assert snapshot(shop_file.parent) == before


def test_damage_found_beside_a_log_touches_neither(shop_file: Path) -> None:
    """A crash leaves a log; the store is then read through it, and still not changed."""
    store = Store.open(shop_file, bench=BENCH)
    with store.writing() as s:
        s.connection().exec_driver_sql("UPDATE units SET label = 'moved'")
    log = shop_file.with_name("shop.sqlite-wal").read_bytes()
    store.close()
    shop_file.with_name("shop.sqlite-wal").write_bytes(log)
    _page_of_garbage(shop_file)
    before = snapshot(shop_file.parent)
    with pytest.raises(StoreTrouble, match="is damaged"):
        Store.open(shop_file, bench=BENCH)
    after = snapshot(shop_file.parent)
    assert {n: after[n].content for n in before} == {n: e.content for n, e in before.items()}
    assert set(after) - set(before) <= {"shop.sqlite-shm"}, "only SQLite's scratch memory may appear"


def test_a_store_held_by_another_program(shop_file: Path) -> None:
    holder = sqlite3.connect(shop_file, isolation_level=None)
    holder.execute("PRAGMA locking_mode=EXCLUSIVE")
    holder.execute("BEGIN EXCLUSIVE")
    holder.execute("UPDATE units SET label = label")
    holder.execute("COMMIT")
    before = shop_file.read_bytes()
    with pytest.raises(StoreTrouble) as refusal:
        Store.open(shop_file, bench=BENCH)
    _is_calm(refusal.value.sentence, "is locked by another program", shop_file)
    holder.close()
    assert shop_file.read_bytes() == before
    Store.open(shop_file, bench=BENCH).close()


def test_a_write_while_another_program_writes_can_be_tried_again(store: Store) -> None:
    other = sqlite3.connect(store.path, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    with pytest.raises(StoreTrouble, match="stays on the screen and can be tried again"), store.writing():
        raise AssertionError("no write may begin")
    other.close()
    with store.writing() as s:
        s.connection().exec_driver_sql("UPDATE units SET label = 'after all'")
    with store.reading() as s:
        assert s.connection().exec_driver_sql("SELECT label FROM units").scalar_one() == "after all"


def test_a_folder_that_can_not_be_made(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way")
    before = snapshot(tmp_path)
    path = tmp_path / "file" / "deeper" / "shop.sqlite"
    with pytest.raises(StoreTrouble) as refusal:
        Store.open(path, bench=BENCH)
    _is_calm(refusal.value.sentence, "is missing and can't be made", path.parent)
    assert snapshot(tmp_path) == before


@pytest.mark.parametrize(
    "place",
    [
        "postgresql://bench@counter/shop",
        "sqlite://",
        "sqlite:///:memory:",
        ":memory:",
        "",
        "sqlite:///a.sqlite?mode=ro",
    ],
)
def test_places_that_are_none(place: str) -> None:
    with pytest.raises(StoreTrouble, match="is not a place this program can keep records in"):
        Store.open(place, bench=BENCH)


def test_a_new_store_is_its_owners_alone(tmp_path: Path) -> None:
    path = tmp_path / "deep" / "er 100% #1?" / "shop.sqlite"
    old = os.umask(0)
    try:
        store = Store.open(path, bench=BENCH)
        fill(store)
        beside = {f.name: f.stat().st_mode & 0o777 for f in path.parent.iterdir()}
        store.close()
    finally:
        os.umask(old)
    assert beside == {"shop.sqlite": 0o600, "shop.sqlite-wal": 0o600, "shop.sqlite-shm": 0o600}
    assert [p.stat().st_mode & 0o777 for p in (path.parent, path.parent.parent)] == [0o700, 0o700]
    assert [f.name for f in path.parent.iterdir()] == ["shop.sqlite"]
    assert int.from_bytes(path.read_bytes()[68:72], "big") == APPLICATION_ID


def test_a_url_and_a_path_are_the_same_place(shop_file: Path) -> None:
    store = Store.open(f"sqlite:///{shop_file}", bench=BENCH)
    assert store.path == shop_file
    store.close()


def _is_calm(sentence: str, happened: str, place: Path) -> None:
    """It says what happened and where, that nothing was changed, and then what to do."""
    first, said, advice = sentence.partition(" Nothing was changed. ")
    assert happened in first
    assert str(place) in first
    assert said
    assert advice.endswith(".")
    assert len(advice) > 20


def test_two_starts_at_once_make_one_store(tmp_path: Path) -> None:
    together, stores = threading.Barrier(4), list[Store]()

    def start() -> None:
        together.wait()
        stores.append(Store.open(tmp_path / "shop.sqlite", bench=BENCH))

    threads = [threading.Thread(target=start) for _ in range(4)]
    for t in threads:
        t.start()
    for t in threads:
        t.join()
    assert len(stores) == 4
    fill(stores[0])
    for store in stores:
        with store.reading() as s:
            assert queries.units.by_tag(s, "KL-0148") is not None
        store.close()
    assert [f.name for f in tmp_path.iterdir()] == ["shop.sqlite"]


def test_a_store_that_appears_while_one_is_made_is_not_replaced(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    build, path = create._build, tmp_path / "shop.sqlite"

    def build_slowly(draft: Path) -> None:
        build(draft)
        monkeypatch.setattr(create, "_build", build)
        other = Store.open(path, bench=BENCH)
        fill(other)
        other.close()

    monkeypatch.setattr(create, "_build", build_slowly)
    store = Store.open(path, bench=BENCH)
    with store.reading() as s:
        assert queries.units.by_tag(s, "KL-0148") is not None
    store.close()
    assert [f.name for f in tmp_path.iterdir()] == ["shop.sqlite"]


def test_a_disk_without_hard_links_serves_as_well(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(source: object, target: object) -> None:
        raise OSError(errno.EPERM, "Operation not permitted")

    monkeypatch.setattr(os, "link", refuse)
    Store.open(tmp_path / "shop.sqlite", bench=BENCH).close()
    assert [f.name for f in tmp_path.iterdir()] == ["shop.sqlite"]


def test_folders_made_for_a_store_that_could_not_be_made_are_taken_away(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(draft: Path) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(create, "_build", fail)
    with pytest.raises(StoreTrouble, match=r"can't be made \(no space left on device\)\. Nothing was changed\."):
        Store.open(tmp_path / "deep" / "er" / "shop.sqlite", bench=BENCH)
    assert list(tmp_path.iterdir()) == []
