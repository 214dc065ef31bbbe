"""One reading typed under one pair while the probes stood on another: how likely the sheet then is for a sound part."""

import itertools
import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Self

import numpy as np

from workbench.findings.cells import AXES, Read
from workbench.findings.circuit import Circuit, Floats, Probe
from workbench.findings.evidence import Evidence, gather, own_variance
from workbench.findings.likelihood import Shared, covariance, factors, shared_of
from workbench.findings.weigh import sound_log
from workbench.stator.meter import Meter
from workbench.stator.pattern import CORE, Pair, Pattern
from workbench.stator.sheet import Conditions, Reading

# pairs on which the probes may have stood, on a part larger than any bench's
_MOST_PAIRS = 200
Stood = tuple[float, Pair]


def taken_elsewhere(
    pattern: Pattern, meter: Meter, conditions: Conditions, readings: Sequence[Reading]
) -> dict[tuple[str, str], list[Stood]]:
    """For each pair read once: the sheet's log likelihood with the probes on each other pair in its stead.

    The reading keeps its number, so that it counts on the other pair given the rest of the sheet (a conditional normal
    law, JCGM 101). A pair that was read again is left out: readings of it
    that contradict each other are told apart (`findings.repeats`).
    """
    if (part := _Part.of(pattern, conditions, readings)) is None:
        return {}
    times = Counter(r.pair.unordered for r in readings)
    out = {}
    for i, r in enumerate(readings):
        if times[r.pair.unordered] > 1:
            continue
        rest = gather(meter, (*readings[:i], *readings[i + 1 :]))
        finite, opened = (Probe(part.circuit, *part.circuit.nodes_of(p)) for p in (rest.pairs, rest.opens))
        log = sound_log(part.circuit, rest, part.shared, finite, opened)
        logs = np.full(len(part.pairs), log)
        if log > -math.inf:
            logs += _there(r, part.stood, finite, rest, part.shared, meter)
        out[r.pair.unordered] = part.others(r, logs)
    return out


def stood_on(
    pattern: Pattern, meter: Meter, conditions: Conditions, rest: Sequence[Reading], r: Reading
) -> list[Stood]:
    """Log density of one more reading on each other pair of a part that is sound, given the rest of the sheet.

    Empty where the rest is not that of a sound part: nothing is known then of what the other pairs read.
    """
    if (part := _Part.of(pattern, conditions, (*rest, r))) is None:
        return []
    e = gather(meter, rest)
    finite, opened = (Probe(part.circuit, *part.circuit.nodes_of(p)) for p in (e.pairs, e.opens))
    if sound_log(part.circuit, e, part.shared, finite, opened) == -math.inf:
        return []
    return part.others(r, _there(r, part.stood, finite, e, part.shared, meter))


@dataclass(frozen=True, slots=True)
class _Part:
    """A sound part, and the pairs on which the probes may have stood."""

    circuit: Circuit
    shared: Shared
    pairs: list[Pair]
    stood: Probe

    @classmethod
    def of(cls, pattern: Pattern, conditions: Conditions, readings: Sequence[Reading]) -> Self | None:
        """None where a reading touches what this pattern doesn't have."""
        circuit = Circuit(pattern, conditions.celsius)
        if any(n not in circuit.at for r in readings for n in r.pair):
            return None
        wired = {x for ends in circuit.ends for x in ends}
        nodes = [*(p for p in pattern.pins if circuit.at[p] in wired), CORE]
        pairs = [Pair(a, b) for a, b in itertools.islice(itertools.combinations(nodes, 2), _MOST_PAIRS)]
        return cls(circuit, shared_of(circuit, conditions), pairs, Probe(circuit, *circuit.nodes_of(pairs)))

    def others(self, r: Reading, logs: Floats) -> list[Stood]:
        """Each of the pairs but the reading's own, with its log."""
        return [(x, p) for x, p in zip(logs.tolist(), self.pairs, strict=True) if p.unordered != r.pair.unordered]


def _there(r: Reading, stood: Probe, finite: Probe, rest: Evidence, shared: Shared, meter: Meter) -> Floats:
    """Log density (pairs,) of the reading on each pair of a sound part, given the rest of the sheet."""
    if r.ohms is None:
        return np.where(stood.same, -math.inf, 0.0)
    at = np.flatnonzero(stood.same)
    out = np.full(len(stood.same), -math.inf)
    if not len(at):
        return out
    n, m = len(rest.pairs), len(at)
    on = meter.ranges.index(r.range_on(meter))
    # the rest, then this reading on each pair as if all of them had been read: one covariance
    every = replace(
        rest,
        own=np.append(rest.own, np.full(m, own_variance(meter, on))),
        scale=np.append(rest.scale, np.full(m, meter.ranges[on].gain(1.0))),
        range=np.append(rest.range, np.full(m, on)),
    )
    here = stood.take(at)
    mu, jac = np.concatenate((finite.ohms, here.ohms)), np.concatenate((finite.jac, here.jac), 1)
    x = mu[:, None] + shared.lead
    f = factors(Read(mu[:, None], jac[:, :, None], np.zeros((AXES, n + m, 1))), shared)
    low = covariance(f, x, every, shared)[..., 0]
    whole = np.tril(low) + np.tril(low, -1).T
    pulled = np.linalg.solve(whole[:n, :n], np.column_stack((rest.shown - x[:n, 0], whole[:n, n:])))
    mean = x[n:, 0] + whole[n:, :n] @ pulled[:, 0]
    var = np.maximum(whole.diagonal()[n:] - np.einsum("nm,nm->m", whole[:n, n:], pulled[:, 1:]), every.own[n:])
    out[at] = -0.5 * (r.ohms - mean) ** 2 / var - 0.5 * np.log(2 * math.pi * var)
    return out
