"""The live proof: every remark has a part that earns it and one that doesn't."""

import time
from dataclasses import replace

import pytest

from tests.drafting.drawn import TWO, wired
from workbench.drafting import coils, plugs, windings
from workbench.drafting.draft import Draft
from workbench.drafting.prove import Proof, Remark, Weight, prove
from workbench.drafting.seeing import What
from workbench.draftwords import remark_words
from workbench.exchange.starters import starter_meters, starter_patterns
from workbench.stator.expect import Expectations
from workbench.stator.layout import Layout
from workbench.stator.pattern import Cavity, Connector, Element, Pair, Winding

METERS = [m for _, m in starter_meters()]
HANDHELD = [m for name, m in starter_meters() if name == "Counter handheld"]


def of(proof: Proof, remark: Remark) -> list[tuple[str, ...]]:
    return [s.about for s in proof.said if s.remark is remark]


def sentences(proof: Proof) -> list[str]:
    return [remark_words(s, proof.pattern) for s in proof.said]


def test_what_is_no_pattern_yet_says_what_is_missing() -> None:
    half, name = windings.connect(TWO, "P.1", "P.2")
    proof = prove(half)
    assert not proof.stands
    assert proof.pairs == ()
    assert proof.said[0].weight is Weight.ERROR
    assert sentences(proof) == ["A winding needs ohms with tolerance_percent, or low_ohms and high_ohms."]
    assert prove(windings.set_percent(half, name, 10, 10)).stands


@pytest.mark.parametrize("pattern", starter_patterns(), ids=lambda p: p.name)
def test_every_pair_reads_as_the_bench_expects_and_every_starter_stands(pattern: object) -> None:
    proof = prove(Draft.of(pattern), METERS)  # type: ignore[arg-type]
    assert proof.stands
    ask = Expectations(pattern)  # type: ignore[arg-type]
    assert all(expected == ask.of(pair) for pair, expected in proof.pairs)
    n = len(pattern.pins)  # type: ignore[attr-defined]
    assert len(proof.pairs) == n * (n + 1) / 2
    assert all(s.endswith(".") for s in sentences(proof))


def test_what_no_check_sees_and_what_nothing_can_see() -> None:
    d = wired().checked((Pair("P.1", "P.2"),))
    said = {(s.remark, s.what, s.about) for s in prove(d).said}
    assert (Remark.UNCHECKED, What.WINDING, ("low",)) in said
    assert (Remark.UNCHECKED, What.LEAD, ("P.3",)) in said
    assert (Remark.UNCHECKED, What.GROUND, ("P.1",)) in said
    assert "No planned check would show shorted turns in the low." in sentences(prove(d))
    left_to_the_program = prove(d.checked(None))
    assert of(left_to_the_program, Remark.UNCHECKED) == []
    assert left_to_the_program.checks
    bridged, _ = windings.link(wired(), "P.2", "P.3")
    assert of(prove(bridged), Remark.BRIDGED) == [("low",)]
    assert ("low",) in of(prove(bridged), Remark.INVISIBLE)


def test_a_break_and_a_short_to_the_iron_that_no_check_sees() -> None:
    """Two forks joined by a thin winding: each is seen by itself, and the winding between them by neither."""
    plug = Connector("P", tuple(Cavity(c) for c in "1234"))
    ends = [("P.1", "one"), ("P.2", "one"), ("P.3", "two"), ("P.4", "two"), ("one", "two")]
    wound = tuple(
        Winding(n, *e, ohms=r, tolerance_percent=10)
        for n, e, r in zip("abcdx", ends, (50.0, 50.0, 50.0, 50.0, 1.0), strict=True)
    )
    forks = Draft("forks", (plug,), wound)
    each = prove(forks.checked((Pair("P.1", "P.2"), Pair("P.3", "P.4"), Pair("P.1", "core"))))
    assert "No planned check would show a break in the x." in sentences(each)
    assert "No pair of pins can show shorted turns in the x." in sentences(each)
    chosen = prove(forks)
    assert "No planned check would show a break in the x." not in sentences(chosen)
    assert len(chosen.checks) == 3
    # and a coil of wide bands on the iron: its pin may lie down there unseen
    wide = windings.set_limits(wired(), "low", 0.1, 40)
    wide = windings.set_limits(wide, "high", 10, 300).checked((Pair("P.1", "P.2"), Pair("P.1", "core")))
    assert "No planned check would show a short from 2 to the iron." in sentences(prove(wide))
    assert (Remark.UNCHECKED, ("P.2",)) not in {(s.remark, s.about) for s in prove(wide.checked(None)).said}


def test_a_pair_planned_twice_and_a_winding_twice_on_a_tooth() -> None:
    a, b = wired().checks or ()
    assert of(prove(wired()), Remark.TWICE) == of(prove(wired()), Remark.TOOTH_TWICE) == []
    twice = prove(wired().checked((a, b, Pair(a.negative, a.positive))))
    assert "2 – 1 is planned twice." in sentences(twice)
    assert of(prove(coils.put_coil(wired(), "high", 1)), Remark.TOOTH_TWICE) == [("high",)]


def test_two_wires_in_each_others_cavities() -> None:
    """Three coils of one value on four pins, and of values that lie apart."""
    plug = Connector("P", tuple(Cavity(c) for c in "1234"))

    def series(*ohms: float) -> Draft:
        ends = [("P.1", "P.2"), ("P.2", "P.3"), ("P.3", "P.4")]
        wound = tuple(
            Winding(f"c{i}", *ab, ohms=r, tolerance_percent=10)
            for i, (ab, r) in enumerate(zip(ends, ohms, strict=True))
        )
        return Draft("three", (plug,), wound)

    alike = prove(series(50, 50, 50).checked((Pair("P.1", "P.4"),)))
    assert ("P.2", "P.3") in of(alike, Remark.SWAP_UNSEEN)
    read = prove(series(50, 50, 50).checked((Pair("P.1", "P.2"), Pair("P.2", "P.3"), Pair("P.3", "P.4"))))
    assert of(read, Remark.SWAP_UNSEEN) == []
    near = prove(series(50, 52, 50))  # a tenth of a band apart: exchanged, nothing leaves it
    assert of(near, Remark.SWAP_INVISIBLE) == []  # yet P.2 and P.3 exchanged do: 50 becomes 102
    two = Draft("two", (plug,), (Winding("a", "P.1", "P.2", ohms=50, tolerance_percent=10),
                                 Winding("b", "P.3", "P.4", ohms=52, tolerance_percent=10)))  # fmt: skip
    assert ("P.1", "P.2") not in of(prove(two), Remark.SWAP_INVISIBLE)


def test_two_wires_that_no_reading_tells_apart() -> None:
    """Two coils from a common pin, a fiftieth apart, in bands of a tenth; and the same a third apart."""
    plug = Connector("P", tuple(Cavity(c) for c in "123"))

    def on_common(other: float) -> Draft:
        ohms = {"P.2": 50.0, "P.3": other}
        wound = tuple(Winding(n, "P.1", n, ohms=r, tolerance_percent=10) for n, r in ohms.items())
        return Draft("two on a common pin", (plug,), wound)

    near, far = prove(on_common(51.0)), prove(on_common(66.0))
    assert of(near, Remark.SWAP_INVISIBLE) == [("P.2", "P.3")]
    assert "With 2 and 3 in each other's cavities no reading would leave its band." in sentences(near)
    assert of(far, Remark.SWAP_INVISIBLE) == []


def test_checks_that_the_shops_meters_can_not_judge() -> None:
    d = windings.set_percent(wired(), "low", 0.4, 15)
    d = d.checked((Pair("P.2", "P.3"), Pair("P.1", "P.2")))
    assert [s.pair for s in prove(d, HANDHELD).said if s.remark is Remark.BEYOND_METERS] == [Pair("P.2", "P.3")]
    assert "2 – 3: the shop's meters can tell only that it conducts." in sentences(prove(d, HANDHELD))
    assert [s for s in prove(d, METERS).said if s.remark is Remark.BEYOND_METERS] == []  # the four-wire one can
    assert [s for s in prove(d).said if s.remark is Remark.BEYOND_METERS] == []  # no meter, nothing to say


def test_diodes_spare_pins_and_windings_without_a_coil() -> None:
    d = plugs.add_cavity(windings.set_element(wired(), "low", Element.DIODE), "P", (7, 0))
    d = d.checked((Pair("P.2", "P.3"),))
    proof = prove(replace(d, layout=Layout(2, coils=wired().layout.coils[:0])))  # type: ignore[union-attr]
    assert of(proof, Remark.SPARE_PIN) == [("P.4",)]
    assert [s.pair for s in proof.said if s.remark is Remark.BY_NO_OHMS] == [Pair("P.2", "P.3")]
    assert of(proof, Remark.NO_COIL) == []  # a layout that has no coils at all was not begun
    some = windings.drop_edge(wired(), "ground")
    only = replace(some, layout=replace(some.layout, coils=some.layout.coils[:1]))  # type: ignore[type-var, union-attr]
    assert of(prove(only), Remark.NO_COIL) == [("low",)]


def test_a_winding_of_which_a_high_limit_is_all_that_is_known_is_noted() -> None:
    proof = prove(windings.set_under(wired(), "low", 5))
    assert of(proof, Remark.NO_LOW) == [("low",)]
    said = next(s for s in proof.said if s.remark is Remark.NO_LOW)
    assert said.weight is Weight.NOTE
    sentence = remark_words(said, proof.pattern)
    assert sentence == "The low is under 5 Ω, and no low limit is known: ohms can't see shorted turns in it."
    assert ("low",) in of(proof, Remark.INVISIBLE)
    assert of(prove(windings.set_limits(wired(), "low", 0.005, 5)), Remark.NO_LOW) == []


def test_sixty_four_windings_are_proved_in_time() -> None:
    plug = Connector("P", tuple(Cavity(str(i)) for i in range(65)))
    wound = tuple(Winding(f"w{i}", "P.0", f"P.{i + 1}", ohms=20.0 + i, tolerance_percent=10) for i in range(64))
    start = time.perf_counter()
    proof = prove(Draft("sixty-four", (plug,), wound), METERS)
    assert time.perf_counter() - start < 5
    assert proof.stands
    assert of(proof, Remark.INVISIBLE) == of(proof, Remark.UNCHECKED) == []
