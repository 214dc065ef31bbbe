"""A technician at random: picks, types values and junk, strikes, undoes, changes meters, on a disk that may fail."""

from dataclasses import replace
from typing import Any
from uuid import UUID

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule

from tests.sitting.fakes import FOUR_WIRES, HANDHELD, TAPPED, TWO_COILS, WYE, Asked, bench_of, sound
from workbench.records import NamedMeter, Outcome, SheetHead
from workbench.sitting import views
from workbench.sitting.lines import Keeping
from workbench.sitting.say import Tone
from workbench.stator.judge import SheetVerdict, judge
from workbench.stator.meter import Meter, Range
from workbench.stator.pattern import CORE, Pair
from workbench.stator.sheet import Conditions, Proof, Sheet

SMALL = NamedMeter(UUID(int=9), "small", Meter((Range(200, 0.1, 0.8, 3),), open_above_ohms=200))
JUNK = st.sampled_from(["", " ", "nonsense", "1", "1 3", "1,234", "9 9", "2m", "1-2", "L1 core", "core", "1 3 4 5"])
VALUES = st.sampled_from(["0.5", "0.8", "17.2", "155.4", "0.155", "155k", "1550", "114.2", "*", "20M", "30M", "-5"])


class Technician(RuleBasedStateMachine):
    @initialize(pattern=st.sampled_from([TWO_COILS, WYE, TAPPED]), meter=st.sampled_from([HANDHELD, FOUR_WIRES, SMALL]))
    def books_in(self, pattern: str, meter: NamedMeter) -> None:
        self.bench, self.keeper = bench_of(pattern, meter=meter, at_once=False)
        self.nodes = (*self.bench.pattern.pins, CORE)
        self.acked: set[UUID] = set()
        self.failed: set[UUID] = set()
        self.told = 0
        self.heads = [self.bench.head]

        def told() -> None:
            self.told += 1

        self.bench.on_change = told

    @rule(data=st.data())
    def picks(self, data: st.DataObject) -> None:
        one = data.draw(st.sampled_from(self.nodes))
        other = data.draw(st.sampled_from([n for n in self.nodes if n != one]))
        self.bench.pick(Pair(one, other))

    @rule(data=st.data())
    def presses(self, data: st.DataObject) -> None:
        self.bench.press(data.draw(st.sampled_from(self.nodes)))

    @rule(text=JUNK | VALUES | st.text(max_size=8))
    def types(self, text: str) -> None:
        before = len(self.bench.lines)
        told = self.told
        self.bench.enter(text)
        assert self.told > told
        if self.bench.said is not None and self.bench.said.tone in (Tone.REFUSES, Tone.ASKS):
            assert self.bench.text == text
            assert len(self.bench.lines) == before
            assert self.bench.said.sentence

    @rule()
    def types_what_is_right(self) -> None:
        if self.bench.pair is not None and self.bench.expectations.of(self.bench.pair).ohms is not None:
            if (self.bench.expectations.of(self.bench.pair).ohms or 0) < 190:
                self.bench.enter(sound(self.bench, self.bench.pair))
        else:
            self.bench.open_line()

    @rule(at=st.integers(0, 3))
    def chooses(self, at: int) -> None:
        choices = self.bench.said.choices if self.bench.said else ()
        if choices:
            choices[at % len(choices)].act()

    @rule()
    def goes_on(self) -> None:
        self.bench.go_on()
        assert self.bench.offered is None or self.bench.pair in self.bench.waiting

    @rule()
    def undoes(self) -> None:
        self.bench.undo()

    @precondition(lambda self: len(self.bench.lines))
    @rule(data=st.data(), reason=st.sampled_from(["", "wrong pin"]))
    def strikes(self, data: st.DataObject, reason: str) -> None:
        self.bench.strike(data.draw(st.sampled_from(self.bench.lines.every)).kept.id, reason)

    @precondition(lambda self: len(self.bench.lines))
    @rule(data=st.data())
    def tries_again(self, data: st.DataObject) -> None:
        self.bench.keep_again(data.draw(st.sampled_from(self.bench.lines.every)).kept.id)

    @rule()
    def turns_and_flips(self) -> None:
        self.bench.turn()
        self.bench.flip()

    @rule(meter=st.sampled_from([HANDHELD, FOUR_WIRES, SMALL]), celsius=st.sampled_from([-10.0, 20.0, 60.0]))
    def changes_conditions(self, meter: NamedMeter, celsius: float) -> None:
        before = self.bench.head
        head = replace(before, meter=meter.meter, meter_id=meter.id, conditions=Conditions(celsius, 1.0, 0.2, 0.05))
        self.bench.change_conditions(head)
        if self.bench.said is not None and self.bench.said.tone is Tone.REFUSES:
            assert self.bench.head == before

    @rule(outcome=st.sampled_from(Outcome))
    def decides(self, outcome: Outcome) -> None:
        self.bench.decide(outcome, "")

    @precondition(lambda self: self.keeper.waiting)
    @rule(ok=st.booleans(), many=st.integers(1, 4))
    def the_disk_answers(self, ok: bool, many: int) -> None:
        """In the order in which it was asked, as the shop does."""
        for asked in self.keeper.waiting[:many]:
            if ok and self._can_be_kept(asked):
                self.acked.add(asked.record.id)
                if asked.what == "conditions":
                    assert asked.record.version == self.heads[-1].version  # or the store would refuse it
                    self.heads.append(replace(asked.record, version=asked.record.version + 1))
                asked.ack()
            else:
                asked.fail()

    def _can_be_kept(self, asked: Asked) -> bool:
        return asked.what != "strike" or asked.record.reading_id in self.acked

    @invariant()
    def the_sheet_is_what_the_counted_lines_say(self) -> None:
        bench = self.bench
        counted = [x.kept.reading for x in bench.lines if x.kept.strike is None and x.keeping is not Keeping.LOST]
        sheet = Sheet(bench.pattern, bench.head.meter, bench.head.conditions, tuple(counted), proof=Proof(iron=True))
        assert bench.judged == judge(sheet)
        assert bench.sheet() == sheet

    @invariant()
    def nothing_is_called_safe_that_is_not_acknowledged(self) -> None:
        safe = {x.kept.id for x in self.bench.lines if x.keeping is Keeping.SAFE}
        assert safe <= self.acked
        assert {v.id for v in views.readings(self.bench) if v.keeping is Keeping.SAFE} == safe

    @invariant()
    def every_line_ever_entered_is_still_there_in_its_order(self) -> None:
        sent: dict[UUID, Any] = {k.id: k for k in self.keeper.of("reading")}
        assert [x.kept.id for x in self.bench.lines] == list(sent)
        assert [x.kept.place for x in self.bench.lines] == list(range(1, len(sent) + 1))
        for line in self.bench.lines:
            assert replace(line.kept, strike=None) == replace(sent[line.kept.id], strike=None)

    @invariant()
    def what_no_call_waits_for_stands_as_it_is_kept(self) -> None:
        waiting = self.keeper.waiting
        head: SheetHead = self.heads[-1]
        if not any(a.what == "conditions" for a in waiting) and self.bench.head != head:
            # only where readings taken since would not fit what is kept
            with pytest.raises(ValueError, match="reading"):
                Sheet(self.bench.pattern, head.meter, head.conditions, self.bench.lines.readings)
        if not any(a.what == "decided" for a in waiting):
            kept = [d for d in self.keeper.of("decided") if d.id in self.acked]
            assert self.bench.decided == (kept[-1] if kept else None)
        if not waiting:
            struck = {s.reading_id for s in self.keeper.of("strike") if s.id in self.acked}
            assert {x.kept.id for x in self.bench.lines if x.kept.strike is not None} == struck
            assert not self.bench.lines.saving

    @invariant()
    def every_view_can_be_drawn(self) -> None:
        bench = self.bench
        shown = [*views.checks(bench), *views.readings(bench), *views.face_lines(bench), views.heading(bench)]
        assert views.band(bench, bench.pair).title or bench.pair is None
        assert len(shown) >= len(bench.pattern.checks or ())
        assert bench.judged.verdict is not SheetVerdict.GOOD or bench.offered is None


Technician.TestCase.settings = settings(max_examples=80, stateful_step_count=40, deadline=None)
TestTechnician = Technician.TestCase
