"""Where the coils of a pattern sit: the core, its teeth, and which winding is wound on which of them."""

import math
from collections.abc import Collection, Iterator
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from workbench.stator.errors import FieldError

if TYPE_CHECKING:
    from workbench.stator.pattern import Kind

MOST_TEETH = 96
MOST_PLACES = 8
MOST_COILS = 512


class Facing(StrEnum):
    """Where the teeth of a core point.

    OUTWARD: from a hub, as under most flywheels. INWARD: from a ring to its middle. STRAIGHT: side by side and up,
    the legs of a U or E core that carries a bobbin.
    """

    OUTWARD = "outward"
    INWARD = "inward"
    STRAIGHT = "straight"


class Wire(StrEnum):
    """What a coil is wound of: few turns of heavy wire, or many of fine."""

    HEAVY = "heavy"
    FINE = "fine"


# common practice, no source: what feeds lamps, a battery or a transformer's low side carries amperes
_HEAVY_KINDS = frozenset(("lighting", "charging", "primary"))


def usual_wire(kind: "Kind") -> Wire:
    """The wire of a coil that doesn't say, by what its winding is for."""
    return Wire.HEAVY if kind in _HEAVY_KINDS else Wire.FINE


@dataclass(frozen=True, slots=True)
class Coil:
    """One wound tooth of a winding, or a bobbin on a bracket beside the ring: exactly one of `tooth` and
    `beside_degrees` is given.

    `tooth` counts from 1, clockwise from the top as the sketch shows the core; from the left on a straight one.
    `beside_degrees` is clockwise from the top, from 0 to below 360. `place` is its place in the stack there, 0 nearest
    the root. `sense` is +1 when it is wound clockwise as seen from its tip towards its root, -1 when the other way,
    None when nobody noted it.
    """

    winding: str
    tooth: int | None = None
    place: int = 0
    sense: int | None = None
    wire: Wire | None = None
    beside_degrees: float | None = None

    @property
    def spot(self) -> tuple[int | None, float | None]:
        """What it shares with the coils of its stack."""
        return (self.tooth, self.beside_degrees)


@dataclass(frozen=True, slots=True)
class Layout:
    """A core and its coils. Raises FieldError where it contradicts itself."""

    teeth: int
    facing: Facing = Facing.OUTWARD
    coils: tuple[Coil, ...] = ()

    def __post_init__(self) -> None:
        for field, sentence in _contradictions(self):
            raise FieldError(field, sentence)

    @property
    def windings(self) -> tuple[str, ...]:
        """Those that have a coil, in the order of their first one."""
        return tuple(dict.fromkeys(c.winding for c in self.coils))

    def of(self, winding: str) -> tuple[Coil, ...]:
        return tuple(c for c in self.coils if c.winding == winding)

    def stack(self, coil: Coil) -> tuple[Coil, ...]:
        """The coils that share this one's tooth or bracket, from the root out."""
        return tuple(sorted((c for c in self.coils if c.spot == coil.spot), key=lambda c: c.place))

    def strangers(self, windings: Collection[str]) -> Iterator[tuple[str, str]]:
        """Field and sentence of each coil whose winding is none of these."""
        for i, c in enumerate(self.coils):
            if c.winding not in windings:
                yield f"coils[{i}].winding", f"there is no winding {c.winding!r}"


def _contradictions(layout: Layout) -> Iterator[tuple[str, str]]:
    if not 1 <= layout.teeth <= MOST_TEETH:
        yield "teeth", f"a core has from 1 to {MOST_TEETH} teeth, not {layout.teeth}"
    if len(layout.coils) > MOST_COILS:
        yield "coils", f"{len(layout.coils)} of them is more than the {MOST_COILS} that a layout may have"
    taken: set[tuple[int | None, float | None, int]] = set()
    for i, c in enumerate(layout.coils):
        yield from _coil(c, layout, f"coils[{i}]")
        if (*c.spot, c.place) in taken:
            yield f"coils[{i}].place", f"place {c.place} {_where(c)} is taken"
        taken.add((*c.spot, c.place))


def _coil(c: Coil, layout: Layout, where: str) -> Iterator[tuple[str, str]]:
    if c.tooth is not None and c.beside_degrees is not None:
        yield f"{where}.beside_degrees", "a coil sits on a tooth or beside the ring, not both"
    elif c.tooth is not None:
        if not 1 <= c.tooth <= layout.teeth:
            yield f"{where}.tooth", f"there is no tooth {c.tooth}; the core has {layout.teeth}"
    elif c.beside_degrees is None:
        yield f"{where}.tooth", "a coil needs its tooth, or beside_degrees where it stands beside the ring"
    elif layout.facing is Facing.STRAIGHT:
        yield f"{where}.beside_degrees", "a straight core has no ring to stand beside"
    elif not (math.isfinite(c.beside_degrees) and 0 <= c.beside_degrees < 360):
        yield f"{where}.beside_degrees", f"an angle lies from 0 to below 360 degrees, not at {c.beside_degrees:g}"
    if not 0 <= c.place < MOST_PLACES:
        yield f"{where}.place", f"a place in a stack lies from 0 to {MOST_PLACES - 1}, not at {c.place}"
    if c.sense not in (None, 1, -1):
        yield f"{where}.sense", f"a sense is 1 or -1, not {c.sense}"


def _where(c: Coil) -> str:
    return f"on tooth {c.tooth}" if c.tooth is not None else f"beside the ring at {c.beside_degrees:g} degrees"
