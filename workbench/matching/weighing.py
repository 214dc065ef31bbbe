"""How likely each pattern is, by Bayes' rule over every pattern, laying and fault, and none of them."""

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import numpy as np

from workbench.findings.circuit import Floats, Ints
from workbench.matching.evidence import Sighted, check, sight
from workbench.matching.library import Candidates, Ready
from workbench.matching.likely import FaultyRows, Looks, Rows, likely_cells, likely_rows, looks
from workbench.matching.nextpair import Mass, NextPair, next_pairs
from workbench.stator.meter import Meter
from workbench.stator.sheet import Conditions, Reading

# the shop's guess before anything is read: common practice, no source
NONE = 0.1
FAULTY = 1 / 25
# a part of no pattern: half of them are wound as one is, with any ohms; half are like nothing
BROAD_SPREAD, BROAD_SHARE = 0.5, 0.5


@dataclass(frozen=True, slots=True)
class Ranked:
    """`pattern`: its number in the library. `laying`: the pattern's node under each of the part's, as it most likely
    lies. `alike`: the number of the first pattern that no reading can tell from it (its own, if there is no other)."""

    pattern: int
    probability: float
    laying: Mapping[str, str]
    alike: int


@dataclass(frozen=True, slots=True)
class Weighed:
    """`ranked`: the patterns whose faces can be laid, most likely first. With `none` they sum to 1.

    `next`: the pairs to read next, in the part's names, that which tells most first; bits about which pattern it is,
    patterns that no reading can tell apart taken as one.
    """

    ranked: tuple[Ranked, ...]
    none: float
    next: tuple[NextPair, ...]


def weigh(
    candidates: Candidates, meter: Meter, conditions: Conditions, readings: Iterable[Reading], *,
    faulty: float = FAULTY, none: float = NONE,
) -> Weighed:  # fmt: skip
    """`faulty`: how many parts have a fault; `none`: how many are of no pattern, each a share from 0 to below 1.

    Raises FieldError for readings that this part or meter can't have given.
    """
    ready = candidates.ready
    if ready is None:
        check(candidates.nodes, meter, tuple(readings))
        return Weighed((), 1.0, ())
    s = sight(ready.shape, candidates.nodes, meter, conditions, readings)
    looked = looks(ready, s)
    sound = likely_rows(ready.sound, s, looked)
    broad = likely_rows(ready.sound, s, looked, BROAD_SPREAD)
    cells = likely_cells(ready, s, looked)
    mass, of_pattern, of_none = _masses(ready, s, looked, sound, broad, cells, faulty, none)
    by_look = np.zeros(looked.share.shape)
    for rows, its in ((sound, mass.sound), (cells.rows, mass.cells)):
        np.add.at(by_look, (rows.member, rows.look), its)
    ranked = _ranked(candidates, ready, looked, by_look, of_pattern)
    return Weighed(ranked, of_none, next_pairs(candidates.nodes, ready, s, looked, mass))


def _masses(
    ready: Ready, s: Sighted, looked: Looks, sound: Rows, broad: Rows, cells: FaultyRows, faulty: float, none: float
) -> tuple[Mass, Floats, float]:  # fmt: skip
    """The posterior of every row, of each pattern, and of none."""
    m = len(looked.share)
    each = (1 - none) / m
    intact = (1 - faulty) + faulty * cells.still[sound.member, sound.look]
    with np.errstate(divide="ignore"):
        logs = [
            sound.log + np.log(each * sound.share * intact),
            cells.rows.log + np.log(each * faulty * cells.rows.share),
            s.lone_log + np.log(each * faulty * cells.rest),
            broad.log + np.log(none * BROAD_SHARE / m * broad.share),
            np.array([s.lone_log + (math.log(none * (1 - BROAD_SHARE)) if none > 0 else -math.inf)]),
        ]
    top = max(float(x.max(initial=-math.inf)) for x in logs)
    if top == -math.inf:
        # nothing accounts for it at all, not even none: as before anything was read
        return Mass.empty(sound, broad, cells.rows, m), np.full(m, each), none
    weights = [np.exp(x - top) for x in logs]
    total = math.fsum(float(w.sum()) for w in weights)
    a, b, rest, c, lone = (w / total for w in weights)
    of_pattern = np.bincount(sound.member, weights=a, minlength=m) + rest
    of_pattern += np.bincount(cells.rows.member, weights=b, minlength=m)
    return Mass(sound, a, cells.rows, b, broad, c, rest, float(lone[0])), of_pattern, float(c.sum() + lone[0])


def _ranked(
    candidates: Candidates, ready: Ready, looked: Looks, by_look: Floats, of_pattern: Floats
) -> tuple[Ranked, ...]:  # fmt: skip
    best: Ints = np.where(looked.share > 0, by_look + 1e-300, -1.0).argmax(1)
    out = []
    for which in np.argsort(-of_pattern, kind="stable").tolist():
        # of the layings that look alike so far, the first
        share = np.where(looked.of == best[which], ready.sound.share[which], 0.0)
        laying = candidates.laid(which, int(share.argmax()))
        alike = candidates.patterns[int(ready.sound.classes[which])]
        out.append(Ranked(candidates.patterns[which], float(of_pattern[which]), laying, alike))
    return tuple(out)
