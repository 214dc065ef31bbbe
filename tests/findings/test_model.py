"""`explain` against the generative model itself, drawn many times over for two small parts.

The ohms of these parts are series and parallel sums by hand, the display's rounding is exact, and nothing of the
program is used: what is compared is the chance of the very display that was read.
"""

import math
from collections.abc import Callable

import numpy as np
import pytest

from tests.findings.parts import ask, chance, part
from workbench.findings.faults import STATED, Fault
from workbench.stator.meter import Meter, Range
from workbench.stator.sheet import Conditions

N = 120_000
METER = Meter((Range(200, 0.1, 0.8, 3), Range(2000, 1, 0.8, 3), Range(2e7, 1e4, 1.0, 3)), 2e7)
ROOM = Conditions(20, 3, 0.2, 0.05)
LOW, HIGH = 6.0, 40.0
GROUNDED = part("P:12", ("low", "core", "P.1", LOW, 10), ("high", "P.1", "P.2", HIGH, 15))
PAIRS = (("P.1", "core"), ("P.2", "core"), ("P.1", "P.2"))
Reads = tuple[np.ndarray, np.ndarray, np.ndarray]


def beside(a: np.ndarray, b: np.ndarray) -> np.ndarray:
    return a * b / (a + b)


def log_even(rng: np.random.Generator, low: float, high: float) -> np.ndarray:
    return np.exp(rng.uniform(math.log(low), math.log(high), N))


def sound(low: np.ndarray, high: np.ndarray) -> Reads:
    return low, low + high, high


def low_to_core(low: np.ndarray, high: np.ndarray, x: np.ndarray, r: np.ndarray) -> Reads:
    first = (1 - x) * low + beside(x * low, r)
    return first, first + high, high


def high_to_core(low: np.ndarray, high: np.ndarray, x: np.ndarray, r: np.ndarray) -> Reads:
    near, far = x * high, (1 - x) * high
    return beside(low, near + r), far + beside(r, near + low), far + beside(near, low + r)


def touching(low: np.ndarray, high: np.ndarray, x: np.ndarray, y: np.ndarray, r: np.ndarray) -> Reads:
    """`low` from x of its way from the core, to `high` at y of its way from P.1."""
    below, above, near, far = x * low, (1 - x) * low, y * high, (1 - y) * high
    return below + beside(above, r + near), below + beside(r, above + near) + far, far + beside(near, r + above)


def drawn(rng: np.random.Generator, fault: str, where: str) -> tuple[Reads, np.ndarray, np.ndarray]:
    """What the three pairs have; then ohms of all leads, and how much warmer the part is (degrees Celsius)."""
    warmth = rng.normal(0, 3, N)
    extra = np.zeros(N)
    if fault == "wrong-temperature":
        warmth = warmth + rng.uniform(20, 80, N)
    if fault == "leads-not-zeroed":
        extra = rng.uniform(0.1, 6, N)
    factor = 1 + warmth / 254.5
    low = LOW * (1 + 0.05 * rng.standard_normal(N)) * factor
    high = HIGH * (1 + 0.075 * rng.standard_normal(N)) * factor
    if fault == "shorted-turns":
        left = 1 - log_even(rng, 0.02, 0.9)
        low, high = (low * left, high) if where == "low" else (low, high * left)
    if fault == "winding-to-core":
        x, r = rng.uniform(0, 1, N), log_even(rng, 0.5, 200)
        return (low_to_core if where == "low" else high_to_core)(low, high, x, r), extra, warmth
    if fault == "winding-to-winding":
        x, y, r = rng.uniform(0, 1, N), rng.uniform(0, 1, N), log_even(rng, 0.5, 200)
        return touching(low, high, x, y, r), extra, warmth
    reads = sound(low, high)
    if fault == "resistive-lead":
        r = log_even(rng, 0.5, 500)
        on = (where == "P.1", where == "P.2", True)
        reads = tuple(v + r * o for v, o in zip(reads, on, strict=True))  # type: ignore[assignment]
    if fault == "swapped-pins":
        reads = (reads[1], reads[0], reads[2])
    return reads, extra, warmth


def chance_of(shown: list[float], rng: np.random.Generator, fault: str, where: str) -> float:
    reads, extra, _ = drawn(rng, fault, where)
    lead = 0.2 + 0.05 * rng.standard_normal(N) + extra
    gain = 1 + 0.008 / math.sqrt(3) * rng.standard_normal(N)
    out = np.ones(N)
    for ohms, y in zip(reads, shown, strict=True):
        x = (ohms + lead + np.abs(0.02 * rng.standard_normal(N))) * gain
        # x moved by up to 0.3 either way, evenly, then rounded to 0.1: the share that comes out as y
        share = np.minimum(x + 0.3, y + 0.05) - np.maximum(x - 0.3, y - 0.05)
        out *= np.maximum(share, 0) / 0.6
    return float(out.mean())


KINDS: dict[str, list[str]] = {
    "sound": [""], "shorted-turns": ["low", "high"], "winding-to-core": ["low", "high"],
    "resistive-lead": ["P.1", "P.2"], "swapped-pins": ["P.1|P.2"], "leads-not-zeroed": [""], "wrong-temperature": [""],
}  # fmt: skip

CASES: dict[str, Callable[[], list[float]]] = {
    "as it should be": lambda: [6.3, 46.4, 40.2],
    "a little low": lambda: [5.6, 45.6, 40.2],
    "a short of some turns": lambda: [4.3, 44.0, 40.0],
    "low all over": lambda: [3.4, 28.9, 30.1],
    "high at one pin": lambda: [6.2, 49.6, 43.9],
    "a little more everywhere": lambda: [8.1, 48.5, 42.3],
}


@pytest.mark.parametrize("case", CASES)
def test_a_grounded_pair_of_windings_with_all_pairs_read(case: str) -> None:
    shown = CASES[case]()
    rng = np.random.default_rng(11)
    weights = {
        (k, w): STATED[Fault(k)] / len(places) * chance_of(shown, rng, k, w)
        for k, places in KINDS.items()
        for w in places
    }
    total = sum(weights.values())
    x = ask(GROUNDED, *((a, b, y) for (a, b), y in zip(PAIRS, shown, strict=True)), meter=METER, room=ROOM)
    ours = {key: chance(x, *key) for key in weights}
    known = sum(ours.values())
    for key, weight in weights.items():
        assert ours[key] / known == pytest.approx(weight / total, abs=0.03), key


def test_two_windings_touching_against_a_short_to_the_core() -> None:
    shown, rng = [5.1, 36.4, 33.0], np.random.default_rng(12)
    tried = 8  # such readings are rare under either: the mean of as many draws again
    core = 0.04 * sum(chance_of(shown, rng, "winding-to-core", "high") for _ in range(tried))
    both = 0.02 * sum(chance_of(shown, rng, "winding-to-winding", "high|low") for _ in range(tried))
    x = ask(GROUNDED, *((a, b, y) for (a, b), y in zip(PAIRS, shown, strict=True)), meter=METER, room=ROOM)
    ours = chance(x, "winding-to-winding", "high|low") / chance(x, "winding-to-core", "high")
    assert ours == pytest.approx(both / core, rel=0.35)
