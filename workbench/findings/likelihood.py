"""How likely the finite readings are under each cell: a normal law with every shared error in its covariance.

Arrays are (readings, readings, cells), the cells last, so that a factorisation of all cells at once is a few dozen
operations on long rows.
"""

import math
from dataclasses import dataclass

import numpy as np

from workbench.findings.cells import AXES, Read
from workbench.findings.circuit import Circuit, Floats, Ints
from workbench.findings.evidence import TOUCH_MEAN, Evidence
from workbench.stator.sheet import Conditions

MANY = 40  # readings, above which the factors are fewer than the readings by enough to turn the algebra round
_LOG_TAU = math.log(2 * math.pi)
_NOTHING: tuple[Floats, ...] = (np.zeros(0),) * 5


@dataclass(frozen=True, slots=True)
class Shared:
    """What moves all readings together: each winding's ohms, the temperature, the leads."""

    winding: Floats  # standard deviation (ohm), (windings,)
    warmth: Floats  # ohm for one standard deviation of the temperature, (windings,)
    lead: float | Floats  # or of each reading, (readings, 1)
    lead_sd: float
    more: Floats | None = None  # ohm for one standard deviation of another cause, (readings,)
    # where the part's own windings are known: what one standard deviation of each cause adds to each (ohm), and to
    # the gain of each of the meter's ranges (as a share)
    known: Floats | None = None  # (windings, causes)
    gains: Floats | None = None  # (ranges, causes)

    def swayed(self, jac: Floats) -> Floats:
        """What one standard deviation of each winding, or of each cause of `known`, adds: `jac` (windings, ...)."""
        if self.known is None:
            out: Floats = jac * self.winding.reshape(-1, *[1] * (jac.ndim - 1))
            return out
        return np.tensordot(self.known.T, jac, 1)


def shared_of(circuit: Circuit, conditions: Conditions) -> Shared:
    warmth = circuit.r[: circuit.windings] * (circuit.per_celsius * conditions.celsius_uncertainty)
    lead = conditions.lead_ohms + TOUCH_MEAN
    known, gains = circuit.together, circuit.gains
    return Shared(circuit.sd, warmth, lead, conditions.lead_uncertainty_ohms, known=known, gains=gains)


def factors(read: Read, shared: Shared, on: Ints | None = None) -> Floats:
    """(factors, readings, cells): what one standard deviation of each shared cause adds, but for leads and gain.

    `on` (readings,) or (readings, cells): the range of each, for gains that are known along with the windings.
    """
    nw = len(shared.winding) if shared.known is None else shared.known.shape[1]
    axes = 3 if read.par[2:].any() else 2 if read.par[1:].any() else 1
    extra = shared.more is not None
    out = np.empty((nw + 1 + axes + extra, *read.mu.shape))
    out[:nw] = shared.swayed(read.jac)
    if shared.gains is not None and on is not None:
        through = np.moveaxis(shared.gains[on], -1, 0)
        out[:nw] += (through if on.ndim > 1 else through[:, :, None]) * (read.mu + shared.lead)
    np.matmul(shared.warmth, read.jac.reshape(len(shared.warmth), read.mu.size), out=out[nw].reshape(-1))
    out[nw + 1 : nw + 1 + axes] = read.par[:axes]
    if shared.more is not None:
        out[-1] = shared.more[:, None]
    return out


def covariance(f: Floats, x: Floats, e: Evidence, shared: Shared) -> Floats:
    """(readings, readings, cells), the lower triangle alone; `x` (readings, cells): ohms at the meter's terminals."""
    n, cells = x.shape
    out = np.empty((n, n, cells))
    lead = shared.lead_sd**2
    scaled = x * e.scale[:, None]
    shared_gain = (e.range[:, None] == e.range)[..., None]
    for i in range(n):
        row = np.einsum("kc,kjc->jc", f[:, i], f[:, : i + 1], out=out[i, : i + 1])
        row += lead
        gain = scaled[: i + 1] * scaled[i]
        gain *= shared_gain[i, : i + 1]
        row += gain
        out[i, i] += e.own[i]
    return out


def cholesky(a: Floats) -> Floats:
    """Lower factor of each cell's matrix, in place; only the lower triangle is read or written."""
    n = a.shape[0]
    for j in range(n):
        if j:
            a[j:, j] -= np.einsum("ikc,kc->ic", a[j:, :j], a[j, :j])
        # never negative but by rounding
        d = np.sqrt(np.maximum(a[j, j], 1e-300))
        a[j, j] = d
        if j + 1 < n:
            a[j + 1 :, j] /= d
    return a


def whiten(low: Floats, z: Floats) -> Floats:
    """L^-1 z for each cell: `z` (readings, ..., cells), in place."""
    for i in range(low.shape[0]):
        for k in range(i):
            z[i] -= low[i, k] * z[k]
        z[i] /= low[i, i]
    return z


@dataclass(frozen=True, slots=True)
class Likely:
    """`log` (cells,): log density of the finite readings; `square` (cells,): their squared distance in sigmas.

    For what is asked later, and empty on a sheet beyond any bench's: `low`, `white`, the covariance's factor and the
    whitened distances; `par`, the cells' spread along their parameters; `x` (readings, cells), ohms at the meter's
    terminals, and the `factors` of their errors.
    """

    log: Floats
    square: Floats
    low: Floats
    white: Floats
    par: Floats
    x: Floats
    factors: Floats

    def within(self, which: Ints) -> tuple[Floats, Floats]:
        """How far inside its cell each parameter lies, and how surely: mean and standard deviation (axes, cells), in
        standard deviations of the cell."""
        if not self.low.size:
            return np.zeros((AXES, len(which))), np.ones((AXES, len(which)))
        b = whiten(self.low[..., which], np.swapaxes(self.par[..., which], 0, 1).copy())
        return np.einsum("nac,nc->ac", b, self.white[:, which]), np.sqrt(np.maximum(1 - (b * b).sum(0), 0.0))


def likely(read: Read, e: Evidence, shared: Shared) -> Likely:
    n, cells = read.mu.shape
    if n == 0:
        return Likely(np.zeros(cells), np.zeros(cells), *_NOTHING)
    x = read.mu + shared.lead
    z = e.shown[:, None] - x
    f = factors(read, shared, e.range)
    if n > MANY:
        return _many(f, x, z, e, shared)
    low = cholesky(covariance(f, x, e, shared))
    whiten(low, z)
    square = np.einsum("ic,ic->c", z, z)
    log = -0.5 * square - 0.5 * n * _LOG_TAU
    for i in range(n):
        log -= np.log(low[i, i])
    return Likely(log, square, low, z, read.par, x, f)


def _many(f: Floats, x: Floats, z: Floats, e: Evidence, shared: Shared) -> Likely:
    """The same by the factors' own small matrix (Woodbury)."""
    n, cells = x.shape
    ranges = sorted(set(e.range.tolist()))
    kinds = np.array([(e.range == r) * e.scale for r in ranges])
    log, square = np.empty(cells), np.empty(cells)
    weight = 1 / np.sqrt(e.own)
    for c in range(cells):
        u = np.vstack([f[:, :, c], kinds * x[:, c], np.full((1, n), shared.lead_sd)]) * weight
        w = z[:, c] * weight
        small = np.eye(len(u)) + u @ u.T
        low = np.linalg.cholesky(small)
        across = np.linalg.solve(low, u @ w)
        square[c] = max(float(w @ w - across @ across), 0.0)
        log[c] = -0.5 * (square[c] + n * _LOG_TAU) - np.log(np.diagonal(low)).sum() + np.log(weight).sum()
    return Likely(log, square, *_NOTHING)
