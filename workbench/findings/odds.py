"""How likely each fault is before anything is read: as stated, or by what the shop has found so far."""

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import Enum

from workbench.findings.faults import STATED, Fault, from_counts
from workbench.stator.pattern import Pattern

# kinds of windings, each once, in the alphabet's order
Family = tuple[str, ...]

ENOUGH = 20


def family_of(pattern: Pattern) -> Family:
    """The kinds of windings that a pattern has: parts of one family are taken to fail alike."""
    return tuple(sorted({str(w.kind) for w in pattern.windings}))


@dataclass(frozen=True, slots=True)
class Counts:
    """How often decided jobs were found to have each fault, by the family of their pattern."""

    by_family: Mapping[Family, Mapping[Fault, int]] = field(default_factory=dict)

    def of(self, family: Family | None) -> Mapping[Fault, int]:
        """Of one family; None: of the whole shop."""
        if family is not None:
            return self.by_family.get(family, {})
        whole: Counter[Fault] = Counter()
        for counts in self.by_family.values():
            whole.update(counts)
        return whole

    def number(self, family: Family | None) -> int:
        return sum(self.of(family).values())


class Basis(Enum):
    STATED = 0
    SHOP = 1
    FAMILY = 2


@dataclass(frozen=True, slots=True)
class Odds:
    """`priors`, for `explain`, and what they stand on: so many (`number`) decided jobs, `of_family` among them."""

    priors: Mapping[Fault, float]
    basis: Basis = Basis.STATED
    number: int = 0
    family: Family | None = None
    of_family: int = 0


AS_STATED = Odds(STATED)


def odds(counts: Counts, family: Family | None) -> Odds:
    """The odds for parts of one family, by what the shop has found; None: for any part.

    The counts of the family where `ENOUGH` of its jobs were decided with something found, else those of the whole
    shop, each on top of the stated weights (`from_counts`): common practice, no source.
    """
    whole, own = counts.number(None), counts.number(family) if family is not None else 0
    if not whole:
        return Odds(STATED, family=family)
    if family is not None and own >= ENOUGH:
        return Odds(from_counts(counts.of(family)), Basis.FAMILY, own, family, own)
    return Odds(from_counts(counts.of(None)), Basis.SHOP, whole, family, own)
