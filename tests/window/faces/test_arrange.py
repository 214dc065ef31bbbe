"""Items in a room: as large as they fit, in their order, off each other."""

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbench.sitting.faceplan import Box
from workbench.window.faces.arrange import Item, arrange, least_size
from workbench.window.faces.placing import overlap

MOST, GAP = 46.0, 30
sides = st.floats(3.8, 20)
plugs = st.lists(st.builds(Item, sides, sides, st.just(0.0), st.sampled_from([0.0, 36.0])), min_size=1, max_size=10)
GROUND = Item(0, 0, 72, 80, sinks=True)


@given(plugs, st.integers(300, 1400), st.integers(250, 900))
def test_none_overlaps_or_leaves_the_room(items: list[Item], width: int, height: int) -> None:
    every = [*items, GROUND]
    found = arrange(every, width, height, GAP, MOST)
    assert 0 <= found.scale <= MOST
    if found.scale == 0:
        return
    room = Box(-1e-6, -1e-6, width + 2e-6, height + 2e-6)
    for item, box in zip(every, found.boxes, strict=True):
        assert (box.width, box.height) == pytest.approx(item.size(found.scale))
        assert room.holds(box.x, box.y)
        assert room.holds(box.x + box.width, box.y + box.height)
    inner = [Box(b.x + 1, b.y + 1, b.width - 2, b.height - 2) for b in found.boxes]
    assert not any(overlap(a, b) for a, b in itertools.combinations(inner, 2))


@given(plugs, st.floats(22, 33))
def test_the_least_size_is_enough(items: list[Item], scale: float) -> None:
    every = [*items, GROUND]
    width, height = least_size(every, scale, GAP)
    assert arrange(every, width + 0.01, height + 0.01, GAP, MOST, scale).scale >= scale - 1e-3


def test_a_wide_room_takes_them_in_a_row_and_a_narrow_one_below_each_other() -> None:
    two = [Item(10, 8), Item(8, 8)]
    wide = arrange(two, 900, 300, GAP, MOST).boxes
    narrow = arrange(two, 300, 900, GAP, MOST).boxes
    assert wide[0].x + wide[0].width < wide[1].x
    assert wide[0].y == pytest.approx(wide[1].y)
    assert narrow[0].y + narrow[0].height < narrow[1].y


def test_small_ones_stand_in_a_column_beside_a_large_one() -> None:
    large, small, other, ground = arrange(
        [Item(14.6, 11.9), Item(3.8, 3.8), Item(3.8, 3.8), GROUND], 630, 390, GAP, MOST
    ).boxes
    assert min(small.x, other.x, ground.x) > large.x + large.width
    assert small.y < other.y < ground.y
