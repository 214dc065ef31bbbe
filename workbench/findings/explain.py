"""From a sheet's readings to its explanations: the public face."""

import bisect
import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace

import numpy as np

from workbench.findings.circuit import Circuit, Floats, Known
from workbench.findings.doubles import double_log
from workbench.findings.evidence import Evidence, gather
from workbench.findings.faults import JUDGE_FAULTS, STATED, Fault
from workbench.findings.hypotheses import FAULTS, Hypotheses, What, hypotheses, prior
from workbench.findings.likelihood import shared_of
from workbench.findings.nextpair import best, outlook, pairs_to_ask
from workbench.findings.parameters import parameters
from workbench.findings.records import Finding, Group, NextPair, Speech
from workbench.findings.seen import look
from workbench.findings.speech import Workings, groups, speeches
from workbench.findings.weigh import Weighed, weigh
from workbench.stator.expect import Expectations, Path
from workbench.stator.meter import Meter
from workbench.stator.pattern import Pair, Pattern
from workbench.stator.sheet import Conditions, Reading

# something that none of the explanations covers: keeps an impossible sheet answerable, and weighs nothing on others
_ANYTHING = 1e-9
# explanations whose parameters are worked out: at most so many, and likely enough
_MOST_SIZED, _SIZED = 30, 0.01


@dataclass(frozen=True, slots=True)
class Explained:
    """`findings`: most probable first, summing to 1. `next`: pairs not yet read, at most ten, first what should leave
    the truth most probable.

    What only a screen asks for is worked out when it is asked for: `groups`, and each finding's `speeches`.
    """

    findings: tuple[Finding, ...]
    next: tuple[NextPair, ...]
    workings: Workings = field(repr=False, compare=False)
    log: float = 0.0  # log likelihood of the whole sheet, all of its explanations together
    # that the windings are still those of the part's past, where that is known; and which of its sheets that stands on
    by_past: float | None = None
    past: tuple[int, ...] = ()

    def groups(self) -> tuple[Group, ...]:
        """Findings that the readings taken can't tell apart, two or more together, likeliest group first."""
        return groups(self.workings, self.findings)

    def speeches(self, finding: Finding) -> tuple[Speech, ...]:
        """How each reading speaks for or against a finding, beside a sound part, given the other readings (bit)."""
        return speeches(self.workings, finding)


def explain(
    pattern: Pattern,
    meter: Meter,
    conditions: Conditions,
    readings: Iterable[Reading],
    priors: Mapping[Fault, float] = STATED,
    faults: Iterable[Fault] = JUDGE_FAULTS,
    known: Known | None = None,
) -> Explained:
    """What the readings of one sheet say of the part.

    `priors`: weights of the kinds, scaled to sum to 1 over the kinds in `faults` that have a place in this pattern.
    `known`: this part's own windings, in place of the pattern's bands.
    Readings through a diode or electronics are left out, as are their pairs from what to read next; faults of such
    elements are not considered. With nothing read the findings are the priors. Readings that no explanation can give
    come out as `unlisted`. A part or sheet beyond any bench's (see `hypotheses` and `weigh`) is answered from fewer
    explanations and coarser ones, and past 80 finite pairs without a next pair, within a bound of time and memory.
    """
    ohmic = _Ohmic(pattern)
    with np.errstate(all="ignore"):
        weights = {f: priors.get(f, 0.0) for f in faults}
        return _explain(pattern, meter, conditions, [r for r in readings if ohmic(r.pair)], weights, ohmic, known)


def _explain(
    pattern: Pattern, meter: Meter, conditions: Conditions, readings: list[Reading], weights: Mapping[Fault, float],
    ohmic: "_Ohmic", known: Known | None,
) -> Explained:  # fmt: skip
    circuit = Circuit(pattern, conditions.celsius, known)
    e = gather(meter, readings)
    if known is not None:
        e = replace(e, scale=np.zeros(len(e.pairs)))  # the gains are among what is known
    unread = tuple(p for p in pairs_to_ask(circuit, e) if ohmic(p))
    pairs = (*e.pairs, *e.opens, *unread)
    h = hypotheses(circuit, pattern, len(pairs))
    shared = shared_of(circuit, conditions)
    every = look(circuit, h, *circuit.nodes_of(pairs))
    n, m = len(e.pairs), len(e)
    w = weigh(circuit, h, e, shared, every.take(np.arange(n)), every.take(np.arange(n, m)))
    double = double_log(circuit, h, e, shared, w, conditions)
    posterior, unlisted, whole = _posterior(h, weights, e, w, double)
    where = _places(circuit, h)
    findings = _findings(circuit, h, w, posterior, unlisted, conditions.celsius, where)
    ahead = outlook(meter, h, e, shared, w, posterior, every, unread, np.arange(m, len(pairs)))
    return Explained(findings, best(ahead), Workings(h, e, shared, every, w, posterior, where, ahead), whole)


def _posterior(
    h: Hypotheses, weights: Mapping[Fault, float], e: Evidence, w: Weighed, double: float
) -> tuple[Floats, float, float]:
    """Of each hypothesis (those of `unlisted` too), and of all that is unlisted; and the sheet's log likelihood."""
    before, before_double = prior(h, weights)
    log = np.where(w.opens, w.log, -np.inf)
    anything = float(-np.log(np.abs(e.shown) + 1e-3).sum() - 3.2 * len(e.pairs) - 0.7 * len(e.opens))
    top = max(float(log.max()), double, anything)
    weight = before * np.exp(log - top)
    other = before_double * math.exp(double - top) + _ANYTHING * math.exp(anything - top)
    total = float(weight.sum()) + other
    weight /= total
    return weight, float(weight[h.unlisted].sum()) + other / total, top + math.log(total)


def _findings(
    circuit: Circuit, h: Hypotheses, w: Weighed, posterior: Floats, unlisted: float, celsius: float,
    where: list[str],
) -> tuple[Finding, ...]:  # fmt: skip
    listed = np.flatnonzero(~h.unlisted)
    order = listed[np.argsort(-posterior[listed], kind="stable")].tolist()
    chances = posterior[order].tolist()
    likely = [k for k, p in zip(order[:_MOST_SIZED], chances, strict=False) if p > _SIZED]
    sized = parameters(circuit, h, w, likely, celsius)
    faults = [FAULTS[k] for k in h.what[order].tolist()]
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


class _Ohmic:
    """Whether ohms can judge a pair: none through a diode or electronics."""

    def __init__(self, pattern: Pattern) -> None:
        self._ask = Expectations(pattern) if any(w.element for w in pattern.windings) else None

    def __call__(self, pair: Pair) -> bool:
        return self._ask is None or self._ask.of(pair).path is not Path.ELEMENT
