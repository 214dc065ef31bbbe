"""Readings that can't all be right: a series that is not the sum of its parts."""

import itertools
import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from workbench.stator.correct import Corrected, covariance
from workbench.stator.expect import Expectations, Path
from workbench.stator.pattern import Pair

if TYPE_CHECKING:
    from workbench.stator.judge import Row

# every touch adds a little of its own: common practice, no source
_CONTACT_OHMS = 0.03


@dataclass(frozen=True, slots=True)
class Clash:
    """`whole` should be the sum of `parts`. `excess` = whole - sum (ohm), with its U = 2 u from their covariance."""

    whole: Pair
    parts: tuple[Pair, Pair]
    sum: float
    read: float
    expanded: float

    @property
    def excess(self) -> float:
        return self.read - self.sum

    @property
    def looks_like_leads(self) -> bool:
        """The sum is too large: each part carries something that the whole carries only once, as leads do."""
        return self.excess < 0


def clashes(rows: Iterable["Row"], ask: Expectations) -> tuple[Clash, ...]:
    """Triples of read pairs a-c, c-b, a-b that the pattern puts in series, yet don't add up."""
    read: dict[tuple[str, str], tuple[Pair, Corrected]] = {
        r.reading.pair.unordered: (r.reading.pair, r.corrected)
        for r in rows
        if r.corrected is not None and r.expected.path is Path.WINDINGS
    }
    if len(read) > 100:  # a sheet no bench has; keeps the cost of a line bounded
        return ()
    found = []
    for one, two in itertools.combinations(read, 2):
        shared = set(one) & set(two)
        if len(shared) != 1:
            continue
        ends = sorted(set(one) ^ set(two))
        whole = read.get((ends[0], ends[1]))
        if whole is None:
            continue
        parts = (read[one], read[two])
        expected = [ask.of(p).ohms or 0.0 for p in (whole[0], parts[0][0], parts[1][0])]
        if not math.isclose(expected[0], expected[1] + expected[2], rel_tol=1e-9):
            continue
        cov = covariance([whole[1], parts[0][1], parts[1][1]])
        signs = (1.0, -1.0, -1.0)
        var = sum(signs[i] * signs[j] * cov[i, j] for i in range(3) for j in range(3))
        expanded = 2 * math.sqrt(max(var, 0.0) + 3 * _CONTACT_OHMS**2)
        total = parts[0][1].ohms + parts[1][1].ohms
        if abs(whole[1].ohms - total) > expanded:
            found.append(Clash(whole[0], (parts[0][0], parts[1][0]), total, whole[1].ohms, float(expanded)))
    return tuple(found)
