"""Keeps readings without end and prints the id of each acknowledged: `python -m tests.db.child_keeps STORE`."""

import sys
from itertools import count

from tests.db.invented import BENCH, reading
from workbench.shop import Shop


def main(path: str) -> None:
    shop = Shop(path, bench=BENCH)
    shop.open().result()
    for number in count():
        kept = shop.keep_reading(reading(number)).result()
        sys.stdout.write(f"{kept.id.hex}\n")
        sys.stdout.flush()


if __name__ == "__main__":
    main(sys.argv[1])
