"""Which readings a face draws when there are too many to read."""

from collections import Counter
from collections.abc import Set
from dataclasses import dataclass

from workbench.window.faces.state import Mark, Standing, Tone

READABLE = 20


@dataclass(frozen=True, slots=True)
class Sifted:
    """The marks that are drawn; `hidden` counts at each node the readings that are not, `count` is all of these."""

    shown: tuple[Mark, ...]
    hidden: dict[str, int]
    count: int


def sift(marks: tuple[Mark, ...], picked: Set[str], most: int = READABLE) -> Sifted:
    """All of them up to `most` readings; past that what is at hand, what is not in, and the newest (the last)."""
    read = [m for m in marks if m.standing is not Standing.OFFERED]
    if len(read) <= most:
        return Sifted(marks, {}, 0)
    newest = read[-1]

    def passes(m: Mark) -> bool:
        return (
            m is newest
            or m.chosen
            or m.standing is not Standing.KEPT
            or m.tone is not Tone.IN
            or bool(picked & {m.one, m.other})
        )

    shown = tuple(m for m in marks if passes(m))
    rest = [m for m in marks if not passes(m)]
    return Sifted(shown, dict(Counter(n for m in rest for n in (m.one, m.other))), len(rest))
