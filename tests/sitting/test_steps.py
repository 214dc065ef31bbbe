"""Zero the leads and prove the iron, typed in the same field as a reading."""

import pytest

from tests.sitting.fakes import bench_of
from workbench.sitting.say import Tone
from workbench.sitting.steps import Step
from workbench.stator.pattern import CORE, Pair
from workbench.stator.verdict import Verdict


def test_leads_then_iron_in_two_entries() -> None:
    bench, keeper = bench_of(iron=None)
    bench.enter("1 3 155.3")
    bench.enter("1 ground OL")
    row = bench.last_row(Pair("P.1", CORE))
    assert row is not None
    assert row.verdict is Verdict.UNDECIDED  # the iron isn't proved yet
    bench.begin_steps()
    assert bench.step is Step.LEADS
    bench.enter("0.4")
    assert bench.step is Step.IRON
    bench.enter("0.3")
    assert bench.step is None
    assert (bench.head.conditions.lead_ohms, bench.head.iron_ohms) == (0.4, 0.3)
    assert bench.head.conditions.lead_uncertainty_ohms == pytest.approx(0.1 / 3**0.5)
    row = bench.last_row(Pair("P.1", CORE))
    assert row is not None
    assert row.verdict is Verdict.INSIDE
    assert len(keeper.of("conditions")) == 2
    assert len(keeper.of("reading")) == 2  # no step is a reading


def test_the_iron_is_not_asked_for_twice() -> None:
    bench, _ = bench_of(iron=0.3)
    bench.begin_steps()
    bench.enter("0,2")
    assert bench.step is None
    assert bench.said is None


@pytest.mark.parametrize("typed", ["OL", "12", "junk", "-3"])
def test_what_no_leads_can_show_is_refused_and_asked_again(typed: str) -> None:
    bench, keeper = bench_of()
    before = bench.head
    bench.begin_steps()
    bench.enter(typed)
    assert bench.step is Step.LEADS
    assert bench.text == typed
    assert bench.said is not None
    assert bench.said.tone is Tone.REFUSES
    assert bench.head == before
    assert keeper.asked == []


def test_one_ohm_of_leads_needs_no_question() -> None:
    bench, _ = bench_of()
    bench.begin_steps()
    bench.enter("1")
    assert bench.head.conditions.lead_ohms == 1.0


def test_enter_alone_passes_over_and_a_pin_breaks_off() -> None:
    bench, _ = bench_of(iron=None)
    before = bench.head
    bench.begin_steps()
    bench.enter("")
    assert bench.step is Step.IRON
    bench.press("P.4")
    assert bench.step is None
    assert bench.picked == ("P.4",)
    assert bench.head == before
