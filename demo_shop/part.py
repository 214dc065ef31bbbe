"""A part that answers: what a meter would show on it, with the part's true ohms, its faults and the truth around it."""

import random
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from demo_shop.faults import Fault, Wiring, wired
from workbench.stator.copper import factor, k_of
from workbench.stator.meter import Meter
from workbench.stator.network import Network
from workbench.stator.pattern import CORE, Element, Pair, Pattern
from workbench.stator.sheet import Conditions

# winding name -> share of its nominal ohms that the part really has; None: broken
Shares = dict[str, float | None]


@dataclass(frozen=True, slots=True)
class Truth:
    """What holds while a sheet is read, whatever it says: `gains` are a meter's own relative errors, one a range."""

    celsius: float
    lead_ohms: float
    gains: tuple[float, ...] = ()


class Part:
    """One physical part of a pattern. Repeated touches of a pair differ as real ones do.

    Windings that `shares` doesn't name are drawn close to their nominal ohms.
    """

    def __init__(self, pattern: Pattern, shares: Shares, seed: int, faults: Sequence[Fault] = ()) -> None:
        rng = random.Random(seed)
        ohms = {}
        for w in pattern.windings:
            share = shares.get(w.name, 1 + rng.uniform(-0.015, 0.015))
            if share is not None and w.element is None:
                ohms[w.name] = w.nominal * share
        self._random = rng
        self._pattern = pattern
        self._circuit = _Circuit(wired(pattern, ohms, faults), pattern)
        self._elements = _Elements(pattern, seed)

    def has(self, pair: Pair) -> bool:
        """Whether there is something to touch at both ends."""
        return {*pair} <= {*self._pattern.pins, CORE}

    def ohms(self, pair: Pair, celsius: float) -> float | None:
        """What really lies between two places of the part that warm, leads and meter aside; None: nothing."""
        through = self._circuit.ohms(pair, celsius)
        return self._elements.ohms(pair, self._circuit) if through is None else through

    def shows(self, pair: Pair, meter: Meter, conditions: Conditions, truth: Truth | None = None) -> str:
        """The meter's display, as it would be typed. Without a truth of their own the conditions hold as stated."""
        true = truth or Truth(conditions.celsius, conditions.lead_ohms)
        found = self.ohms(pair, true.celsius)
        if found is None:
            return "OL"
        touch = abs(self._random.gauss(0, 0.01 if meter.ranges[0].resolution_ohms > 0.01 else 0.0003))
        ohms = found + true.lead_ohms + touch
        on = meter.covering(ohms)
        if on is None or ohms > meter.open_above_ohms:
            return "OL"
        gain = true.gains[meter.ranges.index(on)] if true.gains else 0.0
        # no meter of these uses up what its maker grants it
        error = ohms * gain + self._random.uniform(-0.3, 0.3) * on.digits * on.resolution_ohms
        steps = round((ohms + error) / on.resolution_ohms)
        decimals = max(0, len(f"{on.resolution_ohms:.6f}".rstrip("0").partition(".")[2]))
        return f"{max(steps, 0) * on.resolution_ohms:.{decimals}f}"


class _Circuit:
    """The copper and what bridges it, solved for any temperature."""

    def __init__(self, wiring: Wiring, pattern: Pattern) -> None:
        self._branches = wiring.branches
        self.touched = wiring.touched
        ends = [n for b in self._branches for n in (b.start, b.finish)]
        self._index = {n: i for i, n in enumerate(dict.fromkeys((*pattern.pins, CORE, *ends, *pattern.inner_points)))}
        at = self._index
        self._ohms = np.array([b.ohms for b in self._branches])
        self._copper = np.array([b.copper for b in self._branches], dtype=bool)
        edges = [(at[b.start], at[b.finish]) for b in self._branches]
        self._net = Network(len(at), edges, [b.ohms for b in self._branches])
        self._k, self._reference = k_of(pattern.conductor), pattern.reference_celsius

    def joined(self, one: str, other: str) -> bool:
        """By nodes of the network, not by cavities."""
        return self._net.joined(self._index[one], self._index[other])

    def ohms(self, pair: Pair, celsius: float) -> float | None:
        a, b = (self._index[self.touched[n]] for n in pair)
        if not self._net.joined(a, b):
            return None
        warm = factor(self._reference, celsius, self._k)
        values = np.where(self._copper, self._ohms * warm, self._ohms)
        return float(self._net.routes([a], [b]).resistances(values)[0])


class _Elements:
    """What a meter makes of diodes and electronics: some number one way, another or none the other way."""

    def __init__(self, pattern: Pattern, seed: int) -> None:
        rng = random.Random(f"{seed}/elements")
        self._elements = []
        for w in pattern.windings:
            if w.element is not None:
                there = rng.uniform(3e5, 9e5)
                back = None if w.element is Element.DIODE else rng.uniform(1.2e6, 6e6)
                self._elements.append((w.start, w.finish, there, back))

    def ohms(self, pair: Pair, circuit: _Circuit) -> float | None:
        """Along the first way found from one element to the next; None where none conducts that way."""
        here = [(circuit.touched[pair.positive], 0.0, frozenset[int]())]
        goal = circuit.touched[pair.negative]
        for node, so_far, used in here:
            if circuit.joined(node, goal):
                return so_far
            for i, (start, finish, there, back) in enumerate(self._elements):
                for near, far, ohms in ((start, finish, there), (finish, start, back)):
                    if i not in used and ohms is not None and circuit.joined(node, near):
                        here.append((far, so_far + ohms, used | {i}))
        return None
