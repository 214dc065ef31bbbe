"""The shop's words for which pattern a part may be of."""

from collections.abc import Mapping

from workbench import words
from workbench.stator.pattern import CORE, Connector, KeyShape, Pair, Pattern, Side, Terminal

NONE_OF_THEM = "None of the shop's patterns"
NO_SUCH_FACE = "No pattern of the shop has just these plugs. Put every plug of the part on, or draw its pattern."
NO_PLUGS = "Nothing to compare yet: put the plugs on, as you look into them."
WEIGHING = "Comparing with the shop's patterns …"
NOTHING_READ = "Nothing is read yet: by the shape of its plugs alone."
ALIKE = "ohms can't tell it from "
NEW_TO_THE_SHOP = "one that the shop has no pattern of"
BY_EYE = "look at the teeth, the coils and the key"
_A_ROW = 0.2  # steps of the grid
_KEYS = {KeyShape.TAB: "key", KeyShape.RIB: "ridge", KeyShape.FLAT: "flat side"}
_KEYED = {Side.BOTTOM: "at the bottom", Side.TOP: "at the top", Side.LEFT: "at the left", Side.RIGHT: "at the right"}


def several(n: int, one: str, many: str) -> str:
    """`1 reading`, `3 readings`."""
    return f"{n} {one if n == 1 else many}"


def pattern_words(revision: int, windings: int) -> str:
    return f"revision {revision}, {several(windings, 'winding', 'windings')}"


def settled_words(names: tuple[str, ...]) -> str:
    """`names`: all that no reading can tell apart; none of them: it is of no pattern."""
    if not names:
        return "Settled: it is none of the shop's patterns. Look at the plugs again, or draw its pattern."
    if len(names) == 1:
        return f"Settled: {names[0]}."
    return f"Settled as far as ohms go: {' or '.join(names)}; {BY_EYE}."


def next_words(pair: Pair, part: Pattern) -> str:
    return f"{words.pair_words(pair, part)} would tell most."


def no_more_words(names: tuple[str, ...]) -> str:
    """`names`: those still likely."""
    return (
        f"No further pair tells {' from '.join(names)}: {BY_EYE}." if len(names) > 1 else "No further pair tells more."
    )


def lies_words(laying: Mapping[str, str], part: Pattern, pattern: Pattern) -> str:
    """Each of the part's pins with the pattern's name for it: `1 is P 3, 2 is P 1`."""
    pins = {
        words.node_words(mine, part): words.node_words(theirs, pattern)
        for mine, theirs in laying.items()
        if mine != CORE
    }
    if all(mine == theirs for mine, theirs in pins.items()):
        return "Its pins are counted as the pattern's are."
    return f"Pin by pin: {', '.join(f'{mine} is {theirs}' for mine, theirs in pins.items())}."


def face_words(plug: Connector) -> str:
    """`5 cavities, 2+3, blades, key at the bottom`."""
    sockets = sum(c.terminal is Terminal.SOCKET for c in plug.cavities)
    n = len(plug.cavities)
    both = f"{several(n - sockets, 'blade', 'blades')}, {several(sockets, 'socket', 'sockets')}"
    kind = ("blade" if n == 1 else "blades") if sockets == 0 else ("socket" if n == 1 else "sockets")
    key = "no key" if plug.key is None else f"{_KEYS[plug.key_shape]} {_KEYED[plug.key]}"
    said = (several(n, "cavity", "cavities"), _rows(plug), kind if sockets in (0, n) else both, key)
    return ", ".join(x for x in said if x)


def _rows(plug: Connector) -> str:
    """Cavities a row, from the top: `2+3`; nothing for one alone, `round` where there are no rows."""
    rows: dict[float, int] = {}
    for _, y in sorted(plug.places, key=lambda place: -place[1]):
        at = next((r for r in rows if abs(r - y) < _A_ROW), y)
        rows[at] = rows.get(at, 0) + 1
    if len(plug.places) == 1:
        return ""
    if len(rows) == 1:
        return "in a row"
    if max(x for x, _ in plug.places) - min(x for x, _ in plug.places) < _A_ROW:
        return "in a column"
    return "round" if len(rows) > 2 and max(rows.values()) < len(rows) else "+".join(map(str, rows.values()))
