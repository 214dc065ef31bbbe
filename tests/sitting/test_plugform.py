"""A plug as it is asked for becomes one as it is stored: places from the mating side, pins as they were looked at."""

import math

import pytest

from workbench.drafting.draft import Draft
from workbench.sitting.plugform import PlugForm, Shape
from workbench.stator.pattern import Cavity, Outline, Terminal


def drawn(form: PlugForm) -> tuple[Cavity, ...]:
    assert form.trouble == ""
    return form.drawn(Draft()).plugs[-1].cavities


def places(form: PlugForm) -> dict[str, tuple[float, float]]:
    return {c.pin: (c.x, c.y) for c in drawn(form)}


def test_rows_lie_about_the_middle_and_are_counted_from_the_top_left() -> None:
    assert places(PlugForm(counts="2+3")) == {"1": (0.5, 1), "2": (1.5, 1), "3": (0, 0), "4": (1, 0), "5": (2, 0)}


def test_every_other_staggered_row_lies_half_a_step_to_the_right() -> None:
    assert places(PlugForm(counts="2+2", staggered=True)) == {"1": (0, 1), "2": (1, 1), "3": (0.5, 0), "4": (1.5, 0)}


@pytest.mark.parametrize("form", [PlugForm(counts="2+3"), PlugForm(counts="3+3", staggered=True)])
def test_from_the_wire_side_left_and_right_are_exchanged_and_pins_keep_their_order(form: PlugForm) -> None:
    mating = places(form)
    wire = places(PlugForm(counts=form.counts, staggered=form.staggered, wire_side=True))
    assert wire != mating
    for one in mating:
        for other in mating:
            (ax, ay), (bx, by) = mating[one], mating[other]
            (cx, cy), (dx, dy) = wire[one], wire[other]
            assert (cx - dx, cy - dy) == (bx - ax, ay - by)


@pytest.mark.parametrize(("count", "middle"), [(1, False), (5, False), (6, True), (30, False)])
def test_a_ring_is_round_and_clockwise_from_the_top(count: int, middle: bool) -> None:
    form = PlugForm(shape=Shape.RING, counts=str(count), middle=middle)
    all_ = drawn(form)
    assert len(all_) == count + middle
    rim = all_[:count]
    cx = sum(c.x for c in rim) / count
    cy = sum(c.y for c in rim) / count
    far = [math.hypot(c.x - cx, c.y - cy) for c in rim]
    assert max(far) - min(far) < 0.01
    if count > 2:
        assert rim[0].y == max(c.y for c in rim)
        assert rim[1].x > rim[0].x  # clockwise
    if middle:
        assert math.hypot(all_[-1].x - cx, all_[-1].y - cy) < 0.01
    assert form.drawn(Draft()).plugs[-1].outline is Outline.ROUND


@pytest.mark.parametrize(("sockets", "terminal"), [(False, Terminal.BLADE), (True, Terminal.SOCKET)])
def test_every_cavity_has_the_terminal_that_was_seen(sockets: bool, terminal: Terminal) -> None:
    assert {c.terminal for c in drawn(PlugForm(sockets=sockets))} == {terminal}


@pytest.mark.parametrize(
    ("form", "says"),
    [
        (PlugForm(counts="some"), "Type how many cavities"),
        (PlugForm(counts=""), "Type how many cavities"),
        (PlugForm(counts="2+0"), "A row has 1 to 20"),
        (PlugForm(counts="21"), "A row has 1 to 20"),
        (PlugForm(counts="+".join(["1"] * 11)), "at most 10 rows"),
        (PlugForm(shape=Shape.RING, counts="0"), "A ring has 1 to 30"),
        (PlugForm(shape=Shape.RING, counts="31"), "A ring has 1 to 30"),
        (PlugForm(shape=Shape.RING, counts="2+3"), "A ring has 1 to 30"),
    ],
)
def test_what_no_plug_can_be_drawn_from_is_said(form: PlugForm, says: str) -> None:
    assert says in form.trouble
    assert form.refused(Draft()) == form.trouble


def test_a_name_that_is_taken_is_refused_by_the_draft() -> None:
    has = PlugForm(name="P").drawn(Draft())
    assert PlugForm(name="P").refused(has)
    assert PlugForm.first(has).name == "Q"
