"""A short tone for each verdict, so that eyes can stay on the probes: told apart by count and fall, not pitch alone."""

import math
import struct
from dataclasses import dataclass
from functools import cache

RATE = 22050  # samples a second
LOUDNESS = 0.25
_EDGE = 0.006  # seconds of fade, against clicks


@dataclass(frozen=True, slots=True)
class Note:
    """Hertz (0: silence) for so many milliseconds."""

    hertz: float
    ms: int


_GAP = Note(0, 50)
TONES: dict[str, tuple[Note, ...]] = {
    "in": (Note(880, 90),),
    "close": (Note(660, 80), _GAP, Note(660, 80)),
    "continuous": (Note(523, 260),),
    "doubtful": (Note(660, 80), _GAP, Note(440, 160)),
    "out": (Note(440, 140), _GAP, Note(330, 140), _GAP, Note(220, 260)),
    "not by ohms": (Note(523, 60), _GAP, Note(523, 60), _GAP, Note(523, 60)),
    "refused": (Note(165, 160), _GAP, Note(165, 160)),
}


@cache
def samples(word: str) -> bytes:
    """The tone of a verdict's word as 16-bit mono samples at RATE; empty where it has none."""
    out: list[int] = []
    for note in TONES.get(word, ()):
        count = RATE * note.ms // 1000
        for i in range(count):
            seconds = i / RATE
            fade = min(1.0, seconds / _EDGE, (count / RATE - seconds) / _EDGE)
            value = LOUDNESS * fade * math.sin(2 * math.pi * note.hertz * seconds) if note.hertz else 0.0
            out.append(int(32767 * value))
    return struct.pack(f"<{len(out)}h", *out)
