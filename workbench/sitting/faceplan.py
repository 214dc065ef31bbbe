"""Where the cavities of a plug lie on a drawn face: turned, mirrored, outlined. Geometry only."""

import math
from dataclasses import dataclass, replace
from functools import lru_cache

from workbench.stator.pattern import Connector, KeyShape, Outline, Side, Terminal

# Lengths are in cavity radii. The pitch leaves room between two circles for a value's label.
PITCH = 3.6
PAD = 0.9
CORNER = 1.3
TAB_WIDTH, TAB_DEPTH = 3.2, 0.85
# A rib or a flat lies inside the outline: this much more of it, lest the key come too near to the cavities.
KEY_ROOM, RIB_DEPTH, FLAT_DEPTH = 0.55, 0.75, 0.85
# A gap wider than this many pitches is drawn no wider, or one far cavity would make all of them tiny.
WIDEST_GAP = 3.0

_CLOCKWISE = (Side.BOTTOM, Side.LEFT, Side.TOP, Side.RIGHT)
_SIDE_WORDS = {Side.BOTTOM: "down", Side.TOP: "up", Side.LEFT: "to the left", Side.RIGHT: "to the right"}


@dataclass(frozen=True, slots=True)
class View:
    """How the plug is held: quarter turns clockwise from key-down, and whether it is seen from its wires."""

    turns: int = 0
    wire_side: bool = False

    def turned(self) -> "View":
        """A quarter clockwise as seen on the screen, from whichever side one looks."""
        return View((self.turns + (-1 if self.wire_side else 1)) % 4, self.wire_side)

    def flipped(self) -> "View":
        """The other side, mirrored left to right."""
        return View(self.turns, not self.wire_side)


KEY_DOWN = View()


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle; x to the right, y down."""

    x: float
    y: float
    width: float
    height: float

    def holds(self, x: float, y: float, margin: float = 0.0) -> bool:
        """Whether a circle of radius `margin` around (x, y) lies inside."""
        return (
            self.x + margin <= x <= self.x + self.width - margin
            and self.y + margin <= y <= self.y + self.height - margin
        )


@dataclass(frozen=True, slots=True)
class Spot:
    """One cavity on the drawn face: its centre in radii, y down, and the nodes that arrow keys lead to."""

    node: str
    pin: str
    terminal: Terminal
    x: float
    y: float
    left: str | None = None
    right: str | None = None
    up: str | None = None
    down: str | None = None


@dataclass(frozen=True, slots=True)
class FacePlan:
    """A drawn face, `width` by `height` in cavity radii (every cavity has radius 1), a tab included.

    `key` is the side the key is seen on; `key_box` where it lies: a tab outside `body`, a rib inside along that side,
    a flat inside it with its outer edge the cut. Both None without a key.
    """

    connector: Connector
    view: View
    spots: tuple[Spot, ...]
    body: Box
    round: bool
    key: Side | None
    key_box: Box | None
    width: float
    height: float

    @property
    def words(self) -> str:
        """Which side is looked into, and how it is held."""
        side = "from the wire side (mirrored)" if self.view.wire_side else "looking into its mating side"
        return f"{side}, {self.held}" if self.key or self.seen_turns else f"{side}, no key, as stored"

    @property
    def held(self) -> str:
        """How it is held, by its key; by its turns where it has none."""
        if self.key is not None:
            return f"keyed side {_SIDE_WORDS[self.key]}"
        return f"no key, turned {90 * self.seen_turns}°" if self.seen_turns else "no key"

    @property
    def seen_turns(self) -> int:
        """Quarter turns clockwise on the screen."""
        return (-self.view.turns if self.view.wire_side else self.view.turns) % 4

    def spot(self, node: str) -> Spot | None:
        return next((s for s in self.spots if s.node == node), None)


def words_of_all(plans: tuple[FacePlan, ...]) -> tuple[str, tuple[str, ...]]:
    """What is said once of all these plugs, and of each what is true of it alone."""
    if len(plans) == 1:
        return plans[0].words, ("",)
    if len({p.view for p in plans}) > 1:
        return "", tuple(p.words for p in plans)
    side = "from the wire side (mirrored)" if plans[0].view.wire_side else "looking into each mating side"
    # one lone cavity without a key looks the same however it is turned
    held = tuple("no key" if p.key is None and len(p.spots) == 1 else p.held for p in plans)
    if len(set(held)) > 1:
        return side, held
    return f"{side}, {held[0]}", ("",) * len(plans)


@lru_cache(maxsize=256)
def face_plan(connector: Connector, view: View = View()) -> FacePlan:
    """The key is turned to the bottom, then by the hand's turns; mirrored only for the wire side."""
    turns = (view.turns + (_turns_to_bottom(connector.key) if connector.key else 0)) % 4
    points = [_turn(x, -y, turns) for x, y in _pitched(connector.places)]
    key = _CLOCKWISE[view.turns % 4] if connector.key else None
    if view.wire_side:
        points = [(-x, y) for x, y in points]
        key = {Side.LEFT: Side.RIGHT, Side.RIGHT: Side.LEFT}.get(key, key) if key else None
    body, is_round = _body(points, key, connector)
    key_box = _key_box(body, is_round, key, connector.key_shape) if key else None
    boxes = (body, key_box or body)
    left, top = min(b.x for b in boxes), min(b.y for b in boxes)
    right, bottom = max(b.x + b.width for b in boxes), max(b.y + b.height for b in boxes)
    points = [(x - left, y - top) for x, y in points]
    return FacePlan(
        connector,
        view,
        _spots(connector, points),
        _moved(body, left, top),
        is_round,
        key,
        _moved(key_box, left, top) if key_box else None,
        right - left,
        bottom - top,
    )


def key_down(plug: Connector) -> Connector:
    """The same plug turned until its key is at the bottom, which is how every face is drawn; one without stays."""
    if plug.key is None or plug.key is Side.BOTTOM:
        return plug
    turned = [_turn(x, -y, _turns_to_bottom(plug.key)) for x, y in plug.places]
    cavities = tuple(replace(c, x=x, y=-y) for c, (x, y) in zip(plug.cavities, turned, strict=True))
    return replace(plug, cavities=cavities, key=Side.BOTTOM)


def _turns_to_bottom(key: Side) -> int:
    """Quarter turns clockwise that bring this side down."""
    return (-_CLOCKWISE.index(key)) % 4


def _turn(x: float, y: float, quarters: int) -> tuple[float, float]:
    """Clockwise on a screen whose y runs down."""
    for _ in range(quarters):
        x, y = -y, x
    return x, y


def _pitched(places: tuple[tuple[float, float], ...]) -> list[tuple[float, float]]:
    """Scaled so that the two closest cavities lie PITCH apart, with over-wide gaps closed up."""
    closest = min((math.dist(a, b) for i, a in enumerate(places) for b in places[:i]), default=1.0)
    xs = _closed_up([x / closest for x, _ in places])
    ys = _closed_up([y / closest for _, y in places])
    return [(x * PITCH, y * PITCH) for x, y in zip(xs, ys, strict=True)]


def _closed_up(values: list[float]) -> list[float]:
    """The same order; no gap above WIDEST_GAP. Two points nearer than that keep their distance."""
    at: dict[float, float] = {}
    last = place = 0.0
    for value in sorted(set(values)):
        place = place + min(value - last, WIDEST_GAP) if at else 0.0
        at[value] = place
        last = value
    return [at[v] for v in values]


def _body(points: list[tuple[float, float]], key: Side | None, connector: Connector) -> tuple[Box, bool]:
    reach = 1 + PAD
    inside = KEY_ROOM if key and connector.key_shape is not KeyShape.TAB else 0.0
    circle = _circle(points) if connector.outline is None else None
    if connector.outline is Outline.ROUND:
        circle = _around(points)
    if circle is not None:
        x, y, radius = circle
        reach += radius + inside
        return Box(x - reach, y - reach, 2 * reach, 2 * reach), True
    xs, ys = [x for x, _ in points], [y for _, y in points]
    left, top = min(xs) - reach - inside * (key is Side.LEFT), min(ys) - reach - inside * (key is Side.TOP)
    right, bottom = max(xs) + reach + inside * (key is Side.RIGHT), max(ys) + reach + inside * (key is Side.BOTTOM)
    return Box(left, top, right - left, bottom - top), False


def _around(points: list[tuple[float, float]]) -> tuple[float, float, float]:
    """A circle that holds them all, about the middle of their extent."""
    x = (min(p[0] for p in points) + max(p[0] for p in points)) / 2
    y = (min(p[1] for p in points) + max(p[1] for p in points)) / 2
    return x, y, max(math.dist(p, (x, y)) for p in points)


def _circle(points: list[tuple[float, float]]) -> tuple[float, float, float] | None:
    """Centre and radius where the cavities stand in a ring, with or without one in its middle.

    Four in two rows lie on a circle too, and are none: a ring shows in three rows and three columns or more.
    """
    if len(points) == 1:
        return (*points[0], 0.0)
    if len(points) < 4 or any(len({round(p[axis], 3) for p in points}) < 3 for axis in (0, 1)):
        return None
    x = (min(p[0] for p in points) + max(p[0] for p in points)) / 2
    y = (min(p[1] for p in points) + max(p[1] for p in points)) / 2
    candidates = [(x, y), (sum(p[0] for p in points) / len(points), sum(p[1] for p in points) / len(points))]
    for centre in candidates:
        distances = [d for p in points if (d := math.dist(p, centre)) > 0.3]
        if len(points) - len(distances) <= 1 and max(distances) - min(distances) < 0.3:
            return (*centre, max(distances))
    return None


def _key_box(body: Box, is_round: bool, key: Side, shape: KeyShape) -> Box:
    across = min(TAB_WIDTH, 0.6 * min(body.width, body.height))
    if shape is KeyShape.TAB:
        return _at_side(body, key, across, 0, TAB_DEPTH)
    if shape is KeyShape.RIB:
        side = body.width if key in (Side.BOTTOM, Side.TOP) else body.height
        return _at_side(body, key, across if is_round else 0.7 * side, -RIB_DEPTH, 0)
    # a round face is cut along a chord; a square one has that side flat as it is
    cut = -KEY_ROOM if is_round else 0.0
    return _at_side(body, key, across, cut - FLAT_DEPTH, cut)


def _at_side(body: Box, side: Side, across: float, inner: float, outer: float) -> Box:
    """A box at the middle of one side, from `inner` to `outer` beyond it."""
    middle_x, middle_y = body.x + body.width / 2, body.y + body.height / 2
    depth = outer - inner
    match side:
        case Side.BOTTOM:
            return Box(middle_x - across / 2, body.y + body.height + inner, across, depth)
        case Side.TOP:
            return Box(middle_x - across / 2, body.y - outer, across, depth)
        case Side.LEFT:
            return Box(body.x - outer, middle_y - across / 2, depth, across)
        case Side.RIGHT:
            return Box(body.x + body.width + inner, middle_y - across / 2, depth, across)


def _moved(box: Box, left: float, top: float) -> Box:
    return Box(box.x - left, box.y - top, box.width, box.height)


def _spots(connector: Connector, points: list[tuple[float, float]]) -> tuple[Spot, ...]:
    nodes = connector.nodes

    def toward(i: int, dx: int, dy: int) -> str | None:
        """The nearest within 45 degrees of that way, straight ahead before askew."""
        best: tuple[float, str] | None = None
        x, y = points[i]
        for j, (other_x, other_y) in enumerate(points):
            ahead = (other_x - x) * dx + (other_y - y) * dy
            aside = abs((other_x - x) * dy) + abs((other_y - y) * dx)
            if j == i or ahead < 0.3 or aside > ahead * 2:
                continue
            cost = ahead + 2 * aside
            if best is None or cost < best[0] - 1e-9:
                best = (cost, nodes[j])
        return best[1] if best else None

    return tuple(
        Spot(
            nodes[i],
            c.pin,
            c.terminal,
            *points[i],
            toward(i, -1, 0),
            toward(i, 1, 0),
            toward(i, 0, -1),
            toward(i, 0, 1),
        )
        for i, c in enumerate(connector.cavities)
    )
