"""The way a line takes between two cavities, in cavity radii with y down; no Qt."""

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import numpy.typing as npt

Point = tuple[float, float]
Points = npt.NDArray[np.float64]

# A line keeps this far from the centre of a cavity that it only passes.
CLEARANCE = 1.3
_BOWS = sorted((0.7 * k for k in range(-9, 10)), key=lambda b: (abs(b), b < 0))
_ESSES = sorted(
    ((0.8 * i, 0.8 * j) for i in range(-6, 7) for j in range(-6, 7) if i != j),
    key=lambda b: abs(b[0]) + abs(b[1]) + abs(b[0] - b[1]),
)


@dataclass(frozen=True, slots=True)
class Route:
    """A cubic curve; straight where both controls lie on its chord."""

    start: Point
    first: Point
    second: Point
    end: Point

    def at(self, t: float) -> Point:
        """The point at `t` from 0 to 1."""
        s = 1 - t
        a, b, c, d = s * s * s, 3 * s * s * t, 3 * s * t * t, t * t * t
        return (
            a * self.start[0] + b * self.first[0] + c * self.second[0] + d * self.end[0],
            a * self.start[1] + b * self.first[1] + c * self.second[1] + d * self.end[1],
        )

    def points(self, steps: int) -> Points:
        """(steps + 1, 2): points along it, both ends included."""
        corners: Points = np.array((self.start, self.first, self.second, self.end), dtype=np.float64)
        curve: Points = _bernstein(steps) @ corners
        return curve

    def scaled(self, factor: float, origin: Point) -> "Route":
        """In px, with `origin` where (0, 0) was."""

        def px(p: Point) -> Point:
            return (origin[0] + p[0] * factor, origin[1] + p[1] * factor)

        return Route(px(self.start), px(self.first), px(self.second), px(self.end))


@lru_cache(maxsize=8)
def _bernstein(steps: int) -> Points:
    t = np.linspace(0.0, 1.0, steps + 1)[:, None]
    return np.hstack(((1 - t) ** 3, 3 * (1 - t) ** 2 * t, 3 * (1 - t) * t**2, t**3))


@lru_cache(maxsize=4096)
def route(start: Point, end: Point, others: tuple[Point, ...], clearance: float = CLEARANCE) -> Route:
    """The straightest way that stays `clearance` off the centres of `others`; the roomiest where there is none.

    A bow before an S, and upward before downward: the key and ground lie below.
    """
    length = math.dist(start, end) or 1.0
    normal = ((end[1] - start[1]) / length, -(end[0] - start[0]) / length)
    if normal[1] > 0 or (normal[1] == 0 and normal[0] > 0):
        normal = (-normal[0], -normal[1])
    centres = np.array(others).reshape(-1, 2)
    best: tuple[float, Route] | None = None
    for bows in (*((b, b) for b in _BOWS), *_ESSES):
        candidate = _bowed(start, end, normal, *bows)
        if not others:
            return candidate
        away = candidate.points(32)[:, None, :] - centres[None, :, :]
        room = float(np.sqrt((away**2).sum(axis=2)).min())
        if room >= clearance:
            return candidate
        if best is None or room > best[0] + 1e-9:
            best = (room, candidate)
    assert best is not None
    return best[1]


def _bowed(start: Point, end: Point, normal: Point, one: float, other: float) -> Route:
    # controls near the ends lift a long bow off the first cavity it passes without rising high
    lead = 1 / 3 if one == other == 0 else 0.1

    def control(t: float, bow: float) -> Point:
        return (
            start[0] + (end[0] - start[0]) * t + normal[0] * bow,
            start[1] + (end[1] - start[1]) * t + normal[1] * bow,
        )

    return Route(start, control(lead, one), control(1 - lead, other), end)
