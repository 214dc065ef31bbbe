"""Where the names of the windings stand around a sketch, and how large that leaves the sketch. Plain px, no Qt."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from workbench.sitting.faceplan import Box

Point = tuple[float, float]
GAP = 6.0
LEADER = 7.0  # px between the sketch and its names, for the lines to bend in
LEAST = 90.0  # a sketch smaller than this gives up a name instead
MOST = 12  # more names than these are never tried: they are no help beside a sketch


@dataclass(frozen=True, slots=True)
class Name:
    """A label's size in px, and where its line leaves the drawing, in the drawing's units."""

    width: float
    height: float
    at: Point


@dataclass(frozen=True, slots=True)
class Arrangement:
    """`scale` and `origin` turn the drawing's units into px; a box per name, None for one that found no room."""

    scale: float
    origin: Point
    boxes: tuple[Box | None, ...]
    columns: bool = False

    def px(self, p: Point) -> Point:
        return (self.origin[0] + p[0] * self.scale, self.origin[1] + p[1] * self.scale)

    def touch(self, box: Box, start: Point) -> Point:
        """Where a line meets a name: the nearest place of the side that faces the drawing, its corners aside."""
        x, y = (min(max(v, low + 6), low + long - 6) for v, low, long in (
            (start[0], box.x, box.width), (start[1], box.y, box.height)))  # fmt: skip
        if self.columns:
            return (box.x if start[0] < box.x + box.width / 2 else box.x + box.width, y)
        return (x, box.y if start[1] < box.y + box.height / 2 else box.y + box.height)


def arrange(names: Sequence[Name], drawing: Box, room: Box, solid: Sequence[Box], *, round_: bool) -> Arrangement:
    """The way around that leaves the drawing largest: names above and below, or to its left and right.

    A way loses for each line that must cross what is `solid` (a disc of radius 1, too, if `round_`), a name or a line.
    """
    for kept in range(min(len(names), MOST), -1, -1):
        best, worth = None, 0.0
        least = LEAST / max(drawing.width, drawing.height) if kept else 0.0
        for scale, way in sorted(_ways(names[:kept], drawing, room), key=lambda w: -w[0]):
            if scale <= worth or scale < least:
                break
            now = scale / (1 + 0.6 * _crossings(names, way, solid, round_))
            if now > worth:
                best, worth = way, now
        if best is not None:
            return replace(best, boxes=(*best.boxes, *[None] * (len(names) - kept)))
    return Arrangement(1.0, (room.x, room.y), (None,) * len(names))


def _crossings(names: Sequence[Name], a: Arrangement, solid: Sequence[Box], round_: bool) -> int:
    lines = []
    for name, box in zip(names, a.boxes, strict=False):
        assert box is not None
        start = a.px(name.at)
        lines.append((start, a.touch(box, start)))
    bodies = [Box(*a.px((b.x, b.y)), a.scale * b.width, a.scale * b.height) for b in solid]
    count = 0
    for i, line in enumerate(lines):
        # over the pole shoes is no harm, over the coils is
        count += 4 * (round_ and _from_segment(a.origin, *line) < 0.88 * a.scale)
        # a line to a bobbin askew begins within that one's own box
        count += 4 * sum(_meets(line, b) for b in bodies if not b.holds(*line[0]))
        count += 4 * sum(_meets(line, b) for j, b in enumerate(a.boxes) if j != i and b is not None)
        count += sum(_cross(line, other) for other in lines[:i])
    return count


def _from_segment(p: Point, a: Point, b: Point) -> float:
    dx, dy = b[0] - a[0], b[1] - a[1]
    long = dx * dx + dy * dy
    t = 0.0 if not long else max(0.0, min(1.0, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / long))
    return math.dist(p, (a[0] + t * dx, a[1] + t * dy))


def _cross(one: tuple[Point, Point], other: tuple[Point, Point]) -> bool:
    def side(a: Point, b: Point, c: Point) -> float:
        return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])

    (a, b), (c, d) = one, other
    return side(a, b, c) * side(a, b, d) < 0 and side(c, d, a) * side(c, d, b) < 0


def _meets(line: tuple[Point, Point], box: Box) -> bool:
    x, y, right, bottom = box.x, box.y, box.x + box.width, box.y + box.height
    across = (((x, y), (right, bottom)), ((x, bottom), (right, y)))
    return any(_cross(line, d) for d in across) or box.holds(*line[1])


def _ways(names: Sequence[Name], drawing: Box, room: Box) -> Iterator[tuple[float, Arrangement]]:
    for turned in (False, True):
        # columns are rows of a room turned on its side; the names themselves aren't turned
        d, r = (_turned(drawing), _turned(room)) if turned else (drawing, room)
        own = [(n.at[1], n.at[0]) if turned else n.at for n in names]
        sizes = [(n.height, n.width) if turned else (n.width, n.height) for n in names]
        order = sorted(range(len(names)), key=lambda i: own[i][1])
        for split in range(len(names) + 1):
            made = _rows(order[:split], order[split:], own, sizes, d, r)
            if made is not None:
                yield made.scale, _turned_back(made) if turned else made


def _rows(near: list[int], far: list[int], at: list[Point], sizes: list[Point], d: Box, r: Box) -> Arrangement | None:
    above, below = _packed(near, at, sizes, r.width), _packed(far, at, sizes, r.width)
    if above is None or below is None:
        return None
    heights = [[max(sizes[i][1] for i in row) for row in rows] for rows in (above, below)]
    taken = [sum(h) + 2 * (len(h) - 1) + LEADER if h else 0.0 for h in heights]
    scale = min(r.width / d.width, (r.height - sum(taken)) / d.height)
    if scale <= 0:
        return None
    top = r.y + (r.height - sum(taken) - scale * d.height) / 2
    origin = (r.x + r.width / 2 - scale * (d.x + d.width / 2), top + taken[0] - scale * d.y)
    boxes: dict[int, Box] = {}
    y = top
    for rows, highs, start in ((above, heights[0], top), (below, heights[1], top + taken[0] + scale * d.height)):
        y = start if rows is above else start + LEADER
        for row, high in zip(rows, highs, strict=True):
            wished = [origin[0] + scale * at[i][0] - sizes[i][0] / 2 for i in row]
            for i, x in zip(row, _spread(wished, [sizes[i][0] for i in row], r.x, r.x + r.width), strict=True):
                down = high - sizes[i][1] if rows is above else 0.0  # all touch the side that faces the drawing
                boxes[i] = Box(x, y + down, *sizes[i])
            y += high + 2
    return Arrangement(scale, origin, tuple(boxes[i] for i in range(len(at))))


def _packed(which: list[int], at: list[Point], sizes: list[Point], width: float) -> list[list[int]] | None:
    """Rows from left to right that each fit the width; None where one name alone does not."""
    rows: list[list[int]] = []
    left = 0.0
    for i in sorted(which, key=lambda i: at[i][0]):
        if sizes[i][0] > width:
            return None
        if not rows or sizes[i][0] > left:
            rows.append([])
            left = width
        rows[-1].append(i)
        left -= sizes[i][0] + GAP
    return rows


def _spread(wished: list[float], lengths: list[float], low: float, high: float) -> list[float]:
    """The starts nearest to those wished, none overlapping, all between low and high."""
    out: list[float] = []
    end = low
    for start, length in zip(wished, lengths, strict=True):
        out.append(max(start, end))
        end = out[-1] + length + GAP
    limit = high
    for i in range(len(out) - 1, -1, -1):
        out[i] = min(out[i], limit - lengths[i])
        limit = out[i] - GAP
    return out


def _turned(b: Box) -> Box:
    return Box(b.y, b.x, b.height, b.width)


def _turned_back(a: Arrangement) -> Arrangement:
    return Arrangement(
        a.scale, (a.origin[1], a.origin[0]), tuple(_turned(b) if b else None for b in a.boxes), columns=True
    )
