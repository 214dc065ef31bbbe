"""Coils of one tooth changed in their order."""

import pytest

from tests.drafting.drawn import wired
from workbench.drafting import coils
from workbench.drafting.edits import EditError


def test_a_coil_goes_past_its_neighbour_and_no_further() -> None:
    draft = wired()
    assert draft.layout is not None
    below, above, alone = draft.layout.coils
    new, moved = coils.move_coil(draft, below, 1)
    assert new.layout is not None
    assert [c.winding for c in new.layout.stack(moved)] == ["low", "high"]
    assert {(c.winding, c.tooth) for c in new.layout.coils} == {(c.winding, c.tooth) for c in draft.layout.coils}
    back, _ = coils.move_coil(new, moved, -1)
    assert back == draft
    for coil, by in ((below, -1), (above, 1), (alone, 1), (alone, -1)):
        with pytest.raises(EditError, match="beyond"):
            coils.move_coil(draft, coil, by)
