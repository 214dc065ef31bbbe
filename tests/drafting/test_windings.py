"""Windings, links and coils joined, named, valued and dropped; and a draft that is a pattern again."""

from typing import Any

import pytest
from hypothesis import assume, given

from tests.drafting.drawn import TWO, wired
from tests.stator.strategies import patterns
from workbench.drafting import coils, windings
from workbench.drafting.draft import Draft
from workbench.drafting.edits import EditError
from workbench.stator.layout import Coil, Facing, Wire
from workbench.stator.pattern import Element, Kind, Pair, Pattern


@given(patterns(elements=True, laid_out=True))
def test_a_draft_of_a_pattern_is_that_pattern(pattern: Pattern) -> None:
    assume(pattern.name.strip())
    assert Draft.of(pattern).pattern() == pattern


def test_what_is_missing_is_named() -> None:
    assert Draft().trouble is not None
    assert Draft().trouble.field == "name"
    half, name = windings.connect(TWO, "P.1", "P.2", Kind.PULSER)
    assert name == "pulser 1"
    assert half.trouble is not None
    assert half.trouble.field == "windings[0].ohms"
    whole = windings.set_percent(half, name, 118, 15)
    assert whole.trouble is None
    assert whole.pattern().windings[0].high == pytest.approx(135.7)


def test_a_winding_is_told_by_per_cent_by_limits_or_by_what_it_lies_under() -> None:
    d = windings.set_limits(wired(), "low", 18, 23, band_from="14 units known good")
    assert (d.edge("low").low, d.edge("low").high, d.edge("low").nominal) == (18, 23, 20.5)  # type: ignore[union-attr]
    assert d.windings[1].band_from
    d = windings.set_under(d, "low", 1.5)
    assert [w.is_under for w in d.windings] == [False, True]
    assert (d.windings[1].low, d.windings[1].high, d.windings[1].band_from) == (0, 1.5, "")
    assert not windings.set_limits(d, "low", 0.0015, 1.5).windings[1].is_under  # however low, that is a low limit
    d.pattern()
    assert windings.set_percent(d, "low", 20, 10).windings == wired().windings


@pytest.mark.parametrize(
    ("how", "given"),
    [
        (windings.set_percent, (0, 10)), (windings.set_percent, (20, 0)), (windings.set_percent, (20, 101)),
        (windings.set_percent, (float("nan"), 10)), (windings.set_limits, (23, 18)), (windings.set_limits, (0, 18)),
        (windings.set_limits, (18, 23, 24)), (windings.set_under, (-1,)), (windings.set_link_limit, (0,)),
    ],
)  # fmt: skip
def test_what_no_winding_can_be_is_refused_with_a_sentence(how: Any, given: tuple[float, ...]) -> None:
    with pytest.raises(EditError) as e:
        how(wired(), "ground" if how is windings.set_link_limit else "low", *given)
    assert e.value.sentence.endswith(".")


def test_names_go_on_and_are_followed() -> None:
    d, one = windings.connect(TWO, "P.1", "P.2")
    d, two = windings.connect(d, "P.2", "core")
    d, wire = windings.link(d, "P.3", "core")
    assert (one, two, wire) == ("winding 1", "winding 2", "link 1")
    with pytest.raises(EditError):
        windings.rename_edge(d, two, "link 1")
    with pytest.raises(EditError):
        windings.connect(d, "core", "core")
    renamed = windings.rename_edge(wired(), "low", "light")
    assert renamed.layout is not None
    assert [c.winding for c in renamed.layout.coils] == ["high", "light", "light"]
    renamed.pattern()


def test_an_inner_point_is_there_once_two_things_meet_in_it() -> None:
    point = windings.inner_point(TWO)
    star = TWO
    for pin in ("P.1", "P.2", "P.3"):
        star, name = windings.connect(star, pin, point)
        star = windings.set_percent(star, name, 0.4, 15)
    assert star.inner_points == (point,)
    assert star.pattern().inner_points == (point,)
    hub = windings.rename_point(star, point, "star point")
    assert hub.inner_points == ("star point",)
    with pytest.raises(EditError):
        windings.rename_point(hub, "star point", "core")
    assert windings.inner_point(star) != point


def test_ends_move_kinds_words_and_wires_are_noted_and_an_element_has_no_ohms() -> None:
    d = windings.move_end(wired(), "low", finish="core")
    assert (d.windings[1].start, d.windings[1].finish) == ("P.2", "core")
    with pytest.raises(EditError):
        windings.move_end(d, "low", start="core")
    d = windings.set_wire(windings.set_kind(d, "low", Kind.CHARGING, "  source coil "), "low", "0.9 mm, two in hand")
    assert (d.windings[1].kind, d.windings[1].word, d.windings[1].wire) == (
        Kind.CHARGING, "source coil", "0.9 mm, two in hand",
    )  # fmt: skip
    assert windings.set_kind(d, "low", Kind.OTHER).windings[1].word == "source coil"
    diode = windings.set_element(d, "low", Element.DIODE)
    assert diode.windings[1].ohms is None
    diode.pattern()


def test_a_dropped_winding_takes_its_coils() -> None:
    left = windings.drop_edge(wired(), "low")
    assert left.layout is not None
    assert [c.winding for c in left.layout.coils] == ["high"]
    assert windings.drop_edge(left, "ground").links == ()


def test_coils_are_stacked_and_come_down_and_their_sense_is_noted() -> None:
    d = coils.put_coil(wired(), "high", 1)
    assert d.layout is not None
    assert [(c.winding, c.place) for c in d.layout.stack(Coil("high", 1))] == [("high", 0), ("low", 1), ("high", 2)]
    down = coils.take_coil(d, Coil("low", 1, 1))
    assert down.layout is not None
    assert [(c.winding, c.place) for c in down.layout.stack(Coil("high", 1))] == [("high", 0), ("high", 1)]
    noted = coils.set_coil_wire(coils.set_sense(down, Coil("high", 1), -1), Coil("high", 1, 0, -1), Wire.HEAVY)
    assert noted.layout is not None
    assert noted.layout.coils[0] == Coil("high", 1, 0, -1, Wire.HEAVY)
    noted.pattern()


def test_a_smaller_core_loses_the_coils_of_the_teeth_that_are_gone() -> None:
    d = coils.set_core(coils.put_coil(wired(), "high", beside_degrees=30), 1, Facing.INWARD)
    assert d.layout is not None
    assert [(c.tooth, c.beside_degrees) for c in d.layout.coils] == [(1, None), (1, None), (None, 30)]
    straight = coils.set_core(d, 3, Facing.STRAIGHT)
    assert straight.layout is not None
    assert all(c.tooth == 1 for c in straight.layout.coils)
    with pytest.raises(EditError):
        coils.set_core(d, 0, Facing.OUTWARD)
    with pytest.raises(EditError, match="how many teeth"):
        coils.put_coil(TWO, "high", 1)


def test_checks_can_be_set_and_left_to_the_program() -> None:
    assert wired().checked(None).pattern().checks is None
    assert wired().checked((Pair("P.1", "P.3"),)).pattern().checks == (Pair("P.1", "P.3"),)
