"""What a drawn face shows, as frozen records: the page makes them, the face only draws them."""

from dataclasses import dataclass
from enum import StrEnum

from workbench.sitting.faceplan import FacePlan


class Tone(StrEnum):
    """What a line tells of its pair."""

    IN = "in"
    CLOSE = "close"
    DOUBTFUL = "doubtful"
    CONTINUOUS = "continuous"
    OUT = "out"
    PLAIN = "plain"


class Standing(StrEnum):
    """KEPT is safe on disk, PENDING not yet; OFFERED is the next pair to read."""

    KEPT = "kept"
    PENDING = "pending"
    OFFERED = "offered"


@dataclass(frozen=True, slots=True)
class Mark:
    """A line between two nodes with its value beside it. `chosen` is the pair in hand.

    A node that is neither on a face shown nor the core lies on another plug: the line then leaves its face.
    """

    one: str
    other: str
    text: str = ""
    tone: Tone = Tone.PLAIN
    standing: Standing = Standing.KEPT
    chosen: bool = False
    speaks: int = 0  # for the explanation that is pointed at (1), or against it (-1)

    @property
    def spoken(self) -> str:
        """The same for a screen reader."""
        if self.standing is Standing.OFFERED:
            return "offered next"
        word = "" if self.tone is Tone.PLAIN or self.tone.value in self.text.split() else f" {self.tone.value}"
        for_it = {1: ", speaks for it", -1: ", speaks against it"}.get(self.speaks, "")
        return f"{self.text}{word}{for_it}" + (", not yet safe" if self.standing is Standing.PENDING else "")


@dataclass(frozen=True, slots=True)
class FaceState:
    """The faces as they should be seen: `plan` is the plug in sight, `beside` all that stand side by side, it too.

    No `beside`: that one plug. Marks come oldest first. `picked` holds nodes, the core among them; `active` False takes
    no picks.
    """

    plan: FacePlan
    marks: tuple[Mark, ...] = ()
    picked: frozenset[str] = frozenset()
    active: bool = True
    beside: tuple[FacePlan, ...] = ()

    @property
    def plans(self) -> tuple[FacePlan, ...]:
        """Every plug shown, in its order."""
        return self.beside or (self.plan,)
