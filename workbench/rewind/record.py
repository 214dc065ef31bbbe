"""What is written down of one rewind as it goes on: the coils in their order, the wire, what of it is done."""

from dataclasses import dataclass
from typing import Any
from uuid import UUID

from workbench.rewind.layout import Scheme, ToothCoil
from workbench.rewind.layoutsteps import Step, steps
from workbench.rewind.shelf import AsWas, Duty
from workbench.rewind.wire import Wire
from workbench.stator.layout import Facing

# a rewind's winding where an output's phases are all wound anew
WHOLE = "all three phases"


@dataclass(frozen=True, slots=True)
class Laid:
    """`coils` in the order they are wound; `ticked`: numbers of the steps that are done.

    `as_found`: by the pattern's own senses, rather than worked out.
    """

    scheme: Scheme
    facing: Facing
    coils: tuple[ToothCoil, ...]
    as_found: bool = False
    ticked: frozenset[int] = frozenset()

    @property
    def steps(self) -> tuple[Step, ...]:
        return steps(self.scheme, self.coils)

    @property
    def current(self) -> Step | None:
        """The first that is not ticked."""
        return next((s for s in self.steps if s.number not in self.ticked), None)


@dataclass(frozen=True, slots=True)
class Draw:
    """So many grams to be taken off a spool, by its id in the store and its name when it was chosen."""

    spool: UUID
    name: str
    grams: float


@dataclass(frozen=True, slots=True)
class Chosen:
    """The wire that was taken. `ohms` of the whole winding at `celsius`; `draws` with enamel and spare."""

    wire: Wire
    turns: int
    ohms: float
    celsius: float
    copper_grams: float
    draws: tuple[Draw, ...]


@dataclass(frozen=True, slots=True)
class WireWork:
    """What it was wound of, where its current counts, the `turns` to try (none: those it had), and what was taken."""

    as_was: AsWas
    duty: Duty | None = None
    turns: tuple[int, ...] = ()
    chosen: Chosen | None = None


@dataclass(frozen=True, slots=True)
class Body:
    """`others`: parts by name that this program doesn't know, as JSON values, kept as they are."""

    laid: Laid | None = None
    wire: WireWork | None = None
    others: tuple[tuple[str, Any], ...] = ()
