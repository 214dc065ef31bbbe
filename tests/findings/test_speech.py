"""How readings speak for and against, and what they leave together."""

import math
from dataclasses import replace

import pytest

from tests.findings.parts import FLOATING, GROUNDED, ask, chance, part
from workbench.findings.explain import Explained
from workbench.findings.records import Finding
from workbench.stator.pattern import Element, Pair, Winding

TWO = part("P:12 Q:12", ("one", "P.1", "P.2", 10.0, 10), ("two", "Q.1", "Q.2", 300.0, 10))


def finding(x: Explained, fault: str, where: str = "") -> Finding:
    return next(f for f in x.findings if (f.fault, f.where) == (fault, where))


def said(x: Explained, fault: str, where: str = "") -> dict[str, float]:
    return {str(s.pair): s.bits for s in x.speeches(finding(x, fault, where))}


def test_a_low_reading_speaks_for_a_short_and_a_good_one_against_it_elsewhere() -> None:
    x = ask(TWO, ("P.1", "P.2", 5.0), ("Q.1", "Q.2", 301.0), ("P.1", "core", None))
    one, two = said(x, "shorted-turns", "one"), said(x, "shorted-turns", "two")
    assert one["P.1 - P.2"] > 10
    assert abs(one["Q.1 - Q.2"]) < 1
    assert one["P.1 - core"] == 0
    assert two["Q.1 - Q.2"] < -1


def test_with_one_reading_that_counts_its_speech_is_the_whole_ratio() -> None:
    # bits = log2 of (odds after / odds before), for readings that bear on nothing else
    x, before = ask(FLOATING, ("P.1", "P.2", 7.5)), ask(FLOATING)
    odds = chance(x, "shorted-turns", "coil") / chance(x, "sound")
    was = chance(before, "shorted-turns", "coil") / chance(before, "sound")
    assert said(x, "shorted-turns", "coil") == pytest.approx({"P.1 - P.2": math.log2(odds / was)}, abs=1e-3)


def test_an_open_reading_speaks_for_what_opens_it() -> None:
    x = ask(GROUNDED, ("P.1", "P.2", None), ("P.1", "core", 5.1))
    assert said(x, "open-winding", "high") == {"P.1 - core": 0.0, "P.1 - P.2": 20.0}
    assert said(x, "open-lead", "P.1")["P.1 - core"] == -20.0


def test_a_number_where_none_should_be_speaks_for_the_short_that_joins() -> None:
    x = ask(FLOATING, ("P.1", "core", 9.0), ("P.1", "P.2", 10.1))
    assert said(x, "winding-to-core", "coil")["P.1 - core"] == 20.0


def test_sound_and_unlisted_have_nothing_said_of_them() -> None:
    x = ask(FLOATING, ("P.1", "P.2", 10.0))
    assert x.speeches(finding(x, "sound")) == ()
    assert x.speeches(finding(x, "unlisted")) == ()


def test_a_group_and_the_pair_that_tells_it_apart() -> None:
    # P.1 - core is open: the lead of P.1, or either winding below it
    x = ask(GROUNDED, ("P.1", "core", None))
    group = next(g for g in x.groups() if finding(x, "open-lead", "P.1") in g.findings)
    assert {(f.fault, f.where) for f in group.findings} == {("open-lead", "P.1"), ("open-winding", "low")}
    assert group.probability == pytest.approx(sum(f.probability for f in group.findings))
    assert group.tell is not None
    assert group.tell.pair == Pair("P.1", "P.2")
    assert group.tell.bits == pytest.approx(
        sum(-p * math.log2(p) for p in (f.probability / group.probability for f in group.findings)), abs=0.02
    )


def test_a_group_that_nothing_tells_apart() -> None:
    x = ask(FLOATING, ("P.1", "P.2", None))
    (group, *_) = x.groups()
    assert len(group.findings) == 3
    assert group.tell is None


def test_pairs_through_a_diode_are_neither_evidence_nor_asked_for() -> None:
    bare = part("P:123", ("one", "core", "P.1", 10.0, 10), ("two", "P.2", "P.3", 30.0, 10))
    diode = Winding("d", "P.1", "P.2", element=Element.DIODE)
    p = replace(bare, windings=(*bare.windings, diode))
    x = ask(p, ("P.1", "core", 10.1), ("P.1", "P.2", 600.0), ("P.2", "P.1", None))
    assert chance(x, "sound") == pytest.approx(chance(ask(p, ("P.1", "core", 10.1)), "sound"))
    assert {n.pair for n in x.next} == {Pair("P.2", "P.3")}
    assert {n.pair for n in ask(bare, ("P.1", "core", 10.1)).next} > {n.pair for n in x.next}
    assert all("d" not in f.where.split("|") for f in x.findings)
