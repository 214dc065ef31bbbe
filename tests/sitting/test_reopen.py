"""A sheet read on a real store, closed, and opened again: everything is back, in its order."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from tests.sitting.fakes import TWO_COILS, Desk, sound
from workbench.exchange.starters import starter_meters, starter_patterns
from workbench.records import Job, Outcome, SheetHead, TemperatureSource, Unit, new_id, now
from workbench.shop import Shop
from workbench.sitting import views
from workbench.sitting.bench import Bench
from workbench.sitting.card import card_facts
from workbench.sitting.lines import Keeping
from workbench.stator.judge import SheetVerdict
from workbench.stator.sheet import Conditions

TAG = "SL-0001"


def booked(shop: Shop) -> None:
    shop.open().result()
    shop.stock(starter_patterns(), starter_meters()).result()
    revision = next(r for r in shop.patterns().result() if r.pattern.name == TWO_COILS)
    meter = next(m for m in shop.meters().result() if m.name == "Counter handheld")
    unit = Unit(new_id(), TAG, "red sled", revision.pattern_id, now())
    unit, job = shop.book(unit, Job(new_id(), unit.id, 0, "no spark", now())).result()
    conditions = Conditions(20.0, 3.0, 0.2, 0.05)
    head = SheetHead(new_id(), job.id, revision.id, meter.id, meter.name, meter.meter, conditions,
                     TemperatureSource.ROOM, False, None, now())  # fmt: skip
    shop.begin_sheet(head).result()


def on_bench(shop: Shop, desk: Desk) -> tuple[Bench, Callable[[], None]]:
    """The bench, and what waits until its every reading is on disk."""
    file = shop.find_unit(TAG).result()
    assert file is not None
    bench = Bench(file, shop)

    def safe() -> None:
        done: list[object] = []
        shop.meters(done.append)
        desk.until(lambda: bool(done))
        assert not bench.lines.saving

    return bench, safe


def test_a_sheet_is_back_with_its_strikes_its_conditions_and_its_decision(tmp_path: Path) -> None:
    path, desk = str(tmp_path / "shop.sqlite"), Desk()
    shop = Shop(path, desk.deliver)
    booked(shop)
    bench, safe = on_bench(shop, desk)
    bench.change_conditions(replace(bench.head, iron_ohms=0.3, conditions=Conditions(25.0, 1.0, 0.3, 0.05)))
    bench.enter("1 3 114.2")
    bench.strike(bench.lines.every[0].kept.id, "probe moved")
    bench.enter("1k2")
    bench.undo()
    while bench.offered is not None:
        bench.enter(sound(bench, bench.offered))
    bench.decide(Outcome.REPAIR, "first thought")
    bench.decide(Outcome.PASS, "plug cleaned")
    safe()
    assert bench.judged.verdict is SheetVerdict.GOOD
    shop.close()

    desk = Desk()
    shop = Shop(path, desk.deliver)
    shop.open().result()
    back, safe = on_bench(shop, desk)
    assert [x.kept for x in back.lines] == [x.kept for x in bench.lines]
    assert [x.kept.typed for x in back.lines][:2] == ["114.2", "1k2"]
    assert [x.kept.strike.reason for x in back.lines if x.kept.strike] == ["probe moved", "undone"]
    assert {x.keeping for x in back.lines} == {Keeping.SAFE}
    assert back.head == bench.head
    assert back.head.version == 2
    assert back.decided == bench.decided
    assert back.judged == bench.judged
    assert views.readings(back) == views.readings(bench)
    assert views.heading(back) == views.heading(bench)
    assert card_facts(back, now()).struck == card_facts(bench, now()).struck

    back.enter("1 3 155.4")  # and it goes on where it was
    safe()
    assert [x.kept.place for x in back.lines] == list(range(1, len(back.lines) + 1))
    shop.close()


def test_a_reading_undone_before_it_was_safe_is_back_struck(tmp_path: Path) -> None:
    path, desk = str(tmp_path / "shop.sqlite"), Desk()
    shop = Shop(path, desk.deliver)
    booked(shop)
    bench, _ = on_bench(shop, desk)
    bench.enter("155.4")
    bench.undo()
    bench.enter("155.6")
    shop.close()  # nothing is lost by closing
    shop = Shop(path, Desk().deliver)
    shop.open().result()
    back, _ = on_bench(shop, Desk())
    assert [(x.kept.typed, x.counts) for x in back.lines] == [("155.4", False), ("155.6", True)]
    shop.close()
