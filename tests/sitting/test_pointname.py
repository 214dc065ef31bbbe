"""An inner point's other name: what hangs on it follows, it stays in hand, and undo brings the old one back."""

import pytest

from tests.drafting.drawn import TWO
from tests.sitting.test_patterndesk import BASE, Records
from workbench.drafting import windings
from workbench.sitting.patterndesk import PatternDesk
from workbench.sitting.patternviews import Hand
from workbench.sitting.pointname import rename_point


def star() -> PatternDesk:
    """Three windings on one inner point."""
    draft = TWO
    for pin in ("P.1", "P.2", "P.3"):
        draft, name = windings.connect(draft, pin, "point 1")
        draft = windings.set_percent(draft, name, 0.4, 15)
    desk = PatternDesk(Records())
    desk.edit(lambda _: draft)
    return desk


def test_what_hangs_on_it_follows_it_stays_in_hand_and_is_undone() -> None:
    desk, hand = star(), Hand(nodes=("P.1", "point 1"))
    assert rename_point(desk, hand, "point 1", " star   point ")
    assert [w.finish for w in desk.draft.windings] == ["star point"] * 3
    assert hand.nodes == ("P.1", "star point")
    assert desk.proof is not None
    assert desk.proof.pattern is not None
    assert desk.proof.pattern.inner_points == ("star point",)
    desk.undo()
    assert desk.draft.inner_points == ("point 1",)
    desk.redo()
    assert desk.draft.inner_points == ("star point",)


def test_one_that_nothing_is_joined_to_yet_is_renamed_in_hand() -> None:
    desk, hand = star(), Hand(nodes=("point 2",), points=("point 2",))
    before = desk.history
    assert rename_point(desk, hand, "point 2", "splice")
    assert (hand.points, hand.nodes) == (("splice",), ("splice",))
    assert desk.history == before


@pytest.mark.parametrize("name", ["", "point 1", "P.1", "core", "ground", "spare"])
def test_a_name_that_none_can_have_is_refused_with_a_sentence(name: str) -> None:
    desk = star()
    hand = Hand(nodes=("point 2",), points=("point 2", "spare"))
    assert not rename_point(desk, hand, "point 2", name)
    assert desk.said is not None
    assert desk.said.sentence.endswith(".")
    assert hand.points == ("point 2", "spare")


def test_nothing_is_renamed_in_a_revision_that_is_looked_at() -> None:
    desk, hand = PatternDesk(Records(), base=BASE, looking=True), Hand(nodes=("point 1",), points=("point 1",))
    assert not rename_point(desk, hand, "point 1", "splice")
    assert hand.points == ("point 1",)
    assert desk.said is not None
    assert "looked at" in desk.said.sentence
