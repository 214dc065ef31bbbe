"""How large a fault is, where it lies: the parameters of an explanation, given the readings."""

import itertools
from collections.abc import Sequence

import numpy as np

from workbench.findings.cells import AXES
from workbench.findings.circuit import Circuit, Floats
from workbench.findings.cutting import Cut, cells_of, starts
from workbench.findings.grids import FAULT_OHMS, FRACTION, LEAD_OHMS, RISE, UNZEROED_OHMS
from workbench.findings.hypotheses import Hypotheses, What
from workbench.findings.records import Parameter
from workbench.findings.weigh import Weighed

# the middles of eleven equal shares of a normal law, in standard deviations (computed); the outermost lie just
# beyond its 5 % and 95 % points
_STEPS = np.array([-1.6906, -1.0968, -0.7479, -0.4728, -0.2299, 0.0, 0.2299, 0.4728, 0.7479, 1.0968, 1.6906])
_ASKED = np.array([0.05, 0.5, 0.95])
_LIMITS = {
    What.SHORTED: FRACTION, What.TO_CORE: FAULT_OHMS, What.TO_WINDING: FAULT_OHMS, What.RESISTIVE: LEAD_OHMS,
    What.UNZEROED: UNZEROED_OHMS, What.WARMER: RISE,
}  # fmt: skip
# a cell that holds less of its explanation than this is left out
_FAINT = 1e-3


def parameters(
    circuit: Circuit, h: Hypotheses, w: Weighed, which: Sequence[int], celsius: float
) -> dict[int, tuple[Parameter, ...]]:
    """Of those of the hypotheses `which` that have any and that the readings bear on."""
    wanted = np.zeros(len(h), dtype=bool)
    wanted[[k for k in which if h.what[k] in _LIMITS and w.own[k]]] = True
    at = cells_of(w.cut, wanted)
    if not len(at) or not len(w.finite.probe.i):
        return {}
    share = w.cut.share[at] * np.exp(np.clip(w.cell_log[at] - w.log[w.cut.of[at]], -700, 50))
    kept = share > _FAINT
    cells, share = w.cut.pick(at[kept]), share[kept]
    none = np.zeros((AXES, len(cells)))
    shift, left = w.likely.within(w.place[at[kept]]) if w.likely else (none, none + 1)
    values, spread = _values(cells)
    out = {}
    for first, after in itertools.pairwise((*starts(cells.of).tolist(), len(cells))):
        mine = slice(first, after)
        k = int(cells.of[first])
        what = int(h.what[k])
        found = _of_one(
            what, _named(what, h, k, circuit), values[:, mine], spread[:, mine], shift[:, mine], left[:, mine],
            share[mine],
        )  # fmt: skip
        if what == What.WARMER:
            found = tuple(Parameter(p.name, celsius + p.value, celsius + p.low, celsius + p.high) for p in found)
        out[k] = found
    return out


def _values(cells: Cut) -> tuple[Floats, Floats]:
    """Each cell's parameters, and the cells' spread along them (axes, cells)."""
    p, s, b = cells.plain, cells.series, cells.branch
    zero_p, zero_s = np.zeros(len(p)), np.zeros(len(s))
    values = np.array(
        [np.concatenate((p.ohms + p.rise, s.fraction, b.ohms)), np.concatenate((zero_p, zero_s, b.x)),
         np.concatenate((zero_p, zero_s, b.y))]
    )  # fmt: skip
    spread = np.array(
        [np.concatenate((p.ohms_spread + p.rise_spread, s.spread, b.ohms_spread)),
         np.concatenate((zero_p, zero_s, b.x_spread)), np.concatenate((zero_p, zero_s, b.y_spread))]
    )  # fmt: skip
    return values, spread


def _of_one(
    what: int, names: tuple[str, ...], values: Floats, spread: Floats, shift: Floats, left: Floats, share: Floats
) -> tuple[Parameter, ...]:
    out = []
    for axis, name in enumerate(names):
        limits = _LIMITS[what] if axis == 0 else (0.0, 1.0)
        v, s = values[axis], spread[axis]
        steps = shift[axis][:, None] + left[axis][:, None] * _STEPS
        # what a pair reads was followed along the parameter itself, not its logarithm
        points = v[:, None] + s[:, None] * steps
        points = np.minimum(np.maximum(points, limits[0]), limits[1]).ravel()
        order = points.argsort()
        run = share.repeat(len(_STEPS))[order].cumsum()
        hit = run.searchsorted(_ASKED * run[-1])
        low, middle, high = points[order[np.minimum(hit, len(points) - 1)]].tolist()
        out.append(Parameter(name, middle, low, high))
    return tuple(out)


def _named(what: int, h: Hypotheses, k: int, circuit: Circuit) -> tuple[str, ...]:
    """What each axis is called; the positions' letters go by the windings' names in sorted order."""
    if what == What.SHORTED:
        return ("fraction",)
    if what == What.WARMER:
        return ("celsius",)
    if what == What.TO_CORE:
        return ("ohms", "position")
    if what == What.TO_WINDING:
        in_order = circuit.names[h.a[k]] <= circuit.names[h.b[k]]
        return ("ohms", "position_a", "position_b") if in_order else ("ohms", "position_b", "position_a")
    return ("ohms",)
