"""How much of the ohms is drawn, and where a point stands that lies beyond."""

from dataclasses import dataclass

from workbench.sitting.history import HistoryView

FURTHEST = 6  # widths of the band beyond which a value is pinned to the edge


@dataclass(frozen=True, slots=True)
class Span:
    """`least` to `most` ohm is the axis; opens stand at `top`, in the room kept above it."""

    least: float
    most: float

    @property
    def top(self) -> float:
        return self.most + 0.14 * (self.most - self.least)

    def pinned(self, ohms: float) -> float:
        return min(max(ohms, self.least), self.most)


def span_of(view: HistoryView) -> Span:
    """The band with a little room, widened to the values with their U; but one far off is not let squash the rest."""
    low, high = view.low, view.high
    values = [(p.ohms - (p.expanded or 0.0), p.ohms + (p.expanded or 0.0)) for p in view.points if p.ohms is not None]
    if low is None or high is None:
        if not values:
            return Span(0.0, 1.0)
        least, most = min(v for v, _ in values), max(v for _, v in values)
        width = (most - least) or abs(most) or 1.0
        return Span(least - 0.1 * width, most + 0.1 * width)
    width = (high - low) or high or 1.0
    least, most = low, high
    for down, up in values:
        least, most = min(least, max(down, low - FURTHEST * width)), max(most, min(up, high + FURTHEST * width))
    room = 0.08 * (most - least)
    return Span(least - room, most + room)
