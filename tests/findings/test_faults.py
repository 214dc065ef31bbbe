"""Weights of the kinds: the stated ones, and a shop's own counts."""

import pytest

from tests.findings.parts import BENCH, FLOATING, ROOM, chance, readings
from workbench.findings.explain import explain
from workbench.findings.faults import JUDGE_FAULTS, STATED, Fault, from_counts


def test_the_stated_weights_are_a_distribution_over_the_eleven_words() -> None:
    assert sum(STATED.values()) == pytest.approx(1)
    assert set(STATED) == set(JUDGE_FAULTS) == set(Fault)
    assert len(JUDGE_FAULTS) == 11


def test_without_counts_the_stated_weights_stand() -> None:
    assert from_counts({}) == pytest.approx(dict(STATED))


def test_counts_move_the_weights_by_their_number() -> None:
    # mean of a Dirichlet: (50 x 0.04 + 50) / (50 + 50)
    got = from_counts({Fault.RESISTIVE_LEAD: 50}, weight=50)
    assert got[Fault.RESISTIVE_LEAD] == pytest.approx(0.52)
    assert got[Fault.SOUND] == pytest.approx(0.275)
    assert sum(got.values()) == pytest.approx(1)


@pytest.mark.parametrize(("counts", "weight"), [({Fault.SOUND: -1}, 50), ({}, 0), ({}, float("nan"))])
def test_counts_that_can_not_be(counts: dict[Fault, int], weight: float) -> None:
    with pytest.raises(ValueError, match="counts"):
        from_counts(counts, weight)


def test_other_weights_and_fewer_kinds_are_answered_by() -> None:
    shown = readings(("P.1", "P.2", None))
    x = explain(FLOATING, BENCH, ROOM, shown, priors=STATED | {Fault.OPEN_LEAD: 0.8})
    assert chance(x, "open-lead", "P.1") == pytest.approx(0.4 / 0.88, rel=0.02)
    y = explain(FLOATING, BENCH, ROOM, shown, faults=[Fault.SOUND, Fault.OPEN_WINDING])
    assert chance(y, "open-winding", "coil") == pytest.approx(1, abs=1e-6)
