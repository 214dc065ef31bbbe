"""What a shop starts with is there once, whatever it is called since, in all its revisions."""

import sqlite3
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from uuid import UUID

import pytest

from tests.sitting.fakes import METERS, bench_file
from workbench.exchange.starters import starter_meters, starter_patterns, starter_revisions
from workbench.records import NamedMeter, new_id
from workbench.shop import Shop
from workbench.stator.pattern import CORE, Pair

HALF_WAVE = "lighting half-wave, later floated"


@pytest.fixture
def shop(tmp_path: Path) -> Iterator[Shop]:
    shop = Shop(str(tmp_path / "shop.sqlite"))
    shop.open().result()
    yield shop
    shop.close()


def kept(folder: Path, name: str) -> list[tuple[int, UUID]]:
    """Number and id of every revision."""
    with sqlite3.connect(folder / "shop.sqlite") as c:
        asked = "SELECT number, r.id FROM pattern_revisions r JOIN patterns p ON p.id = pattern_id WHERE name = ?"
        return sorted((number, UUID(str(id))) for number, id in c.execute(asked, (name,)))


def test_a_new_store_holds_every_revision_and_offers_the_newest(shop: Shop, tmp_path: Path) -> None:
    as_built, floated = (p for p in starter_revisions() if p.name == HALF_WAVE)
    for _ in range(2):
        shop.stock(starter_revisions(), starter_meters()).result()
        (offered,) = (r for r in shop.patterns().result() if r.pattern.name == HALF_WAVE)
        assert (offered.number, offered.pattern) == (2, floated)
        assert [number for number, _ in kept(tmp_path, HALF_WAVE)] == [1, 2]
    assert len(shop.patterns().result()) == len(starter_patterns())
    # a sheet from before the conversion keeps the part as it was built
    file = bench_file(as_built, meter=NamedMeter(new_id(), "mine", METERS["Counter handheld"]))
    shop.save_meter(NamedMeter(file.sheet.meter_id, "mine", file.sheet.meter)).result()
    shop.book(replace(file.unit, pattern_id=offered.pattern_id), file.job).result()
    shop.begin_sheet(replace(file.sheet, revision_id=kept(tmp_path, HALF_WAVE)[0][1])).result()
    old = shop.find_unit(file.unit.tag).result()
    assert old is not None
    assert (old.revision.number, old.revision.pattern) == (1, as_built)
    assert Pair("L.2", CORE) in (old.revision.pattern.checks or ())


def test_a_pattern_that_the_shop_has_gets_no_revision_by_itself(shop: Shop, tmp_path: Path) -> None:
    as_built, _ = (p for p in starter_revisions() if p.name == HALF_WAVE)
    shop.stock((as_built,), ()).result()
    before = kept(tmp_path, HALF_WAVE)
    shop.stock(starter_revisions(), ()).result()
    assert kept(tmp_path, HALF_WAVE) == before
    assert len(before) == 1


def test_two_stores_give_the_same_revision_the_same_id(tmp_path: Path) -> None:
    found = []
    for name in ("one", "two"):
        (tmp_path / name).mkdir()
        shop = Shop(str(tmp_path / name / "shop.sqlite"))
        shop.open().result()
        shop.stock(starter_revisions(), ()).result()
        shop.close()
        found.append(kept(tmp_path / name, HALF_WAVE))
    assert found[0] == found[1]


def test_a_starter_meter_under_another_name_is_not_added_anew(tmp_path: Path) -> None:
    shop = Shop(str(tmp_path / "shop.sqlite"))
    shop.open().result()
    shop.stock(starter_patterns(), starter_meters()).result()
    first = next(m for m in shop.meters().result() if m.name == "Counter handheld")
    shop.save_meter(replace(first, name="The yellow one")).result()
    before = (shop.meters().result(), shop.patterns().result())
    shop.stock(starter_patterns(), starter_meters()).result()
    assert (shop.meters().result(), shop.patterns().result()) == before
    assert "The yellow one" in {m.name for m in before[0]}
    shop.close()
