"""How each reading speaks for or against an explanation, and which explanations the readings leave together."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from workbench.findings.circuit import Bools, Floats, Ints
from workbench.findings.classes import classes
from workbench.findings.cutting import cells_of
from workbench.findings.evidence import Evidence
from workbench.findings.hypotheses import FAULTS, Hypotheses
from workbench.findings.likelihood import Shared, covariance, factors
from workbench.findings.nextpair import Outlook, tells
from workbench.findings.records import Finding, Group, Speech
from workbench.findings.seen import Seen
from workbench.findings.weigh import Weighed

# a reading that one of the two can't give at all counts as this many bits
MOST_BITS = 20.0
# cells of one explanation that are listened to
_MOST_CELLS = 60
# an explanation less likely than this is in no group
_FAINT = 1e-4
_MOST_GROUPED = 60


@dataclass(frozen=True, slots=True)
class Workings:
    """What an answer was worked out from. `where`: the place of each listed hypothesis."""

    h: Hypotheses
    e: Evidence
    shared: Shared
    every: Seen
    w: Weighed
    posterior: Floats
    where: list[str]
    ahead: Outlook | None

    @property
    def number(self) -> dict[tuple[str, str], int]:
        """The hypothesis of each listed finding."""
        faults = [str(FAULTS[k]) for k in self.h.what[: len(self.where)].tolist()]
        return {key: k for k, key in enumerate(zip(faults, self.where, strict=True))}


def speeches(o: Workings, finding: Finding) -> tuple[Speech, ...]:
    """For each pair read (finite ones first): log2 of how much likelier its reading is under the finding than on a
    sound part; above 0 it speaks for the finding. Empty for a sound part and for `unlisted`, which is many
    explanations at once.

    A reading is taken given all the others, which shows what doesn't belong together, and by itself, since of two
    that say the same neither adds anything to the other: what says more of the two counts.
    """
    k = o.number.get((finding.fault, finding.where), 0)
    if not k:
        return ()
    with np.errstate(all="ignore"):
        joined, at_sound = o.w.finite.finite[:, k], o.w.finite.finite[:, 0]
        both = joined & at_sound
        bits = np.where(joined & ~at_sound, MOST_BITS, np.where(at_sound & ~joined, -MOST_BITS, 0.0))
        if both.any() and o.w.own[k]:
            apart = (_densities(o, k, both) - _densities(o, 0, both)) / math.log(2)
            bits[both] = np.where(abs(apart[0]) > abs(apart[1]), apart[0], apart[1])
        opened, opened_sound = o.w.open.finite[:, k], o.w.open.finite[:, 0]
        said = np.concatenate((bits, MOST_BITS * (opened_sound.astype(float) - opened)))
        said = np.clip(np.nan_to_num(said), -MOST_BITS, MOST_BITS)
    return tuple(Speech(p, b) for p, b in zip((*o.e.pairs, *o.e.opens), said.tolist(), strict=True))


def _densities(o: Workings, k: int, of: Bools) -> Floats:
    """Log density of each of the readings `of` under one hypothesis: given the rest of them, and by itself.

    p(y | rest) is the harmonic mean of the cells' own, weighed by what all readings make of them; by itself, their
    plain mean, which is all that a fault of no known size gives.
    """
    at = np.flatnonzero(of)
    only = np.zeros(len(o.h), dtype=bool)
    only[k] = True
    which = cells_of(o.w.cut, only)
    log = o.w.cell_log[which] if o.w.own[k] else np.zeros(len(which))
    every = len(which)
    which = np.sort(which[np.argsort(-log, kind="stable")[:_MOST_CELLS]])
    e = o.e
    part = Evidence((), e.shown[at], e.own[at], e.scale[at], e.range[at], (), np.zeros(0))
    read = o.w.cut.pick(which).read(o.w.finite.take(at))
    x = read.mu + o.shared.lead
    low = covariance(factors(read, o.shared, part.range), x, part, o.shared)
    full = np.moveaxis(low, -1, 0)
    full = np.tril(full) + np.swapaxes(np.tril(full, -1), 1, 2)
    inverse = np.linalg.inv(full)
    z = (part.shown[:, None] - x).T
    across = np.diagonal(inverse, axis1=1, axis2=2)
    pulled = (inverse @ z[:, :, None])[:, :, 0]
    alone = 0.5 * np.log(across / (2 * math.pi)) - 0.5 * pulled**2 / across
    whole = -0.5 * (z * pulled).sum(1) + 0.5 * np.linalg.slogdet(inverse)[1]
    weight = np.exp(whole - whole.max())
    weight /= weight.sum()
    least = alone.min(0)
    given = least - np.log((weight[:, None] * np.exp(least - alone)).sum(0))
    own = np.diagonal(full, axis1=1, axis2=2)
    plain = -0.5 * np.log(2 * math.pi * own) - 0.5 * z**2 / own
    most = plain.max(0)
    itself = most + np.log(np.exp(plain - most).sum(0) / every)
    return np.array([given, itself])


def groups(o: Workings, findings: Sequence[Finding]) -> tuple[Group, ...]:
    """Findings of some weight that the readings taken can't tell apart, likeliest group first."""
    which = np.flatnonzero((o.posterior > _FAINT) & ~o.h.unlisted)
    which = np.sort(which[np.argsort(-o.posterior[which], kind="stable")[:_MOST_GROUPED]])
    if not len(which):
        return ()
    taken: Ints = np.arange(len(o.e))
    first = classes(o.h, which, o.every.take(taken), o.shared)
    number = o.number
    by_number = {number[f.fault, f.where]: f for f in findings if (f.fault, f.where) in number}
    out = []
    for k in np.unique(first).tolist():
        members = which[first == k].tolist()
        if len(members) < 2:
            continue
        held = sorted((by_number[m] for m in members), key=lambda f: -f.probability)
        out.append(Group(tuple(held), math.fsum(f.probability for f in held), tells(o.ahead, members)))
    return tuple(sorted(out, key=lambda g: -g.probability))
