"""Two faults at once: what they say together, mostly from what each says alone."""

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from workbench.findings.circuit import Bools, Circuit, Floats, Ints
from workbench.findings.evidence import Evidence
from workbench.findings.hypotheses import Hypotheses, What
from workbench.findings.likelihood import Shared
from workbench.findings.second import beside
from workbench.findings.weigh import Weighed
from workbench.stator.sheet import Conditions

OF_TWO = (What.OPEN_WINDING, What.OPEN_LEAD, What.SHORTED, What.TO_CORE, What.RESISTIVE)
# faults tried as the one of two whose cells are gone through one by one
_MOST_FIRSTS = 8
# readings times windings, above which they are not
_LARGE = 400


@dataclass(frozen=True, slots=True)
class _Pairing:
    """The kinds of which two may meet. `apart` (d, d): at different places, each two once.

    `lead`, `opener`, `passive` (d,): open leads, open windings, and what adds to or takes from ohms in series.
    """

    d: Ints
    what: Ints
    place: Ints
    apart: Bools
    count: int
    lead: Bools
    opener: Bools
    passive: Bools


@lru_cache(maxsize=64)
def _pairing(h: Hypotheses) -> _Pairing:
    d = np.concatenate([h.at[k] for k in OF_TWO])
    what = h.what[d]
    pinned = (what == What.OPEN_LEAD) | (what == What.RESISTIVE)
    place = np.where(pinned, -1 - h.a[d], h.a[d])
    apart = np.triu(place[:, None] != place[None, :], 1)
    passive = np.isin(what, (What.SHORTED, What.RESISTIVE))
    return _Pairing(
        d, what, place, apart, int(apart.sum()), what == What.OPEN_LEAD, what == What.OPEN_WINDING, passive
    )  # fmt: skip


def double_log(
    circuit: Circuit, h: Hypotheses, e: Evidence, shared: Shared, w: Weighed, conditions: Conditions
) -> float:
    """Log likelihood of the readings under two faults at different places, all such pairs being equally likely.

    One that only parts pairs (an open lead, an opened bridge) leaves the ohms of the other as they are: exact. Two
    that both move ohms are taken as independent, but no likelier than the better of them alone; only where no single
    explanation fits well are they worked out together (`second.beside`), for the likeliest of the first.
    """
    p = _pairing(h)
    count = p.count
    if not count:
        return -math.inf
    every = _from_singles(circuit, h, e, w, p)
    n = len(e.pairs)
    fitting = np.isfinite(every[p.apart]).any() or bool((w.opens & np.isfinite(w.log)).any())
    if n * circuit.windings <= _LARGE and not (fitting and w.square <= n + 4.5 * math.sqrt(2 * n)):
        every = _together(circuit, h, e, shared, w, conditions, p, every)
    known = every[p.apart]
    top = known.max()
    if not np.isfinite(top):
        return -math.inf
    return float(top + np.log(np.exp(known - top).sum() / count))


def _from_singles(circuit: Circuit, h: Hypotheses, e: Evidence, w: Weighed, p: _Pairing) -> Floats:
    log = w.log[p.d]
    possible = np.isfinite(log)
    parts = p.lead | (circuit.bridge[np.maximum(p.place, 0)] & p.opener)
    # of the pairs that read open: which each leaves joined, and which it parts
    joined = w.open.finite[:, p.d]
    parted = w.open.probe.same[:, None] & ~joined & parts
    still = (joined.T.astype(float) @ (~parted).astype(float)) > 0
    # row: what it does to the ohms; column: what it parts
    parting = np.where(parts & possible & ~still & possible[:, None], log[:, None], -np.inf)
    two = parts[:, None] & parts
    with_open = np.where(two, np.minimum(parting, parting.T), np.maximum(parting, parting.T))
    shut = possible & ~np.asarray(joined.any(0))
    larger = np.maximum(log[:, None], log)
    known = np.where(possible, log, -1e300)
    product = known[:, None] + known - w.log[0] if np.isfinite(w.log[0]) else larger
    moved = np.where(shut[:, None] & shut, np.minimum(larger, product), -np.inf)
    # what moves nothing by itself, beside a short that joins two parts: as that short alone
    passive = p.passive & ~possible
    moved = np.where(passive & shut[:, None], log[:, None], np.where(passive[:, None] & shut, log, moved))
    out: Floats = np.where(parts[:, None] | parts, with_open, moved)
    return out


def _together(
    circuit: Circuit, h: Hypotheses, e: Evidence, shared: Shared, w: Weighed, conditions: Conditions, p: _Pairing,
    every: Floats,
) -> Floats:  # fmt: skip
    out = every.copy()
    probe = w.finite.probe
    touched = np.isin(h.a[p.d], np.concatenate((probe.i, probe.j))) & (p.what == What.RESISTIVE)
    moves = touched | ((p.what == What.SHORTED) & np.asarray(w.finite.moves[:, p.d].any(0)))
    firsts = np.flatnonzero((p.what == What.OPEN_WINDING) | moves)
    # what explains most alone is likeliest to be one of the two
    alone = np.where(np.isfinite(w.log[p.d[firsts]]), w.log[p.d[firsts]], -1e300)
    alone[p.what[firsts] == What.OPEN_WINDING] = 0.0
    for k in firsts[np.argsort(-alone, kind="stable")][:_MOST_FIRSTS].tolist():
        log = beside(circuit, h, e, shared, w, conditions, int(p.d[k]), p.d)
        worked = (p.place != p.place[k]) & np.isin(p.what, (What.SHORTED, What.TO_CORE, What.RESISTIVE))
        for other in np.flatnonzero(worked).tolist():
            one, two = min(k, other), max(k, other)
            out[one, two] = log[other]
    return out
