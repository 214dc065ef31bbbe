"""What a shop starts with is there once, whatever it is called since."""

from dataclasses import replace
from pathlib import Path

from workbench.exchange.starters import starter_meters, starter_patterns
from workbench.shop import Shop


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
