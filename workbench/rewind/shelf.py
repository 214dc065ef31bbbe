"""What is asked of the shelf: its spools, the winding that is to be replaced, and where its current counts."""

from collections.abc import Sequence
from dataclasses import dataclass

from workbench.rewind.errors import RewindError, between
from workbench.rewind.wire import MOST_STRANDS, Wire

MOST_SPOOLS = 200
MOST_TURNS = 30_000
MOST_TRIED = 8


@dataclass(frozen=True, slots=True)
class Spool:
    """`wire`: one strand of it. `grams` left, enamel and all, without the reel."""

    name: str
    wire: Wire
    grams: float

    def __post_init__(self) -> None:
        _lies("grams", self.grams, 0, 1e6)
        if self.wire.strands != 1:
            raise RewindError("wire", f"a spool holds a single wire, not {self.wire.strands} in hand")


@dataclass(frozen=True, slots=True)
class AsWas:
    """The winding to be replaced: `coils` alike, each of so many turns, dealt into `paths` groups side by side.

    `mean_turn_mm`: of a coil, taken as the same whatever replaces it. `window_mm2`: the room of one side of a coil.
    """

    wire: Wire
    turns: int
    mean_turn_mm: float
    coils: int = 1
    paths: int = 1
    window_mm2: float | None = None

    def __post_init__(self) -> None:
        _turns("turns", self.turns)
        _lies("mean_turn_mm", self.mean_turn_mm, 1, 1e4)
        _lies("coils", self.coils, 1, 96)
        _lies("paths", self.paths, 1, self.coils)
        if self.coils % self.paths:
            raise RewindError("paths", f"{self.coils} coils can't be dealt into {self.paths} groups alike")
        if self.window_mm2 is not None:
            _lies("window_mm2", self.window_mm2, 0.01, 1e5)


@dataclass(frozen=True, slots=True)
class Duty:
    """Where the current is compared. `henries`: of the whole winding as it was; `volts_per_krpm`: its rms volts with
    nothing connected, per 1000 rpm; both None where not measured. `celsius`: how warm the copper runs.
    """

    idle_rpm: float
    working_rpm: float
    poles: int | None = None
    henries: float | None = None
    volts_per_krpm: float | None = None
    load_ohms: float = 0.0
    celsius: float = 20.0

    def __post_init__(self) -> None:
        _lies("idle_rpm", self.idle_rpm, 1, 1e5)
        _lies("working_rpm", self.working_rpm, self.idle_rpm, 1e5)
        if self.poles is not None and (self.poles % 2 or not 2 <= self.poles <= 192):
            raise RewindError("poles", f"a flywheel has an even number of poles from 2 to 192, not {self.poles}")
        if self.henries is not None:
            _lies("henries", self.henries, 1e-9, 1e3)
        if self.volts_per_krpm is not None:
            _lies("volts_per_krpm", self.volts_per_krpm, 1e-6, 1e5)
        _lies("load_ohms", self.load_ohms, 0, 1e6)
        _lies("celsius", self.celsius, -60, 300)


@dataclass(frozen=True, slots=True)
class Question:
    """`turns` and `strands` in hand to be tried; no turns: those that it had. `most_fill`: wire over enamel as a share
    of the window; `tails_mm`: both leads' wire of a coil; `spare`: share bought on top: common practice, no source.
    """

    as_was: AsWas
    spools: Sequence[Spool]
    duty: Duty | None = None
    turns: tuple[int, ...] = ()
    strands: tuple[int, ...] = (1, 2, 3)
    most_fill: float = 0.50
    tails_mm: float = 300.0
    spare: float = 0.10

    def __post_init__(self) -> None:
        if not 1 <= len(self.spools) <= MOST_SPOOLS:
            raise RewindError("spools", f"a shelf has from 1 to {MOST_SPOOLS} spools here, not {len(self.spools)}")
        if len(self.turns) > MOST_TRIED:
            raise RewindError("turns", f"at most {MOST_TRIED} numbers of turns are tried at once")
        for i, n in enumerate(self.turns):
            _turns(f"turns[{i}]", n)
        if not 1 <= len(self.strands) <= MOST_TRIED:
            raise RewindError("strands", f"from 1 to {MOST_TRIED} numbers of strands are tried at once")
        for i, n in enumerate(self.strands):
            _lies(f"strands[{i}]", n, 1, MOST_STRANDS)
        _lies("most_fill", self.most_fill, 0.05, 0.907)
        _lies("tails_mm", self.tails_mm, 0, 1e5)
        _lies("spare", self.spare, 0, 1)


def _turns(place: str, turns: int) -> None:
    if not 1 <= turns <= MOST_TURNS:
        raise RewindError(place, f"a coil has from 1 to {MOST_TURNS:,} turns, not {turns}")


def _lies(place: str, value: float, low: float, high: float) -> None:
    if not low <= value <= high:
        raise RewindError(place, between(low, high, value))
