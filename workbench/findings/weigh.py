"""Every single hypothesis weighed against a sheet's readings."""

import math
from dataclasses import dataclass

import numpy as np

from workbench.findings.cells import AXES, Read
from workbench.findings.circuit import Bools, Circuit, Floats, Ints, Probe
from workbench.findings.cutting import Cut, cells_of, cut, integrated
from workbench.findings.evidence import Evidence
from workbench.findings.grids import COARSE, USUAL, Grids
from workbench.findings.hypotheses import Hypotheses, What
from workbench.findings.likelihood import MANY, Likely, Shared, factors, likely
from workbench.findings.seen import Seen
from workbench.stator.verdict import normal_below

# numbers that one array of cells may take, and nanoseconds (roughly) that a sheet's cells may take in all
_ROOM, _MOST_WORK = 1_000_000, 6e8
# where all would be too many, what is looked at first
_FIRST = (
    What.SOUND, What.OPEN_WINDING, What.OPEN_LEAD, What.UNZEROED, What.WARMER, What.SHORTED, What.RESISTIVE,
    What.TO_CORE, What.JOINT, What.TO_WINDING, What.SWAPPED, What.LEAK,
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Weighed:
    """`log` (hypotheses,): log likelihood of the finite readings, parameters integrated out; minus infinity where a
    pair that reads a number is parted. `opens` (hypotheses,): whether the open readings fit as well.

    `own` (hypotheses,): those that move something, and so have cells of their own: `cell_log` (cells of `cut`,),
    minus infinity for the cells of all others, which read as the sound part. `square`: of the best cell. `place`
    (cells,): which of those of `likely` each is, where they were looked at together (else None).
    """

    finite: Seen
    open: Seen
    log: Floats
    opens: Bools
    own: Bools
    cut: Cut
    cell_log: Floats
    square: float
    likely: Likely | None
    place: Ints


def weigh(
    circuit: Circuit, h: Hypotheses, e: Evidence, shared: Shared, finite: Seen, opened: Seen, g: Grids = USUAL
) -> Weighed:
    """`finite`, `opened`: the pairs of the evidence's two kinds of readings."""
    joined: Bools = np.asarray(finite.finite.all(0))
    moved: Bools = np.asarray(finite.moves.any(0))
    shut: Bools = ~np.asarray(opened.finite.any(0))
    soft = _may_read_open(opened, e, circuit)
    wanted = joined if soft else joined & moved
    if shut[0] and not soft:
        # what the open readings rule out is of use only beside another fault that accounts for them
        wanted = wanted & shut
    wanted = wanted.copy()
    wanted[0] = joined[0]
    cells = cut(h, _affordable(wanted, h, len(e.pairs), circuit.windings, g))
    at = cells_of(cells, wanted)
    picked = cells.pick(at)
    logs, square, found = _cells(picked, finite, opened if soft else None, e, shared)
    log = np.full(len(h), -math.inf)
    cell_log = np.full(len(cells), -math.inf)
    if len(at):
        cell_log[at] = logs
        integrated(picked, logs, log)
    if not soft:
        log = np.where(joined & ~moved, log[0], log)
    opens = np.ones(len(h), dtype=bool) if soft else shut
    place = np.zeros(len(cells), dtype=np.intp)
    place[at] = np.arange(len(at))
    return Weighed(finite, opened, log, opens, wanted, cells, cell_log, square, found, place)


def _affordable(wanted: Bools, h: Hypotheses, n: int, windings: int, g: Grids) -> Grids:
    """Finer or coarser cells by what a sheet can take; on one beyond any bench's, fewer hypotheses (`wanted`)."""
    if n * windings < 400:
        return g
    factors = windings + 4
    # nanoseconds a cell, as measured on one bench
    each = n * n * (factors + n) / 2 if n <= MANY else n * factors * factors / 2
    count = [int(wanted[at].sum()) for at in h.at]
    for grid in (g, COARSE):
        if sum(c * grid.cells(k) for k, c in enumerate(count)) * each < _MOST_WORK:
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


def _cells(
    cells: Cut, finite: Seen, soft: Seen | None, e: Evidence, shared: Shared
) -> tuple[Floats, float, Likely | None]:
    if not len(cells):
        return np.zeros(0), math.inf, None
    size = max(1, _ROOM // ((len(shared.winding) + 1) * (len(e) + 1)))
    logs, least = [], math.inf
    found = None
    for start in range(0, len(cells), size):
        some = cells if size >= len(cells) else cells.pick(np.arange(start, min(start + size, len(cells))))
        found = likely(some.read(finite), e, shared)
        log = found.log
        if soft is not None:
            log = log + _over(some, soft, e, shared)
        logs.append(np.where(np.isfinite(log), log, -1e300))
        least = min(least, float(np.min(np.nan_to_num(found.square, nan=np.inf))))
    return np.concatenate(logs), least, found if len(logs) == 1 else None


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


def sound_log(circuit: Circuit, e: Evidence, shared: Shared, finite: Probe, opened: Probe) -> float:
    """Log likelihood of the sheet for a sound part alone: minus infinity where a pair that reads a number is parted,
    or one that reads open is joined by fewer ohms than the meter shows.
    """
    if not finite.same.all():
        return -math.inf
    log = float(likely(_plain(finite), e, shared).log[0])
    joined = np.flatnonzero(opened.same)
    if len(joined):
        read = _plain(opened.take(joined))
        f = factors(read, shared)
        sd = np.sqrt((f * f).sum(0) + shared.lead_sd**2 + 1e-12)
        z = (read.mu + shared.lead - e.above[joined, None]) / sd
        log += float(np.log(_normal_below(np.clip(z, -8, 8))).sum())
    return log


def _plain(probe: Probe) -> Read:
    """As it is read with nothing wrong: one cell."""
    n = len(probe.ohms)
    return Read(probe.ohms[:, None].copy(), probe.jac[:, :, None].copy(), np.zeros((AXES, n, 1)))
