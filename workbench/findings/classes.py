"""Which explanations no reading of this part could tell apart."""

import numpy as np

from workbench.findings.circuit import Circuit, Floats, Ints
from workbench.findings.cutting import cut
from workbench.findings.grids import POINT
from workbench.findings.hypotheses import Hypotheses, Seen, What
from workbench.findings.likelihood import Shared

_BARE = (What.SOUND, What.OPEN_WINDING, What.OPEN_LEAD, What.SWAPPED)
_SAME = 1e-8


def classes(circuit: Circuit, h: Hypotheses, which: Ints, every: Seen, shared: Shared) -> Ints:
    """For each of the hypotheses `which`, the place in it of the first that reads alike on every pair of `every`.

    Two are alike if the same pairs read open and mean and covariance of the rest agree at every value of their
    parameters. These are analytic in the parameters, so that one odd value answers for all; and they are compared
    by a few projections on fixed odd directions.
    """
    kind = np.where(np.isin(h.what[which], _BARE) | ~every.moved[which], 0, h.what[which] + 1)
    kind = np.where(h.what[which] >= What.LEAK, 100, kind)
    bits = every.finite[:, which]
    marks = _marks(circuit, h, which, every, shared)
    alike = kind[:, None] == kind[None, :]
    alike &= (bits[:, :, None] == bits[:, None, :]).all(0)
    for mark in marks:
        alike &= np.abs(mark[:, None] - mark[None, :]) <= _SAME * (np.abs(mark[:, None]) + np.abs(mark[None, :]))
    alike |= (kind[:, None] == 100) & (kind[None, :] == 100)
    first: Ints = alike.argmax(1)
    return first


def _marks(circuit: Circuit, h: Hypotheses, which: Ints, every: Seen, shared: Shared) -> list[Floats]:
    cells = cut(circuit, h, which, POINT)
    read = cells.read(every)
    back = np.empty(len(h), dtype=np.intp)
    back[cells.of] = np.arange(len(cells))
    order = back[which]
    joined = every.finite[:, which]
    mu = np.where(joined, read.mu[:, order], 0.0)
    jac = np.where(joined, read.jac[:, :, order], 0.0)
    m = np.arange(1, len(mu) + 1)
    one, two = 1 + np.sin(m * 1.7), 1 + np.cos(m * 2.3)
    leaning = np.tensordot(jac, one, (1, 0))
    other = np.tensordot(jac, two, (1, 0))
    sd = shared.winding[:, None]
    return [
        one @ mu,
        two @ mu,
        ((leaning * sd) ** 2).sum(0),
        ((other * sd) ** 2).sum(0),
        (leaning * other * sd * sd).sum(0),
        shared.warmth @ leaning,
    ]
