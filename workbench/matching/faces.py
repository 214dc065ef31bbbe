"""A plug's face laid on another's: which cavity comes to lie on which.

Faces are drawn from the mating side, in any unit and from any origin; the side that the key is on tells how one was
turned. Each distinct face of a library is kept once, so that a part's plugs are compared with a few dozen faces and
not with every pattern's.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from workbench.stator.pattern import Connector, Side, Terminal

Floats = NDArray[np.float64]
Ints = NDArray[np.intp]
Bools = NDArray[np.bool_]

# shares of the smallest distance between two cavities: what is taken as the same place once both faces are scaled by
# it; and once the drawing's own scale was fitted, since that distance alone makes a long, shaky row too large
SAME_PLACE, FITTED_PLACE = 0.25, 0.12
# quarter turns, counterclockwise, that bring the key to the bottom
_TURNS = {Side.BOTTOM: 0, Side.LEFT: 1, Side.TOP: 2, Side.RIGHT: 3}


@dataclass(frozen=True, slots=True, eq=False)
class Face:
    """One distinct face, its key at the bottom. `places` (cavities, 2): centred, in smallest distances.

    `turns`: every way it lies on itself, as which of its cavities each comes to lie on; the first leaves all in place.
    """

    number: int
    keyed: bool
    sockets: Bools
    places: Floats
    turns: tuple[Ints, ...]

    def lay(self, drawn: "Drawn") -> Ints | None:
        """For each cavity of the drawn face the one of this it lies on, by the first turn that fits; None if none."""
        return next(iter(_fits(drawn, self.sockets, self.places)), None)


@dataclass(frozen=True, slots=True, eq=False)
class Drawn:
    """A plug as drawn, brought to a common centre and scale, its key to the bottom."""

    keyed: bool
    sockets: Bools
    places: Floats

    @property
    def bucket(self) -> tuple[int, bool, int]:
        """The same for faces that might be one."""
        return len(self.places), self.keyed, int(self.sockets.sum())


def drawn(plug: Connector) -> Drawn:
    places = np.array(plug.places)
    # first into one unit, lest squares of very large or small numbers leave what a double holds
    places = places - places.mean(0)
    places /= float(np.abs(places).max()) or 1.0
    if len(places) > 1:
        apart = np.hypot(*(places[:, None] - places[None]).transpose(2, 0, 1))
        np.fill_diagonal(apart, math.inf)
        places = places / max(float(apart.min()), 1e-9)
    if plug.key is not None:
        places = _turned(places, _TURNS[plug.key])
    return Drawn(plug.key is not None, np.array([c.terminal is Terminal.SOCKET for c in plug.cavities]), places)


def _turned(places: Floats, quarters: int) -> Floats:
    for _ in range(quarters):
        places = np.stack((-places[:, 1], places[:, 0]), 1)
    return places


def _fits(d: Drawn, sockets: Bools, places: Floats) -> Iterable[Ints]:
    for quarters in range(1 if d.keyed else 4):
        on = _on(_turned(d.places, quarters), d.sockets, places, sockets)
        if on is not None:
            yield on


def _on(a: Floats, a_sockets: Bools, b: Floats, b_sockets: Bools) -> Ints | None:
    apart = np.hypot(*(a[:, None] - b[None]).transpose(2, 0, 1))
    on: Ints = apart.argmin(1)
    if len(set(on.tolist())) < len(on) or (a_sockets != b_sockets[on]).any():
        return None
    if apart.min(1).max() <= SAME_PLACE:
        return on
    scale = float((a * b[on]).sum() / (a * a).sum())
    return on if np.hypot(*(scale * a - b[on]).T).max() <= FITTED_PLACE else None


class Faces:
    """The distinct faces of a library, by number."""

    def __init__(self) -> None:
        self._all: list[Face] = []
        self._near: dict[tuple[int, bool, int], list[Face]] = {}

    def find(self, plug: Connector) -> tuple[Face, Ints] | None:
        """The face that a plug has, and on which of its cavities each of the plug's lies; None if no pattern has it."""
        return self._find(drawn(plug))

    def _find(self, d: Drawn) -> tuple[Face, Ints] | None:
        for face in self._near.get(d.bucket, ()):
            on = face.lay(d)
            if on is not None:
                return face, on
        return None

    def add(self, plug: Connector) -> tuple[Face, Ints]:
        """As `find`, with the plug's face kept as a new one where it is."""
        d = drawn(plug)
        found = self._find(d)
        if found is None:
            turns = {tuple(on.tolist()): on for on in _fits(d, d.sockets, d.places)}
            face = Face(len(self._all), d.keyed, d.sockets, d.places, tuple(turns.values()))
            self._all.append(face)
            self._near.setdefault(d.bucket, []).append(face)
            found = face, np.arange(len(d.places))
        return found
