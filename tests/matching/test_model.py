"""The weighing against the model it stands for, on libraries and parts drawn from it."""

import math
from dataclasses import replace

import numpy as np
import pytest

from tests.findings.generate import resistances
from tests.matching.drawn import a_library, an_unknown
from workbench.matching.layings import fit
from workbench.matching.library import Library
from workbench.matching.weighing import Weighed, weigh
from workbench.stator.copper import factor, k_of
from workbench.stator.pattern import LINK_OHMS, Pair, Pattern

SEEDS = [11, 12]


def _edges(p: Pattern, warm: float, times: dict[str, float]) -> list[tuple[str, str, float]]:
    wound = [(w.start, w.finish, w.nominal * warm * times.get(w.name, 1.0)) for w in p.windings]
    return wound + [(x.start, x.finish, LINK_OHMS) for x in p.links]


@pytest.mark.parametrize("celsius", [-5.0, 20.0, 38.0])
def test_the_tables_are_the_network_and_its_slopes_at_any_temperature(celsius: float) -> None:
    """Against a dense solve of each part's own network (tests/findings/generate.py, held to networkx)."""
    patterns = a_library(31, 40)
    library = Library.of(patterns)
    for number, p in enumerate(patterns):
        c = library.candidates(p.connectors)
        assert c.ready is not None
        m = c.patterns.index(number)
        t, (i, j), nodes = c.ready.sound, c.ready.shape.pairs, c.theirs[m]
        pairs = [Pair(nodes[a], nodes[b]) for a, b in zip(i, j, strict=True)]
        warm = factor(p.reference_celsius, celsius, k_of(p.conductor))
        ohms = resistances(_edges(p, warm, {}), pairs)
        assert t.joined[:, m].tolist() == [math.isfinite(ohms[q]) for q in pairs]
        ours = t.wound[:, m] * t.warm(celsius)[m] + t.linked[:, m]
        assert ours[t.joined[:, m]] == pytest.approx([r for r in ohms.values() if math.isfinite(r)], rel=1e-6, abs=2e-3)
        for k, w in enumerate(p.windings):
            more, less = (resistances(_edges(p, warm, {w.name: 1 + s}), pairs) for s in (1e-4, -1e-4))
            slope = [(more[q] - less[q]) / 2e-4 for q in pairs if math.isfinite(ohms[q])]
            assert (t.part[k, t.joined[:, m], m] * t.warm(celsius)[m]) == pytest.approx(slope, rel=2e-3, abs=2e-3)
            assert t.rel[k, m] == pytest.approx((w.high - w.low) / 4 / w.nominal)


def _mine(library: Library, w: Weighed, p: Pattern) -> float:
    """Of the part's own pattern and those that nothing tells from it."""
    number = library.patterns.index(p)
    alike = next(r.alike for r in w.ranked if r.pattern == number)
    return sum(r.probability for r in w.ranked if r.alike == alike)


def _by_class(w: Weighed) -> list[float]:
    out: dict[int, float] = {}
    for r in w.ranked:
        out[r.alike] = out.get(r.alike, 0.0) + r.probability
    return [p for p in out.values() if p > 0]


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("faulty", [0.0, 0.25])
def test_probabilities_come_true_as_often_as_they_say(seed: int, faulty: float) -> None:
    """A proper score is met: the mean log probability of the truth lies where the answers themselves put it."""
    patterns = a_library(seed)
    library = Library.of(patterns)
    rng = np.random.default_rng(seed)
    shapes = [library.candidates(p.connectors) for p in patterns]
    off = spread = 0.0
    for _ in range(150):
        # every pattern of a shape as likely: by its shape first, as the weighing takes it
        c = shapes[rng.integers(len(shapes))]
        p = patterns[int(rng.choice(c.patterns))]
        u = an_unknown(rng, p, faulty=faulty)
        w = weigh(library.candidates(u.plugs), u.meter, u.conditions, u.readings, faulty=faulty, none=0.0)
        assert sum(r.probability for r in w.ranked) == pytest.approx(1)
        ps = _by_class(w)
        expected = sum(q * math.log(q) for q in ps)
        off += math.log(max(_mine(library, w, p), 1e-12)) - expected
        spread += sum(q * math.log(q) ** 2 for q in ps) - expected**2
    assert abs(off) < 3.5 * math.sqrt(spread) + 1.5


@pytest.mark.parametrize("seed", SEEDS)
def test_a_part_read_through_is_ranked_first_and_laid_as_it_lies(seed: int) -> None:
    patterns = a_library(seed)
    library = Library.of(patterns)
    rng = np.random.default_rng(seed + 100)
    hits, laid = [], []
    for p in patterns:
        u = an_unknown(rng, p, faulty=0.0, most=60)
        c = library.candidates(u.plugs)
        w = weigh(c, u.meter, u.conditions, u.readings)
        by = {r.pattern: r for r in w.ranked}
        mine = by[patterns.index(p)]
        hits.append(mine.probability >= 0.99 * w.ranked[0].probability or mine.alike == w.ranked[0].alike)
        pairs = [r.pair for r in u.readings]
        ours = {mine: theirs for theirs, mine in u.called.items()}
        true, found = (_nominal(p, [Pair(by_pin[a], by_pin[b]) for a, b in pairs]) for by_pin in (ours, mine.laying))
        laid.append(found == pytest.approx(true, rel=0.25, abs=0.1))
    assert np.mean(hits) > 0.6
    assert np.mean(laid) > 0.9


def _nominal(p: Pattern, pairs: list[Pair]) -> list[float]:
    ohms = resistances(_edges(p, 1.0, {}), pairs)
    return [1e9 if math.isinf(ohms[q]) else ohms[q] for q in pairs]


@pytest.mark.parametrize("seed", SEEDS)
def test_parts_of_another_library_are_mostly_called_none_when_read_through(seed: int) -> None:
    """Parts wound with half as many ohms again in every winding, on the faces of a library's."""
    patterns = a_library(seed)
    library = Library.of(patterns)
    rng = np.random.default_rng(seed + 200)
    called = []
    for p in patterns:
        off = replace(
            p, windings=tuple(replace(w, ohms=(w.ohms or 1.0) * float(rng.uniform(1.5, 2.2))) for w in p.windings)
        )
        u = an_unknown(rng, p, part=off, faulty=0.0, most=60)
        w = weigh(library.candidates(u.plugs), u.meter, u.conditions, u.readings)
        called.append(w.none > max(r.probability for r in w.ranked))
    assert np.mean(called) > 0.5


def test_every_pattern_is_a_candidate_for_its_own_plugs_however_drawn() -> None:
    patterns = a_library(5, 40)
    library = Library.of(patterns)
    rng = np.random.default_rng(5)
    for number, p in enumerate(patterns):
        u = an_unknown(rng, p)
        assert number in library.candidates(u.plugs).patterns
        assert fit(u.plugs, library._faces) is not None
