"""From a sheet's readings to its explanations: the public face."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import numpy as np

from workbench.findings.circuit import Circuit
from workbench.findings.doubles import double_log
from workbench.findings.evidence import gather
from workbench.findings.faults import JUDGE_FAULTS, STATED, Fault
from workbench.findings.grids import USUAL
from workbench.findings.hypotheses import Hypotheses, What, hypotheses
from workbench.findings.likelihood import shared_of
from workbench.findings.nextpair import best, outlook
from workbench.findings.parameters import parameters
from workbench.findings.records import Finding, NextPair
from workbench.findings.weigh import weigh
from workbench.stator.expect import Expectations, Path
from workbench.stator.meter import Meter
from workbench.stator.pattern import Pattern
from workbench.stator.sheet import Conditions, Reading

# something that none of the explanations covers: keeps an impossible sheet answerable, and weighs nothing on others
_ANYTHING = 1e-9
_FAULTS = tuple(Fault)
# explanations whose parameters are worked out: at most so many, and likely enough
_MOST_SIZED, _SIZED = 30, 1e-4


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
    weights = {f: priors.get(f, 0.0) for f in faults}
    circuit = Circuit(pattern, conditions.celsius)
    e = gather(meter, _by_ohms(pattern, readings))
    h = hypotheses(circuit, pattern, weights, len(e))
    shared = shared_of(circuit, conditions)
    w = weigh(circuit, h, e, shared, USUAL)
    log = np.where(w.opens, w.log, -np.inf)
    double = double_log(circuit, h, e, shared, w)
    anything = float(-np.log(np.abs(e.shown) + 1e-3).sum() - 3.2 * len(e.pairs) - 0.7 * len(e.opens))
    top = max(float(log.max()), double, anything)
    weight = h.prior * np.exp(log - top)
    unlisted = float(
        weight[h.what >= What.LEAK].sum() + h.double_prior * np.exp(double - top) + _ANYTHING * np.exp(anything - top)
    )
    total = float(weight[h.what < What.LEAK].sum()) + unlisted
    weight /= total
    listed = np.flatnonzero(h.what < What.LEAK)
    order = listed[np.argsort(-weight[listed], kind="stable")]
    likely = [k for k in order[:_MOST_SIZED].tolist() if weight[k] > _SIZED]
    sized = parameters(circuit, h, e, shared, w, likely, conditions.celsius)
    out = [
        Finding(_FAULTS[h.what[k]], _where(circuit, h, k), float(weight[k]), sized.get(k, ())) for k in order.tolist()
    ]
    out.append(Finding(Fault.UNLISTED, "", unlisted / total))
    out.sort(key=lambda f: -f.probability)
    ahead = outlook(pattern, meter, circuit, h, e, shared, w, weight)
    return Explained(tuple(out), best(ahead))


def _by_ohms(pattern: Pattern, readings: Iterable[Reading]) -> list[Reading]:
    """The readings that ohms can judge: none through a diode or electronics."""
    kept = list(readings)
    if all(w.element is None for w in pattern.windings):
        return kept
    ask = Expectations(pattern)
    return [r for r in kept if ask.of(r.pair).path is not Path.ELEMENT]


def _where(circuit: Circuit, h: Hypotheses, k: int) -> str:
    what, a, b = h.what[k], int(h.a[k]), int(h.b[k])
    match what:
        case What.OPEN_WINDING | What.SHORTED | What.TO_CORE:
            return circuit.names[a]
        case What.TO_WINDING:
            return "|".join(sorted((circuit.names[a], circuit.names[b])))
        case What.OPEN_LEAD | What.RESISTIVE:
            return circuit.nodes[a]
        case What.SWAPPED:
            return "|".join(sorted((circuit.nodes[a], circuit.nodes[b])))
        case _:
            return ""
