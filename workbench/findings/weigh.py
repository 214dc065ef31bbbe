"""Every single hypothesis weighed against a sheet's readings."""

import math
from dataclasses import dataclass

import numpy as np

from workbench.findings.circuit import Bools, Circuit, Floats, Ints
from workbench.findings.cutting import Cut, cut
from workbench.findings.evidence import Evidence
from workbench.findings.grids import COARSE, Grids
from workbench.findings.hypotheses import Hypotheses, Seen, What
from workbench.findings.likelihood import MANY, Shared, factors, likely
from workbench.stator.pattern import Pair
from workbench.stator.verdict import normal_below

_NEVER = -math.inf
# numbers that one array of cells may take, and nanoseconds (roughly) that a sheet's cells may take in all
_ROOM, _MOST_WORK = 1_000_000, 1.5e9
# where all would be too many, what is looked at first
_FIRST = (
    What.SOUND, What.OPEN_WINDING, What.OPEN_LEAD, What.UNZEROED, What.WARMER, What.SHORTED, What.RESISTIVE,
    What.TO_CORE, What.JOINT, What.TO_WINDING, What.SWAPPED, What.LEAK,
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Weighed:
    """`log` (hypotheses,): log likelihood of the finite readings, parameters integrated out; minus infinity where a
    pair that reads a number is parted. `opens` (hypotheses,): whether the open readings fit as well. Cells of the
    hypotheses that move something are in `cut`, with `cell_log`; all others read as the sound part.
    """

    finite: Seen
    open: Seen
    log: Floats
    opens: Bools
    own_cells: Bools
    cut: Cut
    grids: Grids
    cell_log: Floats
    least_square: float


def nodes_of(circuit: Circuit, pairs: tuple[Pair, ...]) -> tuple[Ints, Ints]:
    at = circuit.at
    ij = np.array([(at[a], at[b]) for a, b in pairs], dtype=np.intp).reshape(-1, 2)
    return ij[:, 0], ij[:, 1]


def weigh(circuit: Circuit, h: Hypotheses, e: Evidence, shared: Shared, g: Grids, *, every: bool = False) -> Weighed:
    """`every`: also those that the open readings rule out, for which another fault may account."""
    finite = Seen(circuit, h, *nodes_of(circuit, e.pairs))
    opened = Seen(circuit, h, *nodes_of(circuit, e.opens))
    joined: Bools = np.asarray(finite.finite.all(0))
    soft = _may_read_open(opened, e, circuit)
    shut: Bools = ~np.asarray(opened.finite.any(0))
    opens = np.ones(len(h), dtype=bool) if soft else shut
    moved = joined if soft else joined & finite.moved
    sound = int(np.flatnonzero(h.what == What.SOUND)[0])
    wanted = moved if every or not shut[sound] else moved & opens
    wanted = wanted.copy()
    wanted[sound] = joined[sound]
    g = _affordable(wanted, h, len(e.pairs), circuit.windings, g)
    cells = cut(circuit, h, np.flatnonzero(wanted), g)
    cell_log, least = _cells(cells, finite, opened if soft else None, e, shared)
    log = np.full(len(h), _NEVER)
    if len(cells):
        top = cell_log.max()
        total = np.bincount(cells.of, weights=cells.share * np.exp(cell_log - top), minlength=len(h))
        with np.errstate(divide="ignore"):
            log = np.where(wanted, np.log(total) + top, _NEVER)
    if not soft:
        log = np.where(joined & ~finite.moved, log[sound], log)
    return Weighed(finite, opened, log, opens, wanted, cells, g, cell_log, least)


def _affordable(wanted: Bools, h: Hypotheses, n: int, windings: int, g: Grids) -> Grids:
    """Finer or coarser cells by what a sheet can take; on one beyond any bench's, fewer hypotheses (`wanted`)."""
    factors = windings + 4
    # nanoseconds a cell, as measured on one bench
    each = n * n * (factors + n) / 2 if n <= MANY else n * factors * factors / 2
    count = [int(wanted[h.at[k]].sum()) for k in What]
    for grid in (g, COARSE):
        if sum(c * grid.cells(k) for k, c in zip(What, count, strict=True)) * each < _MOST_WORK:
            return grid
    left = int(_MOST_WORK / each)
    for k in _FIRST:
        mine = h.at[k][wanted[h.at[k]]]
        fit = max(left, 0) // COARSE.cells(k)
        wanted[mine[fit:]] = False
        left -= min(fit, len(mine)) * COARSE.cells(k)
    return COARSE


def _may_read_open(opened: Seen, e: Evidence, circuit: Circuit) -> bool:
    """Whether some pair that reads open may be joined after all, by more ohms than the meter shows."""
    if not len(e.above):
        return False
    reach = 4e6 + 4 * (float(opened.probe.ohms.max()) + float(circuit.r[: circuit.windings].sum()))
    return bool(e.above.min() < reach)


def _cells(cells: Cut, finite: Seen, soft: Seen | None, e: Evidence, shared: Shared) -> tuple[Floats, float]:
    if not len(cells):
        return np.zeros(0), math.inf
    size = max(1, _ROOM // ((len(shared.winding) + 1) * (len(e) + 1)))
    logs, least = [], math.inf
    for start in range(0, len(cells), size):
        some = cells if size >= len(cells) else cells.pick(np.arange(start, min(start + size, len(cells))))
        found = likely(some.read(finite), e, shared)
        log = found.log
        if soft is not None:
            log = log + _over(some, soft, e, shared)
        logs.append(np.where(np.isfinite(log), log, -1e300))
        least = min(least, float(np.min(np.nan_to_num(found.square, nan=np.inf))))
    return np.concatenate(logs), least


def _over(cells: Cut, opened: Seen, e: Evidence, shared: Shared) -> Floats:
    """Log probability (cells,) that the pairs that read open, where joined, have more ohms than the meter shows."""
    read = cells.read(opened)
    f = factors(read, shared)
    sd = np.sqrt((f * f).sum(0) + shared.lead_sd**2 + 1e-12)
    z = (read.mu + shared.lead - e.above[:, None]) / sd
    p = _normal_below(np.clip(z, -8, 8))
    joined = opened.finite[:, cells.of]
    out: Floats = np.where(joined, np.log(p), 0.0).sum(0)
    return out


_normal_below = np.vectorize(normal_below, otypes=[float])
