"""A technician at random on a real store: after every step, what is on disk shows just what the bench shows."""

import tempfile
from dataclasses import replace
from pathlib import Path
from typing import Any

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule

from tests.sitting.fakes import TAPPED, TWO_COILS, WYE, Desk, sound
from workbench.exchange.starters import starter_meters, starter_patterns
from workbench.records import Job, Outcome, SheetHead, TemperatureSource, Unit, new_id, now
from workbench.shop import Shop
from workbench.sitting import views
from workbench.sitting.bench import Bench
from workbench.sitting.card import card_facts
from workbench.sitting.faceplan import face_plan
from workbench.sitting.history import history, remember
from workbench.sitting.pairs import Pairs
from workbench.stator.pattern import CORE, Pair
from workbench.stator.sheet import Conditions

TAG = "SL-0001"
NUMBERS = st.sampled_from(["0.4", "0.8", "17.2", "155.4", "1k2", "1550", "114,2", "20M"])
REASONS = st.sampled_from(["wrong pin", "  probe moved ", "Ω?", "undone"])
AT = now()


def on_bench(shop: Shop) -> Bench:
    file = shop.find_unit(TAG).result()
    assert file is not None
    return Bench(file, shop)


def held_alike(fresh: Bench, live: Bench) -> Bench:
    """The same pins picked, the same plug in sight, held the same way: what no store keeps."""
    if fresh.picked:
        fresh.press(CORE)
        fresh.press(CORE)
    for node in live.picked:
        fresh.press(node)
    assert fresh.picked == live.picked
    if live.plug is not None:
        fresh.see_plug(live.plug)
    while fresh.view.wire_side != live.view.wire_side:
        fresh.flip()
    while fresh.view != live.view:
        fresh.turn()
    return fresh


def shown(bench: Bench, pairs: Pairs, shop: Shop) -> dict[str, Any]:
    """Every frozen view, by name."""
    remembered = remember(shop.history(bench.unit.id).result())
    return {
        "heading": views.heading(bench),
        "verdict": bench.judged.verdict,
        "next": (bench.offered, bench.waiting),
        "readings": views.readings(bench),
        "checks": views.checks(bench),
        "band": views.band(bench, bench.pair),
        "pairs": pairs.view(),
        "lines": views.face_lines(bench),
        "faces": [face_plan(c, bench.view) for c in bench.pattern.connectors],
        "history": history(bench, bench.pair, remembered),
        "card": card_facts(bench, AT),
        "head": bench.head,
        "decided": bench.decided,
        "lines kept": [x.kept for x in bench.lines],
    }


class KeptTechnician(RuleBasedStateMachine):
    def __init__(self) -> None:
        super().__init__()
        self._folder = tempfile.TemporaryDirectory()
        self._url = str(Path(self._folder.name) / "shop.sqlite")
        self._desk = Desk()
        self._shop = Shop(self._url, self._desk.deliver)
        # a second door to the same file: it knows nothing but what is on disk
        self._other = Shop(self._url)

    @initialize(name=st.sampled_from([TWO_COILS, WYE, TAPPED]))
    def books_in(self, name: str) -> None:
        shop = self._shop
        shop.open().result()
        shop.stock(starter_patterns(), starter_meters()).result()
        self._other.open().result()
        self.meters = shop.meters().result()
        revision = next(r for r in shop.patterns().result() if r.pattern.name == name)
        meter = self.meters[0]
        unit = Unit(new_id(), TAG, "red sled", revision.pattern_id, now())
        unit, job = shop.book(unit, Job(new_id(), unit.id, 0, "no spark", now())).result()
        conditions = Conditions(20.0, 3.0, 0.2, 0.05)
        head = SheetHead(new_id(), job.id, revision.id, meter.id, meter.name, meter.meter, conditions,
                         TemperatureSource.ROOM, False, None, now())  # fmt: skip
        shop.begin_sheet(head).result()
        self._take()

    def _take(self) -> None:
        self.bench = on_bench(self._shop)
        self.pairs = Pairs(self.bench)
        self.nodes = (*self.bench.pattern.pins, CORE)

    # ---- what a technician does

    @rule(data=st.data())
    def presses(self, data: st.DataObject) -> None:
        self.bench.press(data.draw(st.sampled_from(self.nodes)))

    @rule(data=st.data())
    def picks_a_check(self, data: st.DataObject) -> None:
        plan = self.bench.judged.sheet.plan
        self.bench.pick(data.draw(st.sampled_from(plan)))

    @rule(number=NUMBERS, data=st.data())
    def types(self, number: str, data: st.DataObject) -> None:
        """Kept as typed even where it looks like a slip."""
        one, other = data.draw(st.lists(st.sampled_from(self.nodes), min_size=2, max_size=2, unique=True))
        self.bench.pick(Pair(one, other))
        self.bench.enter(number)
        if self.bench.said is not None and self.bench.said.choices:
            self.bench.enter(number)

    @rule(times=st.integers(1, 4))
    def reads_on(self, times: int) -> None:
        for _ in range(times):
            if self.bench.offered is not None:
                self.bench.pick(self.bench.offered)
                self.bench.enter(sound(self.bench, self.bench.offered))

    @precondition(lambda self: self.bench.lines.counted)
    @rule(data=st.data())
    def repeats(self, data: st.DataObject) -> None:
        again = data.draw(st.sampled_from(self.bench.lines.counted)).kept
        self.bench.read_again(again.id)
        assert self.bench.pair == again.reading.pair
        if again.reading.ohms is None:
            self.bench.open_line()
        else:
            self.bench.enter(again.typed)
            if self.bench.said is not None and self.bench.said.choices:
                self.bench.enter(again.typed)

    @precondition(lambda self: self.bench.lines.counted)
    @rule(data=st.data(), reason=REASONS)
    def strikes(self, data: st.DataObject, reason: str) -> None:
        self.bench.strike(data.draw(st.sampled_from(self.bench.lines.counted)).kept.id, reason)

    @rule()
    def undoes(self) -> None:
        self.bench.undo()

    @rule(turns=st.integers(0, 3), flips=st.booleans())
    def turns_the_face(self, turns: int, flips: bool) -> None:
        for _ in range(turns):
            self.bench.turn()
        if flips:
            self.bench.flip()

    @rule(data=st.data(), celsius=st.sampled_from([-10.0, 20.0, 60.0]), iron=st.sampled_from([None, 0.3]),
          zeroed=st.booleans())  # fmt: skip
    def changes_conditions(self, data: st.DataObject, celsius: float, iron: float | None, zeroed: bool) -> None:
        meter = data.draw(st.sampled_from(self.meters))
        conditions = Conditions(celsius, 1.0, 0.0 if zeroed else 0.2, 0.05)
        self.bench.change_conditions(
            replace(self.bench.head, meter_id=meter.id, meter_name=meter.name, meter=meter.meter,
                    conditions=conditions, source=TemperatureSource.PROBE, meter_zeroed=zeroed, iron_ohms=iron)
        )  # fmt: skip

    @rule(note=st.sampled_from(["", "a cracked tooth", "two\nlines"]))
    def writes_a_note(self, note: str) -> None:
        self.bench.write_note(note)

    @rule(outcome=st.sampled_from(Outcome), note=st.sampled_from(["", "plug cleaned"]))
    def decides(self, outcome: Outcome, note: str) -> None:
        self.bench.decide(outcome, note)

    @rule()
    def closes_and_reopens(self) -> None:
        self._shop.close()
        self._desk = Desk()
        self._shop = Shop(self._url, self._desk.deliver)
        self._shop.open().result()
        self._take()

    # ---- what must hold

    @invariant()
    def what_is_on_disk_shows_what_the_bench_shows(self) -> None:
        done: list[object] = []
        self._shop.meters(done.append)  # told after all that was asked before it
        self._desk.until(lambda: bool(done))
        assert not self.bench.lines.saving
        assert self.bench.lines.lost == 0
        fresh = held_alike(on_bench(self._other), self.bench)
        expected, found = shown(self.bench, self.pairs, self._shop), shown(fresh, Pairs(fresh), self._other)
        for name, view in expected.items():
            assert found[name] == view, name

    def teardown(self) -> None:
        self._shop.close()
        self._other.close()
        self._folder.cleanup()


KeptTechnician.TestCase.settings = settings(max_examples=25, stateful_step_count=20, deadline=None)
TestKeptTechnician = KeptTechnician.TestCase
