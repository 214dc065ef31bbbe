"""The face as geometry: turned, mirrored, outlined, walked with arrow keys."""

import math
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.sitting.plugs import ALL, BULLET, INLINE_3, ROUND_4, STAGGERED_5, THREE_ROWS_12, TWO_ROWS_6, plug
from workbench.sitting.faceplan import FacePlan, View, face_plan, key_down, words_of_all
from workbench.stator.pattern import Cavity, Connector, KeyShape, Side

sides = st.sampled_from([*Side, None])
grid = st.tuples(st.integers(-6, 6), st.integers(-4, 4))
plugs = st.builds(
    lambda places, key, scale, shape: replace(
        plug("A", [(x * scale, y * scale) for x, y in places], key), key_shape=shape if key else KeyShape.TAB
    ),
    st.lists(grid, min_size=1, max_size=14, unique=True),
    sides,
    st.sampled_from([0.5, 1.0, 3.96]),
    st.sampled_from(KeyShape),
)
views = st.builds(View, st.integers(0, 3), st.booleans())


def centres(plan: FacePlan) -> list[tuple[float, float]]:
    return [(s.x, s.y) for s in plan.spots]


def directions(points: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """How each cavity lies from the first one."""
    return [(x - points[0][0], y - points[0][1]) for x, y in points]


@given(plugs, views)
def test_no_two_cavities_overlap_and_all_lie_inside_the_outline(connector: Connector, view: View) -> None:
    plan = face_plan(connector, view)
    points = centres(plan)
    assert all(math.dist(a, b) > 2.5 for i, a in enumerate(points) for b in points[:i])
    assert all(plan.body.holds(x, y, 1.5) for x, y in points)
    if plan.round:
        middle = (plan.body.x + plan.body.width / 2, plan.body.y + plan.body.height / 2)
        assert all(math.dist(p, middle) + 1.5 <= plan.body.width / 2 for p in points)
    for box in (plan.body, plan.key_box or plan.body):
        assert box.x >= -1e-9
        assert box.y >= -1e-9
        assert box.x + box.width <= plan.width + 1e-9
        assert box.y + box.height <= plan.height + 1e-9


@given(plugs, views)
def test_the_key_lies_on_its_side_a_tab_outside_rib_and_flat_within(connector: Connector, view: View) -> None:
    plan = face_plan(connector, view)
    assert (plan.key is None) == (plan.key_box is None) == (connector.key is None)
    if plan.key is None or plan.key_box is None:
        return
    if view == View():
        assert plan.key is Side.BOTTOM
    body, box = plan.body, plan.key_box
    inner, outer = {
        Side.BOTTOM: (box.y - body.y - body.height, box.y + box.height - body.y - body.height),
        Side.TOP: (body.y - box.y - box.height, body.y - box.y),
        Side.LEFT: (body.x - box.x - box.width, body.x - box.x),
        Side.RIGHT: (box.x - body.x - body.width, box.x + box.width - body.x - body.width),
    }[plan.key]
    if connector.key_shape is KeyShape.TAB:
        assert inner == pytest.approx(0)
        assert outer > 0.5
    else:
        assert inner < -0.5
        assert outer == pytest.approx(-0.55 if plan.round and connector.key_shape is KeyShape.FLAT else 0)
    for x, y in centres(plan):
        dx, dy = max(box.x - x, 0, x - box.x - box.width), max(box.y - y, 0, y - box.y - box.height)
        assert math.hypot(dx, dy) > 1.0


@given(plugs, views)
def test_four_quarter_turns_and_two_flips_change_nothing(connector: Connector, view: View) -> None:
    assert view.turned().turned().turned().turned() == view
    assert view.flipped().flipped() == view
    turned = view.turned().turned().turned().turned().flipped().flipped()
    assert face_plan(connector, turned) == face_plan(connector, view)


@given(plugs, views)
def test_a_turn_is_clockwise_as_seen_from_either_side(connector: Connector, view: View) -> None:
    before, after = face_plan(connector, view), face_plan(connector, view.turned())
    for (x, y), (u, v) in zip(directions(centres(before)), directions(centres(after)), strict=True):
        assert (u, v) == (pytest.approx(-y), pytest.approx(x))
    clockwise = {Side.BOTTOM: Side.LEFT, Side.LEFT: Side.TOP, Side.TOP: Side.RIGHT, Side.RIGHT: Side.BOTTOM}
    assert after.key == (clockwise[before.key] if before.key else None)


@given(plugs, views)
def test_the_wire_side_is_the_other_mirrored_left_to_right(connector: Connector, view: View) -> None:
    one, other = face_plan(connector, view), face_plan(connector, view.flipped())
    for (x, y), (u, v) in zip(directions(centres(one)), directions(centres(other)), strict=True):
        assert (u, v) == (pytest.approx(-x), pytest.approx(y))


@given(plugs, st.sampled_from([View(0), View(1), View(2), View(3)]))
def test_the_mating_side_is_never_mirrored(connector: Connector, view: View) -> None:
    """Three cavities that run clockwise as drawn run clockwise on the face, however it is turned."""
    drawn = [(x, -y) for x, y in connector.places]
    shown = centres(face_plan(connector, view))

    def handed(p: list[tuple[float, float]], i: int) -> float:
        (ax, ay), (bx, by), (cx, cy) = p[i : i + 3]
        return (bx - ax) * (cy - ay) - (by - ay) * (cx - ax)

    xs, ys = sorted({x for x, _ in drawn}), sorted({y for _, y in drawn})
    closest = min((math.dist(a, b) for i, a in enumerate(drawn) for b in drawn[:i]), default=1)
    gaps = [b - a for axis in (xs, ys) for a, b in pairwise(axis)]
    if any(gap > 3 * closest for gap in gaps):
        return  # gaps closed up: order is kept, angles are not
    for i in range(len(drawn) - 2):
        before, after = handed(drawn, i), handed(shown, i)
        assert (before > 1e-6) == (after > 1e-6)
        assert (before < -1e-6) == (after < -1e-6)


@given(plugs)
def test_relative_places_are_kept_as_drawn(connector: Connector) -> None:
    if connector.key is not None:
        connector = Connector(connector.name, connector.cavities, Side.BOTTOM)
    shown = centres(face_plan(connector))
    for (ax, ay), (sx, sy) in zip(connector.places, shown, strict=True):
        for (bx, by), (tx, ty) in zip(connector.places, shown, strict=True):
            assert (ax < bx) == (sx < tx - 1e-9)
            assert (ay > by) == (sy < ty - 1e-9)


def test_a_key_drawn_on_the_left_is_turned_down_with_its_cavities() -> None:
    plan = face_plan(TWO_ROWS_6)
    at = {s.pin: (s.x, s.y) for s in plan.spots}
    # drawn 1 2 3 over 4 5 6 with the key at the left: a quarter counter-clockwise brings pins 1 and 4 down
    assert at["1"][1] == at["4"][1] == max(y for _, y in at.values())
    assert at["1"][0] < at["4"][0]
    assert at["3"][1] == at["6"][1] == min(y for _, y in at.values())


def test_without_places_the_cavities_stand_in_a_row() -> None:
    plan = face_plan(Connector("P", tuple(Cavity(str(i)) for i in range(1, 5))))
    assert [s.pin for s in sorted(plan.spots, key=lambda s: s.x)] == ["1", "2", "3", "4"]
    assert len({s.y for s in plan.spots}) == 1


def test_one_far_cavity_does_not_make_the_others_tiny() -> None:
    assert face_plan(plug("A", [(0, 0), (1, 0), (500, 0)])).width < 20


@pytest.mark.parametrize(
    ("connector", "is_round"),
    [
        (INLINE_3, False),
        (STAGGERED_5, False),
        (TWO_ROWS_6, False),
        (ROUND_4, True),
        (THREE_ROWS_12, False),
        (BULLET, True),
        (plug("G", [(0, 0), (1, 0), (1, 1), (0, 1)]), False),
        (plug("H", [(0, 2), (1.73, 1), (1.73, -1), (0, -2), (-1.73, -1), (-1.73, 1), (0, 0)]), True),
    ],
    ids=lambda v: v.name if isinstance(v, Connector) else "",
)
def test_cavities_in_a_ring_get_a_round_outline(connector: Connector, is_round: bool) -> None:
    assert face_plan(connector).round is is_round


@pytest.mark.parametrize(
    ("connector", "view", "words"),
    [
        (INLINE_3, View(), "looking into its mating side, keyed side down"),
        (INLINE_3, View().turned(), "looking into its mating side, keyed side to the left"),
        (INLINE_3, View(2), "looking into its mating side, keyed side up"),
        (INLINE_3, View().flipped(), "from the wire side (mirrored), keyed side down"),
        (INLINE_3, View().turned().flipped(), "from the wire side (mirrored), keyed side to the right"),
        (BULLET, View(), "looking into its mating side, no key, as stored"),
        (BULLET, View(1), "looking into its mating side, no key, turned 90°"),
        (BULLET, View().flipped().turned(), "from the wire side (mirrored), no key, turned 90°"),
    ],
)
def test_the_words_say_which_side_and_how_it_is_held(connector: Connector, view: View, words: str) -> None:
    assert face_plan(connector, view).words == words


@given(plugs, views)
def test_arrow_keys_lead_the_way_they_point(connector: Connector, view: View) -> None:
    plan = face_plan(connector, view)
    at = {s.node: (s.x, s.y) for s in plan.spots}
    for s in plan.spots:
        for to, dx, dy in ((s.left, -1, 0), (s.right, 1, 0), (s.up, 0, -1), (s.down, 0, 1)):
            if to is not None:
                assert (at[to][0] - s.x) * dx + (at[to][1] - s.y) * dy > 0


@pytest.mark.parametrize("connector", ALL, ids=lambda c: c.name)
def test_arrow_keys_reach_every_cavity_from_every_other(connector: Connector) -> None:
    spots = {s.node: s for s in face_plan(connector).spots}
    for start in spots:
        reached, todo = {start}, [start]
        while todo:
            s = spots[todo.pop()]
            for to in (s.left, s.right, s.up, s.down):
                if to is not None and to not in reached:
                    reached.add(to)
                    todo.append(to)
        assert reached == set(spots)


def test_what_holds_for_all_plugs_is_said_once() -> None:
    flat = replace(ROUND_4, key_shape=KeyShape.FLAT)
    one, other, bare = (face_plan(c) for c in (INLINE_3, flat, BULLET))
    assert words_of_all((one,)) == ("looking into its mating side, keyed side down", ("",))
    assert words_of_all((one, other)) == ("looking into each mating side, keyed side down", ("", ""))
    assert words_of_all((one, bare)) == ("looking into each mating side", ("keyed side down", "no key"))
    assert words_of_all((bare, bare)) == ("looking into each mating side, no key", ("", ""))
    turned = tuple(face_plan(c, View(1, True)) for c in (INLINE_3, flat))
    assert words_of_all(turned) == ("from the wire side (mirrored), keyed side to the right", ("", ""))
    assert words_of_all((one, turned[1])) == ("", (one.words, turned[1].words))


def test_a_keys_shape_changes_no_words() -> None:
    assert {face_plan(replace(INLINE_3, key_shape=s)).words for s in KeyShape} == {
        "looking into its mating side, keyed side down"
    }


@pytest.mark.parametrize(
    ("key", "places"),
    [
        (Side.BOTTOM, [(0, 1), (0, 0), (1, 0)]),
        (Side.TOP, [(0, -1), (0, 0), (-1, 0)]),
        (Side.LEFT, [(1, 0), (0, 0), (0, -1)]),
        (Side.RIGHT, [(-1, 0), (0, 0), (0, 1)]),
    ],
)
def test_a_plug_stored_with_its_key_anywhere_is_turned_key_down(key: Side, places: list[tuple[float, float]]) -> None:
    # by hand: an L of three whose corner has its key below, drawn in each of its four turns
    turned = key_down(plug("A", places, key))
    assert turned.key is Side.BOTTOM
    assert turned.places == ((0, 1), (0, 0), (1, 0))


@given(plugs)
def test_turned_key_down_it_is_drawn_as_it_was(connector: Connector) -> None:
    one, other = face_plan(connector), face_plan(key_down(connector))
    assert [s.x for s in other.spots] == pytest.approx([s.x for s in one.spots])
    assert [s.y for s in other.spots] == pytest.approx([s.y for s in one.spots])
    assert key_down(connector).key in (None, Side.BOTTOM)
