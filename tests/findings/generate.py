"""Sheets drawn from the model that `explain` answers by: patterns, meters, faults, readings, and what was true.

Networks are solved afresh for each part by a dense solve of its own (`resistances`), which knows nothing of the
program's closed forms; test_circuit holds it to networkx.
"""

import itertools
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

import numpy as np

from workbench.findings.faults import STATED
from workbench.stator.meter import Meter, Range
from workbench.stator.pattern import Cavity, Connector, Link, Pair, Pattern, Winding
from workbench.stator.sheet import Conditions, Reading

Edges = list[tuple[str, str, float]]
Rng = np.random.Generator

METERS = [
    (20, 0.001, 0.3, 3), (50, 0.01, 1.0, 5), (200, 0.1, 0.8, 3), (400, 0.1, 1.2, 4), (600, 0.1, 0.5, 2),
]  # fmt: skip


def resistances(edges: Edges, pairs: Iterable[Pair]) -> dict[Pair, float]:
    """Ohms of each pair (infinite where nothing joins it), by a dense solve of each joined part."""
    near: dict[str, set[str]] = {}
    for a, b, _ in edges:
        near.setdefault(a, set()).add(b)
        near.setdefault(b, set()).add(a)
    part: dict[str, int] = {}
    groups: list[list[str]] = []
    for node in near:
        if node in part:
            continue
        group, todo = [node], [node]
        part[node] = len(groups)
        while todo:
            for other in near[todo.pop()]:
                if other not in part:
                    part[other] = len(groups)
                    group.append(other)
                    todo.append(other)
        groups.append(group)
    inverses = []
    for group in groups:
        at = {node: i for i, node in enumerate(group)}
        lap = np.zeros((len(group), len(group)))
        for a, b, r in edges:
            if a in at and a != b:
                i, j = at[a], at[b]
                lap[[i, j], [i, j]] += 1 / r
                lap[i, j] -= 1 / r
                lap[j, i] -= 1 / r
        inverses.append((at, np.linalg.pinv(lap)))
    out = {}
    for p in pairs:
        if part.get(p[0], -1) != part.get(p[1], -2):
            out[p] = math.inf
            continue
        at, g = inverses[part[p[0]]]
        i, j = at[p[0]], at[p[1]]
        out[p] = float(g[i, i] + g[j, j] - 2 * g[i, j])
    return out


@dataclass(frozen=True)
class Wrong:
    """One fault: its word, its place, and its parameters."""

    fault: str
    where: str = ""
    values: dict[str, float] = field(default_factory=dict)


@dataclass(frozen=True)
class Drawn:
    """A sheet, and what was wrong with the part behind it."""

    pattern: Pattern
    meter: Meter
    conditions: Conditions
    readings: tuple[Reading, ...]
    fault: str
    where: str
    faults: tuple[Wrong, ...]


def _log(rng: Rng, low: float, high: float) -> float:
    return float(math.exp(rng.uniform(math.log(low), math.log(high))))


def _ohms(rng: Rng, low: float, high: float) -> float:
    return float(f"{_log(rng, low, high):.3g}")


def _pattern(
    pins: dict[str, int], wound: Sequence[tuple[str, str, str, float, float]], links: Sequence[tuple[str, str]] = ()
) -> Pattern:
    return Pattern(
        "drawn",
        tuple(Connector(c, tuple(Cavity(str(i + 1)) for i in range(n))) for c, n in pins.items()),
        tuple(Winding(n, a, b, ohms=r, tolerance_percent=t) for n, a, b, r, t in wound),
        tuple(Link(f"link {i}", a, b) for i, (a, b) in enumerate(links)),
    )


def a_pattern(rng: Rng, family: int | None = None) -> Pattern:
    """Families 1 to 5 are a small shop's daily ones; 6 is any topology."""

    def tol() -> float:
        return float(rng.choice([8, 10, 15, 20]))

    match int(rng.integers(1, 6)) if family is None else family:
        case 1:
            return _pattern(
                {"A": 3, "B": 4},
                [("low", "A.1", "A.2", _ohms(rng, 80, 300), tol()), ("high", "A.2", "A.3", _ohms(rng, 8, 40), tol()),
                 ("light", "B.1", "B.2", _ohms(rng, 0.3, 1), tol())],
                [("B.3", "B.4")],
            )  # fmt: skip
        case 2:
            trigger = rng.random() < 0.5
            return _pattern(
                {"A": 3 if trigger else 2, "B": 2},
                [("tap-a", "core", "A.1", _ohms(rng, 0.1, 0.8), tol()),
                 ("tap-b", "A.1", "A.2", _ohms(rng, 0.1, 0.8), tol()),
                 *([("trigger", "A.3", "core", _ohms(rng, 90, 250), tol())] if trigger else []),
                 ("source", "B.1", "B.2", _ohms(rng, 90, 300), tol())],
            )  # fmt: skip
        case 3 | 4 as shape:
            r, t = _ohms(rng, 0.15, 1.5), tol()
            ends = (
                [("hub", "A.1"), ("hub", "A.2"), ("hub", "A.3")]
                if shape == 3
                else [("A.1", "A.2"), ("A.2", "A.3"), ("A.3", "A.1")]
            )
            wound = [(f"phase-{i + 1}", a, b, r, t) for i, (a, b) in enumerate(ends)]
            if rng.random() < 0.5:
                return _pattern({"A": 3}, wound)
            return _pattern({"A": 3, "B": 2}, [*wound, ("pulser", "B.1", "B.2", _ohms(rng, 100, 450), tol())])
        case 5:
            sensor = rng.random() < 0.5
            return _pattern(
                {"A": 3 if sensor else 2, "B": 3},
                [("pulser", "A.1", "core", _ohms(rng, 100, 400), tol()),
                 ("exciter", "A.2", "core", _ohms(rng, 100, 900), tol()),
                 *([("sensor", "A.3", "core", _ohms(rng, 100, 200), tol())] if sensor else []),
                 ("charge-a", "B.1", "B.2", _ohms(rng, 0.3, 1.3), tol()),
                 ("charge-b", "B.2", "B.3", _ohms(rng, 0.3, 1.3), tol())],
            )  # fmt: skip
        case _:
            return _any_topology(rng)


def _any_topology(rng: Rng) -> Pattern:
    plugs = {"A": int(rng.integers(2, 4)), "B": int(rng.integers(1, 4))}
    nodes = [f"{c}.{i + 1}" for c, n in plugs.items() for i in range(n)] + ["core"]
    inner = ["hub"] if rng.random() < 0.5 else []
    ends = [("hub", str(n)) for n in rng.choice(nodes, 3, replace=False)] if inner else []
    for _ in range(int(rng.integers(2, 5))):
        a, b = rng.choice(nodes, 2, replace=False)
        ends.append((str(a), str(b)))
    wound = [(f"w{i}", a, b, _ohms(rng, 0.2, 500), float(rng.choice([8, 10, 15, 20]))) for i, (a, b) in enumerate(ends)]
    a, b = (str(x) for x in rng.choice(nodes, 2, replace=False))
    return _pattern(plugs, wound, [(a, b)] if rng.random() < 0.3 else [])


def a_meter(rng: Rng) -> tuple[Meter, Conditions]:
    top, step, percent, digits = METERS[rng.integers(len(METERS))]
    ranges = []
    while top < 2e7:
        ranges.append(Range(top, step, percent, digits))
        top, step = top * 10, step * 10
    ranges.append(Range(2e7, step, percent, digits))
    conditions = Conditions(
        celsius=round(float(rng.uniform(5, 38)), 1),
        celsius_uncertainty=float(rng.choice([1.0, 2.0, 4.0])),
        lead_ohms=round(float(rng.uniform(0.05, 0.5)), 2),
        lead_uncertainty_ohms=float(rng.choice([0.02, 0.05, 0.1])),
    )
    return Meter(tuple(ranges), 2e7), conditions


def places(p: Pattern) -> dict[str, list[str]]:
    """Where each kind of fault can be."""
    wired = {n for e in p.edges for n in (e.start, e.finish)}
    windings, pins = [w.name for w in p.windings], [n for n in p.pins if n in wired]
    swaps = [
        "|".join(sorted(s))
        for c in p.connectors
        for s in itertools.combinations(c.nodes, 2)
        if s[0] in wired or s[1] in wired
    ]
    return {
        "sound": [""], "open-winding": windings, "open-lead": pins, "shorted-turns": windings,
        "winding-to-core": windings, "resistive-lead": pins, "swapped-pins": swaps,
        "winding-to-winding": ["|".join(sorted(s)) for s in itertools.combinations(windings, 2)],
        "leads-not-zeroed": [""], "wrong-temperature": [""], "unlisted": [""] if windings else [],
    }  # fmt: skip


def values_of(rng: Rng, fault: str) -> dict[str, float]:
    match fault:
        case "shorted-turns":
            return {"fraction": _log(rng, 0.02, 0.9)}
        case "winding-to-core":
            return {"position": float(rng.uniform()), "ohms": _log(rng, 0.5, 200)}
        case "winding-to-winding":
            return {"position_a": float(rng.uniform()), "position_b": float(rng.uniform()), "ohms": _log(rng, 0.5, 200)}
        case "resistive-lead" | "joint":
            return {"ohms": _log(rng, 0.5, 500)}
        case "leak":
            return {"position": float(rng.uniform()), "ohms": _log(rng, 1e3, 1e6)}
        case "leads-not-zeroed":
            return {"ohms": float(rng.uniform(0.1, 6))}
        case "wrong-temperature":
            return {"rise": float(rng.uniform(20, 80))}
        case _:
            return {}


TWO = ("open-winding", "open-lead", "shorted-turns", "winding-to-core", "resistive-lead")


def a_fault(rng: Rng, p: Pattern) -> tuple[str, str, tuple[Wrong, ...]]:
    where = places(p)
    kinds = [k for k in where if where[k]]
    weights = np.array([STATED[k] for k in kinds])  # type: ignore[index]
    fault = str(rng.choice(kinds, p=weights / weights.sum()))
    place = str(rng.choice(where[fault]))
    if fault == "sound":
        return fault, "", ()
    if fault != "unlisted":
        return fault, place, (Wrong(fault, place, values_of(rng, fault)),)
    share = rng.random()
    if share < 0.4:
        single = [(k, w) for k in TWO for w in where[k]]
        pairs = [(a, b) for a, b in itertools.combinations(single, 2) if a[1] != b[1]]
        both = pairs[rng.integers(len(pairs))]
        return fault, "", tuple(Wrong(k, w, values_of(rng, k)) for k, w in both)
    kind = "leak" if share < 0.7 else "joint"
    winding = str(rng.choice([w.name for w in p.windings]))
    return fault, "", (Wrong(kind, winding, values_of(rng, kind)),)


def build(
    p: Pattern, wrong: Sequence[Wrong], ohms: dict[str, float]
) -> tuple[Edges, dict[str, str], set[str], dict[str, float]]:
    """The network of a part with its windings' `ohms`; which node each pin's wire goes to; the pins with a broken
    wire; the ohms in a pin's wire."""
    pieces: dict[str, list[tuple[str, str, float, float]]] = {}
    for w in p.windings:
        pieces[w.name] = [(w.start, w.finish, 0.0, 1.0)]
    extra: Edges = [(link.start, link.finish, 0.02) for link in p.links]
    goes = {pin: pin for pin in p.pins}
    broken: set[str] = set()
    wires: dict[str, float] = {}
    scale = dict.fromkeys(ohms, 1.0)
    added: Edges = []

    def tap(name: str, at: float, k: int) -> str:
        node = f"tap {name} {k}"
        for i, (a, b, low, high) in enumerate(pieces[name]):
            if low <= at <= high:
                pieces[name][i : i + 1] = [(a, node, low, at), (node, b, at, high)]
                break
        return node

    for k, f in enumerate(wrong):
        v = f.values
        match f.fault:
            case "open-winding":
                pieces[f.where] = []
            case "open-lead":
                broken.add(f.where)
            case "shorted-turns":
                scale[f.where] *= 1 - v["fraction"]
            case "winding-to-core" | "leak":
                added.append((tap(f.where, v["position"], k), "core", v["ohms"]))
            case "winding-to-winding":
                a, b = f.where.split("|")
                added.append((tap(a, v["position_a"], k), tap(b, v["position_b"], k + 10), v["ohms"]))
            case "resistive-lead":
                wires[f.where] = wires.get(f.where, 0.0) + v["ohms"]
            case "swapped-pins":
                a, b = f.where.split("|")
                goes[a], goes[b] = b, a
            case "joint":
                a, b, low, high = pieces[f.where][0]
                pieces[f.where] = [(a, f"joint {k}", low, high)]
                added.append((f"joint {k}", b, v["ohms"]))
            case _:
                pass
    wound = [
        (a, b, max((high - low) * scale[name] * ohms[name], 1e-9))
        for name, run in pieces.items()
        for a, b, low, high in run
    ]
    return wound + extra + added, goes, broken, wires


def asked_pairs(rng: Rng, p: Pattern) -> list[Pair]:
    """A full sheet's pairs, or a sparse one's."""
    nodes = [n for n in p.pins if any(n in (e.start, e.finish) for e in p.edges)]
    within = [
        Pair(a, b) for c in p.connectors for a, b in itertools.combinations([n for n in c.nodes if n in nodes], 2)
    ]
    ground = [Pair(n, "core") for n in nodes]
    if rng.random() < 0.5:
        return within + ground
    obvious = [Pair(e.start, e.finish) for e in p.edges if p.can_touch(e.start) and p.can_touch(e.finish)]
    obvious = list({q.unordered: q for q in obvious}.values())
    lead = [q for q in ground if q.unordered not in {o.unordered for o in obvious}]
    pool = obvious + [within[i] for i in rng.permutation(len(within))[:2]] + lead[:2]
    pool = list({q.unordered: q for q in pool}.values())
    n = min(len(pool), int(rng.integers(3, 7)))
    return [pool[i] for i in sorted(rng.permutation(len(pool))[:n])]


class Bench:
    """A part on the bench: its windings as they came out, its temperature, this sheet's errors."""

    def __init__(self, rng: Rng, p: Pattern, meter: Meter, c: Conditions, wrong: Sequence[Wrong]) -> None:
        self.rng, self.meter = rng, meter
        rise = sum(f.values.get("rise", 0.0) for f in wrong)
        self.true_celsius = c.celsius + rng.normal() * c.celsius_uncertainty + rise
        warm = (234.5 + self.true_celsius) / (234.5 + p.reference_celsius)
        ohms = {
            w.name: max(w.nominal * (1 + rng.normal() * (w.high - w.low) / 4 / w.nominal), 1e-6) * warm
            for w in p.windings
        }
        self.network = build(p, wrong, ohms)
        self.lead = c.lead_ohms + rng.normal() * c.lead_uncertainty_ohms
        self.lead += sum(f.values["ohms"] for f in wrong if f.fault == "leads-not-zeroed")
        self.gains = [rng.normal() * r.percent / 100 / math.sqrt(3) for r in meter.ranges]

    def read(self, pairs: Sequence[Pair]) -> tuple[Reading, ...] | None:
        """None where a display would not tell its range."""
        edges, goes, broken, wires = self.network
        meant = {q: Pair(goes.get(q[0], q[0]), goes.get(q[1], q[1])) for q in pairs}
        ohms = resistances(edges, set(meant.values()))
        out = []
        for q in pairs:
            r = math.inf if broken & set(q) else ohms[meant[q]] + sum(wires.get(n, 0.0) for n in q)
            x = r + self.lead + abs(self.rng.normal() * 0.02)
            if x > self.meter.open_above_ohms:
                out.append(Reading(q, None))
                continue
            on = next(i for i, m in enumerate(self.meter.ranges) if x <= m.upto_ohms)
            m = self.meter.ranges[on]
            shown = x * (1 + self.gains[on]) + self.rng.uniform(-1, 1) * m.digits * m.resolution_ohms
            shown = max(0.0, round(shown / m.resolution_ohms) * m.resolution_ohms)
            if self.meter.covering(shown) is not m:
                return None
            out.append(Reading(q, float(f"{shown:.10g}")))
        return tuple(out)


def a_sheet(rng: Rng, pattern: Pattern | None = None, family: int | None = None) -> Drawn:
    p = pattern or a_pattern(rng, family)
    meter, conditions = a_meter(rng)
    pairs = asked_pairs(rng, p)
    while True:
        fault, where, wrong = a_fault(rng, p)
        readings = Bench(rng, p, meter, conditions, wrong).read(pairs)
        if readings is not None:
            return Drawn(p, meter, conditions, readings, fault, where, wrong)


def sheets(seed: int, n: int, families: Sequence[int] = (1, 2, 3, 4, 5)) -> list[Drawn]:
    rng = np.random.default_rng(seed)
    return [a_sheet(rng, family=int(rng.choice(list(families)))) for _ in range(n)]
