"""A plug's face laid on another's."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.matching.drawn import FACES, ROW, SIDES, drawn_by_hand, turned
from workbench.matching.faces import Faces
from workbench.matching.layings import MOST_LAYINGS, MOST_PINS, Shape, fit, ways
from workbench.matching.library import Library
from workbench.stator.errors import FieldError
from workbench.stator.pattern import Cavity, Connector, Side, Terminal

SKEW = ((0.0, 0.0), (1.0, 0.0), (2.0, 0.0), (2.0, 1.0))
BLADES = (Terminal.BLADE,) * 8


def face(
    places: tuple[tuple[float, float], ...], key: Side | None = Side.BOTTOM, kinds: tuple[Terminal, ...] = BLADES
) -> Connector:
    return Connector("P", tuple(Cavity(str(i), kinds[i], x, y) for i, (x, y) in enumerate(places)), key)


def lies_on(mine: Connector, theirs: Connector) -> list[int] | None:
    """On which cavity of the other each of this one's lies."""
    faces = Faces()
    faces.add(theirs)
    found = faces.find(mine)
    return None if found is None else found[1].tolist()


@settings(max_examples=150)
@given(
    st.sampled_from([p for n in (2, 3, 4) for p in FACES[n]] + [SKEW, tuple((float(i), 0.0) for i in range(8))]),
    st.integers(0, 2**32 - 1),
    st.sampled_from(SIDES),
)
def test_a_keyed_face_is_known_again_in_any_turn_unit_and_by_any_hand(
    places: tuple[tuple[float, float], ...], seed: int, key: Side
) -> None:
    known = face(places, key)
    drawn = drawn_by_hand(np.random.default_rng(seed), known)
    assert lies_on(drawn, known) == list(range(len(places)))


@pytest.mark.parametrize("key", [Side.BOTTOM, None])
def test_a_mirrored_face_never_fits(key: Side | None) -> None:
    mirrored = face(tuple((-x, y) for x, y in SKEW), key)
    assert lies_on(mirrored, face(SKEW, key)) is None


def test_a_key_on_another_side_of_the_cavities_is_another_face() -> None:
    assert lies_on(face(SKEW, Side.LEFT), face(SKEW, Side.BOTTOM)) is None
    assert lies_on(face(ROW, None), face(ROW)) is None


def test_blades_are_not_sockets_each_in_its_place() -> None:
    mixed = (Terminal.SOCKET, Terminal.BLADE, Terminal.BLADE, Terminal.BLADE)
    assert lies_on(face(ROW, kinds=mixed), face(ROW)) is None
    assert lies_on(face(ROW, kinds=mixed), face(ROW, kinds=mixed)) == [0, 1, 2, 3]
    assert lies_on(face(ROW, kinds=mixed), face(ROW, kinds=mixed[::-1])) is None
    # without a key the row may be turned round
    assert lies_on(face(ROW, None, mixed), face(ROW, None, mixed[::-1])) == [3, 2, 1, 0]


@pytest.mark.parametrize(
    ("places", "key", "turns"),
    [(ROW, None, 2), (ROW, Side.BOTTOM, 1), (FACES[4][1], None, 4), (SKEW, None, 1), (ROW[:1], None, 1)],
)
def test_a_face_without_a_key_lies_on_itself_in_every_turn_that_fits(
    places: tuple[tuple[float, float], ...], key: Side | None, turns: int
) -> None:
    found, on = Faces().add(face(places, key))
    assert on.tolist() == list(range(len(places)))
    assert len(found.turns) == turns
    assert len({tuple(t.tolist()) for t in found.turns}) == turns


def test_a_long_row_drawn_with_a_shaky_hand_is_still_that_row() -> None:
    """All within 0.03, yet its smallest gap would make the whole 6 % too long."""
    straight = [float(i) for i in range(8)]
    shaky = [-0.03, 1.0, 2.0, 3.03, 3.97, 5.0, 6.0, 7.03]
    drawn, known = (face(tuple((x, 0.0) for x in row)) for row in (shaky, straight))
    assert lies_on(drawn, known) == list(range(8))


def test_rows_of_other_spacing_are_other_faces() -> None:
    wide = ((0.0, 0.0), (1.0, 0.0), (3.0, 0.0))
    assert lies_on(face(wide), face(ROW[:3])) is None


def test_equal_plugs_are_exchanged_and_keyless_ones_turned_in_every_combination() -> None:
    faces = Faces()
    plugs = [replace(face(ROW[:2], None), name=n) for n in "AB"] + [replace(face(ROW[:1]), name="C")]
    fitted = fit(plugs, faces, keep=True)
    assert fitted is not None
    shape = Shape(fitted.faces)
    assert ways(fitted.faces) == len(shape.layings) == 8
    assert len({tuple(row) for row in shape.layings.tolist()}) == 8
    assert all(sorted(row) == list(range(6)) for row in shape.layings.tolist())
    assert shape.layings[0].tolist() == list(range(6))
    # no pin of one plug parts from its neighbour
    two = {frozenset((a, b)) for a, b in shape.layings[:, :2].tolist()}
    assert two == {frozenset((0, 1)), frozenset((2, 3))}


@given(st.sampled_from(SIDES), st.integers(0, 3))
def test_turning_a_drawing_with_its_key_changes_nothing(key: Side, quarters: int) -> None:
    places = turned(np.array(SKEW), quarters)
    side = SIDES[(SIDES.index(key) - quarters) % 4]
    as_drawn = face(tuple((x, y) for x, y in places.tolist()), side)
    assert lies_on(as_drawn, face(SKEW, key)) == [0, 1, 2, 3]


def test_more_pins_or_ways_than_are_looked_at_is_refused_in_a_sentence() -> None:
    library = Library.of([])
    many = Connector("P", tuple(Cavity(str(i)) for i in range(MOST_PINS + 1)))
    with pytest.raises(FieldError, match="33 cavities are more than the 32"):
        library.candidates([many])
    bullets = [Connector(f"P{i}", (Cavity("1"),), None) for i in range(8)]
    with pytest.raises(FieldError, match=f"more than the {MOST_LAYINGS:,} ways"):
        library.candidates(bullets)
    assert library.candidates(bullets[:7]).patterns == ()
    with pytest.raises(FieldError, match="at least one plug"):
        library.candidates([])
    with pytest.raises(FieldError, match="named twice"):
        library.candidates([bullets[0], bullets[0]])
