"""Where the value of each line stands: near its middle, off everything else. In px, y down; no Qt."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from workbench.sitting.faceplan import Box
from workbench.window.faces.routes import Point, Points, Route

_ALONG = (0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74, 0.18, 0.82, 1.0)
_AWAY = (1.0, 1.2, 1.45, 1.75, 2.1, 2.6)
# what a value across its own line is worse by than one beside it
ACROSS = 2.5
# heights from its own line at which a value nearer to another's is rather left out
STRAYED = 0.6


@dataclass(frozen=True, slots=True)
class Wanted:
    """A value to be placed beside its route: the size of its text, no width where there is none.

    `must`: the pair's in hand, to be placed even where it might be read as another line's.
    """

    route: Route
    width: float
    height: float
    must: bool = False


@dataclass(frozen=True, slots=True)
class Ground:
    """What is drawn besides the lines: cavities of one radius, boxes already `taken`, points along `edges`."""

    bounds: Box
    cavities: tuple[Point, ...]
    radius: float
    taken: tuple[Box, ...]
    edges: Points


def place_labels(wanted: Sequence[Wanted], ground: Ground, kept: Sequence[Box | None] = ()) -> list[Box | None]:
    """A box for each value, clear of cavities, taken boxes and earlier values; of lines and edges where that can be.

    None where there is no room, or only where it would be read as another line's: the triangle of all pairs still has
    the value. `kept` are boxes of values placed before, which stay unless something new lies on them, or leaves the
    first value without room.
    """
    placed = list(ground.taken)
    traces = [w.route.points(48) for w in wanted]
    every = np.vstack([np.empty((0, 2)), *traces])
    out: list[Box | None] = [None] * len(wanted)
    if kept:
        out = _still_free(kept, traces, placed)
    placed += [b for b in out if b]
    for i, w in enumerate(wanted):
        if w.width <= 0 or out[i] is not None:
            continue
        own = slice(49 * i, 49 * (i + 1))
        best = _best(w, traces[i], np.delete(every, own, axis=0), ground, placed)
        out[i] = best
        if best:
            placed.append(best)
        elif i == 0 and any(kept):
            return place_labels(wanted, ground)
    return out


def _still_free(kept: Sequence[Box | None], traces: Sequence[Points], taken: Sequence[Box]) -> list[Box | None]:
    fresh = [t for t, b in zip(traces, kept, strict=True) if b is None]
    new = np.vstack([np.empty((0, 2)), *fresh])
    return [b if b and not any(overlap(b, o) for o in taken) and not _inside(b, new) else None for b in kept]


def _best(w: Wanted, own: Points, others: Points, ground: Ground, placed: Sequence[Box]) -> Box | None:
    best: tuple[float, Box] | None = None
    for near, box, across in sorted(_candidates(w, ground.radius), key=lambda c: c[0]):
        if best is not None and near >= best[0]:
            break
        if not _free(box, ground, placed):
            continue
        cost = near + 3 * _inside(box, ground.edges) + (0 if across else 5 * _inside(box, own))
        if best is None or cost < best[0]:
            # on another line or beside it, it would be read as that one's
            on = _inside(box, others)
            to_own, to_others = _distance(box, own), _distance(box, others)
            theirs = to_others < to_own
            strayed = theirs and (_gap(box, own) > STRAYED * w.height or (on and 4 * to_others < to_own))
            if strayed and not w.must:
                continue
            cost += 8 * on + 5 * theirs
        if best is None or cost < best[0]:
            best = (cost, box)
    return best[1] if best else None


def _candidates(w: Wanted, radius: float) -> Iterator[tuple[float, Box, bool]]:
    """With how far each is from the best place there could be, and whether it lies across its own line."""
    (ax, ay), (bx, by) = w.route.at(0.0), w.route.at(1.0)
    long = math.hypot(bx - ax, by - ay) - 2 * radius
    for t in _ALONG:
        (x0, y0), (x1, y1), (x, y) = w.route.at(t - 0.04), w.route.at(t + 0.04), w.route.at(t)
        length = math.hypot(x1 - x0, y1 - y0) or 1.0
        nx, ny = (y1 - y0) / length, -(x1 - x0) / length
        if ny > 0:
            nx, ny = -nx, -ny
        off = 5 * abs(t - 0.5)
        # across: as much of the line as it hides must stay in sight
        if long > 2 * min(w.width / max(abs(ny), 1e-9), w.height / max(abs(nx), 1e-9)):
            yield off + ACROSS, Box(x - w.width / 2, y - w.height / 2, w.width, w.height), True
        away = abs(nx) * w.width / 2 + abs(ny) * w.height / 2 + w.height * 0.25
        for side, extra in ((1, 0.0), (-1, 0.3)):
            for far in _AWAY:
                cx, cy = x + side * nx * away * far, y + side * ny * away * far
                # of a long text the same share is more px
                near = off + extra + 1.6 * (far - 1) * max(1.0, away / (1.5 * w.height))
                yield near, Box(cx - w.width / 2, cy - w.height / 2, w.width, w.height), False


def _free(box: Box, ground: Ground, placed: Sequence[Box]) -> bool:
    b = ground.bounds
    return (
        b.holds(box.x, box.y)
        and b.holds(box.x + box.width, box.y + box.height)
        and not any(overlap(box, other) for other in placed)
        and not any(touches(box, c, ground.radius) for c in ground.cavities)
    )


def overlap(a: Box, b: Box) -> bool:
    return a.x < b.x + b.width and b.x < a.x + a.width and a.y < b.y + b.height and b.y < a.y + a.height


def touches(box: Box, centre: Point, radius: float) -> bool:
    """Whether a circle reaches into a box."""
    dx = max(box.x - centre[0], 0.0, centre[0] - box.x - box.width)
    dy = max(box.y - centre[1], 0.0, centre[1] - box.y - box.height)
    return math.hypot(dx, dy) < radius


def _distance(box: Box, points: Points) -> float:
    """Squared, from the middle of the box to the nearest point."""
    if not len(points):
        return math.inf
    dx = points[:, 0] - (box.x + box.width / 2)
    dy = points[:, 1] - (box.y + box.height / 2)
    return float((dx * dx + dy * dy).min())


def _gap(box: Box, points: Points) -> float:
    """From the edge of the box to the nearest point."""
    x, y = points[:, 0], points[:, 1]
    dx = np.maximum(np.maximum(box.x - x, x - box.x - box.width), 0.0)
    dy = np.maximum(np.maximum(box.y - y, y - box.y - box.height), 0.0)
    return float(np.hypot(dx, dy).min())


def _inside(box: Box, points: Points) -> bool:
    x, y = points[:, 0], points[:, 1]
    return bool(((x > box.x - 1) & (x < box.x + box.width + 1) & (y > box.y) & (y < box.y + box.height)).any())
