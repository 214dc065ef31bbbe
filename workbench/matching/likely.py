"""How likely the readings are under every laying of every pattern, sound, wound otherwise, or with one fault.

Layings that put the pairs read on the same pairs of a pattern are one row. Rows that a single reading rules out are
dropped before any covariance is built, so that what is left to factorise is a few hundred rows.
"""

import math
from dataclasses import dataclass

import numpy as np

from workbench.findings.circuit import Bools, Floats, Ints
from workbench.findings.likelihood import cholesky, covariance, whiten
from workbench.matching.evidence import Sighted
from workbench.matching.library import Ready
from workbench.matching.tables import Tables
from workbench.stator.verdict import normal_below

# a reading further off than this many standard deviations rules a row out: one true row in a hundred million
_FAR = 6.0
# numbers that one array may take, and distinct layings beyond which faults read like nothing
_ROOM = 1_500_000
_MOST_FAULTY_LAYINGS = 150
_LOG_TAU = math.log(2 * math.pi)
_UNCOUPLED = 1e12  # ohm squared: a reading that says nothing of the others
_normal_below = np.vectorize(normal_below, otypes=[float])


@dataclass(frozen=True, slots=True, eq=False)
class Looks:
    """The layings as far as the pairs read can tell. `of` (layings,): which look each has; `share` (patterns, looks).

    `finite`, `opens` (looks, readings): the pair of a pattern that each reading lies on.
    """

    of: Ints
    share: Floats
    finite: Ints
    opens: Ints


def looks(ready: Ready, s: Sighted) -> Looks:
    t = ready.sound
    on = ready.shape.images[:, np.concatenate((s.finite, s.opens))]
    kept = np.flatnonzero(t.share.any(0))
    of = np.zeros(len(on), dtype=np.intp)
    rows, back = np.unique(on[kept], axis=0, return_inverse=True)
    of[kept] = back.ravel()
    share = np.zeros((len(t.share), len(rows)))
    np.add.at(share.T, of[kept], t.share[:, kept].T)
    n = len(s.finite)
    return Looks(of, share, rows[:, :n], rows[:, n:])


@dataclass(frozen=True, slots=True, eq=False)
class Read:
    """Some rows on some pairs of theirs, the rows last. `x`: ohms without leads; `f` (causes, pairs, rows): ohms that
    one standard deviation of each winding, then of the temperature, then of a cell's parameters, adds."""

    x: Floats
    f: Floats

    def spread(self, s: Sighted) -> Floats:
        """Standard deviation (pairs, rows) by all these causes and the leads."""
        out: Floats = np.sqrt(np.einsum("kpr,kpr->pr", self.f, self.f) + s.conditions.lead_uncertainty_ohms**2)
        return out


def read_rows(t: Tables, s: Sighted, member: Ints, pairs: Ints, spread: float | None) -> Read:
    """`pairs` (pairs, rows): of each row's pattern. `spread`: of every winding as a share, in place of its own."""
    warm = t.warm(s.conditions.celsius)[member]
    x = t.wound[pairs, member] * warm
    windings = len(t.rel)
    f = np.empty((windings + 1, *pairs.shape))
    rel = t.rel[:, member] if spread is None else np.full((windings, len(member)), spread)
    np.multiply(t.part[:, pairs, member], (rel * warm)[:, None, :], out=f[:windings])
    np.multiply(x, s.conditions.celsius_uncertainty / (t.k[member] + s.conditions.celsius), out=f[windings])
    return Read(x + t.linked[pairs, member], f)


def read_cells(ready: Ready, s: Sighted, cells: Ints, pairs: Ints) -> Read:
    """`pairs` (pairs, cells): of each cell's pattern."""
    t, c = ready.sound, ready.faulty
    member = c.member[cells]
    warm = t.warm(s.conditions.celsius)[member]
    x = c.mean[pairs, cells] * warm
    windings = len(t.rel)
    f = np.empty((len(c.factors) + 1, *pairs.shape))
    by = c.factors[:, pairs, cells] * warm
    f[:windings], f[windings + 1 :] = by[:windings], by[windings:]
    f[windings] = x * (s.conditions.celsius_uncertainty / (t.k[member] + s.conditions.celsius))
    return Read(x, f)


@dataclass(frozen=True, slots=True, eq=False)
class Rows:
    """Rows that the readings leave possible. `member`, `look`, `share` (rows,): pattern, look, its share of layings.

    `log` (rows,): log likelihood. `low`, `white`, `f`, `x`: as `likely` leaves them, for what is asked later.
    `cell` (rows,): which cell of the faulty; none for a sound part's.
    """

    member: Ints
    look: Ints
    share: Floats
    log: Floats
    cell: Ints | None
    low: Floats
    white: Floats
    f: Floats
    x: Floats

    def __len__(self) -> int:
        return len(self.member)


def likely_rows(t: Tables, s: Sighted, looked: Looks, spread: float | None = None) -> Rows:
    member, look = np.nonzero(looked.share)
    share = looked.share[member, look]
    fits = np.ones(len(member), dtype=bool)
    for k in range(len(s.finite)):
        at = looked.finite[look, k]
        fits &= t.joined[at, member] | t.mute[at, member]
    # by ohms, a joined pair may read open where the meter doesn't reach
    softly = bool(len(s.opens)) and _reach(t, s) > float(s.e.above.min())
    if not softly:
        for k in range(len(s.opens)):
            at = looked.opens[look, k]
            fits &= ~t.joined[at, member] | t.mute[at, member]
    at_last = np.flatnonzero(fits)
    windings = len(t.rel) + 1
    size = max(1, _ROOM // (windings * (len(s.finite) + len(s.opens) + 1)))
    parts = [
        _rows(t, s, looked, member[some], look[some], share[some], spread, softly)
        for some in (at_last[i : i + size] for i in range(0, max(1, len(at_last)), size))
    ]
    return parts[0] if len(parts) == 1 else _together(parts)


def _rows(
    t: Tables, s: Sighted, looked: Looks, member: Ints, look: Ints, share: Floats, spread: float | None, softly: bool
) -> Rows:  # fmt: skip
    pairs = looked.finite[look].T
    read = read_rows(t, s, member, pairs, spread)
    mute = t.mute[pairs, member]
    near = (_off(read, s, read.spread(s)) <= _FAR) | mute
    kept = np.flatnonzero(near.all(0))
    member, look, share, mute = member[kept], look[kept], share[kept], mute[:, kept]
    read = Read(read.x[:, kept], read.f[:, :, kept])
    log, low, white = _likely(read, s, mute if mute.any() else None)
    if softly:
        log = log + _open_log(t, s, member, looked.opens[look].T, spread)
    return Rows(member, look, share, log, None, low, white, read.f, read.x + s.lead)


def _together(parts: list[Rows]) -> Rows:
    def all_of(name: str) -> Floats:
        return np.concatenate([getattr(p, name) for p in parts], -1)

    member, look = (np.concatenate([getattr(p, n) for p in parts]) for n in ("member", "look"))
    return Rows(member, look, all_of("share"), all_of("log"), None, *map(all_of, ("low", "white", "f", "x")))


def _off(read: Read, s: Sighted, sd: Floats) -> Floats:
    """How far each reading lies from a row's, in standard deviations (pairs, rows)."""
    x = read.x + s.lead
    own = s.e.own[:, None] + (s.e.scale[:, None] * x) ** 2
    out: Floats = np.abs(s.e.shown[:, None] - x) / np.sqrt(sd * sd + own)
    return out


def _likely(read: Read, s: Sighted, mute: Bools | None = None) -> tuple[Floats, Floats, Floats]:
    """Log density (rows,), the covariance's factor and the whitened distances."""
    n, rows = read.x.shape
    if n == 0 or rows == 0:
        return np.zeros(rows), np.zeros((n, n, rows)), np.zeros((n, rows))
    x = read.x + s.lead
    z = s.e.shown[:, None] - x
    cov = covariance(read.f, x, s.e, s.shared)
    if mute is not None:
        z = np.where(mute, 0.0, z)
        cov[np.arange(n), np.arange(n)] += np.where(mute, _UNCOUPLED, 0.0)
    low = cholesky(cov)
    whiten(low, z)
    log = -0.5 * np.einsum("ir,ir->r", z, z) - 0.5 * n * _LOG_TAU - np.log(np.einsum("iir->ir", low)).sum(0)
    if mute is not None:
        said = s.lone + 0.5 * (_LOG_TAU + math.log(_UNCOUPLED))
        log += np.where(mute, said[:, None], 0.0).sum(0)
    return log, low, z


def _reach(t: Tables, s: Sighted) -> float:
    """More ohms than any pair of these patterns reads, by far."""
    return 4 * float((t.wound + t.linked).max(initial=0.0)) + s.lead


def _open_log(t: Tables, s: Sighted, member: Ints, pairs: Ints, spread: float | None) -> Floats:
    """Log probability (rows,) that pairs that read open, where joined, have more ohms than the meter shows."""
    read = read_rows(t, s, member, pairs, spread)
    z = (read.x + s.lead - s.e.above[:, None]) / np.maximum(read.spread(s), 1e-9)
    p = _normal_below(np.clip(z, -8, 8)) if z.size else z
    shut = ~t.joined[pairs, member] | t.mute[pairs, member]
    out: Floats = np.log(np.where(shut, 1.0, p)).sum(0)
    return out


@dataclass(frozen=True, slots=True, eq=False)
class FaultyRows:
    """`rows`: of the cells that read otherwise than a sound part, each with its share of the pattern's faults and of
    the look's layings. `still` (patterns, looks): the share of faults that move nothing read."""

    rows: Rows
    still: Floats
    rest: Floats


def likely_cells(ready: Ready, s: Sighted, looked: Looks) -> FaultyRows:
    t, c = ready.sound, ready.faulty
    still = np.zeros(looked.share.shape)
    rest = c.rest.copy()
    # ohms say nothing of an element's path: a fault there is not told from none
    muted = t.mute.any(0)
    still[muted] = (1 - rest)[muted, None]
    used = np.flatnonzero(looked.share.any(0))
    cells, look = [np.zeros(0, dtype=np.intp)], [np.zeros(0, dtype=np.intp)]
    if len(c.member) and len(used) <= _MOST_FAULTY_LAYINGS:
        warm = t.warm(s.conditions.celsius)[c.member]
        for u in used.tolist():
            alive, quiet = _alive(ready, s, looked, u, warm)
            if len(quiet):
                still[:, u] += np.bincount(c.member[quiet], weights=c.share[quiet], minlength=len(still))
            cells.append(alive)
            look.append(np.full(len(alive), u))
    elif len(c.member):
        rest = np.ones(len(rest))
    rows = _cell_rows(ready, s, looked, np.concatenate(cells), np.concatenate(look))
    return FaultyRows(rows, still, rest)


def _alive(ready: Ready, s: Sighted, looked: Looks, u: int, warm: Floats) -> tuple[Ints, Ints]:
    """Cells that may have given the readings under a look, and those that read as a sound part does."""
    t, c = ready.sound, ready.faulty
    mine = (looked.share[:, u] > 0) & ~t.mute.any(0)
    here = mine[c.member]
    odd = np.zeros(len(here), dtype=bool)
    for p in (*looked.finite[u], *looked.opens[u]):
        odd |= c.odd[p]
    quiet = np.flatnonzero(here & ~odd)
    here &= odd
    for p, above in zip(looked.opens[u], s.e.above, strict=True):
        here &= ~c.finite[p] | (c.mean[p] * warm + s.lead > above)
    for p in looked.finite[u]:
        here &= c.finite[p]
    alive = np.flatnonzero(here)
    lead = s.conditions.lead_uncertainty_ohms**2
    for k, p in enumerate(looked.finite[u]):
        x = c.mean[p, alive] * warm[alive]
        share = s.conditions.celsius_uncertainty / (t.k[c.member[alive]] + s.conditions.celsius)
        var = c.square[p, alive] * warm[alive] ** 2 + (x * share) ** 2 + lead
        x = x + s.lead
        var = var + s.e.own[k] + (s.e.scale[k] * x) ** 2
        alive = alive[(s.e.shown[k] - x) ** 2 <= _FAR**2 * var]
    return alive, quiet


def _cell_rows(ready: Ready, s: Sighted, looked: Looks, cells: Ints, look: Ints) -> Rows:
    c = ready.faulty
    member = c.member[cells]
    share = c.share[cells] * looked.share[member, look]
    size = max(1, _ROOM // ((len(c.factors) + 1) * (len(s.finite) + 1)))
    parts = []
    for i in range(0, max(1, len(cells)), size):
        some = slice(i, i + size)
        read = read_cells(ready, s, cells[some], looked.finite[look[some]].T)
        log, low, white = _likely(read, s)
        parts.append(Rows(member[some], look[some], share[some], log, cells[some], low, white, read.f, read.x + s.lead))
    if len(parts) == 1:
        return parts[0]
    whole = _together(parts)
    return Rows(whole.member, whole.look, whole.share, whole.log, cells, whole.low, whole.white, whole.f, whole.x)
