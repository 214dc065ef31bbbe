"""`plugface patterns`, as whole processes and through its one door."""

import json
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from tests.exchange.example import EXAMPLE
from workbench.cli import main
from workbench.exchange.patternfiles import read_patterns, write_patterns
from workbench.exchange.patterns import pattern_from_json
from workbench.exchange.starters import starter_meters, starter_patterns
from workbench.records import NamedMeter, PatternRevision, new_id
from workbench.shop import Shop
from workbench.stator.pattern import Pattern

TWO = replace(pattern_from_json(EXAMPLE["pattern"]), name="two")
WIDER = replace(TWO, open_limit_ohms=2e6)
OTHER = replace(TWO, name="other Ω")


@pytest.fixture
def store(tmp_path: Path) -> str:
    """A shop that has `two`."""
    url = str(tmp_path / "shop.sqlite")
    shop = Shop(url)
    shop.open().result()
    shop.save_pattern(TWO).result()
    shop.close()
    return url


def kept(store: str) -> dict[str, PatternRevision]:
    shop = Shop(store)
    try:
        shop.look().result()
        return {r.pattern.name: r for r in shop.patterns().result()}
    finally:
        shop.close()


def patterns(*args: str) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "workbench", "patterns", *args]
    return subprocess.run(command, capture_output=True, text=True, timeout=60)


def test_what_a_shop_exports_another_takes_in_and_exports_the_same(tmp_path: Path, store: str) -> None:
    there = write_patterns([OTHER], tmp_path / "other.json")[0]
    taken = patterns("import", "--store", store, str(there))
    assert (taken.returncode, taken.stdout, taken.stderr) == (0, "“other Ω”: new.\n", "")
    out = patterns("export", "--store", store, "--to", str(tmp_path / "shelf"))
    assert (out.returncode, out.stderr) == (0, "")
    assert "2 patterns" in out.stdout
    second = str(tmp_path / "second.sqlite")
    shop = Shop(second)
    shop.open().result()
    shop.close()
    assert main(["patterns", "import", "--store", second, str(tmp_path / "shelf")]) == 0
    assert {n: r.pattern for n, r in kept(second).items()} == {"two": TWO, "other Ω": OTHER}
    lines = [patterns("export", "--store", s).stdout for s in (store, second)]
    assert lines[0] == lines[1]
    assert [json.loads(line)["name"] for line in lines[0].splitlines()] == ["other Ω", "two"]


def test_one_bad_file_and_nothing_is_imported(tmp_path: Path, store: str, capsys: pytest.CaptureFixture[str]) -> None:
    write_patterns([OTHER], tmp_path / "shelf" / "a.json")
    (tmp_path / "shelf" / "b.json").write_text('{\n "name": "b",\n "reference_celsius": "warm"\n}')
    (tmp_path / "shelf" / "c.jsonl").write_text("[]\n")
    assert main(["patterns", "import", "--store", store, str(tmp_path / "shelf")]) == 1
    said = capsys.readouterr()
    assert said.out == ""
    first, second, last = said.err.splitlines()
    assert first.startswith(f"{tmp_path / 'shelf' / 'b.json'}, line 3: reference_celsius: ")
    assert second.startswith(f"{tmp_path / 'shelf' / 'c.jsonl'}, line 1: ")
    assert "Nothing was imported" in last
    assert set(kept(store)) == {"two"}


def test_a_pattern_that_is_there_is_refused_or_becomes_a_revision(
    tmp_path: Path, store: str, capsys: pytest.CaptureFixture[str]
) -> None:
    file = str(write_patterns([OTHER, WIDER], tmp_path / "shelf.jsonl")[0])
    assert main(["patterns", "import", "--store", store, file]) == 1
    said = capsys.readouterr()
    assert "“two”" in said.err
    assert "--as-revision" in said.err
    assert {n: r.pattern for n, r in kept(store).items()} == {"two": TWO}  # the other one neither
    assert main(["patterns", "import", "--as-revision", "--store", store, file]) == 0
    assert capsys.readouterr().out.splitlines() == ["“other Ω”: new.", "“two”: revision 2."]
    assert (kept(store)["two"].pattern, kept(store)["two"].number) == (WIDER, 2)


def test_what_is_kept_already_even_as_an_older_revision_is_not_kept_twice(
    tmp_path: Path, store: str, capsys: pytest.CaptureFixture[str]
) -> None:
    old, new = (str(write_patterns([p], tmp_path / f"{i}.json")[0]) for i, p in enumerate((TWO, WIDER)))
    assert main(["patterns", "import", "--store", store, old]) == 0
    assert capsys.readouterr().out == "“two”: there already, as revision 1.\n"
    assert main(["patterns", "import", "--as-revision", "--store", store, old, new]) == 0
    assert main(["patterns", "import", "--as-revision", "--store", store, old, new]) == 0
    assert capsys.readouterr().out.splitlines()[-2:] == [
        "“two”: there already, as revision 1.", "“two”: there already, as revision 2.",
    ]  # fmt: skip
    assert kept(store)["two"].number == 2


def test_two_files_of_one_name_are_revisions_only_where_that_is_said(
    tmp_path: Path, store: str, capsys: pytest.CaptureFixture[str]
) -> None:
    older, newer = (replace(p, name="both") for p in (TWO, WIDER))
    for i, p in ((1, older), (2, newer)):
        write_patterns([p], tmp_path / "shelf" / f"both.{i}.json")
    assert main(["patterns", "import", "--store", store, str(tmp_path / "shelf")]) == 1
    assert "both.2.json: name: another “both” stands in" in capsys.readouterr().err
    assert set(kept(store)) == {"two"}
    assert main(["patterns", "import", "--as-revision", "--store", store, str(tmp_path / "shelf")]) == 0
    assert (kept(store)["both"].pattern, kept(store)["both"].number) == (newer, 2)


def test_an_unknown_name_or_a_file_in_the_way_and_nothing_is_exported(
    tmp_path: Path, store: str, capsys: pytest.CaptureFixture[str]
) -> None:
    to = tmp_path / "two.json"
    assert main(["patterns", "export", "--store", store, "two", "none", "--to", str(to)]) == 1
    assert "“none”" in capsys.readouterr().err
    assert not to.exists()
    assert main(["patterns", "export", "--store", store, "two", "--to", str(to)]) == 0
    assert read_patterns([to])[0][0].pattern == TWO
    to.write_text("mine")
    assert main(["patterns", "export", "--store", store, "two", "--to", str(to)]) == 2
    assert to.read_text() == "mine"
    assert main(["patterns", "export", "--store", store, "two", "--to", str(to), "--replace"]) == 0
    assert read_patterns([to])[0][0].pattern == TWO


def test_no_store_is_made_and_export_changes_none(tmp_path: Path, store: str) -> None:
    file = str(write_patterns([TWO], tmp_path / "two.json")[0])
    for does in (["export"], ["import", file], ["check", file]):
        none = tmp_path / "none.sqlite"
        assert main(["patterns", *does, "--store", str(none)]) == 2
        assert not none.exists()
    before = Path(store).read_bytes()
    assert main(["patterns", "export", "--store", store]) == 0
    assert Path(store).read_bytes() == before


def test_check_says_what_is_wrong_and_what_the_proof_says(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    blind = replace(TWO, name="blind", checks=TWO.checks[:0] if TWO.checks else ())
    good = write_patterns([replace(TWO, name="fine", checks=None)], tmp_path / "fine.json")[0]
    poor = write_patterns([blind], tmp_path / "blind.json")[0]
    (tmp_path / "bad.json").write_text("{}")
    assert main(["patterns", "check", str(poor), str(tmp_path / "bad.json")]) == 1
    said = capsys.readouterr()
    assert said.err.startswith(f"{tmp_path / 'bad.json'}, line 1: name: is missing")
    head, *remarks = said.out.splitlines()
    assert head == f"{poor}: “blind” fits the Schema."
    assert any(r.startswith("  warning: No planned check would show ") for r in remarks)
    assert main(["patterns", "check", str(poor)]) == 0
    assert main(["patterns", "check", "--strict", str(poor)]) == 1
    assert main(["patterns", "check", "--strict", str(good)]) == 0


def test_a_high_limit_alone_comes_and_goes_as_such(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    first = replace(TWO.windings[0], ohms=2.5, tolerance_percent=100, low_ohms=None, high_ohms=None)
    under = replace(TWO, name="under", windings=(first, *TWO.windings[1:]))
    file = write_patterns([under], tmp_path / "under.json")[0]
    assert main(["patterns", "check", str(file)]) == 0
    assert f"  note: The {first.name} is under 5 Ω, and no low limit is known" in capsys.readouterr().out
    store = str(tmp_path / "shop.sqlite")
    shop = Shop(store)
    shop.open().result()
    shop.close()
    assert main(["patterns", "import", "--store", store, str(file)]) == 0
    capsys.readouterr()
    assert main(["patterns", "export", "--store", store]) == 0
    given = json.loads(capsys.readouterr().out)["windings"][0]
    assert {k: given.get(k) for k in ("ohms", "tolerance_percent", "low_ohms")} == {
        "ohms": 2.5, "tolerance_percent": 100, "low_ohms": None,
    }  # fmt: skip


def test_check_is_by_the_shops_own_meters_where_a_store_is_named(
    tmp_path: Path, store: str, capsys: pytest.CaptureFixture[str]
) -> None:
    """A coil of tenths of an ohm: the meters that ship can judge it, a shop's lone handheld can't."""
    (coarse,) = [p for p in starter_patterns() if p.name == "lighting floating"]
    file = str(write_patterns([coarse], tmp_path / "coarse.json")[0])
    shop = Shop(store)
    shop.open().result()
    shop.save_meter(NamedMeter(new_id(), "old", dict(starter_meters())["Counter handheld"])).result()
    shop.close()
    assert main(["patterns", "check", file]) == 0
    assert "the shop's meters can tell" not in capsys.readouterr().out
    assert main(["patterns", "check", "--store", store, file]) == 0
    assert "warning: 1 – 2: the shop's meters can tell only that it conducts." in capsys.readouterr().out


def test_check_of_files_loads_neither_qt_nor_sql(tmp_path: Path) -> None:
    file = write_patterns([TWO], tmp_path / "two.json")[0]
    code = f"""
import sys
from workbench.cli import main
assert main(["patterns", "check", {str(file)!r}]) == 0
heavy = "alembic scipy reportlab networkx sqlalchemy PySide6 shiboken6 pypdfium2 pyqtgraph".split()
print(*(m for m in heavy if m in sys.modules), file=sys.stderr)
"""
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=60)
    assert (ran.returncode, ran.stderr.strip()) == (0, "")


def test_a_door_that_brings_in_nothing_twice_in_one_go_by_accident(store: str) -> None:
    """Two of one name that differ, unsaid: refused by the store itself, whatever the files said."""
    from db.trouble import PatternsThere

    shop = Shop(store)
    shop.open().result()
    both: list[Pattern] = [OTHER, replace(OTHER, open_limit_ohms=3e6)]
    with pytest.raises(PatternsThere):
        shop.bring_in(both).result()
    shop.close()
    assert set(kept(store)) == {"two"}
