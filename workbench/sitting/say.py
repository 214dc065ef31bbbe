"""A message is an object before it is a widget."""

from collections.abc import Callable
from dataclasses import dataclass, field
from enum import StrEnum


class Tone(StrEnum):
    TELLS = "tells"
    ASKS = "asks"
    REFUSES = "refuses"


@dataclass(frozen=True, slots=True)
class Choice:
    """A way on that a question offers; `act` does it."""

    label: str
    act: Callable[[], None] = field(compare=False)


@dataclass(frozen=True, slots=True)
class Said:
    tone: Tone
    sentence: str
    choices: tuple[Choice, ...] = ()


SILENCE = Said(Tone.TELLS, "")
"""Takes back what was said last."""
