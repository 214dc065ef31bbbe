"""From a sheet's readings to its explanations: the public face."""

import bisect
import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import numpy as np

from workbench.findings.circuit import Circuit, Floats
from workbench.findings.doubles import double_log
from workbench.findings.evidence import Evidence, gather
from workbench.findings.faults import JUDGE_FAULTS, STATED, Fault
from workbench.findings.hypotheses import FAULTS, Hypotheses, What, hypotheses, prior
from workbench.findings.likelihood import shared_of
from workbench.findings.nextpair import best, outlook, pairs_to_ask
from workbench.findings.parameters import parameters
from workbench.findings.records import Finding, NextPair
from workbench.findings.seen import look
from workbench.findings.weigh import Weighed, weigh
from workbench.stator.expect import Expectations, Path
from workbench.stator.meter import Meter
from workbench.stator.pattern import Pattern
from workbench.stator.sheet import Conditions, Reading

# something that none of the explanations covers: keeps an impossible sheet answerable, and weighs nothing on others
_ANYTHING = 1e-9
# explanations whose parameters are worked out: at most so many, and likely enough
_MOST_SIZED, _SIZED = 30, 4e-3


@dataclass(frozen=True, slots=True)
class Explained:
    """`findings`: most probable first, summing to 1. `next`: pairs not yet read, best first."""

    findings: tuple[Finding, ...]
    next: tuple[NextPair, ...]


def explain(
    pattern: Pattern,
    meter: Meter,
    conditions: Conditions,
    readings: Iterable[Reading],
    priors: Mapping[Fault, float] = STATED,
    faults: Iterable[Fault] = JUDGE_FAULTS,
) -> Explained:
    with np.errstate(all="ignore"):
        return _explain(
            pattern, meter, conditions, _by_ohms(pattern, readings), {f: priors.get(f, 0.0) for f in faults}
        )


def _explain(
    pattern: Pattern, meter: Meter, conditions: Conditions, readings: list[Reading], weights: Mapping[Fault, float]
) -> Explained:
    circuit = Circuit(pattern, conditions.celsius)
    e = gather(meter, readings)
    unread = pairs_to_ask(circuit, e)
    pairs = (*e.pairs, *e.opens, *unread)
    h = hypotheses(circuit, pattern, len(pairs))
    shared = shared_of(circuit, conditions)
    every = look(circuit, h, *circuit.nodes_of(pairs))
    n, m = len(e.pairs), len(e)
    w = weigh(circuit, h, e, shared, every.take(np.arange(n)), every.take(np.arange(n, m)))
    double = double_log(circuit, h, e, shared, w, conditions)
    posterior, unlisted = _posterior(h, weights, e, w, double)
    findings = _findings(circuit, h, w, posterior, unlisted, conditions.celsius)
    ahead = outlook(meter, h, e, shared, w, posterior, every, unread, np.arange(m, len(pairs)))
    return Explained(findings, best(ahead))


def _posterior(
    h: Hypotheses, weights: Mapping[Fault, float], e: Evidence, w: Weighed, double: float
) -> tuple[Floats, float]:
    """Of each hypothesis (those of `unlisted` too), and of all that is unlisted."""
    before, before_double = prior(h, weights)
    log = np.where(w.opens, w.log, -np.inf)
    anything = float(-np.log(np.abs(e.shown) + 1e-3).sum() - 3.2 * len(e.pairs) - 0.7 * len(e.opens))
    top = max(float(log.max()), double, anything)
    weight = before * np.exp(log - top)
    other = before_double * math.exp(double - top) + _ANYTHING * math.exp(anything - top)
    total = float(weight.sum()) + other
    weight /= total
    return weight, float(weight[h.unlisted].sum()) + other / total


def _findings(
    circuit: Circuit, h: Hypotheses, w: Weighed, posterior: Floats, unlisted: float, celsius: float
) -> tuple[Finding, ...]:  # fmt: skip
    listed = np.flatnonzero(~h.unlisted)
    order = listed[np.argsort(-posterior[listed], kind="stable")].tolist()
    chances = posterior[order].tolist()
    likely = [k for k, p in zip(order[:_MOST_SIZED], chances, strict=False) if p > _SIZED]
    sized = parameters(circuit, h, w, likely, celsius)
    faults, where = [FAULTS[k] for k in h.what[order].tolist()], _places(circuit, h)
    out = [Finding(fault, where[k], p, sized.get(k, ())) for fault, k, p in zip(faults, order, chances, strict=True)]
    out.insert(bisect.bisect_left(chances, -unlisted, key=lambda p: -p), Finding(Fault.UNLISTED, "", unlisted))
    return tuple(out)


def _places(circuit: Circuit, h: Hypotheses) -> list[str]:
    """The place of each listed hypothesis, in their order."""
    names, nodes = circuit.names, circuit.nodes
    pins = [nodes[a] for a in h.a[h.at[What.OPEN_LEAD]].tolist()]
    to = h.at[What.TO_WINDING]
    between = [_both(names[a], names[b]) for a, b in zip(h.a[to].tolist(), h.b[to].tolist(), strict=True)]
    swaps = [_both(nodes[p], nodes[q]) for p, q in h.swaps]
    return ["", *names, *pins, *names, *names, *between, *pins, *swaps, "", ""]


def _both(one: str, other: str) -> str:
    return f"{one}|{other}" if one <= other else f"{other}|{one}"


def _by_ohms(pattern: Pattern, readings: Iterable[Reading]) -> list[Reading]:
    """The readings that ohms can judge: none through a diode or electronics."""
    kept = list(readings)
    if all(w.element is None for w in pattern.windings):
        return kept
    ask = Expectations(pattern)
    return [r for r in kept if ask.of(r.pair).path is not Path.ELEMENT]
