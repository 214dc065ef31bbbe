"""Odds and outlook against a dense calculation that shares no code with the program: means and slopes by solving each
network anew, one covariance of all errors (JCGM 100's law of propagation), numpy's own algebra."""

import math

import numpy as np
import pytest
from numpy.typing import NDArray

from tests.findings.generate import resistances
from tests.matching.parts import chances, pattern
from workbench.matching.evidence import sight
from workbench.matching.library import Library
from workbench.matching.likely import likely_rows, looks
from workbench.matching.nextpair import Mass, outlook
from workbench.matching.weighing import weigh
from workbench.stator.meter import Meter, Range
from workbench.stator.pattern import LINK_OHMS, Pair, Pattern
from workbench.stator.sheet import Conditions, Reading

Floats = NDArray[np.float64]

METER = Meter((Range(20, 0.001, 0.3, 3), Range(200, 0.01, 0.3, 3), Range(2000, 0.1, 0.5, 3)), 2000)
WARM = Conditions(31.0, 3.0, 0.21, 0.06)
ENDS = [("P.1", "P.2"), ("P.2", "P.3"), ("P.1", "core")]
LINKS = (("P.3", "core"),)
ONE = pattern("one", *((a, b, r) for (a, b), r in zip(ENDS, (6.0, 1.1, 40.0), strict=True)), links=LINKS, tolerance=8)
OTHER = pattern("other", *((a, b, r) for (a, b), r in zip(ENDS, (6.6, 1.0, 36.0), strict=True)), links=LINKS)
READ = {Pair("P.1", "P.2"): 5.88, Pair("P.3", "P.2"): 1.296, Pair("P.1", "core"): 6.64, Pair("P.3", "core"): 0.251}
ASKED = [Pair("P.1", "P.3"), Pair("P.2", "core")]


def law(p: Pattern, pairs: list[Pair], celsius: float) -> tuple[Floats, Floats]:
    """Mean and covariance of the displays."""

    def solved(times: dict[str, float], celsius: float) -> Floats:
        f = (234.5 + celsius) / (234.5 + p.reference_celsius)
        edges = [(w.start, w.finish, w.nominal * f * times.get(w.name, 1.0)) for w in p.windings]
        r = resistances([*edges, *((x.start, x.finish, LINK_OHMS) for x in p.links)], pairs)
        return np.array([r[q] for q in pairs])

    at = solved({}, celsius)
    causes = [
        (solved({w.name: 1.001}, celsius) - solved({w.name: 0.999}, celsius)) / 0.002 * (w.high - w.low) / 4 / w.nominal
        for w in p.windings
    ]
    causes.append((solved({}, celsius + 0.1) - solved({}, celsius - 0.1)) / 0.2 * WARM.celsius_uncertainty)
    causes.append(np.full(len(pairs), WARM.lead_uncertainty_ohms))
    # a touch is |N(0, 0.02)|: the half-normal's mean and variance
    mean = at + WARM.lead_ohms + 0.02 * math.sqrt(2 / math.pi)
    on = [next(r for r in METER.ranges if x <= r.upto_ohms) for x in mean]
    causes += [
        np.array([x * r.percent / 100 / math.sqrt(3) if o is r else 0.0 for x, o in zip(mean, on, strict=True)])
        for r in METER.ranges
    ]
    own = [
        0.02**2 * (1 - 2 / math.pi) + (r.digits * r.resolution_ohms) ** 2 / 3 + r.resolution_ohms**2 / 12 for r in on
    ]
    a = np.array(causes)
    return mean, a.T @ a + np.diag(own)


def log_density(p: Pattern) -> float:
    mean, cov = law(p, list(READ), WARM.celsius)
    z = np.array(list(READ.values())) - mean
    return float(-0.5 * (z @ np.linalg.solve(cov, z) + np.linalg.slogdet(2 * math.pi * cov)[1]))


def test_the_odds_of_two_patterns_are_the_ratio_of_their_densities() -> None:
    library = Library.of([ONE, OTHER])
    readings = [Reading(q, ohms) for q, ohms in READ.items()]
    w = weigh(library.candidates(ONE.connectors), METER, WARM, readings, faulty=0.0, none=0.0)
    found = chances([ONE, OTHER], w)
    ours = math.log(found["one"] / found["other"])
    assert ours == pytest.approx(log_density(ONE) - log_density(OTHER), abs=0.01)
    assert 0.1 < abs(ours) < 10


@pytest.mark.parametrize("p", [ONE, OTHER])
def test_what_is_foreseen_of_a_pair_is_the_conditional_law(p: Pattern) -> None:
    library = Library.of([p])
    c = library.candidates(p.connectors)
    assert c.ready is not None
    s = sight(c.ready.shape, c.nodes, METER, WARM, [Reading(q, ohms) for q, ohms in READ.items()])
    looked = looks(c.ready, s)
    rows = likely_rows(c.ready.sound, s, looked)
    none = np.zeros(0, dtype=np.intp)
    empty = type(rows)(none, none, *(np.zeros(0),) * 2, None, *(np.zeros((0, 0, 0)),) * 4)
    at = {n: i for i, n in enumerate(c.nodes)}
    asked = np.array([c.ready.shape.pair_of[at[a], at[b]] for a, b in ASKED])
    mass = Mass(rows, np.ones(1), empty, np.zeros(0), empty, np.zeros(0), np.zeros(1), 0.0)
    o = outlook(c.ready, s, looked, mass, asked)
    assert o is not None
    n = len(READ)
    mean, cov = law(p, [*READ, *ASKED], WARM.celsius)
    gain = cov[n:, :n] @ np.linalg.inv(cov[:n, :n])
    z = np.array(list(READ.values())) - mean[:n]
    assert o.mean[:, 0] == pytest.approx(mean[n:] + gain @ z, rel=1e-3)
    assert o.sd[:, 0] == pytest.approx(np.sqrt(np.diag(cov[n:, n:] - gain @ cov[:n, n:])), rel=1e-2)
    # what was read does tell of it
    assert np.any(np.abs(gain @ z) > 5e-3 * mean[n:])
