"""Which pair to read next: the expected information about which explanation holds."""

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from workbench.findings.cells import Read
from workbench.findings.circuit import Bools, Circuit, Floats, Ints
from workbench.findings.classes import classes
from workbench.findings.cutting import Cut, cut
from workbench.findings.evidence import Evidence, own_variance
from workbench.findings.hypotheses import Hypotheses, Seen
from workbench.findings.likelihood import Shared, cholesky, covariance, factors, whiten
from workbench.findings.records import NextPair
from workbench.findings.weigh import Weighed, nodes_of
from workbench.stator.meter import Meter
from workbench.stator.pattern import CORE, Pair, Pattern

MOST_ASKED = 10
# pairs looked at on a part larger than any bench's
_MOST_PAIRS = 400
_MOST_READ = 120
# an explanation less likely than this is not asked after
_FAINT = 2e-4
_MOST_CELLS, _MOST_KINDS = 8, 60
# numbers that one array may take
_ROOM = 1_500_000
# three-point Gauss-Hermite: exact for a polynomial of degree 5
_NODES = np.array([-math.sqrt(3), 0.0, math.sqrt(3)])
_WEIGHTS = np.array([1 / 6, 2 / 3, 1 / 6])


@dataclass(frozen=True, slots=True)
class Outlook:
    """What unread pairs would read under each of some cells, given what was read.

    `weight` (cells,), `kind` (cells,): its class. `mean`, `sd` (pairs, cells) ohm as shown; `joined` (pairs, cells).
    """

    pairs: tuple[Pair, ...]
    weight: Floats
    kind: Ints
    of: Ints
    mean: Floats
    sd: Floats
    joined: Bools


def outlook(
    pattern: Pattern, meter: Meter, circuit: Circuit, h: Hypotheses, e: Evidence, shared: Shared, w: Weighed,
    posterior: Floats,
) -> Outlook | None:  # fmt: skip
    """None where nothing is left to read, one explanation stands alone, or so much is read that none needs asking."""
    if len(e.pairs) > _MOST_READ:
        return None
    taken = {p.unordered for p in (*e.pairs, *e.opens)}
    pairs = tuple(itertools.islice((p for p in _pairs(circuit) if p.unordered not in taken), _MOST_PAIRS))
    which = np.argsort(-posterior, kind="stable")[:_MOST_KINDS]
    which = np.sort(which[posterior[which] > _FAINT])
    if not pairs or len(which) < 2:
        return None
    asked = Seen(circuit, h, *nodes_of(circuit, pairs))
    every = Seen(circuit, h, *nodes_of(circuit, (*pairs, *e.pairs, *e.opens)))
    kind = classes(circuit, h, which, every, shared)
    first = np.unique(kind)
    if len(first) < 2:
        return None
    mass = np.bincount(kind, weights=posterior[which], minlength=len(which))[first]
    cells, weight = _representatives(circuit, h, w, which[first], mass / mass.sum())
    mean, sd = _predict(cells, w.finite, asked, e, shared, meter)
    joined = asked.finite[:, cells.of] & (mean <= meter.open_above_ohms)
    return Outlook(pairs, weight, np.searchsorted(which[first], cells.of), cells.of, mean, sd, joined)


def best(o: Outlook | None) -> tuple[NextPair, ...]:
    if o is None:
        return ()
    bits = information(o)
    order = np.argsort(-bits, kind="stable")[:MOST_ASKED]
    return tuple(NextPair(o.pairs[i], float(bits[i])) for i in order.tolist() if bits[i] > 1e-6)


def _pairs(circuit: Circuit) -> "itertools.chain[Pair]":
    wired = {x for e in circuit.ends for x in e}
    nodes = [*(p for p in circuit.pins if circuit.at[p] in wired), CORE]
    # along the windings first, so that a cut leaves the telling ones
    near = [(a, b) for a, b in circuit.ends if circuit.nodes[a] in nodes and circuit.nodes[b] in nodes]
    named = dict.fromkeys(Pair(*sorted((circuit.nodes[a], circuit.nodes[b]))) for a, b in near)
    if len(nodes) < 30:
        return itertools.chain(Pair(a, b) for a, b in itertools.combinations(nodes, 2))
    grounds = (Pair(p, CORE) for p in nodes[:-1])
    rest = (Pair(a, b) for a, b in itertools.combinations(nodes, 2))
    return itertools.chain(dict.fromkeys(itertools.chain(named, grounds, itertools.islice(rest, 2000))))


def _representatives(circuit: Circuit, h: Hypotheses, w: Weighed, which: Ints, mass: Floats) -> tuple[Cut, Floats]:
    """A few cells of each class's first explanation, in equal shares of what it weighs."""
    order = np.argsort(which)
    which, mass = which[order], mass[order]
    cells = cut(circuit, h, which, w.grids)
    weight = cells.share.copy()
    own = w.own_cells[cells.of]
    logs = w.cell_log[np.isin(w.cut.of, which)]
    if len(logs):
        weight[own] *= np.exp(np.clip(logs - w.log[cells.of[own]], -700, 50))
    chosen: list[Ints] = []
    shares: list[Floats] = []
    for k, m in zip(which.tolist(), mass.tolist(), strict=True):
        at = np.flatnonzero(cells.of == k)
        n = 1 if len(at) == 1 else max(3, min(_MOST_CELLS, round(12 * m + 3)))
        run = np.cumsum(weight[at])
        hit = np.searchsorted(run, (np.arange(n) + 0.5) / n * run[-1])
        got, times = np.unique(np.minimum(hit, len(at) - 1), return_counts=True)
        chosen.append(at[got])
        shares.append(times * (m / n))
    picked, share = np.concatenate(chosen), np.concatenate(shares)
    rising = np.argsort(picked)
    return cells.pick(picked[rising]), share[rising]


def _predict(cells: Cut, finite: Seen, asked: Seen, e: Evidence, shared: Shared, meter: Meter) -> tuple[Floats, Floats]:
    """Mean and standard deviation of each asked pair's display, given the finite readings (JCGM 101's conditional
    normal law), (pairs, cells)."""
    there = cells.read(asked)
    f = factors(there, shared)
    x = there.mu + shared.lead
    tops = np.array([r.upto_ohms for r in meter.ranges])
    on = np.minimum(np.searchsorted(tops, x), len(tops) - 1)
    gain = np.array([r.gain(1.0) for r in meter.ranges])[on] * x
    own = np.array([own_variance(meter, i) for i in range(len(tops))])[on]
    mean, var = x, own + (f * f).sum(0) + shared.lead_sd**2 + gain * gain
    n = len(e.pairs)
    if n:
        here: Read = cells.read(finite)
        y = here.mu + shared.lead
        back = factors(here, shared)
        low = cholesky(covariance(back, y, e, shared))
        z = whiten(low, e.shown[:, None] - y)
        k = min(len(f), len(back))
        # a cell's own spread along a parameter belongs to both; where one has more axes, they are zero in the other
        cross = np.einsum("knc,kmc->nmc", back[:k], f[:k]) + shared.lead_sd**2
        together = e.range[:, None, None] == on[None]
        cross += together * (e.scale[:, None] * y)[:, None] * gain[None]
        b = whiten(low, cross)
        mean = mean + np.einsum("nmc,nc->mc", b, z)
        var = np.maximum(var - (b * b).sum(0), own)
    return mean, np.sqrt(var)


def information(o: Outlook, only: Ints | None = None) -> Floats:
    """Bits (pairs,) that reading each pair should give about the class. `only`: among these cells."""
    weight = o.weight if only is None else o.weight[only]
    kind = o.kind if only is None else o.kind[only]
    weight = weight / weight.sum()
    joined = o.joined if only is None else o.joined[:, only]
    mean = o.mean if only is None else o.mean[:, only]
    sd = o.sd if only is None else o.sd[:, only]
    same = (kind[:, None] == kind[None, :]).astype(float)
    of_class = same @ weight
    shut = ~joined
    with np.errstate(divide="ignore", invalid="ignore"):
        open_all = shut @ weight
        open_class = (shut * weight) @ same
        bits = np.where(shut, np.log2(open_class / of_class / open_all[:, None]), 0.0) @ weight
        told = np.flatnonzero(joined.any(1))
        size = max(1, _ROOM // (3 * len(weight) ** 2))
        for at in (told[k : k + size] for k in range(0, len(told), size)):
            m, s, j = mean[at], sd[at], joined[at]
            y = m[:, :, None] + s[:, :, None] * _NODES
            d = (y[..., None] - m[:, None, None, :]) / s[:, None, None, :]
            density = np.exp(-0.5 * np.minimum(d * d, 1400)) * (j * weight / s)[:, None, None, :]
            every = density.sum(-1)
            mine = (density * same[None, :, None, :]).sum(-1)
            gained = np.log2(mine / of_class[:, None] / every) @ _WEIGHTS
            bits[at] += np.where(j, gained, 0.0) @ weight
    out: Floats = np.maximum(np.nan_to_num(bits), 0.0)
    return out


def tells(o: Outlook | None, members: Sequence[int]) -> NextPair | None:
    """The pair that tells most among some explanations alone."""
    if o is None:
        return None
    only = np.flatnonzero(np.isin(o.of, members))
    if len(np.unique(o.kind[only])) < 2:
        return None
    bits = information(o, only)
    i = int(bits.argmax())
    return NextPair(o.pairs[i], float(bits[i])) if bits[i] > 1e-6 else None
