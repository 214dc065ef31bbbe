"""Round wire laid row by row in a window, for one of the two ways rows can lie on each other."""

import math
from dataclasses import dataclass, replace
from enum import StrEnum

from workbench.rewind import polygon
from workbench.rewind.polygon import HalfPlane
from workbench.rewind.window import Window

_NEAR = 1e-9
MOST_ROWS = 2000


class Lay(StrEnum):
    """SQUARE: each wire right on top of one below. NESTED: in the groove between two. A hand lays in between."""

    SQUARE = "square"
    NESTED = "nested"


@dataclass(frozen=True, slots=True)
class Row:
    """One layer: `wires` of them, their middles at `y_mm`, from `start_mm` on by `step_mm`, in the order wound."""

    y_mm: float
    start_mm: float
    step_mm: float
    wires: int

    @property
    def x_mm(self) -> tuple[float, ...]:
        """The wires' middles along the tooth, mm."""
        return tuple(self.start_mm + i * self.step_mm for i in range(self.wires))


def rows(
    window: Window, mm: float, lay: Lay, pitch_mm: float | None = None, between_mm: float = 0.0
) -> tuple[Row, ...]:
    """All that goes in of wire mm thick, the row on the floor first, every other one wound backwards.

    `pitch_mm` spreads the wires (mm when None). `between_mm` is a sheet between layers, on which nothing can nest.
    Rows begin at whichever end holds more wire.
    """
    pitch = pitch_mm if pitch_mm is not None else mm
    grid = _Grid(
        polygon.half_planes(window.corners),
        window.floor_mm + mm / 2,
        mm,
        pitch,
        Lay.SQUARE if between_mm else lay,
        between_mm,
    )
    from_low, from_high = (grid.rows(backwards) for backwards in (False, True))
    return from_high if counted(from_high) > counted(from_low) else from_low


def counted(some: tuple[Row, ...]) -> int:
    """Wires in all."""
    return sum(r.wires for r in some)


def first(some: tuple[Row, ...], wires: int) -> tuple[Row, ...]:
    """The first so many wires, in the order they are wound."""
    out: list[Row] = []
    for row in some:
        if wires <= 0:
            break
        out.append(replace(row, wires=min(row.wires, wires)))
        wires -= row.wires
    return tuple(out)


@dataclass(frozen=True, slots=True)
class _Grid:
    planes: tuple[HalfPlane, ...]
    lowest: float
    mm: float
    pitch: float
    lay: Lay
    between: float

    def rows(self, from_high: bool) -> tuple[Row, ...]:
        rise = self.between + self.pitch * (1.0 if self.lay is Lay.SQUARE else math.sqrt(0.75))
        y = self.lowest
        span = self._span(y)
        if span is None:
            return ()
        anchor = span[1] if from_high else span[0]
        out: list[Row] = []
        while span is not None and len(out) < MOST_ROWS:
            odd = len(out) % 2 == 1
            half = self.pitch / 2 if self.lay is Lay.NESTED and odd else 0.0
            base = anchor - half if from_high else anchor + half
            least = math.ceil((span[0] - base) / self.pitch - _NEAR)
            most = math.floor((span[1] - base) / self.pitch + _NEAR)
            if most < least:
                break
            # one way and back, beginning at the anchor
            start, step = (most, -self.pitch) if odd != from_high else (least, self.pitch)
            out.append(Row(y, base + start * self.pitch, step, most - least + 1))
            y += rise
            span = self._span(y)
        return tuple(out)

    def _span(self, y: float) -> tuple[float, float] | None:
        """Where at this height a wire's middle may be."""
        low, high = -math.inf, math.inf
        for nx, ny, least in self.planes:
            need = least + self.mm / 2 - ny * y
            if abs(nx) < 1e-12:
                if need > _NEAR:
                    return None
            elif nx > 0:
                low = max(low, need / nx)
            else:
                high = min(high, need / nx)
        return None if high < low - _NEAR else (low, max(low, high))
