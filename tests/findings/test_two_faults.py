"""Two faults at once: found where they show, and never dearer than the better of them alone."""

import pytest

from tests.findings.parts import ask, chance, part, top

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
