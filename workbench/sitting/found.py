"""What a part may be said to have been found to have, when it is decided on."""

from dataclasses import dataclass

from workbench.findings.faults import BenchFault, Fault
from workbench.findings.records import Finding
from workbench.findingwords import kind_words, title_words
from workbench.records import Outcome
from workbench.sitting.bench import Bench
from workbench.sitting.says import FAINT, ROWS

# every kind there is a word for; what is none of them comes last
KINDS = (*(f for f in Fault if f is not Fault.UNLISTED), *BenchFault, Fault.UNLISTED)


@dataclass(frozen=True, slots=True)
class FoundChoice:
    """`fault`, `where`: codes as they are kept; empty: not said, nowhere in particular."""

    title: str
    fault: str = ""
    where: str = ""


NOT_SAID = FoundChoice("not said")


@dataclass(frozen=True, slots=True)
class FoundChoices:
    """`likely`: what the readings say, likeliest first. `before`: what was said when it was decided before. `mended`:
    it was repaired or wound anew within this visit.
    """

    likely: tuple[FoundChoice, ...] = ()
    others: tuple[FoundChoice, ...] = tuple(FoundChoice(kind_words(f), f) for f in KINDS)
    before: FoundChoice | None = None
    mended: bool = False

    @property
    def every(self) -> tuple[FoundChoice, ...]:
        """In the order they are offered."""
        return (*self.likely, *self.others, NOT_SAID)

    def proposed(self, outcome: Outcome | None) -> FoundChoice:
        """What stands there until it is changed: what was said before, else what the readings say, if anything.

        A part that passes is put down as sound, whatever leads, unless it was mended: it wasn't sound when it came in.
        Any other as the likeliest that isn't sound.
        """
        if self.before is not None:
            return self.before
        if outcome is None or not self.likely:
            return NOT_SAID
        passes = outcome is Outcome.PASS
        if passes and self.mended:
            return NOT_SAID
        among = self.every if passes else self.likely
        return next((c for c in among if (c.fault == Fault.SOUND) is passes), NOT_SAID)


def found_choices(bench: Bench) -> FoundChoices:
    """The bench's explanations first, then every kind of fault without a place."""
    found = bench.explained if bench.judged.rows else None
    shown = [f for f in found.findings if f.probability >= FAINT][:ROWS] if found is not None else []
    likely = [FoundChoice(title_words(f, bench.pattern), f.fault, f.where) for f in shown]
    kinds = [FoundChoice(kind_words(f), f) for f in KINDS]
    before = _before(bench, (*likely, *kinds))
    if before is not None and before not in (*likely, *kinds):
        likely.append(before)
    offered = {(c.fault, c.where) for c in likely}
    others = tuple(k for k in kinds if (k.fault, k.where) not in offered)
    return FoundChoices(tuple(likely), others, before, bench.mended)


def found_words(bench: Bench) -> str:
    """What the part was put down to have when it was decided on; empty where that was not said."""
    before = _before(bench, ())
    return before.title if before is not None else ""


def _before(bench: Bench, offered: tuple[FoundChoice, ...]) -> FoundChoice | None:
    d = bench.decided
    if d is None or not d.found:
        return None
    known = next((c for c in offered if (c.fault, c.where) == (d.found, d.found_where)), None)
    if known is not None:
        return known
    code = next((f for f in KINDS if f == d.found), None)
    title = title_words(Finding(code, d.found_where, 0.0), bench.pattern) if code is not None else d.found
    return FoundChoice(title, d.found, d.found_where)
