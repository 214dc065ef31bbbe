"""Another name for an inner point, whether something is joined to it yet or not."""

from workbench.drafting import windings
from workbench.drafting.edits import EditError, new_name
from workbench.sitting.patterndesk import PatternDesk
from workbench.sitting.patternviews import Hand
from workbench.words import GROUND


def rename_point(desk: PatternDesk, hand: Hand, point: str, to: str) -> bool:
    """What hangs on it follows, and it stays in hand. Where it can't be, the desk says why and nothing is changed."""
    tidy = " ".join(to.split())
    if tidy == point:
        return True
    if desk.looking:
        return desk.edit(lambda d: d)  # which says that nothing is changed here
    try:
        # ground is what the screens call the core: a second one would be told from it by nobody
        new_name(tidy, {*hand.points, GROUND}, "An inner point")
        windings.may_name_point(desk.draft, tidy)
    except EditError as e:
        desk.refuse(e.sentence)
        return False
    nodes = tuple(tidy if n == point else n for n in hand.nodes)
    hand.points = tuple(tidy if p == point else p for p in hand.points)
    desk.edit(lambda d: windings.rename_point(d, point, tidy))
    hand.nodes = nodes
    desk.on_change()
    return True
