"""Several plugs and the iron side by side, as large as they fit: in rows or in columns. No Qt."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from workbench.sitting.faceplan import Box

# Beyond so many things only even rows and columns are tried, not every way to break them up.
EVERY_WAY = 8


@dataclass(frozen=True, slots=True)
class Item:
    """Something to place: `wide` by `high` in radii, with `more_wide` by `more_high` px that don't grow with them.

    One that `sinks` lies at the foot of its row or column.
    """

    wide: float
    high: float
    more_wide: float = 0.0
    more_high: float = 0.0
    sinks: bool = False

    def size(self, scale: float) -> tuple[float, float]:
        return self.wide * scale + self.more_wide, self.high * scale + self.more_high


@dataclass(frozen=True, slots=True)
class Arrangement:
    """`scale` in px a radius, and a box in px for each item, (0, 0) the corner of the room."""

    scale: float
    boxes: tuple[Box, ...]


Groups = tuple[tuple[Item, ...], ...]


def arrange(
    items: Sequence[Item], width: float, height: float, gap: float, most: float, least: float = 0.0
) -> Arrangement:
    """The way in which all of them come out largest; at most `most` px a radius. A scale of 0: there is no room.

    Where `least` is reached anyhow, a little larger is no reason to break a row or column.
    """
    best: tuple[float, bool, Groups] | None = None
    for groups in _ways(items):
        for rows in (True, False):
            scale = _scale(groups, *((width, height) if rows else (height, width)), gap, most, rows)
            if best is None or scale > best[0] * (1.02 if best[0] >= least else 1.0):
                best = (scale, rows, groups)
    assert best is not None
    return Arrangement(best[0], tuple(_boxes(best[2], best[0], width, height, gap, best[1])))


def least_size(items: Sequence[Item], scale: float, gap: float) -> tuple[float, float]:
    """The least (width, height) in px at this scale that is not much higher or wider than a panel is."""
    sizes = []
    for groups in _ways(items):
        for rows in (True, False):
            along = max(_along(g, scale, gap, rows) for g in groups)
            across = sum(_across(g, scale, rows) for g in groups) + gap * (len(groups) - 1)
            sizes.append((along, across) if rows else (across, along))
    return min(sizes, key=lambda s: max(s[0] / 1.6, s[1]))


def _ways(items: Sequence[Item]) -> Iterator[Groups]:
    """Every way to break them up into rows (or columns) in their order, whole ones first."""
    n = len(items)
    if n > EVERY_WAY:
        for each in range(n, 0, -1):
            yield tuple(tuple(items[i : i + each]) for i in range(0, n, each))
        return
    for breaks in sorted(range(1 << (n - 1)), key=lambda b: b.bit_count()):
        cuts = [0, *(i + 1 for i in range(n - 1) if breaks >> i & 1), n]
        yield tuple(tuple(items[a:b]) for a, b in pairwise(cuts))


def _along(group: Sequence[Item], scale: float, gap: float, rows: bool) -> float:
    return sum(i.size(scale)[0 if rows else 1] for i in group) + gap * (len(group) - 1)


def _across(group: Sequence[Item], scale: float, rows: bool) -> float:
    return max(i.size(scale)[1 if rows else 0] for i in group)


def _scale(groups: Groups, along: float, across: float, gap: float, most: float, rows: bool) -> float:
    """The largest at which each group fits along, and all of them across."""
    scale = most
    for g in groups:
        grows = sum(i.wide if rows else i.high for i in g)
        room = along - sum(i.more_wide if rows else i.more_high for i in g) - gap * (len(g) - 1)
        if grows == 0:
            if room < 0:
                return 0.0
        else:
            scale = min(scale, room / grows)
    room = across - gap * (len(groups) - 1)
    while scale > 0:
        over, slope = -room, 0.0
        for g in groups:
            highest = max(g, key=lambda i: i.size(scale)[1 if rows else 0])
            over += highest.size(scale)[1 if rows else 0]
            slope += highest.high if rows else highest.wide
        if over <= 1e-6:
            return scale
        # convex and rising: each step lands at or above the answer
        scale = scale - over / slope if slope > 0 else 0.0
    return 0.0


def _boxes(groups: Groups, scale: float, width: float, height: float, gap: float, rows: bool) -> Iterator[Box]:
    """The whole in the middle; room to spare widens the gaps, up to twice."""
    along_room, across_room = (width, height) if rows else (height, width)
    across = [_across(g, scale, rows) for g in groups]
    between = _gap(across_room, sum(across), len(groups), gap)
    longest = max(_along(g, scale, _gap(along_room, _along(g, scale, 0, rows), len(g), gap), rows) for g in groups)
    at_across = (across_room - sum(across) - between * (len(groups) - 1)) / 2
    for group, high in zip(groups, across, strict=True):
        each = _gap(along_room, _along(group, scale, 0, rows), len(group), gap)
        own = _along(group, scale, each, rows)
        left = (along_room - longest) / 2
        at = left if not rows else (along_room - own) / 2
        for item in group:
            size = item.size(scale)
            own_along, own_across = size if rows else size[::-1]
            if item.sinks and (len(group) == 1 or not rows):
                at = left + longest - own_along
            if rows:
                yield Box(at, at_across + (high - own_across if item.sinks else 0), *size)
            else:
                yield Box(at_across + (high - own_across) / 2, at, *size)
            at += own_along + each
        at_across += high + between


def _gap(room: float, used: float, count: int, gap: float) -> float:
    return max(gap, min(2 * gap, (room - used) / (count + 1)))
