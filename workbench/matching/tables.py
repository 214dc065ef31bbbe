"""What every pair of every pattern of one shape reads, ready to be taken by columns.

The network is linear in its ohms where it matters: scaled by the temperature, a pair's resistance is the sum over the
windings of what each adds (Euler: a resistance is homogeneous of degree one in all ohms), and the links' part stays.
So the tables hold for any temperature, and a sheet costs no solving.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from workbench.findings.circuit import Circuit, Probe
from workbench.matching.faces import Bools, Floats, Ints
from workbench.matching.layings import Shape
from workbench.stator.copper import k_of
from workbench.stator.crossing import windings_of
from workbench.stator.pattern import Pair, Pattern

# figures of two layings, or two patterns, that differ by less of themselves are the same
_DIGITS = 9


@dataclass(frozen=True, slots=True, eq=False)
class Tables:
    """`shape`'s pairs over its patterns, all at each pattern's own reference temperature.

    `part` (windings, pairs, patterns): ohms that each winding adds; `rel` (windings, patterns): its standard deviation
    as a share; `wound`, `linked` (pairs, patterns): ohms by all windings, by all links; `joined`, `mute` (pairs,
    patterns): has a path; its path may lie through an element, of which ohms say nothing. `k`, `reference`
    (patterns,): degrees Celsius. `share` (patterns, layings): of its layings, those that read alike in every pair
    counted with the first. `classes` (patterns,): the same number for patterns that no reading can tell apart.
    """

    part: Floats
    rel: Floats
    wound: Floats
    linked: Floats
    joined: Bools
    mute: Bools
    k: Floats
    reference: Floats
    share: Floats
    classes: Ints

    def warm(self, celsius: float) -> Floats:
        """(patterns,): what windings at the reference temperature are multiplied by."""
        return (self.k + celsius) / (self.k + self.reference)


def tables(shape: Shape, patterns: Sequence[Pattern], nodes: Sequence[Sequence[str]]) -> Tables:
    """`nodes`: for each pattern, its node in each slot of the shape."""
    i, j = shape.pairs
    most = max(1, *(len(p.windings) for p in patterns))
    size = (len(i), len(patterns))
    part, rel = np.zeros((most, *size)), np.zeros((most, len(patterns)))
    linked, joined, mute = np.zeros(size), np.zeros(size, dtype=bool), np.zeros(size, dtype=bool)
    for m, (pattern, its) in enumerate(zip(patterns, nodes, strict=True)):
        circuit = Circuit(pattern, pattern.reference_celsius)
        at = np.array([circuit.at[n] for n in its])
        probe = Probe(circuit, at[i], at[j])
        nw = circuit.windings
        squares = probe.flow * probe.flow * probe.same
        part[:nw, :, m] = circuit.r[:nw, None] * squares[:nw]
        rel[:nw, m] = circuit.sd / circuit.r[:nw]
        linked[:, m] = circuit.r[nw:] @ squares[nw:]
        joined[:, m] = probe.same
        mute[:, m] = _mute(pattern, its, shape)
    k = np.array([k_of(p.conductor) for p in patterns])
    reference = np.array([p.reference_celsius for p in patterns])
    wound = part.sum(0)
    share, classes = _alike(shape, part, rel, linked, joined, mute, k, reference)
    return Tables(part, rel, wound, linked, joined, mute, k, reference, share, classes)


def _mute(pattern: Pattern, nodes: Sequence[str], shape: Shape) -> Bools:
    elements = {w.name for w in pattern.windings if w.element is not None}
    i, j = shape.pairs
    if not elements:
        return np.zeros(len(i), dtype=bool)
    ends = zip(i.tolist(), j.tolist(), strict=True)
    return np.array([not elements.isdisjoint(windings_of(pattern, Pair(nodes[a], nodes[b]))) for a, b in ends])


def _alike(
    shape: Shape, part: Floats, rel: Floats, linked: Floats, joined: Bools, mute: Bools, k: Floats, reference: Floats
) -> tuple[Floats, Ints]:
    """Layings that read alike in every pair, and patterns that do under some laying.

    The same pairs open, and means and covariances of all pairs agree: compared by a few odd projections.
    """
    p = shape.images.shape[1]
    rng = np.random.default_rng(20_251_125)  # any odd directions will do, always the same
    directions = []
    for _ in range(2):
        odd = np.zeros(shape.images.T.shape)
        np.put_along_axis(odd, shape.images.T, rng.normal(size=(p, 1)), 0)
        directions.append(odd)
    at_20 = (k + 20) / (k + reference)
    wide = part * at_20
    share = np.zeros((len(k), len(shape.images)))
    keys: dict[tuple[float, ...], int] = {}
    classes = np.zeros(len(k), dtype=np.intp)
    for i in range(len(k)):
        figures: list[Floats] = []
        for odd in directions:
            spread = (wide[:, :, i] * rel[:, i, None]) @ odd
            ohms = wide[:, :, i].sum(0) @ odd
            figures += [
                ohms,
                ohms / (k[i] + 20),
                linked[:, i] @ odd,
                np.sqrt((spread * spread).sum(0)),
                (joined[:, i] + 3.0 * mute[:, i]) @ odd,
            ]
        each = np.stack(figures)
        # against the largest, so that what cancels out isn't told apart by rounding
        sizes = np.abs(each).max(1, keepdims=True) + 1e-12
        # no -0 beside 0
        scaled = np.round(each / sizes, _DIGITS) + 0.0
        rows, first, count = np.unique(scaled.T, axis=0, return_index=True, return_counts=True)
        share[i, first] = count / len(shape.images)
        key = (*rows[0].tolist(), *(_rounded(float(x)) for x in sizes[:, 0]))
        classes[i] = keys.setdefault(key, i)
    return share, classes


def _rounded(x: float) -> float:
    return round(x, _DIGITS - 1 - math.floor(math.log10(x)))
