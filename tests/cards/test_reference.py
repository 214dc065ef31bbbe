"""Cards look as they did when somebody last looked at them: text alike, and the picture to the dot's shade."""

import pytest
from PIL import ImageChops

from tests.cards.make_reference import HERE, made
from tests.cards.test_paper import pictures, read_back

MADE = made()
SHADE = 40  # of 255: another build of the renderer may round an edge otherwise


@pytest.mark.parametrize("name", MADE)
def test_it_looks_as_it_did(name: str) -> None:
    """Where this is meant to change: look at the new ones, then `python -m tests.cards.make_reference`."""
    before = (HERE / name).read_bytes()
    assert read_back(MADE[name]) == read_back(before)
    now, then = pictures(MADE[name], 110), pictures(before, 110)
    assert [p.size for p in now] == [p.size for p in then]
    for a, b in zip(now, then, strict=True):
        assert ImageChops.difference(a, b).getextrema()[1] <= SHADE


def test_there_is_no_reference_that_nobody_makes() -> None:
    assert {p.name for p in HERE.glob("*.pdf")} == set(MADE)
