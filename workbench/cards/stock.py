"""What cards are printed on: three sizes, each with a way of its own to be laid out."""

from dataclasses import dataclass

from workbench.records import CardSize

MM = 72 / 25.4


@dataclass(frozen=True, slots=True)
class Stock:
    """All in points. `bodies`: sizes of the text, tried from the largest; the last is never gone below.

    `beside`: what headings take of the width beside their text; 0, they stand above it. `strip`: kept at the top
    for a hole and a string. `narrow`: the code under the verdict, and a reading on two lines where one is too short.
    """

    name: str
    width: float
    height: float
    margin: float
    bodies: tuple[float, ...]
    badge: float
    small_badge: float
    code_room: float
    intake_code: float
    beside: float = 0.0
    strip: float = 0.0
    narrow: bool = False

    @property
    def inner(self) -> float:
        return self.width - 2 * self.margin

    @property
    def top(self) -> float:
        """Where the first line begins."""
        return self.height - self.margin - self.strip

    @property
    def size(self) -> tuple[float, float]:
        return (self.width, self.height)


SMALLEST = 6.0  # of any text, on any size; 17 dots of a tag printer

_LARGE = (8.6, 8.2, 7.8, 7.4, 7.0, 6.6)

STOCKS = {
    CardSize.LABEL: Stock(
        "Label, 62 × 100 mm",
        62 * MM, 100 * MM, 3 * MM, (7.6, 7.2, 6.8, 6.4, SMALLEST), 33.0, 17.0, 52.0, 84.0, narrow=True,
    ),
    CardSize.STAND: Stock(
        "Label, 100 × 150 mm", 100 * MM, 150 * MM, 5 * MM, _LARGE, 44.0, 19.0, 54.0, 120.0, beside=52.0
    ),
    CardSize.TAG: Stock(
        "Tag, A6 with a hole", 105 * MM, 148 * MM, 5 * MM, _LARGE, 44.0, 19.0, 54.0, 120.0, beside=52.0, strip=7.5 * MM
    ),
}  # fmt: skip
