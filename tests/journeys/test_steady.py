"""What the eye is on stays where it is while a part is read, however much there is to say of a reading."""

from PySide6.QtCore import QPoint, QRect

from tests.journeys.conftest import Hand
from tests.journeys.screens import RETURNED


def places(hand: Hand) -> dict[str, QRect]:
    page = hand.page
    parts = {"face": page.face, "entry": page.entry, "pairs": page.pairs, "band": page.band, "history": page.history}
    return {name: QRect(w.mapTo(page, QPoint(0, 0)), w.size()) for name, w in parts.items()}


def settled(hand: Hand) -> dict[str, QRect]:
    """Once all that waited to be laid out has its place."""
    seen: list[dict[str, QRect]] = []

    def at_rest() -> bool:
        seen.append(places(hand))
        return len(seen) > 2 and seen[-1] == seen[-2] == seen[-3]

    hand.qtbot.waitUntil(at_rest)
    return seen[-1]


def test_reading_a_part_moves_nothing(demo: Hand) -> None:
    before = demo.page
    demo.counter.counter.find(RETURNED)
    demo.until(lambda: demo.page is not before and demo.page.history_known)
    plan = demo.bench.judged.sheet.plan
    demo.bench.pick(plan[0])
    demo.until(lambda: demo.page.history.plot)
    stood = settled(demo)
    for pair, typed in zip(plan[:6], ("155.2", "15.43", "178", "0.6", "0.6", "OL"), strict=True):
        demo.bench.pick(pair)
        demo.type(typed)
        if demo.bench.said is not None and demo.bench.said.choices:
            assert settled(demo) == stood, (typed, demo.said())
            demo.type(typed)
        demo.safe()
        assert settled(demo) == stood, (typed, demo.said())
