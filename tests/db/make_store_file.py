"""Makes the store file of this revision that is kept for ever: `python -m tests.db.make_store_file`.

Run once when a revision lands; the file then stands for what shops really have on their disks.
"""

import shutil
import sys
import tempfile
from pathlib import Path
from unittest.mock import patch

from db.revision import HEAD
from db.store import Store
from tests.db.invented import BENCH, at, fill

STORES = Path(__file__).parent / "stores"


def main() -> int:
    target = STORES / f"{HEAD}.sqlite"
    if target.exists():
        print(f"{target} is there already and stays as it is.", file=sys.stderr)  # noqa: T201
        return 1
    with tempfile.TemporaryDirectory() as folder, patch("db.queries.meters.now", lambda: at(-5)):
        store = Store.open(Path(folder) / "shop.sqlite", bench=BENCH, clock=lambda: at(-10))
        fill(store)
        store.close()
        shutil.copyfile(store.path, target)
    return 0


if __name__ == "__main__":
    sys.exit(main())
