"""Convex polygons as corners in turn, counterclockwise; all in mm."""

import math
from collections.abc import Sequence

Point = tuple[float, float]
# a point p is inside when nx px + ny py >= least; (nx, ny) has length 1
HalfPlane = tuple[float, float, float]

_NEAR = 1e-9


def clipped(corners: Sequence[Point], by: HalfPlane) -> tuple[Point, ...]:
    """What of a convex polygon lies in a half-plane; empty when nothing does."""
    nx, ny, least = by
    out: list[Point] = []
    off = [nx * x + ny * y - least for x, y in corners]
    for i, (p, d) in enumerate(zip(corners, off, strict=True)):
        q, e = corners[i - 1], off[i - 1]
        if (d >= 0) != (e >= 0):
            t = e / (e - d)
            out.append((q[0] + t * (p[0] - q[0]), q[1] + t * (p[1] - q[1])))
        if d >= 0:
            out.append(p)
    return without_twins(out)


def without_twins(corners: Sequence[Point]) -> tuple[Point, ...]:
    """The same with none on the one before it."""
    return tuple(p for i, p in enumerate(corners) if math.dist(p, corners[i - 1]) > _NEAR)


def area(corners: Sequence[Point]) -> float:
    """mm2; negative when the corners go round clockwise."""
    return math.fsum(_crosses(corners)) / 2


def centroid_y(corners: Sequence[Point]) -> float:
    """Height of the middle of its area, mm."""
    moments = (
        (corners[i - 1][1] + y) * c for i, ((_, y), c) in enumerate(zip(corners, _crosses(corners), strict=True))
    )
    return math.fsum(moments) / (6 * area(corners))


def _crosses(corners: Sequence[Point]) -> list[float]:
    return [corners[i - 1][0] * y - x * corners[i - 1][1] for i, (x, y) in enumerate(corners)]


def half_planes(corners: Sequence[Point]) -> tuple[HalfPlane, ...]:
    """One an edge, facing inward."""
    out: list[HalfPlane] = []
    for i, (x, y) in enumerate(corners):
        px, py = corners[i - 1]
        length = math.dist((px, py), (x, y))
        nx, ny = (py - y) / length, (x - px) / length
        out.append((nx, ny, nx * px + ny * py))
    return tuple(out)


def is_convex(corners: Sequence[Point]) -> bool:
    """Counterclockwise, with an area, and never turning back."""
    if len(corners) < 3 or len(without_twins(corners)) < len(corners) or area(corners) <= _NEAR:
        return False
    planes = half_planes(corners)
    return all(nx * x + ny * y >= least - 1e-6 for nx, ny, least in planes for x, y in corners)
