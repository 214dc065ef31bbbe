"""Which pair to read next: the expected information about which pattern it is."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from workbench.findings.circuit import Bools, Floats, Ints
from workbench.findings.evidence import own_variance
from workbench.findings.likelihood import whiten
from workbench.matching.evidence import LONE_OHMS, LONE_OPEN, Sighted, lone_density, lone_displays
from workbench.matching.layings import Shape
from workbench.matching.library import Ready
from workbench.matching.likely import Looks, Read, Rows, read_cells, read_rows
from workbench.stator.pattern import Pair

MOST_ASKED = 10
# unread pairs looked at on a part larger than any bench's
_MOST_PAIRS = 200
# rows that stand for all: of the patterns, and of parts of none
_MOST_ROWS, _MOST_BROAD = 96, 16
_LONE_NODES = 8
_FAINT = 1e-6
_BROAD_SPREAD = 0.5
# three-point Gauss-Hermite: exact for a polynomial of degree 5
_NODES = np.array([-math.sqrt(3), 0.0, math.sqrt(3)])
_WEIGHTS = np.array([1 / 6, 2 / 3, 1 / 6])


@dataclass(frozen=True, slots=True)
class NextPair:
    """A pair not yet read, and the information (bit) that reading it should give about which pattern it is."""

    pair: Pair
    bits: float


@dataclass(frozen=True, slots=True, eq=False)
class Mass:
    """The posterior of each row; `rest` (patterns,): of patterns with faults that read like nothing; `lone`: of parts
    of none that do."""

    sound_rows: Rows
    sound: Floats
    cell_rows: Rows
    cells: Floats
    broad_rows: Rows
    broad: Floats
    rest: Floats
    lone: float

    @classmethod
    def empty(cls, sound: Rows, broad: Rows, cells: Rows, patterns: int) -> "Mass":
        a, b, c = (np.zeros(len(r)) for r in (sound, cells, broad))
        return cls(sound, a, cells, b, broad, c, np.zeros(patterns), 0.0)


@dataclass(frozen=True, slots=True, eq=False)
class Outlook:
    """What unread pairs would read under some rows, given what was read: `mean`, `sd` (pairs, rows) ohm as shown,
    `joined` (pairs, rows). `weight`, `kind` (rows,): of which class each is, none the last."""

    weight: Floats
    kind: Ints
    mean: Floats
    sd: Floats
    joined: Bools


def next_pairs(nodes: Sequence[str], ready: Ready, s: Sighted, looked: Looks, mass: Mass) -> tuple[NextPair, ...]:
    """At most ten, those that tell something, best first."""
    shape, classes = ready.shape, ready.sound.classes
    read = np.zeros(len(shape.pairs[0]), dtype=bool)
    read[s.finite] = read[s.opens] = True
    asked = np.flatnonzero(~read)[:_MOST_PAIRS]
    if not len(asked):
        return ()
    first = _first_of_like(shape, s, asked)
    told = np.unique(first)
    o = outlook(ready, s, looked, mass, told)
    if o is None:
        return ()
    lone = np.append(np.bincount(classes, weights=mass.rest, minlength=len(classes)), mass.lone)
    bits = information(o, lone)[np.searchsorted(told, first)]
    order = np.argsort(-np.round(bits, 9), kind="stable")[:MOST_ASKED]
    i, j = shape.pairs
    return tuple(
        NextPair(Pair(nodes[i[asked[k]]], nodes[j[asked[k]]]), float(bits[k])) for k in order.tolist() if bits[k] > 1e-6
    )


def _first_of_like(shape: Shape, s: Sighted, asked: Ints) -> Ints:
    """Before anything is read, pairs that some laying exchanges tell alike: the first of each stands for them."""
    if len(s.finite) or len(s.opens):
        return asked
    out: Ints = shape.images[:, asked].min(0)
    return out


def outlook(ready: Ready, s: Sighted, looked: Looks, mass: Mass, asked: Ints) -> Outlook | None:
    """None where no row is left."""
    classes = ready.sound.classes
    none = len(classes)
    parts = []
    for rows, its, broad, most in (
        (mass.sound_rows, mass.sound, False, _MOST_ROWS),
        (mass.cell_rows, mass.cells, False, _MOST_ROWS // 3),
        (mass.broad_rows, mass.broad, True, _MOST_BROAD),
    ):
        row, laying, weight = _spread_out(ready, looked, rows, its, most)
        if not len(row):
            continue
        mean, sd, joined = _predict(ready, s, rows, row, ready.shape.images[laying][:, asked].T, broad)
        kind = np.full(len(row), none) if broad else classes[rows.member[row]]
        parts.append(Outlook(weight, kind, mean, sd, joined))
    if not parts:
        return None
    return Outlook(
        *(np.concatenate([getattr(p, name) for p in parts], -1) for name in ("weight", "kind", "mean", "sd", "joined"))
    )


def _spread_out(ready: Ready, looked: Looks, rows: Rows, mass: Floats, most: int) -> tuple[Ints, Ints, Floats]:
    """Rows with each of the layings that look alike so far, the weightiest, others by even steps through the rest."""
    kept = np.flatnonzero(mass > _FAINT)
    if len(kept) > 4 * most:
        kept = kept[np.argsort(-mass[kept], kind="stable")[: 4 * most]]
    share = ready.sound.share[rows.member[kept]] * (looked.of == rows.look[kept, None])
    at, laying = np.nonzero(share)
    weight = mass[kept[at]] * share[at, laying] / share.sum(1)[at]
    row = kept[at]
    if len(row) <= most:
        return row, laying, weight
    order = np.argsort(-weight, kind="stable")
    sure, rest = order[: most // 2], order[most // 2 :]
    run = np.cumsum(weight[rest])
    steps = most - len(sure)
    hit = rest[np.searchsorted(run, (np.arange(steps) + 0.5) / steps * run[-1])]
    picked = np.concatenate((sure, hit))
    return row[picked], laying[picked], np.concatenate((weight[sure], np.full(steps, run[-1] / steps)))


def _predict(ready: Ready, s: Sighted, rows: Rows, row: Ints, pairs: Ints, broad: bool) -> tuple[Floats, Floats, Bools]:
    """Mean and standard deviation of each asked pair's display given the finite readings (JCGM 101's conditional
    normal law), and whether it is joined: (pairs, rows)."""
    member = rows.member[row]
    if rows.cell is None:
        there = read_rows(ready.sound, s, member, pairs, _BROAD_SPREAD if broad else None)
        joined = ready.sound.joined[pairs, member]
    else:
        cell = rows.cell[row]
        there = read_cells(ready, s, cell, pairs)
        joined = ready.faulty.finite[pairs, cell]
    mean, sd = _given(there, s, rows, row)
    out: Bools = joined & (mean <= s.meter.open_above_ohms)
    return mean, sd, out


def _given(there: Read, s: Sighted, rows: Rows, row: Ints) -> tuple[Floats, Floats]:
    x = there.x + s.lead
    tops = np.array([r.upto_ohms for r in s.meter.ranges])
    on = np.minimum(np.searchsorted(tops, x), len(tops) - 1)
    gain = np.array([r.gain(1.0) for r in s.meter.ranges])[on] * x
    own = np.array([own_variance(s.meter, i) for i in range(len(tops))])[on]
    lead = s.conditions.lead_uncertainty_ohms**2
    var = own + np.einsum("kqr,kqr->qr", there.f, there.f) + lead + gain * gain
    if not len(s.finite):
        return x, np.sqrt(var)
    f, y = rows.f[:, :, row], rows.x[:, row]
    cross = np.einsum("knr,kqr->nqr", f, there.f) + lead
    together = s.e.range[:, None, None] == on[None]
    cross += together * (s.e.scale[:, None] * y)[:, None] * gain[None]
    b = whiten(rows.low[:, :, row], cross)
    mean = x + np.einsum("nqr,nr->qr", b, rows.white[:, row])
    return mean, np.sqrt(np.maximum(var - np.einsum("nqr,nqr->qr", b, b), own))


def information(o: Outlook, lone: Floats) -> Floats:
    """Bits (pairs,) that reading each pair should give about the class. `lone` (classes,): weights of what reads like
    nothing, none the last."""
    weight = np.concatenate((o.weight, lone))
    kind = np.concatenate((o.kind, np.arange(len(lone))))
    weight /= weight.sum()
    lone = weight[len(o.weight) :]
    of_class = np.zeros(len(lone))
    np.add.at(of_class, kind, weight)
    classes = np.flatnonzero(of_class)
    place = np.searchsorted(classes, o.kind)
    of_class, lone = of_class[classes], lone[classes]
    member = np.zeros((len(place), len(classes)))
    member[np.arange(len(place)), place] = 1.0
    held = weight[: len(place)]
    shut = np.where(o.joined, 0.0, held)
    opened = shut @ member + LONE_OPEN * lone
    bits = np.zeros(len(shut))
    for q in range(len(bits)):
        bits[q] = _of_open(opened[q], of_class) + _of_numbers(
            o.mean[q], o.sd[q], np.where(o.joined[q], held, 0.0), place, member, of_class, lone
        )
    return np.maximum(bits, 0.0)


def _of_open(opened: Floats, of_class: Floats) -> float:
    some = opened > 0
    return float((opened[some] * np.log2(opened[some] / of_class[some] / opened.sum())).sum())


def _of_numbers(
    mean: Floats, sd: Floats, held: Floats, place: Ints, member: Floats, of_class: Floats, lone: Floats
) -> float:
    """The share of the bits that lies in numbers read."""
    told = np.flatnonzero(held > 0)
    mean, sd, held, place, member = mean[told], sd[told], held[told], place[told], member[told]
    y = (mean[:, None] + sd[:, None] * _NODES).ravel()
    rows = np.repeat(place, len(_NODES))
    by_class = _density(y, mean, sd, held) @ member + lone_density(y)[:, None] * lone
    mine = by_class[np.arange(len(y)), rows]
    worth = (held[:, None] * _WEIGHTS).ravel()
    with np.errstate(divide="ignore", invalid="ignore"):
        gained = np.log2(mine / of_class[rows] / by_class.sum(1))
    bits = float(np.nan_to_num(gained, neginf=0.0) @ worth)
    # what reads like nothing shows the same numbers whichever class it is of
    some = np.flatnonzero(lone)
    y = lone_displays(_LONE_NODES)
    by_class = _density(y, mean, sd, held) @ member + lone_density(y)[:, None] * lone
    gained = np.log2(by_class[:, some] / of_class[some] / by_class.sum(1, keepdims=True)) @ lone[some]
    return bits + float(gained.sum()) * LONE_OHMS / _LONE_NODES


def _density(y: Floats, mean: Floats, sd: Floats, held: Floats) -> Floats:
    """(y, rows): each row's weight times its density at y, per ohm."""
    d = (y[:, None] - mean) / sd
    d *= d
    np.minimum(d, 1400, out=d)
    d *= -0.5
    np.exp(d, out=d)
    d *= held / sd / math.sqrt(2 * math.pi)
    return d
