"""The next pair, against cases small enough to count out by hand; and what can't be told apart."""

import math
from collections import defaultdict
from dataclasses import replace

import numpy as np
import pytest

from tests.findings.generate import sheets
from tests.findings.parts import FLOATING, ROOM, ask, chance, part
from workbench.findings.circuit import Circuit
from workbench.findings.classes import classes
from workbench.findings.explain import explain
from workbench.findings.hypotheses import FAULTS, What, hypotheses
from workbench.findings.likelihood import shared_of
from workbench.findings.nextpair import Outlook, best, outlook
from workbench.findings.seen import look
from workbench.stator.pattern import Pair, Pattern

SERIES = part("P:123", ("one", "P.1", "P.2", 100.0, 10), ("two", "P.2", "P.3", 100.0, 10))


def entropy(*weights: float) -> float:
    total = sum(weights)
    return -sum(w / total * math.log2(w / total) for w in weights if w)


def test_an_open_series_is_halved_by_its_tap() -> None:
    x = ask(SERIES, ("P.1", "P.3", None), ("P.1", "core", None), ("P.2", "core", None), ("P.3", "core", None))
    first = chance(x, "open-winding", "one") + chance(x, "open-lead", "P.1")
    second = chance(x, "open-winding", "two") + chance(x, "open-lead", "P.3")
    assert first + second + chance(x, "unlisted") == pytest.approx(1)
    assert first == pytest.approx(second)
    # P.1 - P.2 reads open under the first, about 100 ohm under the second; P.2 - P.3 says as much
    halves = {n.pair: n.bits for n in x.next}
    assert halves.keys() == {Pair("P.1", "P.2"), Pair("P.2", "P.3")}
    assert halves[Pair("P.1", "P.2")] == pytest.approx(entropy(first, second), abs=0.02)


def test_uneven_halves_give_less() -> None:
    # three windings to one side of the tap
    chain = part("P:12 Q:12", ("a", "P.1", "x", 50.0, 10), ("b", "x", "Q.1", 60.0, 10), ("c", "Q.1", "P.2", 70.0, 10))
    x = ask(chain, ("P.1", "P.2", None), ("P.1", "core", None), ("Q.1", "core", None), ("P.2", "core", None))
    left = chance(x, "open-winding", "a") + chance(x, "open-winding", "b") + chance(x, "open-lead", "P.1")
    right = chance(x, "open-winding", "c") + chance(x, "open-lead", "P.2")
    told = {n.pair: n.bits for n in x.next}
    assert told[Pair("P.1", "Q.1")] == pytest.approx(entropy(left, right), abs=0.02)


def test_nothing_to_ask_where_no_pair_could_tell() -> None:
    x = ask(FLOATING, ("P.1", "P.2", None), ("P.1", "core", None), ("P.2", "core", None))
    assert x.next == ()


def test_a_pair_already_read_is_not_asked_for_again() -> None:
    shown = [("P.1", "P.2", 101.0), ("P.3", "P.2", 99.0)]
    x = ask(SERIES, *shown)
    assert not {n.pair.unordered for n in x.next} & {("P.1", "P.2"), ("P.2", "P.3")}
    assert 1 <= len(x.next) <= 10


def test_a_number_tells_as_far_as_the_meter_does() -> None:
    # the fault between one's turns and the lead of P.1 lies in whether P.1 - P.2 alone is low, or high
    x = ask(SERIES, ("P.1", "P.3", 240.0))
    assert x.next[0].bits > 0.3
    assert x.next[0].pair.unordered in {("P.1", "P.2"), ("P.2", "P.3")}


def grouped(p: Pattern, *read: tuple[str, str]) -> set[frozenset[tuple[str, str]]]:
    """Classes of two or more by `classes`, over some pairs."""
    c = Circuit(p, 20.0)
    h = hypotheses(c, p)
    every = look(c, h, *c.nodes_of([Pair(*q) for q in read]))
    which = [k for k in range(len(h)) if not h.unlisted[k]]
    found = classes(h, np.array(which), every, shared_of(c, ROOM))
    nodes = [*c.nodes]

    def name(k: int) -> tuple[str, str]:
        what, a, b = h.what[k], int(h.a[k]), int(h.b[k])
        pinned = FAULTS[what] in ("open-lead", "resistive-lead", "swapped-pins")
        names = nodes if pinned else c.names
        where = "|".join(sorted(names[i] for i in (a, b) if i >= 0))
        return str(FAULTS[what]), where

    groups: dict[int, set[tuple[str, str]]] = {}
    for k, first in zip(which, found.tolist(), strict=True):
        groups.setdefault(first, set()).add(name(k))
    return {frozenset(g) for g in groups.values() if len(g) > 1}


ALL = [("P.1", "P.2"), ("P.1", "core"), ("P.2", "core")]


def test_a_floating_winding_and_its_two_leads() -> None:
    assert grouped(FLOATING, *ALL) == {
        frozenset({("sound", ""), ("swapped-pins", "P.1|P.2")}),
        frozenset({("open-winding", "coil"), ("open-lead", "P.1"), ("open-lead", "P.2")}),
        frozenset({("resistive-lead", "P.1"), ("resistive-lead", "P.2")}),
    }


def test_what_is_not_read_is_as_sound() -> None:
    groups = grouped(FLOATING, ("P.1", "P.2"))
    assert frozenset({("sound", ""), ("swapped-pins", "P.1|P.2"), ("winding-to-core", "coil")}) in groups


def test_alike_windings_in_series_without_a_tap() -> None:
    alike = part("P:12", ("one", "P.1", "hub", 10.0, 10), ("two", "hub", "P.2", 10.0, 10))
    assert frozenset({("shorted-turns", "one"), ("shorted-turns", "two")}) in grouped(alike, *ALL)
    other = part("P:12", ("one", "P.1", "hub", 10.0, 10), ("two", "hub", "P.2", 10.0, 20))
    assert not any(("shorted-turns", "one") in g for g in grouped(other, *ALL))
    taller = part("P:12", ("one", "P.1", "hub", 10.0, 10), ("two", "hub", "P.2", 11.0, 10))
    assert not any(("shorted-turns", "one") in g for g in grouped(taller, *ALL))


def test_phases_of_a_star_are_told_apart_by_its_pins() -> None:
    star = part("P:123", *((f"p{i}", "star", f"P.{i}", 1.0, 10) for i in (1, 2, 3)))
    pins = [("P.1", "P.2"), ("P.1", "P.3"), ("P.2", "P.3")]
    groups = grouped(star, *pins)
    assert not any(("shorted-turns", "p1") in g for g in groups)
    assert frozenset({("open-winding", "p1"), ("open-lead", "P.1")}) in groups
    assert frozenset({("shorted-turns", "p1"), ("shorted-turns", "p2")}) in grouped(star, pins[0])


def test_a_poor_lead_is_not_a_bad_joint() -> None:
    # the joint is one of the unlisted, even where the two read alike
    c = Circuit(FLOATING, 20.0)
    h = hypotheses(c, FLOATING)
    every = look(c, h, *c.nodes_of([Pair(*q) for q in ALL[:1]]))
    found = classes(h, np.arange(len(h)), every, shared_of(c, ROOM))
    assert found[h.at[What.RESISTIVE][0]] != found[h.at[What.JOINT][0]]
    assert found[h.at[What.LEAK][0]] == found[h.at[What.JOINT][0]]


def beside(a: np.ndarray, b: np.ndarray) -> np.ndarray:
    return a * b / (a + b)


def test_bits_of_a_number_against_the_model_drawn_many_times() -> None:
    """SERIES with P.1 - P.3 read: every explanation drawn, weighed by the chance of that very display, and what
    P.1 - P.2 then shows counted into bins. Ohms by hand; nothing of the program is used."""
    shown, n = 219.0, 150_000
    rng = np.random.default_rng(3)

    def even(low: float, high: float) -> np.ndarray:
        return rng.uniform(low, high, n)

    def log_even(low: float, high: float) -> np.ndarray:
        return np.exp(even(math.log(low), math.log(high)))

    def drawn(kind: str, k: int) -> tuple[np.ndarray, np.ndarray]:
        """Ohms of P.1 - P.3 and P.1 - P.2, less what all readings share."""
        warm = 1 + (rng.normal(0, 2, n) + (even(20, 80) if kind == "warm" else 0)) / 254.5
        a, b = (100 * (1 + 0.05 * rng.standard_normal(n)) * warm for _ in range(2))
        more = np.zeros(n)
        if kind == "short":
            left = 1 - log_even(0.02, 0.9)
            a, b = (a * left, b) if k == 0 else (a, b * left)
        if kind == "joint":
            r = log_even(0.5, 500)
            a, b = (a + r, b) if k == 0 else (a, b + r)
        if kind == "touch":
            x, y, r = even(0, 1), even(0, 1), log_even(0.5, 200)
            inner = (1 - x) * a + y * b
            return x * a + beside(r, inner) + (1 - y) * b, x * a + beside((1 - x) * a, r + y * b)
        if kind == "swap":  # 0: P.1 | P.2, 1: P.2 | P.3
            return (b, a) if k == 0 else (a, a + b)
        if kind == "lead":
            more = log_even(0.5, 500)
            return a + b + more * (k != 1), a + more * (k != 2)
        if kind == "zero":
            more = even(0.1, 6)
        return a + b + more, a + more

    stated = {
        ("sound", 0): 0.55 + 0.02 / 3, ("short", 0): 0.05, ("short", 1): 0.05, ("core", 0): 0.04, ("core", 1): 0.04,
        ("touch", 0): 0.02, ("lead", 0): 0.04 / 3, ("lead", 1): 0.04 / 3, ("lead", 2): 0.04 / 3, ("zero", 0): 0.01,
        ("open", 0): 0.08 / 3,
        ("swap", 0): 0.02 / 3, ("swap", 1): 0.02 / 3, ("warm", 0): 0.01, ("joint", 0): 0.0015, ("joint", 1): 0.0015,
        ("leak", 0): 0.003,
    }  # fmt: skip
    edges = np.concatenate(([-np.inf], np.arange(0, 400, 1.0), [1e6, np.inf]))
    told: dict[str, np.ndarray] = defaultdict(lambda: np.zeros(len(edges) - 1))
    for (kind, k), prior in stated.items():
        one, two = drawn(kind, k)
        lead = 0.1 + 0.05 * rng.standard_normal(n)
        gain = 1 + 0.01 / math.sqrt(3) * rng.standard_normal(n)

        def display(x: np.ndarray, lead: np.ndarray = lead, gain: np.ndarray = gain) -> np.ndarray:
            return (x + lead + np.abs(0.02 * rng.standard_normal(n))) * gain

        # both are on the range to 500 ohm: 0.1 ohm, 5 digits
        y = display(one)
        chance_of_it = np.maximum(np.minimum(y + 0.5, shown + 0.05) - np.maximum(y - 0.5, shown - 0.05), 0) / 1.0
        name = "unlisted" if kind in ("joint", "leak") else f"{kind} {k}"
        after = np.full(n, 1e9) if kind == "open" else display(two) + rng.uniform(-0.5, 0.5, n)
        told[name] += np.histogram(after, edges, weights=prior * chance_of_it)[0] / n
    table = np.array(list(told.values()))
    table /= table.sum()
    by_kind, by_bin = table.sum(1, keepdims=True), table.sum(0, keepdims=True)
    with np.errstate(divide="ignore", invalid="ignore"):
        want = float(np.nansum(table * np.log2(table / by_kind / by_bin)))
        # with each display the classes' chances are their shares of its column
        want_chance = float(np.nansum(table * table / by_bin))
    x = ask(SERIES, ("P.1", "P.3", shown))
    ours = next(p for p in x.next if p.pair == Pair("P.1", "P.2"))
    assert ours.bits == pytest.approx(want, rel=0.08)
    assert ours.chance == pytest.approx(want_chance, abs=0.02)


def test_first_is_what_should_leave_the_truth_most_probable() -> None:
    # five explanations; each pair is joined under some of them, and reads the same number there
    weight = np.array([0.4, 0.3, 0.1, 0.1, 0.1])
    joined = np.array([[1, 0, 1, 0, 0], [1, 0, 0, 0, 0]], dtype=bool)
    halves, alone = Pair("P.1", "P.2"), Pair("P.2", "P.3")
    five, flat = np.arange(5), np.ones((2, 5))
    told = best(Outlook((halves, alone), weight, five, five, five, 10 * flat, 0.1 * flat, joined))
    # by hand: an even split is worth one bit, yet leaves 0.34 + 0.22; 0.4 by itself leaves 0.4 + 0.2
    assert [n.pair for n in told] == [alone, halves]
    assert [n.bits for n in told] == pytest.approx([entropy(0.4, 0.6), 1.0])
    assert [n.chance for n in told] == pytest.approx([0.6, 0.56])


def test_what_was_worked_out_for_the_readings_serves_the_next_pair_too() -> None:
    for d in sheets(31, 25, families=(1, 2, 3, 4, 5, 6)):
        o = explain(d.pattern, d.meter, d.conditions, d.readings).workings
        if o.ahead is None:
            continue
        m = len(o.e)
        unread = np.arange(m, m + len(o.ahead.pairs))
        afresh = outlook(
            d.meter, o.h, o.e, o.shared, replace(o.w, likely=None), o.posterior, o.every, o.ahead.pairs, unread
        )
        assert afresh is not None
        np.testing.assert_allclose(o.ahead.mean, afresh.mean, rtol=1e-7)
        np.testing.assert_allclose(o.ahead.sd, afresh.sd, rtol=1e-7)
