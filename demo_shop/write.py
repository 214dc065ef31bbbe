"""Writes the demo shop where there is nothing yet: whole, or not at all."""

import os
from contextlib import suppress
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from uuid import uuid4

from demo_shop.build import Tell, build, demo_day, demo_shop
from demo_shop.roll import SEED, UNITS
from demo_shop.story import BENCH_TAG
from workbench.shop import Shop


@dataclass(frozen=True, slots=True)
class Asked:
    """What was asked of the demo's shop; None: as it is by itself."""

    units: int | None = None
    seed: int | None = None
    day: date | None = None


PLAIN = Asked()


def write_demo(url: str, asked: Asked = PLAIN, tell: Tell | None = None) -> None:
    """The demo shop in a store of its own, which gets its name only when it is whole. Raises StoreTrouble."""
    from db.place import default_url, path_of, place_new
    from db.trouble import StoreTrouble

    path = path_of(url)
    if path.resolve() == path_of(default_url()).resolve():
        raise StoreTrouble(
            f"{path} is the place of this shop's own records, and the demo keeps away from it. Nothing was written. "
            "Name another place for the demo."
        )
    if os.path.lexists(path):
        raise _taken(path)
    draft = path.with_name(f"{path.name}.unfinished-{uuid4().hex[:8]}")
    today = demo_day(asked.day)
    shop = demo_shop(str(draft), today)
    try:
        try:
            shop.open().result()
            build(shop, today, units=asked.units or UNITS, seed=SEED if asked.seed is None else asked.seed, tell=tell)
        finally:
            shop.close()
        try:
            place_new(draft, path)
        except FileExistsError:  # somebody was quicker
            raise _taken(path) from None
    finally:
        for ending in ("", "-wal", "-shm"):
            with suppress(OSError):
                draft.with_name(draft.name + ending).unlink()


def written_before(url: str) -> bool:
    """Whether a demo shop stands there already, to be gone on with. Raises StoreTrouble for what can't be opened."""
    from db.place import path_of

    if not os.path.lexists(path_of(url)):
        return False
    shop = Shop(url)
    try:
        shop.open(create=False).result()
        found = shop.find_unit(BENCH_TAG).result()
    finally:
        shop.close()
    return found is not None


def _taken(path: Path) -> Exception:
    from db.trouble import StoreTrouble

    return StoreTrouble(
        f"There is something at {path} already, perhaps a shop's own records, and the demo writes over nothing. "
        "Nothing was written. Name a store that isn't there yet, or leave --store out."
    )
