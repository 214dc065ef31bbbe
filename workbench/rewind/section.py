"""The wires of one coil, each at its place: in layers, or scattered at a given fill."""

import math
from collections.abc import Callable
from dataclasses import dataclass

from workbench.rewind import polygon
from workbench.rewind.errors import MisfitError
from workbench.rewind.rows import Lay, Row, counted, first, rows
from workbench.rewind.window import LARGEST_MM, Window
from workbench.rewind.wire import Wire, area_mm2

# how far a scramble coil's build may be off, as a share of it; common practice, no source
SCRAMBLE_GIVE = 0.10


@dataclass(frozen=True, slots=True)
class Section:
    """Wires `wire_mm` thick over their enamel, in rows; mm.

    `build_mm`: from the floor to the top of the highest wire. `mean_mm`: mean height of the wires' middles over the
    floor, and by how much either way that may differ (`mean_give_mm`). `outline`: x, y and radius of what the coil
    may reach to.
    """

    wire_mm: float
    rows: tuple[Row, ...]
    build_mm: float
    mean_mm: float
    mean_give_mm: float
    outline: tuple[tuple[float, float, float], ...]


def laid_in_layers(window: Window, wire: Wire, turns: int, between_mm: float = 0.0) -> dict[Lay, tuple[Section, int]]:
    """By each lay, the coil as far as it goes in so, and how many turns would. Raises MisfitError when all of it goes
    in by neither.
    """
    mm, wires = wire.placing_mm, turns * wire.strands
    every = {lay: rows(window, mm, lay, between_mm=between_mm) for lay in Lay}
    fits = {lay: counted(r) // wire.strands for lay, r in every.items()}
    if max(fits.values()) < turns:

        def takes(other: Window) -> bool:
            return _neatest(other, mm, between_mm) >= wires

        raise _too_many(window, wire, turns, max(fits.values()), "layer by layer", takes)
    return {lay: (_neat(window, mm, first(r, wires)), fits[lay]) for lay, r in every.items()}


def _neat(window: Window, mm: float, some: tuple[Row, ...]) -> Section:
    n = counted(some)
    mean = math.fsum(r.wires * (r.y_mm - window.floor_mm) for r in some) / n
    outline = tuple((x, r.y_mm, mm / 2) for r in some for x in r.x_mm)
    return Section(mm, some, some[-1].y_mm + mm / 2 - window.floor_mm, mean, 0.0, outline)


def _neatest(window: Window, mm: float, between_mm: float = 0.0) -> int:
    """Wires that go in by the better bound."""
    return max(counted(rows(window, mm, lay, between_mm=between_mm)) for lay in Lay)


def _too_many(
    window: Window, wire: Wire, turns: int, fitting: int, how: str, takes: Callable[[Window], bool]
) -> MisfitError:
    mm = wire.placing_mm
    thickest = _thickest(window, mm)
    if thickest < mm:
        lacks = mm - thickest
        return MisfitError(
            "wire",
            f"a wire of {mm:.3f} mm is {lacks:.2f} mm too thick for the window; not one goes in",
            turns,
            0,
            lacks,
        )
    over, deep = turns - fitting, _lacking(window, takes)
    deeper = "" if deep is None else f"the window would have to be {math.ceil(deep * 100) / 100:.2f} mm deeper; "
    go = "goes" if fitting == 1 else "go"
    return MisfitError(
        "turns",
        f"{turns} turns are {over} too many: {fitting} of {mm:.3f} mm wire {go} in {how}; {deeper}"
        "fewer turns or thinner wire would fit",
        over,
        fitting,
        deep,
    )


def _lacking(window: Window, takes: Callable[[Window], bool]) -> float | None:
    """How much deeper the window would have to be, mm; None when no depth of this world would do."""
    low, high = 0.0, 1.0
    while not takes(window.deepened(high)):
        low, high = high, 2 * high
        if high > LARGEST_MM / 4:
            return None
    for _ in range(24):
        middle = (low + high) / 2
        low, high = (low, middle) if takes(window.deepened(middle)) else (middle, high)
    return high


def _thickest(window: Window, mm: float) -> float:
    """The thickest wire, up to mm, of which at least one goes in."""
    if rows(window, mm, Lay.SQUARE):
        return mm
    low, high = mm / 1000, mm
    for _ in range(40):
        middle = (low + high) / 2
        # spread so far that only the first of a row is looked for
        low, high = (middle, high) if rows(window, middle, Lay.SQUARE, pitch_mm=LARGEST_MM) else (low, middle)
    return low


def scattered(window: Window, wire: Wire, turns: int, fill: float) -> tuple[Section, int]:
    """As it falls, so many turns at this fill over enamel. Raises MisfitError when they are too many for it.

    Where each wire comes to lie can't be known; they are drawn evenly through what the coil takes up.
    """
    mm, wires = wire.placing_mm, turns * wire.strands
    fitting = math.floor(fill * window.area_mm2 / (area_mm2(mm) * wire.strands) + 1e-9)
    needed = wires * area_mm2(mm) / fill
    fitting = min(fitting, _neatest(window, mm) // wire.strands)
    if turns > fitting:

        def takes(other: Window) -> bool:
            return other.area_mm2 >= needed and _neatest(other, mm) >= wires

        raise _too_many(window, wire, turns, fitting, f"as they fall, at a fill of {fill:.2f}", takes)
    build = max(_build_of(window, needed), min(mm, window.depth_mm))
    part = window.below(build)
    mean = polygon.centroid_y(part) - window.floor_mm
    outline = tuple((x, y, 0.0) for x, y in part)
    return Section(mm, _spread(window, part, mm, wires), build, mean, SCRAMBLE_GIVE * mean, outline), fitting


def _build_of(window: Window, needed_mm2: float) -> float:
    """How high over the floor this area reaches, mm."""
    low, high = 0.0, window.depth_mm
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if polygon.area(window.below(middle)) < needed_mm2 else (low, middle)
    return high


def _spread(window: Window, part: tuple[polygon.Point, ...], mm: float, wires: int) -> tuple[Row, ...]:
    """The widest even spacing at which all of them lie in that part; side by side where it is too small for any."""
    inside = Window(part)
    if counted(rows(inside, mm, Lay.NESTED)) < wires:
        return first(max((rows(window, mm, lay) for lay in Lay), key=counted), wires)
    low, high = mm, 4 * mm
    for _ in range(24):
        middle = (low + high) / 2
        fits = counted(rows(inside, mm, Lay.NESTED, pitch_mm=middle)) >= wires
        low, high = (middle, high) if fits else (low, middle)
    return first(rows(inside, mm, Lay.NESTED, pitch_mm=low), wires)
