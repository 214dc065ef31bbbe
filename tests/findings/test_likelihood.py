"""The factorisation with the cells last, and its turned-round form, against a plain normal law."""

import math

import numpy as np
import pytest
from scipy import stats

from workbench.findings import likelihood
from workbench.findings.cells import Read
from workbench.findings.evidence import Evidence
from workbench.findings.likelihood import Likely, Shared, likely


def invented(n: int, cells: int = 4, windings: int = 3) -> tuple[Read, Evidence, Shared]:
    rng = np.random.default_rng(n)
    mu = rng.uniform(1, 20, (n, cells))
    read = Read(mu, rng.uniform(0, 1, (windings, n, cells)), rng.normal(0, 0.3, (3, n, cells)))
    e = Evidence(
        pairs=(),
        shown=mu.mean(1) + rng.normal(0, 0.5, n),
        own=rng.uniform(0.01, 0.1, n),
        scale=rng.uniform(0.002, 0.01, n),
        range=rng.integers(0, 2, n),
        opens=(),
        above=np.zeros(0),
    )
    e.scale[:] = np.where(e.range == 0, 0.004, 0.009)
    return read, e, Shared(rng.uniform(0.1, 0.5, windings), rng.uniform(0.01, 0.05, windings), 0.2, 0.05)


def plain(read: Read, e: Evidence, s: Shared) -> Likely:
    """The same by scipy.stats.multivariate_normal, cause by cause (JCGM 100, 5.2)."""
    logs = []
    for c in range(read.mu.shape[1]):
        x = read.mu[:, c] + s.lead
        causes = [*(read.jac[:, :, c] * s.winding[:, None]), s.warmth @ read.jac[:, :, c], *read.par[:, :, c]]
        causes.append(np.full(len(x), s.lead_sd))
        causes += [np.where(e.range == r, e.scale * x, 0.0) for r in (0, 1)]
        cov = np.diag(e.own) + sum(np.outer(u, u) for u in causes)
        logs.append(stats.multivariate_normal(x, cov).logpdf(e.shown))
    none = np.zeros(0)
    return Likely(np.array(logs), none, none, none, none, none, none)


@pytest.mark.parametrize("n", [1, 2, 7, 12])
def test_few_readings(n: int) -> None:
    assert likely(*invented(n)).log == pytest.approx(plain(*invented(n)).log, rel=1e-9)


def test_many_readings() -> None:
    n = likelihood.MANY + 5
    assert likely(*invented(n)).log == pytest.approx(plain(*invented(n)).log, rel=1e-9)


def test_without_readings_every_cell_is_as_likely() -> None:
    found = likely(*invented(0))
    assert found.log.tolist() == [0.0] * 4
    assert math.isclose(found.square.sum(), 0.0)
