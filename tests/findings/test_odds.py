"""Odds by a shop's own counts: the whole shop's, or a family's once there are enough of it."""

import pytest
from scipy.stats import dirichlet

from tests.findings.parts import FLOATING
from workbench.exchange.starters import starter_revisions
from workbench.findings.faults import JUDGE_FAULTS, STATED, BenchFault, Fault
from workbench.findings.odds import ENOUGH, Basis, Counts, family_of, odds
from workbench.findingwords import kind_words, odds_words

SLED, WYE = ("ignition", "lighting"), ("charging",)
SHORTED, LEAD = Fault.SHORTED_TURNS, Fault.OPEN_LEAD


def test_a_family_is_the_kinds_of_its_windings_each_once() -> None:
    assert family_of(FLOATING) == tuple(sorted({w.kind.value for w in FLOATING.windings}))
    by_name = {p.name: family_of(p) for p in starter_revisions()}
    assert by_name["three-phase wye"] == WYE
    assert by_name["two ignition coils on a common pin"] == SLED


def test_nothing_counted_leaves_the_stated_odds() -> None:
    for counts in (Counts(), Counts({SLED: {}})):
        assert odds(counts, SLED).priors is STATED
        assert odds(counts, SLED).basis is Basis.STATED


def test_enough_of_a_family_stand_alone_one_fewer_stands_on_the_whole_shop() -> None:
    """Worked by hand: (50 x stated + found) / (50 + all found)."""
    others = {WYE: {LEAD: 30}}
    few = odds(Counts({SLED: {SHORTED: ENOUGH - 1}} | others), SLED)
    assert (few.basis, few.number, few.of_family) == (Basis.SHOP, 49, 19)
    assert few.priors[SHORTED] == pytest.approx((5 + 19) / 99)
    assert few.priors[LEAD] == pytest.approx((4 + 30) / 99)
    assert few.priors[Fault.SOUND] == pytest.approx(27.5 / 99)
    enough = odds(Counts({SLED: {SHORTED: ENOUGH}} | others), SLED)
    assert (enough.basis, enough.number) == (Basis.FAMILY, 20)
    assert enough.priors[SHORTED] == pytest.approx(25 / 70)
    assert enough.priors[LEAD] == pytest.approx(4 / 70)


def test_any_part_and_an_unknown_family_stand_on_the_whole_shop() -> None:
    counts = Counts({SLED: {SHORTED: 25}, WYE: {LEAD: 5, SHORTED: 1}})
    for family in (None, ("pulser",)):
        got = odds(counts, family)
        assert (got.basis, got.number, got.of_family) == (Basis.SHOP, 31, 0)
        assert got.priors[SHORTED] == pytest.approx((5 + 26) / 81)


def test_the_mean_is_that_of_a_dirichlet() -> None:
    """scipy.stats.dirichlet, started from 50 parts of the stated odds."""
    found = {f: 3 * i for i, f in enumerate(JUDGE_FAULTS)}
    mean = dirichlet([50 * STATED[f] + found[f] for f in JUDGE_FAULTS]).mean()
    got = odds(Counts({SLED: found}), SLED).priors
    assert [got[f] for f in JUDGE_FAULTS] == pytest.approx(list(mean))


def test_the_sentence_says_on_what_they_stand() -> None:
    counts = Counts({SLED: {SHORTED: 25}, WYE: {LEAD: 1}})
    assert odds_words(odds(counts, SLED)) == (
        "The odds stand on 25 decided jobs of this family (ignition and lighting)."
    )
    assert odds_words(odds(counts, WYE)) == (
        "The odds stand on all 26 decided jobs of the shop: only 1 of this family (charging), and 20 are enough."
    )
    assert odds_words(odds(Counts({WYE: {LEAD: 1}}), None)) == "The odds stand on all 1 decided job of the shop."
    assert "the stated ones" in odds_words(odds(Counts(), SLED))


def test_every_fault_has_words_without_a_place() -> None:
    assert len({kind_words(f) for f in (*Fault, *BenchFault)}) == len(Fault) + len(BenchFault)
