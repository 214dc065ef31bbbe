"""What is written down of one rewind as it goes on: the coils in their order, the wire, what of it is done."""

from dataclasses import dataclass
from typing import Any
from uuid import UUID

from workbench.rewind.coil import CoilOrder, CoilPlan
from workbench.rewind.errors import RewindError
from workbench.rewind.found import AsFound
from workbench.rewind.layout import Scheme, ToothCoil
from workbench.rewind.layoutsteps import Step, steps
from workbench.rewind.shelf import AsWas, Duty
from workbench.rewind.wire import Wire
from workbench.rewind.woundrecord import WoundWork
from workbench.stator.layout import MOST_TEETH, Facing

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
class PlanWork:
    """A coil's plan that fitted, and how many such coils the winding (of three, a phase) has: `coils` in all, dealt
    into `paths` groups side by side.

    What came of it is kept beside the order, so that it stays what it was when it was noted: of one coil, leads and
    all, `metres` of wire as wound, `ohms_20` at 20 C and `u`, their relative standard uncertainty. Raises RewindError.
    """

    order: CoilOrder
    coils: int
    paths: int
    metres: float
    ohms_20: float
    u: float

    def __post_init__(self) -> None:
        dealt(self.coils, self.paths)
        for name, least, most in (("metres", 1e-6, 1e7), ("ohms_20", 1e-9, 1e9), ("u", 0.0, 1e3)):
            if not least <= getattr(self, name) <= most:
                raise RewindError(name, f"must lie from {least:g} to {most:g}, not at {getattr(self, name):g}")

    @classmethod
    def of(cls, plan: CoilPlan, coils: int, paths: int) -> "PlanWork":
        return cls(plan.order, coils, paths, plan.metres, plan.ohms_20, plan.u)


def dealt(coils: int, paths: int) -> None:
    """Raises RewindError where so many coils can't be dealt into so many groups alike."""
    if not 1 <= coils <= MOST_TEETH:
        raise RewindError("coils", f"a winding has from 1 to {MOST_TEETH} coils, not {coils}")
    if not 1 <= paths <= coils or coils % paths:
        raise RewindError("paths", f"{coils} coils can't be dealt into {paths} groups alike")


@dataclass(frozen=True, slots=True)
class Body:
    """`others`: parts by name that this program doesn't know, as JSON values, kept as they are."""

    laid: Laid | None = None
    wire: WireWork | None = None
    plan: PlanWork | None = None
    wound: WoundWork | None = None
    found: AsFound | None = None
    others: tuple[tuple[str, Any], ...] = ()
