"""Two faults at once: found where they show, and never dearer than the better of them alone."""

import math

import numpy as np
import pytest

from tests.findings.parts import ROOM, Shown, ask, chance, part, top
from workbench.findings.doubles import double_log
from workbench.findings.hypotheses import What
from workbench.findings.second import beside
from workbench.stator.meter import Meter, Range
from workbench.stator.pattern import Pattern
from workbench.stator.sheet import Conditions

THREE = part(
    "P:12 Q:12 R:12", ("one", "P.1", "P.2", 50.0, 8), ("two", "Q.1", "Q.2", 80.0, 8), ("three", "R.1", "R.2", 120.0, 8)
)


def test_an_open_winding_and_a_short_elsewhere() -> None:
    x = ask(THREE, ("P.1", "P.2", None), ("Q.1", "Q.2", 20.0), ("R.1", "R.2", 120.0))
    assert top(x) == ("unlisted", "")
    assert x.findings[0].probability > 0.99


def test_two_broken_leads() -> None:
    x = ask(THREE, ("P.1", "P.2", None), ("Q.1", "Q.2", None), ("R.1", "R.2", 120.0))
    assert top(x) == ("unlisted", "")
    assert x.findings[0].probability == pytest.approx(1)


def test_two_shorts_on_windings_read_apart() -> None:
    x = ask(THREE, ("P.1", "P.2", 15.0), ("Q.1", "Q.2", 20.0), ("R.1", "R.2", 120.0))
    assert top(x) == ("unlisted", "")


def test_a_poor_lead_and_a_short_on_one_grounded_winding() -> None:
    grounded = part("P:12", ("low", "core", "P.1", 50.0, 8), ("high", "P.1", "P.2", 100.0, 8))
    x = ask(grounded, ("P.1", "core", 10.1), ("P.1", "P.2", 260.0), ("P.2", "core", 210.0))
    assert top(x) == ("unlisted", "")


def test_a_short_to_the_core_beside_an_open_winding() -> None:
    # P.1 - P.2 is broken; Q's coil lies on the core through some ohms
    x = ask(THREE, ("P.1", "P.2", None), ("Q.1", "core", 30.0), ("Q.2", "core", 70.0), ("Q.1", "Q.2", 80.0))
    assert top(x) == ("unlisted", "")


def test_two_at_once_stay_a_guess_where_one_will_do() -> None:
    x = ask(THREE, ("P.1", "P.2", 15.0), ("Q.1", "Q.2", 80.0), ("R.1", "R.2", 120.0))
    assert top(x) == ("shorted-turns", "one")
    assert chance(x, "unlisted") < 0.05


def test_a_fault_that_nothing_read_could_show_rides_along() -> None:
    # a broken lead on a plug never read leaves the winding's short as it is
    x = ask(THREE, ("P.1", "P.2", 15.0))
    places = {"open-winding": 3, "open-lead": 6, "shorted-turns": 3, "winding-to-core": 3, "resistive-lead": 6}
    n = sum(places.values())
    # three faults of each winding and two of each lead don't meet: they are at one place
    pairs = n * (n - 1) / 2 - 3 * 3 - 6
    hidden = 3 * 2 + 2 * 4  # of the other two windings, and of their four leads
    short = chance(x, "shorted-turns", "one")
    assert chance(x, "unlisted") / short > 0.01 * 0.4 * hidden / pairs / (0.10 / 3)


def both(pattern: Pattern, *shown: Shown) -> float:
    """Log likelihood of two faults at once."""
    o = ask(pattern, *shown).workings
    return double_log(o.w.finite.probe.circuit, o.h, o.e, o.shared, o.w, ROOM)


def test_three_openings_are_beyond_two_faults() -> None:
    open_all: list[Shown] = [(f"{c}.1", f"{c}.2", None) for c in "PQR"]
    assert math.isfinite(both(THREE, *open_all[:2]))
    assert both(THREE, *open_all) == -math.inf


def test_a_short_to_the_core_of_what_an_open_winding_leaves_hanging() -> None:
    # low is broken; high lies on the core 30 % of its way up through 4 ohm
    chain = part("P:12", ("low", "core", "P.1", 50.0, 8), ("high", "P.1", "P.2", 100.0, 8))
    shown: list[Shown] = [("P.1", "core", 34.1), ("P.2", "core", 74.1), ("P.1", "P.2", 100.1)]
    alone = part("P:12", ("high", "P.1", "P.2", 100.0, 8))
    o, left = ask(chain, *shown).workings, ask(alone, *shown).workings
    first, high = int(o.h.at[What.OPEN_WINDING][0]), o.h.at[What.TO_CORE][1:]
    (log,) = beside(o.w.finite.probe.circuit, o.h, o.e, o.shared, o.w, ROOM, first, high)
    # as if low had never been there, but for coarser cells
    assert log == pytest.approx(left.w.log[left.h.at[What.TO_CORE][0]], abs=0.3)
    assert both(chain, *shown) > log - math.log(500)


@pytest.mark.parametrize("kind", [What.SHORTED, What.RESISTIVE])
def test_two_on_parts_of_their_own_are_as_likely_as_each_is(kind: int) -> None:
    # nothing but the leads joins the two readings here, and that by little: log L12 = log L1 + log L2 - log L0
    still, exact = Conditions(20, 0, 0.1, 0.001), Meter((Range(200, 0.1, 0, 3), Range(2e7, 1e4, 0, 3)), 2e7)
    shown: list[Shown] = [("P.1", "P.2", 30.0 if kind == What.SHORTED else 70.0), ("Q.1", "Q.2", 40.0)]
    o = ask(THREE, *shown, meter=exact, room=still).workings
    first, second = int(o.h.at[kind][0]), o.h.at[What.SHORTED][1:2]
    (log,) = beside(o.w.finite.probe.circuit, o.h, o.e, o.shared, o.w, still, first, second)
    want = o.w.log[first] + o.w.log[second[0]] - o.w.log[0]
    assert log == pytest.approx(want, abs=0.3)
    assert np.isfinite(log)
