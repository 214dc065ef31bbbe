"""`plugface judge --store`: the odds follow what the store's shop found, and the store is only read."""

import json
import shutil
import sqlite3
from pathlib import Path

import pytest

from db.trouble import StoreTrouble
from tests.db.make_store_file import STORES
from tests.db.snapshot import snapshot
from tests.decided import decide_parts
from tests.exchange.example import EXAMPLE
from tests.sitting.fakes import HANDHELD, TWO_COILS, WYE
from tests.test_cli import one_line, run
from workbench.findings.faults import STATED, Fault
from workbench.shop import Shop

TO_CORE, LEAD = Fault.WINDING_TO_CORE, Fault.OPEN_LEAD


@pytest.fixture
def store(tmp_path: Path) -> Path:
    """Twenty wyes with a winding down to the iron, five of another family with a broken wire."""
    folder = tmp_path / "shop"
    folder.mkdir()
    decide_parts(folder / "shop.sqlite", 20, WYE, TO_CORE)
    decide_parts(folder / "shop.sqlite", 5, TWO_COILS, LEAD, tag="C")
    return folder / "shop.sqlite"


def line(pattern: str) -> str:
    """A sheet with nothing read: its findings are the odds."""
    return json.dumps(EXAMPLE | {"pattern": pattern, "readings": [], "checks": []}) + "\n"


def odds_in(answer: str) -> dict[str, float]:
    """Of each fault, over every place it may have."""
    out: dict[str, float] = {}
    for f in json.loads(answer)["findings"]:
        out[f["fault"]] = out.get(f["fault"], 0.0) + f["probability"]
    return out


def test_each_line_is_judged_by_the_odds_of_its_patterns_family(store: Path) -> None:
    """By hand: (50 x stated + found) / (50 + decided)."""
    ran = run("judge", "--store", str(store), stdin=line(WYE) + line(TWO_COILS))
    assert ran.returncode == 0
    wye, coils = (odds_in(answer) for answer in ran.stdout.splitlines())
    assert wye[TO_CORE] == pytest.approx((4 + 20) / 70)
    assert wye[LEAD] == pytest.approx(4 / 70)
    assert coils[TO_CORE] == pytest.approx((4 + 20) / 75)
    assert coils[LEAD] == pytest.approx((4 + 5) / 75)
    assert one_line(ran.stderr) == (
        "The odds stand on all 25 decided jobs of the shop. "
        "A family with 20 of them or more stands on its own (charging: 20)."
    )


def test_without_a_store_and_on_a_store_that_says_nothing_the_stated_odds_hold(tmp_path: Path) -> None:
    alone = run("judge", stdin=line(WYE))
    assert alone.stderr == ""
    assert odds_in(alone.stdout) == pytest.approx({str(f): p for f, p in STATED.items()})
    empty = tmp_path / "shop.sqlite"
    decide_parts(empty, 0, WYE, TO_CORE)
    ran = run("judge", "--store", str(empty), stdin=line(WYE))
    assert ran.stdout == alone.stdout
    assert "The odds are the stated ones" in one_line(ran.stderr)


def test_the_store_and_the_users_folder_are_left_as_they_were(store: Path, tmp_path: Path) -> None:
    home = tmp_path / "home"
    home.mkdir()
    before = snapshot(store.parent)
    assert run("judge", "--store", str(store), stdin=line(WYE), XDG_DATA_HOME=str(home)).returncode == 0
    assert snapshot(store.parent) == before
    assert list(home.iterdir()) == []


def test_what_another_program_has_just_written_is_counted(store: Path) -> None:
    holder = sqlite3.connect(store)  # keeps the log from being folded in
    holder.execute("SELECT * FROM units").fetchall()
    decide_parts(store, 1, TWO_COILS, LEAD, tag="D")
    assert store.with_name("shop.sqlite-wal").stat().st_size
    before = store.read_bytes()
    ran = run("judge", "--store", str(store), stdin=line(WYE))
    assert "all 26 decided jobs" in one_line(ran.stderr)
    assert store.read_bytes() == before
    holder.close()


@pytest.mark.parametrize("revision", ["0001", "0003"])
def test_an_older_store_is_refused_and_not_brought_up_to_date(revision: str, tmp_path: Path) -> None:
    path = Path(shutil.copy(STORES / f"{revision}.sqlite", tmp_path / "shop.sqlite"))
    before = snapshot(tmp_path)
    ran = run("judge", "--store", str(path), stdin=line(WYE))
    assert (ran.returncode, ran.stdout) == (2, "")
    said = one_line(ran.stderr)
    assert f"older revision ({revision})" in said
    assert "Nothing was changed" in said
    assert snapshot(tmp_path) == before


def test_what_is_no_store_is_refused(tmp_path: Path) -> None:
    (tmp_path / "shop.sqlite").write_text("not a store " * 20)
    ran = run("judge", "--store", str(tmp_path / "shop.sqlite"), stdin=line(WYE))
    assert (ran.returncode, ran.stdout) == (2, "")
    assert "is not a store" in one_line(ran.stderr)


def test_a_shop_that_is_only_looked_at_can_not_be_written_to(store: Path) -> None:
    before = store.read_bytes()
    shop = Shop(str(store))
    shop.look().result()
    with pytest.raises(StoreTrouble):
        shop.save_meter(HANDHELD).result()
    assert shop.found_so_far().result().number(None) == 25
    shop.close()
    assert store.read_bytes() == before
