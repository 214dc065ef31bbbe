"""What can't be answered or wound, and by how much it misses."""

from workbench.stator.errors import FieldError


class RewindError(FieldError):
    """`field` names what is at fault; `sentence` says what is lacking and what would help. Never a guess instead."""


def between(low: float, high: float, value: float) -> str:
    """A refusal's sentence, with numbers as a hand writes them: 1,000,000 rather than 1e+06."""
    return f"must lie from {plain(low)} to {plain(high)}, not at {plain(value)}"


def plain(value: float) -> str:
    shown = f"{value:g}"
    return f"{value:,.10g}" if "e+" in shown else shown


class MisfitError(RewindError):
    """A coil that can't be wound. What it misses by is None where it has no meaning.

    `turns`: turns too many. `fitting`: turns that would go in. `mm`: millimetres lacking.
    """

    def __init__(
        self, field: str, sentence: str, turns: int | None = None, fitting: int | None = None, mm: float | None = None
    ) -> None:
        super().__init__(field, sentence)
        self.turns = turns
        self.fitting = fitting
        self.mm = mm

    def within(self, parent: str) -> "MisfitError":
        return MisfitError(f"{parent}.{self.field}", self.sentence, self.turns, self.fitting, self.mm)
