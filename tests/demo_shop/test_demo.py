"""The invented shop: the same from the same date, and each story ends as it is told."""

import sqlite3
from datetime import UTC, datetime
from pathlib import Path

import pytest

from demo_shop.build import build
from demo_shop.reader import read_part
from demo_shop.story import BENCH_TAG, STORIES
from workbench.exchange.starters import starter_patterns, starter_revisions
from workbench.records import Outcome
from workbench.shop import Shop
from workbench.sitting.bench import Bench
from workbench.stator.judge import SheetVerdict

TODAY = datetime(2026, 3, 14, 9, 30, tzinfo=UTC)


def made(path: Path) -> Shop:
    shop = Shop(str(path))
    shop.open().result()
    build(shop, TODAY)
    return shop


def told(path: Path) -> dict[str, list[tuple[object, ...]]]:
    """Every row of every table, ids and all; without the moment at which the store itself was made and stocked."""
    with sqlite3.connect(path) as c:
        tables = [name for (name,) in c.execute("SELECT name FROM sqlite_master WHERE type = 'table'")]
        out = {}
        for table in tables:
            columns = [row[1] for row in c.execute(f"PRAGMA table_info({table})")]
            if table in ("benches", "patterns", "pattern_revisions", "meters"):
                columns.remove("made_at")
            out[table] = sorted(c.execute(f"SELECT {', '.join(columns)} FROM {table}").fetchall(), key=repr)
        return out


def test_the_same_date_gives_the_same_shop(tmp_path: Path) -> None:
    for name in ("one", "two"):
        made(tmp_path / name).close()
    one, two = told(tmp_path / "one"), told(tmp_path / "two")
    assert one == two
    assert len(one["units"]) == len(STORIES)
    assert len(one["patterns"]) == len(starter_patterns())
    assert len(one["pattern_revisions"]) == len(starter_revisions())
    assert len(one["readings"]) > 30


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Shop:
    return made(tmp_path_factory.mktemp("demo") / "demo.sqlite")


@pytest.mark.parametrize("story", STORIES, ids=lambda s: s.tag)
def test_each_story_ends_as_it_is_told(shop: Shop, story: object) -> None:
    tag = story.tag  # type: ignore[attr-defined]
    file = shop.find_unit(tag).result()
    assert file is not None
    bench = Bench(file, shop)
    if tag == BENCH_TAG:
        assert bench.judged.verdict is SheetVerdict.UNFINISHED
        return
    assert file.decided is not None
    good = file.decided.outcome is Outcome.PASS
    assert bench.judged.verdict is (SheetVerdict.GOOD if good else SheetVerdict.FAIL)
    assert file.decided.verdict == bench.judged.verdict


def test_the_part_on_the_bench_fails_and_shows_why(tmp_path: Path) -> None:
    own = made(tmp_path / "demo.sqlite")
    bench = read_part(own, BENCH_TAG)
    assert bench.judged.verdict is SheetVerdict.FAIL
    assert bench.offered is None
    coil = bench.pattern.winding("low-speed coil")
    assert (coil.start, coil.finish) in {tuple(p) for p in bench.judged.failed}
    own.close()
