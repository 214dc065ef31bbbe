"""Which explanations no reading of some pairs could tell apart."""

import numpy as np

from workbench.findings.circuit import Floats, Ints
from workbench.findings.cutting import cells_of, cut
from workbench.findings.grids import POINT
from workbench.findings.hypotheses import Hypotheses, What
from workbench.findings.likelihood import Shared
from workbench.findings.seen import Seen

_BARE = np.isin(np.arange(What.COUNT), (What.SOUND, What.OPEN_WINDING, What.OPEN_LEAD, What.SWAPPED))
_SAME = 1e-8


def classes(h: Hypotheses, which: Ints, every: Seen, shared: Shared) -> Ints:
    """For each of the hypotheses `which` (in rising order), the place in it of the first that reads alike.

    Two are alike if the same pairs read open and mean and covariance of the rest agree at every value of their
    parameters. These are analytic in the parameters, so that one odd value answers for all; and they are compared
    by a few projections on fixed odd directions. All that is unlisted is one class.
    """
    what = h.what[which]
    kind = np.where(_BARE[what] | ~every.moves[:, which].any(0), 0, what + 1)
    kind[h.unlisted[which]] = What.COUNT + 1
    joined = every.finite[:, which]
    m = np.arange(1, len(joined) + 1)
    marks = np.concatenate((_marks(h, which, every, shared, m), [np.sin(m * 0.7) @ joined, kind]))
    near = np.abs(marks[:, :, None] - marks[:, None, :])
    size = np.abs(marks)
    alike = (near <= _SAME * (size[:, :, None] + size[:, None, :])).all(0)
    alike |= h.unlisted[which][:, None] & h.unlisted[which]
    first: Ints = alike.argmax(1)
    return first


def _marks(h: Hypotheses, which: Ints, every: Seen, shared: Shared, m: Ints) -> Floats:
    """Means and covariances of each, projected: (marks, hypotheses)."""
    wanted = np.zeros(len(h), dtype=bool)
    wanted[which] = True
    points = cut(h, POINT)
    cells = points.pick(cells_of(points, wanted))
    read = cells.read(every)
    joined = every.finite.take(cells.of, 1)
    mu, jac = np.where(joined, read.mu, 0.0), np.where(joined, read.jac, 0.0)
    odd = np.array([1 + np.sin(m * 1.7), 1 + np.cos(m * 2.3)])
    leaning = odd @ jac.reshape(len(jac), len(m), len(which))
    spread = shared.swayed(leaning)
    one, two = spread[:, 0], spread[:, 1]
    marks = np.concatenate(
        (odd @ mu, [(one * one).sum(0), (two * two).sum(0), (one * two).sum(0), shared.warmth @ leaning[:, 0]])
    )
    return marks[:, np.argsort(cells.of)]
