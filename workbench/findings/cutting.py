"""Hypotheses cut into cells, ready to be read on any pairs."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from workbench.findings.cells import Branch, Plain, Read, Series
from workbench.findings.circuit import Bools, Floats, Ints
from workbench.findings.grids import Axis, Grids
from workbench.findings.hypotheses import Hypotheses, What
from workbench.findings.seen import Seen

_NONE = Axis(np.zeros(1), np.zeros(1))


@dataclass(frozen=True, slots=True)
class Cut:
    """Cells in the order plain, series, branch. `of` (cells,): whose each is; `share` (cells,): of its prior."""

    plain: Plain
    series: Series
    branch: Branch
    of: Ints
    share: Floats

    def __len__(self) -> int:
        return len(self.of)

    def pick(self, which: Ints) -> "Cut":
        """`which` in rising order."""
        p, s = len(self.plain), len(self.plain) + len(self.series)
        one, two = np.searchsorted(which, (p, s))
        return Cut(
            self.plain.pick(which[:one]), self.series.pick(which[one:two] - p), self.branch.pick(which[two:] - s),
            self.of[which], self.share[which],
        )  # fmt: skip

    def read(self, seen: Seen) -> Read:
        parts = []
        if len(self.plain):
            parts.append(self.plain.read(seen.probe, seen.ohms, seen.jac))
        if len(self.series):
            parts.append(self.series.read(seen.probe))
        if len(self.branch):
            parts.append(self.branch.read(seen.probe))
        if len(parts) == 1:
            return parts[0]
        return Read(
            np.concatenate([p.mu for p in parts], -1),
            np.concatenate([p.jac for p in parts], -1),
            np.concatenate([p.par for p in parts], -1),
        )


@lru_cache(maxsize=64)
def cut(h: Hypotheses, g: Grids) -> Cut:
    """All cells of all hypotheses."""
    plain = [
        _product(h.at[What.SOUND]), _product(h.at[What.OPEN_LEAD]), _product(h.at[What.RESISTIVE], g.lead_ohms),
        _product(h.at[What.SWAPPED]), _product(h.at[What.UNZEROED], g.unzeroed), _product(h.at[What.WARMER], g.rise),
    ]  # fmt: skip
    series = [
        _product(h.at[What.OPEN_WINDING]), _product(h.at[What.SHORTED], g.fraction),
        _product(h.at[What.JOINT], g.joint_ohms),
    ]  # fmt: skip
    branch = [
        _product(h.at[What.TO_CORE], g.fault_ohms, g.position),
        _product(h.at[What.TO_WINDING], g.fault_ohms_ab, g.position_ab, g.position_ab),
        _product(h.at[What.LEAK], g.leak_ohms, g.leak_position),
    ]  # fmt: skip
    p, s, b = _joined(plain), _joined(series), _joined(branch)
    what_p, what_s = h.what[p.of], h.what[s.of]
    pin = np.where(what_p == What.RESISTIVE, h.a[p.of], np.where(what_p == What.UNZEROED, -2, -1))
    first = h.at[What.SWAPPED][0] if len(h.at[What.SWAPPED]) else 0
    warm, shorted = what_p == What.WARMER, what_s == What.SHORTED
    return Cut(
        Plain(
            np.where(what_p == What.SWAPPED, p.of - first + 1, 0), pin, np.where(warm, 0.0, p.size),
            np.where(warm, 0.0, p.size_spread), np.where(warm, p.size, 0.0), np.where(warm, p.size_spread, 0.0),
        ),
        Series(
            h.a[s.of], np.where(shorted, s.size, 0.0), np.where(what_s == What.JOINT, s.size, 0.0),
            what_s == What.OPEN_WINDING, s.size_spread,
        ),
        Branch(h.a[b.of], b.x, h.b[b.of], b.y, b.size, b.size_spread, b.x_spread, b.y_spread),
        np.concatenate((p.of, s.of, b.of)),
        np.concatenate((p.share, s.share, b.share)),
    )  # fmt: skip


def cells_of(cells: Cut, wanted: Bools) -> Ints:
    """Which cells belong to the `wanted` (hypotheses,)."""
    out: Ints = wanted.take(cells.of).nonzero()[0]
    return out


def starts(of: Ints) -> Ints:
    """Where each hypothesis' cells begin, which lie together."""
    new = np.empty(len(of), dtype=bool)
    new[:1] = True
    np.not_equal(of[1:], of[:-1], out=new[1:])
    out: Ints = new.nonzero()[0]
    return out


def integrated(cells: Cut, log: Floats, out: Floats) -> Floats:
    """`out` (hypotheses,) with each one's log likelihood, its cells' taken together, in place."""
    # scaled by each one's own best, since one may be thousands below another
    start = starts(cells.of)
    top = np.maximum.reduceat(log, start)
    size = np.diff(np.append(start, len(log)))
    out[cells.of[start]] = np.log(np.add.reduceat(cells.share * np.exp(log - np.repeat(top, size)), start)) + top
    return out


@dataclass(frozen=True, slots=True)
class _Block:
    of: Ints
    size: Floats
    size_spread: Floats
    x: Floats
    x_spread: Floats
    y: Floats
    y_spread: Floats
    share: Floats


def _joined(blocks: Sequence[_Block]) -> _Block:
    return _Block(*(np.concatenate([getattr(b, name) for b in blocks]) for name in _Block.__slots__))


def _product(which: Ints, size: Axis = _NONE, x: Axis = _NONE, y: Axis = _NONE) -> _Block:
    """One cell for each hypothesis and each combination of its axes."""
    shape = (len(which), len(x), len(y), len(size))

    def spread_out(values: Floats | Ints, axis: int) -> Floats:
        view = [1, 1, 1, 1]
        view[axis] = -1
        return np.broadcast_to(values.astype(float).reshape(view), shape).ravel()

    n = len(x) * len(y) * len(size)
    return _Block(
        spread_out(which, 0).astype(np.intp), spread_out(size.values, 3), spread_out(size.spread, 3),
        spread_out(x.values, 1), spread_out(x.spread, 1), spread_out(y.values, 2), spread_out(y.spread, 2),
        np.full(len(which) * n, 1 / n),
    )  # fmt: skip
