"""A demo shop is written whole or not at all, and over nothing."""

from collections.abc import Sequence
from concurrent.futures import Future
from pathlib import Path
from typing import Any

import pytest

from db.place import default_url, path_of
from db.trouble import StoreTrouble
from demo_shop import write
from demo_shop.run import write as run_write
from demo_shop.write import Asked, write_demo, written_before
from workbench.records import WholeJob
from workbench.shop import Shop

SMALL = Asked(units=2)


@pytest.mark.parametrize("there", ["a store", "a file", "a folder", "a dangling link"])
def test_what_is_there_stays(tmp_path: Path, there: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(write, "build", lambda *a, **k: pytest.fail("it was refused only after all that work"))
    path = tmp_path / "shop.sqlite"
    match there:
        case "a store":
            shop = Shop(str(path))
            shop.open().result()
            shop.close()
        case "a file":
            path.write_text("notes")
        case "a folder":
            path.mkdir()
        case _:
            path.symlink_to(tmp_path / "elsewhere.sqlite")
    before = (sorted(p.name for p in tmp_path.iterdir()), path.is_file() and path.read_bytes())
    with pytest.raises(StoreTrouble, match="writes over nothing"):
        write_demo(str(path), SMALL)
    assert (sorted(p.name for p in tmp_path.iterdir()), path.is_file() and path.read_bytes()) == before


def test_the_shops_own_place_is_never_taken(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    own = path_of(default_url())
    beside = tmp_path / "link"
    beside.symlink_to(own.parent)
    for place in (default_url(), str(own), str(beside / own.name)):
        with pytest.raises(StoreTrouble, match="own records"):
            write_demo(place, SMALL)
    assert not own.exists()


def test_what_breaks_off_leaves_nothing_behind(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(self: Shop, jobs: Sequence[WholeJob], then: Any = None, failed: Any = None) -> Future[None]:
        raise KeyboardInterrupt

    monkeypatch.setattr(Shop, "keep_jobs", broken)
    with pytest.raises(KeyboardInterrupt):
        write_demo(str(tmp_path / "demo.sqlite"), SMALL)
    assert list(tmp_path.iterdir()) == []


def test_a_place_that_was_taken_meanwhile_stays(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "demo.sqlite"
    told = write.build

    def slow(*args: Any, **more: Any) -> None:
        told(*args, **more)
        path.write_text("somebody else's")

    monkeypatch.setattr(write, "build", slow)
    with pytest.raises(StoreTrouble, match="writes over nothing"):
        write_demo(str(path), SMALL)
    assert path.read_text() == "somebody else's"
    assert [p.name for p in tmp_path.iterdir()] == [path.name]


def test_it_says_how_far_it_is(tmp_path: Path) -> None:
    heard: list[tuple[int, int]] = []
    write_demo(str(tmp_path / "demo.sqlite"), Asked(units=90), lambda done, of: heard.append((done, of)))
    assert len(heard) > 2
    assert [n for n, _ in heard] == sorted(n for n, _ in heard)
    assert heard[-1][0] == heard[-1][1] > 90
    assert len({of for _, of in heard}) == 1


def test_a_kept_demo_is_known_again_and_another_store_is_not(tmp_path: Path) -> None:
    demo, other = tmp_path / "demo.sqlite", tmp_path / "other.sqlite"
    assert not written_before(str(demo))
    write_demo(str(demo), SMALL)
    assert written_before(str(demo))
    shop = Shop(str(other))
    shop.open().result()
    shop.close()
    assert not written_before(str(other))


def test_nothing_of_this_machine_is_written(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    write_demo(str(tmp_path / "demo.sqlite"), SMALL)
    assert not (tmp_path / "data").exists()


def test_stopped_by_hand_it_says_so_and_leaves_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def stopped(*_: object, **__: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("demo_shop.write.build", stopped)
    assert run_write(str(tmp_path / "demo.sqlite"), Asked(units=2)) == 130
    assert "Stopped. Nothing of the demo shop is left" in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []
