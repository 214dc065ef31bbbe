"""Faults beyond the model's eleven, for the bench: in what joins the windings, and in the reading of one pair.

A ground or link that several windings share, broken or poor; a wet plug, which shunts two of its pins; a slip of one
reading, or the probes on another pair. Each is a sound part wired otherwise, or one reading taken otherwise, so that
the sheet's likelihood under it is that of a sound part.
"""

import itertools
import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from workbench.findings.circuit import Circuit, Known, Probe
from workbench.findings.elsewhere import Stood, taken_elsewhere
from workbench.findings.evidence import Evidence, gather
from workbench.findings.explain import Explained
from workbench.findings.faults import BENCH_PRIORS, SLIPS, STATED, BenchFault, Fault
from workbench.findings.known import explain_knowing
from workbench.findings.leading import sound_leads
from workbench.findings.likelihood import shared_of
from workbench.findings.records import Finding, Parameter
from workbench.findings.repeats import explain_apart
from workbench.findings.weigh import sound_log
from workbench.stator.expect import Expectations, Path
from workbench.stator.meter import Meter
from workbench.stator.pattern import CORE, Link, Pair, Pattern, Winding
from workbench.stator.sheet import Conditions, Reading

# ohms of a poor joint, and of water between two pins: as far as each is worth telling; log-uniform
POOR = np.geomspace(0.5, 500.0, 13)
WET = np.geomspace(1e3, 1e6, 13)
MOST_TRIED = 600
# per cent, two standard deviations: each of the ohms stands for its cell, even in their logarithm
_CELL = 200 * math.log(POOR[1] / POOR[0]) / math.sqrt(12)
_POINT = "the ground's own point"


@dataclass(frozen=True, slots=True)
class _Otherwise:
    """A part wired otherwise, or a sheet read otherwise. `jacobian`: log of typed over meant."""

    fault: BenchFault
    where: str
    pattern: Pattern
    readings: tuple[Reading, ...]
    ohms: float = 0.0
    jacobian: float = 0.0


def explain_on_the_bench(
    pattern: Pattern,
    meter: Meter,
    conditions: Conditions,
    readings: Sequence[Reading],
    priors: Mapping[Fault, float] = STATED,
    known: Known | None = None,
) -> Explained:
    """As `explain`, with `BENCH_PRIORS`' faults weighed too where something other than a sound part leads.

    A pattern with elements that ohms can't judge keeps to the eleven, and with nothing read the odds stay as they are.
    Readings of one pair that contradict each other are not taken together: one party was a slip (`findings.repeats`).
    `known`: the part's own windings (`known_of`).
    """
    found = explain_knowing(pattern, meter, conditions, readings, known, priors)
    if not readings or any(w.element is not None for w in pattern.windings):
        return found

    def rest(right: Sequence[Reading]) -> Explained:
        return explain_on_the_bench(pattern, meter, conditions, right, priors, known)

    apart = explain_apart(pattern, meter, conditions, readings, found, rest)
    if apart is not None or sound_leads(found):
        return apart or found
    return _beyond(found, pattern, meter, conditions, readings)


def _beyond(
    found: Explained, pattern: Pattern, meter: Meter, conditions: Conditions, readings: Sequence[Reading]
) -> Explained:
    """What the eleven say, with the bench's own faults beside them."""
    logs: dict[tuple[BenchFault, str], list[tuple[float, float]]] = {}
    tried = itertools.islice(_others(pattern, meter, tuple(readings)), MOST_TRIED)
    for o in tried:
        log = _log(o.pattern, meter, conditions, gather(meter, o.readings)) - o.jacobian
        logs.setdefault((o.fault, o.where), []).append((log, o.ohms))
    stood = taken_elsewhere(pattern, meter, conditions, readings)
    for typed, tries in stood.items():
        if tries:
            logs[BenchFault.ELSEWHERE, "|".join(typed)] = [(log, 0.0) for log, _ in tries]
    if not logs:
        return found
    places = {f: sum(1 for k in logs if k[0] is f) for f, _ in logs}
    kept = 1 - sum(BENCH_PRIORS[f] for f in places)
    whole = {
        key: _mean([log for log, _ in cells]) + math.log(BENCH_PRIORS[key[0]] / places[key[0]])
        for key, cells in logs.items()
    }
    base = found.log + math.log(kept)
    top = max(base, *whole.values())
    total = math.exp(base - top) + sum(math.exp(v - top) for v in whole.values())
    share = math.exp(base - top) / total
    more = [
        Finding(
            fault, where, math.exp(v - top) / total, _sized(fault, logs[fault, where]), _standing(fault, where, stood)
        )
        for (fault, where), v in whole.items()
    ]
    findings = [*(replace(f, probability=f.probability * share) for f in found.findings), *more]
    log = top + math.log(total)
    return replace(found, findings=tuple(sorted(findings, key=lambda f: -f.probability)), log=log)


def _others(pattern: Pattern, meter: Meter, readings: tuple[Reading, ...]) -> Iterator[_Otherwise]:
    yield from _ground(pattern, readings)
    for link in pattern.links:
        rest = tuple(x for x in pattern.links if x is not link)
        yield _Otherwise(BenchFault.OPEN_LINK, link.name, replace(pattern, links=rest, checks=None), readings)
        for ohms in POOR:
            poor = Winding(f"{link.name}, poor", link.start, link.finish, ohms=float(ohms), tolerance_percent=_CELL)
            wired = replace(pattern, links=rest, windings=(*pattern.windings, poor), layout=None, checks=None)
            yield _Otherwise(BenchFault.POOR_LINK, link.name, wired, readings, float(ohms))
    yield from _slips(pattern, meter, readings)
    if _leaks(pattern, readings):
        yield from _wet(pattern, readings)


def _leaks(pattern: Pattern, readings: tuple[Reading, ...]) -> bool:
    """Whether a number was read where nothing joins: water in a plug shows there long before it moves a winding."""
    ask = Expectations(pattern)
    return any(r.ohms is not None and ask.of(r.pair).path is Path.NONE for r in readings)


def _wet(pattern: Pattern, readings: tuple[Reading, ...]) -> Iterator[_Otherwise]:
    edges: tuple[Winding | Link, ...] = (*pattern.windings, *pattern.links)
    wired_pins = {n for e in edges for n in (e.start, e.finish)}
    for plug in pattern.connectors:
        for a, b in itertools.combinations(plug.nodes, 2):
            if a in wired_pins or b in wired_pins:
                for ohms in WET:
                    shunt = Winding("water", a, b, ohms=float(ohms), tolerance_percent=_CELL)
                    wired = replace(pattern, windings=(*pattern.windings, shunt), layout=None, checks=None)
                    yield _Otherwise(BenchFault.WET_PLUG, f"{a}|{b}", wired, readings, float(ohms))


def _ground(pattern: Pattern, readings: tuple[Reading, ...]) -> Iterator[_Otherwise]:
    """The point at which two or more windings or links meet the iron, lifted from it or poorly joined."""
    edges: tuple[Winding | Link, ...] = (*pattern.windings, *pattern.links)
    if sum(CORE in (e.start, e.finish) for e in edges) < 2:
        return

    def moved(node: str) -> str:
        return _POINT if node == CORE else node

    windings = tuple(replace(w, start=moved(w.start), finish=moved(w.finish)) for w in pattern.windings)
    links = tuple(replace(x, start=moved(x.start), finish=moved(x.finish)) for x in pattern.links)
    lifted = replace(pattern, windings=windings, links=links, layout=None, checks=None)
    yield _Otherwise(BenchFault.OPEN_GROUND, "", lifted, readings)
    for ohms in POOR:
        joint = Winding("poor ground", _POINT, CORE, ohms=float(ohms), tolerance_percent=_CELL)
        yield _Otherwise(
            BenchFault.POOR_GROUND, "", replace(lifted, windings=(*windings, joint)), readings, float(ohms)
        )


def _slips(pattern: Pattern, meter: Meter, readings: tuple[Reading, ...]) -> Iterator[_Otherwise]:
    """One reading typed with a wrong point or unit."""
    for i, r in enumerate(readings):
        if r.ohms is None or r.range_upto_ohms is not None:
            continue
        where = "|".join(r.pair.unordered)
        for factor in SLIPS:
            meant = replace(r, ohms=r.ohms / factor)
            if meter.covering(r.ohms / factor) is None:
                continue  # nothing that this meter could have shown
            yield _Otherwise(
                BenchFault.SLIP, where, pattern, (*readings[:i], meant, *readings[i + 1 :]),
                meant.ohms or 0.0, math.log(factor),
            )  # fmt: skip


def _log(pattern: Pattern, meter: Meter, conditions: Conditions, e: Evidence) -> float:
    """Log likelihood of the sheet for a sound part of this pattern."""
    circuit = Circuit(pattern, conditions.celsius)
    if any(n not in circuit.at for p in (*e.pairs, *e.opens) for n in p):
        return -math.inf
    finite, opened = (Probe(circuit, *circuit.nodes_of(p)) for p in (e.pairs, e.opens))
    return sound_log(circuit, e, shared_of(circuit, conditions), finite, opened)


def _mean(logs: list[float]) -> float:
    top = max(logs)
    return -math.inf if top == -math.inf else top + math.log(sum(math.exp(x - top) for x in logs) / len(logs))


def _sized(fault: BenchFault, cells: list[tuple[float, float]]) -> tuple[Parameter, ...]:
    """The ohms, with what holds them with 90 %, as far as the grid tells."""
    if fault in (BenchFault.OPEN_GROUND, BenchFault.OPEN_LINK, BenchFault.ELSEWHERE):
        return ()
    top = max(log for log, _ in cells)
    if top == -math.inf:
        return ()
    cells = sorted(cells, key=lambda c: c[1])
    weights = np.array([math.exp(log - top) for log, _ in cells])
    weights /= weights.sum()
    ohms = np.array([o for _, o in cells])
    reached = np.cumsum(weights)
    low, high = (float(ohms[np.searchsorted(reached, q)]) for q in (0.05, 0.95 - 1e-9))
    best = float(ohms[weights.argmax()])
    return (Parameter("ohms", best, low, high),)


def _standing(fault: BenchFault, where: str, stood: Mapping[tuple[str, str], Sequence[Stood]]) -> Pair | None:
    """The pair that the probes stood on, where one is likelier than all others together."""
    if fault is not BenchFault.ELSEWHERE:
        return None
    one, other = where.split("|")
    tries = stood[one, other]
    best, pair = max(tries, key=lambda t: t[0])
    if best == -math.inf:
        return None
    return pair if sum(math.exp(log - best) for log, _ in tries) < 2 else None
