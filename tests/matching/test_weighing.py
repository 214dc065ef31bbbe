"""Parts with one obvious answer."""

from dataclasses import replace

import pytest

from tests.matching.parts import COOL, METER, chances, pattern, plug, read, which, wound
from workbench.matching.library import Library
from workbench.matching.weighing import NONE, weigh
from workbench.stator.meter import Meter, Range
from workbench.stator.pattern import Cavity, Connector, Element, Pair, Pattern, Side, Winding
from workbench.stator.sheet import Reading

LOW = pattern("low", ("P.1", "P.2", 100.0), ("P.2", "P.3", 10.0))
HIGH = pattern("high", ("P.1", "P.2", 160.0), ("P.2", "P.3", 10.0))
GROUNDED = pattern("grounded", ("P.1", "P.2", 100.0), ("P.2", "core", 10.0))
OTHER_PLUG = pattern("other plug", ("P.1", "P.2", 100.0), plugs=(plug("P", "12"),))
LIBRARY = [LOW, HIGH, GROUNDED, OTHER_PLUG]


def test_before_anything_is_read_every_pattern_that_fits_is_as_likely() -> None:
    found = chances(LIBRARY, which(LIBRARY))
    assert found == pytest.approx({"low": 0.3, "high": 0.3, "grounded": 0.3, None: NONE})


def test_one_reading_tells_ohms_and_one_open_tells_grounds() -> None:
    assert chances(LIBRARY, which(LIBRARY, ("P.1", "P.2", 159.0)))["high"] > 0.85
    found = chances(LIBRARY, which(LIBRARY, ("P.1", "P.2", 99.0), ("P.2", "core", None)))
    assert found["low"] > 0.95
    found = chances(LIBRARY, which(LIBRARY, ("P.1", "P.2", 99.0), ("P.2", "core", 10.2)))
    assert found["grounded"] > 0.95


def test_twins_tie_and_are_one_to_the_next_pair() -> None:
    # drawn the other way round, on other pins of a plug of its own naming, its edges in another order
    twin = pattern("twin", ("Q.b", "Q.a", 10.0), ("Q.c", "Q.b", 100.0), plugs=(plug("Q", "cba"),))
    patterns = [LOW, twin]
    w = which(patterns, ("P.1", "P.2", 101.0), ("P.2", "P.3", 10.1), ("P.1", "core", None))
    found = chances(patterns, w)
    assert found["low"] == pytest.approx(found["twin"], rel=1e-9)
    assert found["low"] > 0.49
    assert {r.alike for r in w.ranked} == {0}
    # nothing but none is left to be told from them
    assert sum(n.bits for n in w.next) < 0.05
    apart = which([LOW, HIGH])
    assert {r.alike for r in apart.ranked} == {0, 1}
    assert apart.next[0].bits > 0.4


def test_a_delta_and_the_star_that_reads_like_it_are_alike() -> None:
    star = pattern("star", ("hub", "P.1", 10.0), ("hub", "P.2", 10.0), ("hub", "P.3", 10.0))
    delta = pattern("delta", ("P.1", "P.2", 30.0), ("P.2", "P.3", 30.0), ("P.3", "P.1", 30.0))
    # means agree to the last digit; their spread does not, so that readings may still lean to one of them
    w = which([star, delta], ("P.1", "P.2", 20.0), ("P.2", "P.3", 20.0), ("P.3", "P.1", 20.0))
    assert 0.4 < w.ranked[0].probability / (1 - w.none) < 0.75


@pytest.mark.parametrize("whole", [True, False])
def test_a_part_of_no_pattern_is_called_none_after_enough_readings(whole: bool) -> None:
    end = 17.0 if whole else 10.1
    off = [("P.1", "P.2", 270.0), ("P.2", "P.3", end), ("P.1", "P.3", 270.0 + end)]
    readings = [*off, ("P.1", "core", None), ("P.2", "core", None), ("P.3", "core", None)]
    assert which(LIBRARY, *readings).none > 0.5
    assert which(LIBRARY, *readings[:1]).none > NONE


def test_a_face_that_no_pattern_has_is_none_at_once() -> None:
    five = (plug("P", "12345"),)
    w = which(LIBRARY, ("P.1", "P.2", 100.0), plugs=five)
    assert (w.ranked, w.none, w.next) == ((), 1.0, ())


@pytest.mark.parametrize(
    "readings",
    [
        # the 100 ohm winding with a fifth of its turns shorted, then broken; its wire broken; its far end on the iron
        [("P.1", "P.2", 78.0), ("P.2", "P.3", 10.1), ("P.1", "P.3", 88.1), ("P.2", "core", None)],
        [("P.1", "P.2", None), ("P.2", "P.3", 10.1), ("P.1", "P.3", None), ("P.2", "core", None)],
        [("P.1", "P.2", None), ("P.2", "P.3", 10.1), ("P.1", "P.3", None), ("P.1", "core", None)],
        [("P.1", "P.2", 99.0), ("P.2", "P.3", 10.1), ("P.1", "core", 104.0), ("P.3", "core", 15.1)],
    ],
)
def test_one_fault_does_not_hide_a_pattern(readings: list[tuple[str, str, float | None]]) -> None:
    # nothing else in the library comes near: other ohms on the winding that is whole
    far = [pattern(f"far {k}", ("P.1", "P.2", 400.0), ("P.2", "P.3", 70.0 + 9 * k)) for k in range(8)]
    patterns = [LOW, *far]
    found = chances(patterns, which(patterns, *readings))
    assert max(found, key=lambda n: found[n]) == "low"
    candidates = Library.of(patterns).candidates(LOW.connectors)
    unaware = weigh(candidates, METER, COOL, read(*readings), faulty=0.0)
    assert chances(patterns, unaware)["low"] < 0.3 < found["low"]


def test_the_likeliest_laying_tells_which_plug_and_pin_is_which() -> None:
    bullets = tuple(Connector(n, (Cavity("1"),), None) for n in "ABC")
    p = pattern("three bullets", ("A.1", "B.1", 100.0), ("C.1", "core", 5.0), plugs=bullets)
    drawn = tuple(Connector(n, (Cavity("9"),), None) for n in "XYZ")
    w = which([p], ("X.9", "core", 5.1), ("Y.9", "Z.9", 99.0), plugs=drawn)
    assert w.ranked[0].laying["X.9"] == "C.1"
    assert {w.ranked[0].laying["Y.9"], w.ranked[0].laying["Z.9"]} == {"A.1", "B.1"}
    assert w.ranked[0].laying["core"] == "core"
    assert w.ranked[0].probability > 0.97


def test_a_keyless_plug_is_laid_by_what_it_reads() -> None:
    p = pattern("row", ("P.1", "P.2", 100.0), ("P.2", "P.3", 10.0), plugs=(plug("P", "123", None),))
    w = which([p], ("P.1", "P.2", 10.0), ("P.2", "P.3", 101.0))
    assert dict(w.ranked[0].laying) == {"P.1": "P.3", "P.2": "P.2", "P.3": "P.1", "core": "core"}


def test_a_pair_above_what_the_meter_shows_may_read_open() -> None:
    small = Meter((Range(200, 0.1, 0.8, 3),), 200.0)
    big = pattern("big", ("P.1", "P.2", 900.0), ("P.2", "P.3", 10.0))
    library = Library.of([big, LOW])
    w = weigh(library.candidates(big.connectors), small, COOL, [Reading(Pair("P.1", "P.2"), None)])
    found = chances([big, LOW], w)
    assert found["big"] > 0.8
    assert found["low"] < 0.1


def test_ohms_say_nothing_of_a_path_through_an_element() -> None:
    """A diode there might read anything: such a pair neither speaks for its pattern nor against it."""
    rectified = Pattern(
        "rectified", (plug("P", "123"),),
        (*wound(("P.1", "P.2", 100.0)), Winding("d", "P.2", "P.3", element=Element.DIODE)),
    )  # fmt: skip
    patterns = [rectified, HIGH]
    for shown in (None, 0.6, 1500.0):
        w = which(patterns, ("P.1", "P.2", 100.0), ("P.2", "P.3", shown), plugs=HIGH.connectors)
        assert chances(patterns, w)["rectified"] > 0.6


def test_repeats_of_a_pair_and_its_reverse_are_one_reading_in_either_direction() -> None:
    once = which(LIBRARY, ("P.1", "P.2", 120.0))
    back = which(LIBRARY, ("P.2", "P.1", 120.0))
    assert chances(LIBRARY, once) == pytest.approx(chances(LIBRARY, back), rel=1e-12)


def test_patterns_that_are_too_large_to_be_laid_are_told_and_left_out() -> None:
    large = pattern(
        "large",
        ("P.a", "P.b", 5.0),
        plugs=(Connector("P", tuple(Cavity(c) for c in "abcdefghijklmnopqrstuvwxyzABCDEFG")),),
    )
    many = pattern("many", ("A.1", "B.1", 5.0), plugs=tuple(Connector(c, (Cavity("1"),), None) for c in "ABCDEFGH"))
    library = Library.of([large, many, LOW])
    assert library.skipped == (0, 1)
    assert library.candidates(LOW.connectors).patterns == (2,)


def test_a_key_on_another_side_of_the_drawing_alone_changes_nothing() -> None:
    places = ((0.0, 0.0), (1.0, 0.0), (2.0, 0.0))
    low = replace(
        LOW,
        connectors=(
            Connector("P", tuple(Cavity(str(i + 1), x=x, y=y) for i, (x, y) in enumerate(places)), Side.BOTTOM),
        ),
    )
    drawn = (Connector("P", tuple(Cavity(str(i + 1), x=-y, y=x) for i, (x, y) in enumerate(places)), Side.RIGHT),)
    assert len(which([low], plugs=drawn).ranked) == 1
