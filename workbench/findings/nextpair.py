"""Which pair to read next: how far reading each should settle which explanation holds."""

import itertools
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from workbench.findings.cells import Read
from workbench.findings.circuit import Bools, Circuit, Floats, Ints
from workbench.findings.classes import classes
from workbench.findings.cutting import Cut, cells_of, starts
from workbench.findings.evidence import Evidence, own_variance
from workbench.findings.hypotheses import Hypotheses
from workbench.findings.likelihood import Shared, cholesky, covariance, factors, whiten
from workbench.findings.records import NextPair
from workbench.findings.seen import Seen
from workbench.findings.weigh import Weighed
from workbench.stator.meter import Meter
from workbench.stator.pattern import CORE, Pair

MOST_ASKED = 10
# pairs looked at on a part larger than any bench's
_MOST_PAIRS, _MANY_NODES = 200, 20
_MOST_READ = 80
# an explanation less likely than this is not asked after
_FAINT = 2e-4
_MOST_CELLS, _MOST_KINDS = 8, 60
# numbers that one array may take
_ROOM = 1_500_000
_WIDTHS = (6, 16, 32)
# three-point Gauss-Hermite: exact for a polynomial of degree 5
_NODES = np.array([-math.sqrt(3), 0.0, math.sqrt(3)])
_WEIGHTS = np.array([1 / 6, 2 / 3, 1 / 6])


@dataclass(frozen=True, slots=True)
class Outlook:
    """What unread pairs would read under each of some cells, given what was read.

    `weight` (cells,), `kind` (cells,): its class, numbered from 0. `mean`, `sd` (pairs, cells) ohm as shown; `joined`
    (pairs, cells). `which`: the hypotheses looked at, `kinds`: the class of each, as the place of its first.
    """

    pairs: tuple[Pair, ...]
    weight: Floats
    kind: Ints
    which: Ints
    kinds: Ints
    mean: Floats
    sd: Floats
    joined: Bools


def outlook(
    meter: Meter, h: Hypotheses, e: Evidence, shared: Shared, w: Weighed, posterior: Floats, every: Seen,
    pairs: tuple[Pair, ...], unread: Ints,
) -> Outlook | None:  # fmt: skip
    """`every`: what was read and what might be; `unread`: which of it are the `pairs`.

    None where nothing is left to read, one explanation stands alone, or so much is read that none needs asking.
    """
    which = np.flatnonzero(posterior > _FAINT)
    if not pairs or len(which) < 2 or len(e.pairs) > _MOST_READ:
        return None
    if len(which) > _MOST_KINDS:
        which = np.sort(np.argsort(-posterior, kind="stable")[:_MOST_KINDS])
    kind = classes(h, which, every, shared)
    first = np.unique(kind)
    if len(first) < 2:
        return None
    mass = np.bincount(kind, weights=posterior[which], minlength=len(which))[first]
    chosen, weight, of = _representatives(h, w, which[first], mass / mass.sum())
    cells = w.cut.pick(chosen)
    asked = every.take(unread)
    mean, sd = _predict(cells, chosen, w, asked, e, shared, meter)
    joined = asked.finite[:, cells.of] & (mean <= meter.open_above_ohms)
    return Outlook(pairs, weight, of, which, kind, mean, sd, joined)


def best(o: Outlook | None) -> tuple[NextPair, ...]:
    """First what should leave the truth most probable; bits decide between equals, since by themselves they also pay
    for parting unlikely explanations from each other, which settles little."""
    if o is None:
        return ()
    bits, chance = information(o)
    order = np.lexsort((-bits, -np.round(chance, 9)))
    order = order[bits[order] > 1e-6][:MOST_ASKED]
    return tuple(NextPair(o.pairs[i], float(bits[i]), float(chance[i])) for i in order.tolist())


def pairs_to_ask(circuit: Circuit, e: Evidence) -> tuple[Pair, ...]:
    """Every two of wired pins and core that were not read; on a large part, along windings and to the core first."""
    taken = {p.unordered for p in (*e.pairs, *e.opens)}
    wired = {x for e in circuit.ends for x in e}
    nodes = [*(p for p in circuit.pins if circuit.at[p] in wired), CORE]
    pairs: Iterable[tuple[str, str]] = itertools.combinations(nodes, 2)
    if len(nodes) > _MANY_NODES:
        known = set(nodes)
        ends = ((circuit.nodes[a], circuit.nodes[b]) for a, b in circuit.ends)
        near = [(a, b) if nodes.index(a) < nodes.index(b) else (b, a) for a, b in ends if a in known and b in known]
        grounds = ((p, CORE) for p in nodes[:-1])
        pairs = dict.fromkeys(itertools.chain(near, grounds, itertools.islice(pairs, _MOST_PAIRS)))
    fresh = (Pair(a, b) for a, b in pairs if ((a, b) if a <= b else (b, a)) not in taken)
    return tuple(itertools.islice(fresh, _MOST_PAIRS))


def _representatives(h: Hypotheses, w: Weighed, which: Ints, mass: Floats) -> tuple[Ints, Floats, Ints]:
    """A few cells of each class's first explanation, in equal shares of what it weighs; and which class's."""
    wanted = np.zeros(len(h), dtype=bool)
    wanted[which] = True
    at = cells_of(w.cut, wanted)
    of = w.cut.of[at]
    weight = w.cut.share[at]
    own = w.own[of]
    weight = np.where(own, weight * np.exp(np.clip(w.cell_log[at] - np.where(own, w.log[of], 0.0), -700, 50)), weight)
    # each class's cells lie together: one running sum, cut where the classes meet
    run = np.cumsum(weight)
    new = starts(of)
    start = np.concatenate(([0.0], run[new[1:] - 1]))
    total = np.concatenate((run[new[1:] - 1], run[-1:])) - start
    size = np.diff(np.append(new, len(of)))
    place = np.searchsorted(which, of[new])
    share = mass[place]
    n = np.where(size == 1, 1, np.clip(np.rint(20 * share + 3), 4, _MOST_CELLS)).astype(np.intp)
    turn = np.repeat(np.arange(len(n)), n)
    step = np.arange(len(turn)) - np.repeat(np.cumsum(n) - n, n)
    hit = np.searchsorted(run, start[turn] + (step + 0.5) / n[turn] * total[turn])
    hit = np.clip(hit, new[turn], new[turn] + size[turn] - 1)
    picked, which_turn = np.unique(hit, return_index=True)
    got = np.zeros(len(picked))
    np.add.at(got, np.searchsorted(picked, hit), share[turn] / n[turn])
    return at[picked], got, place[turn[which_turn]]


def _behind(w: Weighed, chosen: Ints, cells: Cut, e: Evidence, shared: Shared) -> tuple[Floats, ...]:
    """What the finite readings have under some cells (`chosen` of all): ohms at the meter's terminals and the factors
    of their errors, their covariance's factor and whitened distances."""
    if w.likely and w.likely.low.size:
        # what moves no reading stands with the sound part, in the first place
        at, known = w.place[chosen], w.likely
        return known.x[:, at], known.factors[..., at], known.low[..., at], known.white[:, at]
    here: Read = cells.read(w.finite)
    y = here.mu + shared.lead
    back = factors(here, shared, e.range)
    low = cholesky(covariance(back, y, e, shared))
    return y, back, low, whiten(low, e.shown[:, None] - y)


def _predict(
    cells: Cut, chosen: Ints, w: Weighed, asked: Seen, e: Evidence, shared: Shared, meter: Meter
) -> tuple[Floats, Floats]:
    """Mean and standard deviation of each asked pair's display, given the finite readings (JCGM 101's conditional
    normal law), (pairs, cells)."""
    there = cells.read(asked)
    x = there.mu + shared.lead
    tops = np.array([r.upto_ohms for r in meter.ranges])
    on = np.minimum(np.searchsorted(tops, x), len(tops) - 1)
    f = factors(there, shared, on)
    gain = np.array([r.gain(1.0) for r in meter.ranges])[on] * x * (shared.gains is None)
    own = np.array([own_variance(meter, i) for i in range(len(tops))])[on]
    mean, var = x, own + (f * f).sum(0) + shared.lead_sd**2 + gain * gain
    n = len(e.pairs)
    if n:
        y, back, low, z = _behind(w, chosen, cells, e, shared)
        k = min(len(f), len(back))
        # a cell's own spread along a parameter belongs to both; where one has more axes, they are zero in the other
        cross = np.einsum("knc,kmc->nmc", back[:k], f[:k]) + shared.lead_sd**2
        together = e.range[:, None, None] == on[None]
        cross += together * (e.scale[:, None] * y)[:, None] * gain[None]
        b = whiten(low, cross)
        mean = mean + np.einsum("nmc,nc->mc", b, z)
        var = np.maximum(var - (b * b).sum(0), own)
    return mean, np.sqrt(var)


def information(o: Outlook, only: Ints | None = None) -> tuple[Floats, Floats]:
    """Of each pair (pairs,): the bits that reading it should give about the class, and how probable the true class
    should be after it. `only`: among these cells."""
    every = slice(None) if only is None else only
    weight, kind = o.weight[every], o.kind[every]
    weight = weight / weight.sum()
    joined, mean, sd = o.joined[:, every], o.mean[:, every], o.sd[:, every]
    same = (kind[:, None] == kind[None, :]).astype(float)
    of_class = same @ weight
    shut = ~joined
    open_all, open_class = shut @ weight, (shut * weight) @ same
    with np.errstate(divide="ignore", invalid="ignore"):
        left = open_class / open_all[:, None]
        bits = np.where(shut, np.log2(left / of_class), 0.0) @ weight
        chance = np.where(shut, left, 0.0) @ weight
        # most pairs of two parts are joined under a few explanations only: those are gone through by themselves
        count = joined.sum(1)
        for least, most in itertools.pairwise((0, *(k for k in _WIDTHS if k < len(weight)), len(weight))):
            told = np.flatnonzero((count > least) & (count <= most))
            size = max(1, _ROOM // (3 * most * most))
            for at in (told[k : k + size] for k in range(0, len(told), size)):
                cells = np.argsort(shut[at], axis=1, kind="stable")[:, :most]
                row = at[:, None]
                held = np.where(joined[row, cells], weight[cells], 0.0)
                told_bits, told_chance = _told(mean[row, cells], sd[row, cells], held, kind[cells], of_class[cells])
                bits[at] += told_bits
                chance[at] += told_chance
    return np.maximum(np.nan_to_num(bits), 0.0), np.nan_to_num(chance)


def _told(mean: Floats, sd: Floats, weight: Floats, kind: Ints, of_class: Floats) -> tuple[Floats, Floats]:
    """What `information` gives, as far as it lies in numbers read; all else (pairs, cells)."""
    y = mean[:, :, None] + sd[:, :, None] * _NODES
    d = (y[..., None] - mean[:, None, None, :]) / sd[:, None, None, :]
    d *= d
    np.minimum(d, 1400, out=d)
    d *= -0.5
    density = np.exp(d, out=d)
    share = weight / sd
    mine = np.where(kind[:, :, None] == kind[:, None, :], share[:, None, :], 0.0)
    total = (density @ share[:, None, :, None])[..., 0]
    own = (density @ mine[..., None])[..., 0]
    left = own / total
    gained = np.log2(left / of_class[:, :, None]) @ _WEIGHTS
    counted = weight > 0
    return np.where(counted, gained * weight, 0.0).sum(1), np.where(counted, left @ _WEIGHTS * weight, 0.0).sum(1)


def tells(o: Outlook | None, members: Sequence[int]) -> NextPair | None:
    """The pair that tells most among some hypotheses alone; None where none of them does."""
    if o is None:
        return None
    kinds = np.unique(o.kinds[np.isin(o.which, members)])
    firsts = np.unique(o.kinds)
    only = np.flatnonzero(np.isin(firsts[o.kind], kinds))
    if len(kinds) < 2:
        return None
    bits, chance = information(o, only)
    i = int(bits.argmax())
    return NextPair(o.pairs[i], float(bits[i]), float(chance[i])) if bits[i] > 1e-6 else None
