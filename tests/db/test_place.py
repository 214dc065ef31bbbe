"""Where things lie by default, and the bench's own id."""

import threading
from pathlib import Path
from uuid import UUID

import pytest

from db.place import bench_id, default_folder, default_url, path_of
from db.trouble import StoreTrouble


def test_the_default_place_is_in_the_users_data_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("platformdirs.user_data_path", lambda name, appauthor: tmp_path / name)
    assert path_of(default_url()) == tmp_path / "plugface" / "plugface.sqlite"
    assert bench_id() == bench_id()
    assert [f.name for f in default_folder().iterdir()] == ["bench-id"]


def test_the_bench_id_is_made_once_and_is_its_owners_alone(tmp_path: Path) -> None:
    folder = tmp_path / "not" / "there"
    made = bench_id(folder)
    assert bench_id(folder) == made == UUID((folder / "bench-id").read_text().strip())
    assert (folder / "bench-id").stat().st_mode & 0o777 == 0o600
    assert folder.stat().st_mode & 0o777 == 0o700


def test_two_starts_at_once_agree_on_the_bench(tmp_path: Path) -> None:
    together, ids = threading.Barrier(6), set[UUID]()

    def start() -> None:
        together.wait()
        ids.add(bench_id(tmp_path))

    threads = [threading.Thread(target=start) for _ in range(6)]
    for t in threads:
        t.start()
    for t in threads:
        t.join()
    assert len(ids) == 1
    assert [f.name for f in tmp_path.iterdir()] == ["bench-id"]


def test_a_bench_id_that_is_none_is_left_as_it_is(tmp_path: Path) -> None:
    (tmp_path / "bench-id").write_text("the bench by the door")
    with pytest.raises(StoreTrouble, match=r"can't be read\. Nothing was changed"):
        bench_id(tmp_path)
    assert (tmp_path / "bench-id").read_text() == "the bench by the door"
