"""What the bench weighs by while the shop's counts are on their way, and when they never come."""

from dataclasses import dataclass, field
from typing import Any
from uuid import UUID

import pytest

from tests.sitting.fakes import TWO_COILS, FakeKeeper, bench_file, starter
from tests.sitting.test_says import at_once
from workbench.findings.faults import STATED, Fault
from workbench.findings.odds import Counts
from workbench.sitting.bench import Bench
from workbench.window.oddsdesk import OddsDesk

FAMILY = ("ignition", "lighting")
TURNS, LEAD = Fault.SHORTED_TURNS, Fault.OPEN_LEAD


@dataclass
class Asked:
    """Answers when the test does."""

    questions: list[tuple[UUID | None, Any]] = field(default_factory=list)

    def found_so_far(self, but_for: UUID | None = None, then: Any = None, failed: Any = None) -> None:
        self.questions.append((but_for, then))

    def answer(self, counts: Counts) -> None:
        self.questions.pop(0)[1](counts)


def desk(*, learns: bool = True) -> tuple[OddsDesk, Asked]:
    shop = Asked()
    return OddsDesk(shop, learns=learns), shop  # type: ignore[arg-type]


def bench(at: OddsDesk) -> Bench:
    file = bench_file()
    made = Bench(file, FakeKeeper(at_once=True), reckon=at_once, priors=at.priors(file.revision.pattern))
    at.follow(made)
    return made


def prior(made: Bench, fault: Fault = TURNS) -> float:
    assert made.explained is not None
    return sum(f.probability for f in made.explained.findings if f.fault is fault)


def test_a_part_is_weighed_at_once_by_what_is_known_and_anew_when_the_counts_come() -> None:
    at, shop = desk()
    at.refresh()
    shop.answer(Counts({FAMILY: {TURNS: 25}}))
    made = bench(at)
    assert prior(made) == pytest.approx(30 / 75)
    ((but_for, _),) = shop.questions
    assert but_for == made.job.id
    shop.answer(Counts({FAMILY: {TURNS: 24}}))
    assert prior(made) == pytest.approx(29 / 74)


def test_counts_that_never_come_leave_it_as_it_was() -> None:
    at, _ = desk()
    assert prior(bench(at)) == pytest.approx(STATED[TURNS])


def test_an_answer_for_the_part_before_changes_nothing() -> None:
    at, shop = desk()
    first, second = bench(at), bench(at)
    shop.answer(Counts({FAMILY: {TURNS: 25}}))
    assert prior(first) == prior(second) == pytest.approx(STATED[TURNS])


def test_a_decision_counts_for_the_next_part_and_not_for_the_one_decided() -> None:
    at, shop = desk()
    made = bench(at)
    shop.answer(Counts())
    made.on_decided()
    ((but_for, _),) = shop.questions
    assert but_for is None
    shop.answer(Counts({FAMILY: {LEAD: 1}}))
    assert prior(made, LEAD) == pytest.approx(STATED[LEAD])
    assert at.priors(starter(TWO_COILS))[LEAD] == pytest.approx((4 + 1) / 51)


def test_switched_off_nothing_counts_and_on_again_it_does_at_once() -> None:
    at, shop = desk(learns=False)
    made = bench(at)
    shop.answer(Counts({FAMILY: {TURNS: 25}}))
    assert prior(made) == pytest.approx(STATED[TURNS])
    at.learn(True)
    assert prior(made) == pytest.approx(30 / 75)
    at.learn(False)
    assert prior(made) == pytest.approx(STATED[TURNS])
