"""Hypotheses cut into cells, ready to be read on any probe."""

from dataclasses import dataclass

import numpy as np

from workbench.findings.cells import Branch, Plain, Read, Series
from workbench.findings.circuit import Circuit, Floats, Ints
from workbench.findings.grids import Axis, Grids
from workbench.findings.hypotheses import Hypotheses, Seen, What

_PLAIN = (What.SOUND, What.OPEN_WINDING, What.OPEN_LEAD, What.RESISTIVE, What.SWAPPED, What.UNZEROED, What.WARMER)


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


def cut(circuit: Circuit, h: Hypotheses, which: Ints, g: Grids) -> Cut:
    """The cells of the hypotheses `which`, in rising order."""
    what = h.what[which]
    plain, p_of, p_share = _plain(h, which[np.isin(what, _PLAIN)], circuit, g)
    series, s_of, s_share = _series(circuit, h, which, g)
    branch, b_of, b_share = _branch(h, which, g)
    return Cut(
        plain, series, branch, np.concatenate((p_of, s_of, b_of)), np.concatenate((p_share, s_share, b_share))
    )  # fmt: skip


def _plain(h: Hypotheses, which: Ints, circuit: Circuit, g: Grids) -> tuple[Plain, Ints, Floats]:
    of: list[Ints] = []
    layer: list[Ints] = []
    pin: list[Ints] = []
    ohms: list[Floats] = []
    ohms_spread: list[Floats] = []
    warmer: list[Floats] = []
    warmer_spread: list[Floats] = []
    share: list[Floats] = []
    axes = {What.RESISTIVE: g.lead_ohms, What.UNZEROED: g.unzeroed, What.WARMER: g.rise}
    first_swap = int(np.searchsorted(h.what, What.SWAPPED))
    what = h.what[which]
    for k in _PLAIN:
        mine = which[what == k]
        if k is What.OPEN_WINDING:
            mine = mine[circuit.bridge[h.a[mine]]] if len(mine) else mine
        n = len(mine)
        if not n:
            continue
        axis = axes.get(k)
        size = len(axis) if axis else 1
        zeros = np.zeros(n * size)
        of.append(np.repeat(mine, size))
        layer.append(np.repeat(mine - first_swap + 1 if k is What.SWAPPED else np.zeros(n, dtype=np.intp), size))
        at = h.a[mine] if k is What.RESISTIVE else np.full(n, -2 if k is What.UNZEROED else -1)
        pin.append(np.repeat(at, size))
        tiled = np.tile(axis.values, n) if axis else zeros
        spread = np.tile(axis.spread, n) if axis else zeros
        copper = k is What.WARMER
        ohms.append(zeros if copper else tiled)
        ohms_spread.append(zeros if copper else spread)
        warmer.append(tiled * circuit.per_celsius if copper else zeros)
        warmer_spread.append(spread * circuit.per_celsius if copper else zeros)
        share.append(np.full(n * size, 1 / size))
    if not of:
        none, zero = np.zeros(0, dtype=np.intp), np.zeros(0)
        return Plain(none, none, zero, zero, zero, zero), none, zero
    cells = Plain(*(np.concatenate(x) for x in (layer, pin, ohms, ohms_spread, warmer, warmer_spread)))  # type: ignore[arg-type]
    return cells, np.concatenate(of), np.concatenate(share)


def _series(circuit: Circuit, h: Hypotheses, which: Ints, g: Grids) -> tuple[Series, Ints, Floats]:
    what = h.what[which]
    opened = which[what == What.OPEN_WINDING]
    opened = opened[~circuit.bridge[h.a[opened]]] if len(opened) else opened
    shorted, jointed = which[what == What.SHORTED], which[what == What.JOINT]
    f, rho = g.fraction, g.joint_ohms
    r = circuit.r
    w = [h.a[opened], np.repeat(h.a[shorted], len(f)), np.repeat(h.a[jointed], len(rho))]
    fs, rhos = np.tile(f.values, len(shorted)), np.tile(rho.values, len(jointed))
    opening = 1e9 / circuit.slack[w[0]]
    cells = Series(
        winding=np.concatenate(w),
        change=np.concatenate((opening, -fs * r[w[1]], rhos)),
        share=np.concatenate((np.zeros(len(opened)), 1 - fs, np.ones(len(rhos)))),
        spread=np.concatenate(
            (np.zeros(len(opened)), -np.tile(f.spread, len(shorted)) * r[w[1]], np.tile(rho.spread, len(jointed)))
        ),
    )
    of = np.concatenate((opened, np.repeat(shorted, len(f)), np.repeat(jointed, len(rho))))
    share = np.concatenate((np.ones(len(opened)), np.full(len(fs), 1 / len(f)), np.full(len(rhos), 1 / len(rho))))
    return cells, of, share


def _branch(h: Hypotheses, which: Ints, g: Grids) -> tuple[Branch, Ints, Floats]:
    what = h.what[which]
    to_core, leak, both = (which[what == k] for k in (What.TO_CORE, What.LEAK, What.TO_WINDING))
    one = Axis(np.zeros(1), np.zeros(1), False)
    blocks = [
        _product(to_core, g.position, one, g.fault_ohms),
        _product(both, g.position_ab, g.position_ab, g.fault_ohms_ab),
        _product(leak, g.leak_position, one, g.leak_ohms),
    ]
    of, x, x_s, y, y_s, ohms, ohms_s, share = (np.concatenate(column) for column in zip(*blocks, strict=True))
    of = of.astype(np.intp)
    return Branch(h.a[of], x, h.b[of], y, ohms, ohms_s, x_s, y_s), of, share


def _product(which: Ints, x: Axis, y: Axis, ohms: Axis) -> tuple[Floats, ...]:
    """One cell for each hypothesis and each combination of the three axes."""
    shape = (len(which), len(x), len(y), len(ohms))

    def spread_out(values: Floats, axis: int) -> Floats:
        view = [1, 1, 1, 1]
        view[axis] = -1
        return np.broadcast_to(values.reshape(view), shape).ravel()

    n = len(x) * len(y) * len(ohms)
    return (
        spread_out(which.astype(float), 0), spread_out(x.values, 1), spread_out(x.spread, 1),
        spread_out(y.values, 2), spread_out(y.spread, 2), spread_out(ohms.values, 3), spread_out(ohms.spread, 3),
        np.full(len(which) * n, 1 / n),
    )  # fmt: skip
