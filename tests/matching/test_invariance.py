"""Nothing but the part itself matters: not names, order, turn, unit, nor the direction of a reading."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.matching.drawn import a_library, an_unknown, disguised
from workbench.matching.library import Library
from workbench.matching.weighing import Weighed, weigh
from workbench.stator.pattern import Pair
from workbench.stator.sheet import Reading

PATTERNS = a_library(41, 50)
LIBRARY = Library.of(PATTERNS)
# the same patterns drawn by other hands, in the same order
RNG = np.random.default_rng(43)


def _redrawn() -> Library:
    out = []
    for p in PATTERNS:
        d = disguised(RNG, p, 0.0)
        edges = {"windings": p.windings, "links": p.links}
        moved = {
            k: tuple(
                replace(e, start=d.called.get(e.start, e.start), finish=d.called.get(e.finish, e.finish)) for e in v
            )
            for k, v in edges.items()
        }
        out.append(replace(p, connectors=d.plugs, **moved))
    return Library.of(out)


REDRAWN = _redrawn()
SEEDS = st.integers(0, 2**32 - 1)


def chances(w: Weighed) -> dict[int, float]:
    return {r.pattern: r.probability for r in w.ranked} | {-1: w.none}


def close(a: Weighed, b: Weighed) -> None:
    assert chances(a) == pytest.approx(chances(b), rel=1e-6, abs=1e-9)


def bits(w: Weighed) -> list[float]:
    return [n.bits for n in w.next]


@settings(max_examples=60)
@given(SEEDS)
def test_names_order_turn_and_unit_of_the_drawing_change_nothing(seed: int) -> None:
    rng = np.random.default_rng(seed)
    p = PATTERNS[rng.integers(len(PATTERNS))]
    u = an_unknown(rng, p)
    again = disguised(rng, p)
    back = {its: theirs for theirs, its in u.called.items()}
    readings = [replace(r, pair=again.pair(*(back[n] for n in r.pair))) for r in u.readings]
    one = weigh(LIBRARY.candidates(u.plugs), u.meter, u.conditions, u.readings)
    other = weigh(LIBRARY.candidates(again.plugs), u.meter, u.conditions, readings)
    close(one, other)
    if not any(c.key is None for c in p.connectors) and len({len(c.cavities) for c in p.connectors}) == len(
        p.connectors
    ):
        # every pin is known by its face alone, so that the pairs to read are the same ones
        assert bits(one) == pytest.approx(bits(other), rel=0.01, abs=1e-3)


@settings(max_examples=60)
@given(SEEDS)
def test_the_librarys_own_drawings_and_names_change_nothing(seed: int) -> None:
    rng = np.random.default_rng(seed)
    u = an_unknown(rng, PATTERNS[rng.integers(len(PATTERNS))])
    one = weigh(LIBRARY.candidates(u.plugs), u.meter, u.conditions, u.readings)
    other = weigh(REDRAWN.candidates(u.plugs), u.meter, u.conditions, u.readings)
    close(one, other)


@settings(max_examples=60)
@given(SEEDS)
def test_order_and_direction_of_the_readings_change_nothing(seed: int) -> None:
    rng = np.random.default_rng(seed)
    u = an_unknown(rng, PATTERNS[rng.integers(len(PATTERNS))])
    candidates = LIBRARY.candidates(u.plugs)
    mixed = [u.readings[i] for i in rng.permutation(len(u.readings))]
    turned = [Reading(Pair(r.pair[1], r.pair[0]), r.ohms) if rng.random() < 0.5 else r for r in mixed]
    one = weigh(candidates, u.meter, u.conditions, u.readings)
    other = weigh(candidates, u.meter, u.conditions, turned)
    close(one, other)
    assert bits(one) == pytest.approx(bits(other), rel=1e-6, abs=1e-9)
