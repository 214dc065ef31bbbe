"""The grid that a plug is drawn on: where its cavities lie as they are looked at, and where a hand or a key goes."""

import math
from dataclasses import dataclass

from workbench.drafting.plugs import NEAREST, Place
from workbench.stator.pattern import Connector

# steps of the grid around the plug that can be put upon, and how far a plug may be drawn
AROUND, MOST_STEPS = 2, 24
LEAST_STEP = 34  # px
RADIUS = 0.36  # of a cavity, in steps
REACH = 1.15  # radii from a cavity's middle that still count as on it
ON = 0.3  # steps from a place that still count as on it


@dataclass(frozen=True, slots=True)
class PlugGrid:
    """`plug` as it is looked at, from the wire side mirrored. Places are in steps, y up; px from the top left.

    `extent`: left, bottom, right, top of what is shown, in steps as they are looked at. `width`, `height`, `step`: px.
    """

    plug: Connector | None
    wire_side: bool
    extent: tuple[float, float, float, float]
    width: float
    height: float
    step: float

    @staticmethod
    def around(
        plug: Connector | None, wire_side: bool, cursor: Place, size: tuple[float, float], most_step: float
    ) -> "PlugGrid":
        """With room about the plug and the cursor; `size`: px; `most_step`: px, however much room there is."""
        bare = PlugGrid(plug, wire_side, (0, 0, 0, 0), *size, 1.0)
        places = [*bare.places, cursor]
        xs, ys = [x for x, _ in places], [y for _, y in places]
        extent = min(xs) - AROUND, min(ys) - AROUND, max(xs) + AROUND, max(ys) + AROUND
        room = min(size[0] / (extent[2] - extent[0]), size[1] / (extent[3] - extent[1]))
        return PlugGrid(plug, wire_side, extent, *size, min(most_step, max(room, LEAST_STEP)))

    # ---- as it is looked at

    def seen(self, place: Place) -> Place:
        """A stored place as this side sees it, and back: the same either way."""
        # about a line that stays where it is however the plug grows, lest the cursor lose its cavity
        return (0.0 - place[0], place[1]) if self.wire_side else place

    @property
    def places(self) -> tuple[Place, ...]:
        return tuple(self.seen(p) for p in self.plug.places) if self.plug is not None else ()

    @property
    def pins(self) -> tuple[str, ...]:
        return tuple(c.pin for c in self.plug.cavities) if self.plug is not None else ()

    def px(self, place: Place) -> tuple[float, float]:
        left, bottom, right, top = self.extent
        x, y = place[0] - (left + right) / 2, place[1] - (bottom + top) / 2
        return self.width / 2 + x * self.step, self.height / 2 - y * self.step

    def place(self, x: float, y: float) -> Place:
        """The whole step that lies there, else the nearest half one."""
        left, bottom, right, top = self.extent
        x = (x - self.width / 2) / self.step + (left + right) / 2
        y = (self.height / 2 - y) / self.step + (bottom + top) / 2
        whole = (float(round(x)), float(round(y)))
        near = abs(x - whole[0]) < ON and abs(y - whole[1]) < ON
        return _kept(whole if near else (_half(x), _half(y)))

    def pin_under(self, x: float, y: float) -> str:
        """Whose cavity is drawn there; empty where none is."""
        at = [(math.dist(self.px(p), (x, y)), pin) for pin, p in zip(self.pins, self.places, strict=True)]
        away, pin = min(at, default=(math.inf, ""))
        return pin if away <= RADIUS * REACH * self.step else ""

    def pin_at(self, place: Place) -> str:
        """Whose cavity lies on a place; empty where none does."""
        at = [(math.dist(p, place), pin) for pin, p in zip(self.pins, self.places, strict=True)]
        away, pin = min(at, default=(math.inf, ""))
        return pin if away < ON else ""

    def place_of(self, pin: str) -> Place:
        """Raises KeyError."""
        return dict(zip(self.pins, self.places, strict=True))[pin]

    # ---- by keys

    def walked(self, cursor: Place, by: Place) -> Place:
        """A step further. Cavities lie where they like: one that is near is gone onto, lest it be stepped over."""
        to = (cursor[0] + by[0], cursor[1] + by[1])
        here = self.pin_at(cursor)
        near = [(math.dist(p, to), p) for pin, p in zip(self.pins, self.places, strict=True) if pin != here]
        away, place = min(near, default=(math.inf, to))
        return place if away < NEAREST else _kept((_half(to[0]), _half(to[1])))

    def carried(self, cursor: Place, by: Place) -> Place:
        """Where a cavity goes that is taken along: onto the grid in the way it is moved, else as it was."""
        x, y = (c if not b else _half(c + b) for c, b in zip(cursor, by, strict=True))
        return _kept((x, y))

    def beside(self, pin: str, by: int) -> str:
        """The next cavity in the order they are counted, or the one before; round at the end."""
        pins = self.pins
        if not pins:
            return ""
        return pins[(pins.index(pin) + by) % len(pins)] if pin in pins else pins[0 if by > 0 else -1]


def _half(x: float) -> float:
    return round(2 * x) / 2


def _kept(place: Place) -> Place:
    x, y = (min(max(v, -float(MOST_STEPS)), float(MOST_STEPS)) for v in place)
    return (x, y)
