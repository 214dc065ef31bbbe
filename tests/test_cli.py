"""The commands, as whole processes."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from pypdf import PdfReader

from demo_shop.story import BENCH_TAG
from tests.exchange.example import EXAMPLE
from workbench.shop import Shop

# the first display that nobody serves on this machine
DEAD = next(f":{n}" for n in range(77, 1000) if not Path(f"/tmp/.X11-unix/X{n}").exists())
PLUGFACE = [sys.executable, "-m", "workbench"]
NO_EGL = """
import importlib.abc, sys
class Missing(importlib.abc.MetaPathFinder):
    def find_spec(self, name, path=None, target=None):
        if name.startswith("PySide6.Qt"):
            raise ImportError("libEGL.so.1: cannot open shared object file: No such file or directory")
sys.meta_path.insert(0, Missing())
"""


def run(*args: str, stdin: str = "", **env: str) -> subprocess.CompletedProcess[str]:
    unset = ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM")
    around = {k: v for k, v in os.environ.items() if k not in unset} | env
    return subprocess.run([*PLUGFACE, *args], input=stdin, capture_output=True, text=True, env=around, timeout=120)


def one_line(text: str) -> str:
    (line,) = text.splitlines()
    return line


def test_judge_answers_line_by_line_and_tells_a_refusal_by_its_exit() -> None:
    wrong = EXAMPLE | {"id": "wrong", "celsius": 900}
    good = run("judge", stdin=json.dumps(EXAMPLE) + "\n")
    assert (good.returncode, good.stderr) == (0, "")
    assert json.loads(one_line(good.stdout))["verdict"] == "good"
    mixed = run("judge", stdin=f"{json.dumps(wrong)}\n{json.dumps(EXAMPLE)}\n")
    answers = [json.loads(line) for line in mixed.stdout.splitlines()]
    assert mixed.returncode == 1
    assert [a["id"] for a in answers] == ["wrong", "sheet-1"]
    assert "celsius" in answers[0]["error"]


def test_judge_knows_the_starter_patterns_and_a_stores_by_name(tmp_path: Path) -> None:
    sheet = EXAMPLE | {"pattern": "three-phase wye", "checks": [["C.1", "C.2"]]}
    sheet["readings"] = [{"from": "C.1", "to": "C.2", "ohms": 1.3}]
    assert json.loads(run("judge", stdin=json.dumps(sheet)).stdout)["readings"][0]["expected_ohms"] == pytest.approx(
        1.1
    )
    from workbench.exchange.patterns import pattern_from_json

    store = str(tmp_path / "shop.sqlite")
    shop = Shop(store)
    shop.open().result()
    shop.save_pattern(pattern_from_json(EXAMPLE["pattern"])).result()
    shop.close()
    named = EXAMPLE | {"pattern": EXAMPLE["pattern"]["name"]}
    assert run("judge", stdin=json.dumps(named)).returncode == 1
    for args in (("judge", "--store", store), ("--store", store, "judge")):
        kept = run(*args, stdin=json.dumps(named))
        assert json.loads(kept.stdout)["verdict"] == "good"


def test_judge_makes_no_store_that_is_not_there(tmp_path: Path) -> None:
    ran = run("judge", "--store", str(tmp_path / "none.sqlite"), stdin="{}")
    assert ran.returncode == 2
    assert "no store" in one_line(ran.stderr)
    assert list(tmp_path.iterdir()) == []


def test_the_demo_without_a_display_writes_every_screen_and_a_card(tmp_path: Path) -> None:
    ran = run("demo", "--to", str(tmp_path / "out"))
    assert (ran.returncode, ran.stderr) == (0, "")
    assert str(tmp_path / "out") in one_line(ran.stdout)
    names = {p.name for p in (tmp_path / "out").iterdir()}
    for screen in ("counter", "bench-start", "bench-out", "bench-read", "conditions", "strike", "decide", "card"):
        assert {f"{screen}-light.png", f"{screen}-dark.png"} <= names
    text = " ".join(p.extract_text() for p in PdfReader(tmp_path / "out" / f"card-{BENCH_TAG}.pdf").pages)
    assert "FAIL" in text
    assert BENCH_TAG in text


def test_a_dead_display_is_no_display(tmp_path: Path) -> None:
    ran = run("demo", "--to", str(tmp_path), DISPLAY=DEAD)
    assert ran.returncode == 0
    assert DEAD in one_line(ran.stdout) or "system libraries" in one_line(ran.stdout)
    assert len(list(tmp_path.glob("*.png"))) > 10


def test_without_qts_libraries_the_card_is_still_written(tmp_path: Path) -> None:
    (tmp_path / "sitecustomize.py").write_text(NO_EGL)
    ran = run("demo", "--to", str(tmp_path / "out"), PYTHONPATH=str(tmp_path), DISPLAY=DEAD)
    assert (ran.returncode, ran.stderr) == (0, "")
    assert "libEGL.so.1" in one_line(ran.stdout)
    assert "libegl1" in ran.stdout
    assert [p.name for p in (tmp_path / "out").iterdir()] == [f"card-{BENCH_TAG}.pdf"]


def test_the_bench_without_a_display_says_so_and_opens_nothing(tmp_path: Path) -> None:
    ran = run(XDG_DATA_HOME=str(tmp_path))
    assert ran.returncode == 1
    assert "no display" in one_line(ran.stderr)
    assert list(tmp_path.iterdir()) == []


def test_the_demo_keeps_away_from_a_shops_own_store(tmp_path: Path) -> None:
    from workbench.records import Job, Unit, new_id, now

    store = tmp_path / "shop.sqlite"
    shop = Shop(str(store))
    shop.open().result()
    unit = Unit(new_id(), "OWN-1", "a customer's sled", None, now())
    shop.book(unit, Job(new_id(), unit.id, 0, "", now())).result()
    shop.close()
    ran = run("demo", "--store", str(store), "--to", str(tmp_path / "out"))
    assert ran.returncode == 1
    assert "shop's own records" in one_line(ran.stderr)
    shop = Shop(str(store))
    shop.open().result()
    assert [u.tag for u in shop.recent_units().result()] == ["OWN-1"]
    shop.close()


def test_the_demo_is_only_written_where_told(tmp_path: Path) -> None:
    store = tmp_path / "new" / "demo.sqlite"
    ran = run("demo", "--no-window", "--units", "3", "--date", "2026-03-14", "--store", f"sqlite:///{store}")
    assert (ran.returncode, ran.stderr) == (0, "")
    assert "3 units" in one_line(ran.stdout)
    before = store.read_bytes()
    again = run("demo", "--no-window", "--store", str(store))
    assert again.returncode == 1
    assert "writes over nothing" in one_line(again.stderr)
    assert store.read_bytes() == before
    assert [p.name for p in store.parent.iterdir()] == [store.name]


@pytest.mark.parametrize(
    ("args", "why"),
    [
        (("--no-window",), "--store"),
        (("--no-window", "--store", "x", "--units", "0"), "1 to 99,999"),
        (("--no-window", "--store", "x", "--units", "many"), "1 to 99,999"),
        (("--no-window", "--store", "x", "--date", "14.3.2026"), "2026-03-14"),
        (("--no-window", "--store", "x", "--date", "0001-01-01"), "2026-03-14"),
    ],
)
def test_the_demo_refuses_what_it_cannot_be_asked(tmp_path: Path, args: tuple[str, ...], why: str) -> None:
    ran = run("demo", *args)
    assert ran.returncode == 2
    assert why in ran.stderr.splitlines()[-1]
    assert not Path("x").exists()


def test_the_demo_never_takes_the_shops_own_place(tmp_path: Path) -> None:
    own = tmp_path / "plugface" / "plugface.sqlite"
    ran = run("demo", "--no-window", "--store", str(own), XDG_DATA_HOME=str(tmp_path))
    assert ran.returncode == 1
    assert "own records" in one_line(ran.stderr)
    assert not own.exists()


def test_a_demo_that_was_kept_is_gone_on_with(tmp_path: Path) -> None:
    store = tmp_path / "demo.sqlite"
    assert run("demo", "--no-window", "--units", "2", "--store", str(store)).returncode == 0
    (tmp_path / "sitecustomize.py").write_text(NO_EGL)  # a card alone is sooner drawn than every screen
    ran = run("demo", "--store", str(store), "--to", str(tmp_path / "out"), PYTHONPATH=str(tmp_path), DISPLAY=DEAD)
    assert (ran.returncode, ran.stderr) == (0, "")
    other = run("demo", "--store", str(store), "--units", "3")
    assert other.returncode == 1
    assert "writes over nothing" in one_line(other.stderr)


def test_pictures_need_a_folder_that_can_be_written(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    for command in ("pictures", "demo"):
        ran = run(command, "--to", str(tmp_path / "file"))
        assert ran.returncode == 1
        assert "can't be written" in one_line(ran.stderr)
        assert ran.stdout == ""
