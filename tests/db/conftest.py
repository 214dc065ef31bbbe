import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from db.store import Store
from tests.db.invented import BENCH, fill


@pytest.fixture(scope="session")
def filled_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A closed store with the invented shop in it. Copied, never opened."""
    path = tmp_path_factory.mktemp("filled") / "shop.sqlite"
    store = Store.open(path, bench=BENCH)
    fill(store)
    store.close()
    return path


@pytest.fixture
def shop_file(filled_file: Path, tmp_path: Path) -> Path:
    """A closed store of one's own, alone in its folder."""
    folder = tmp_path / "shop"
    folder.mkdir()
    return Path(shutil.copy(filled_file, folder / "shop.sqlite"))


@pytest.fixture
def store(shop_file: Path) -> Iterator[Store]:
    opened = Store.open(shop_file, bench=BENCH)
    yield opened
    opened.close()
