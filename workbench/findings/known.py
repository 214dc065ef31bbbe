"""What earlier good sheets tell of one part's own windings: far more than its pattern's bands do."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np

from workbench.findings.cells import AXES, Read
from workbench.findings.circuit import Circuit, Known, Probe
from workbench.findings.evidence import Evidence, gather
from workbench.findings.explain import Explained, explain
from workbench.findings.faults import STATED, Fault
from workbench.findings.leading import sound_leads
from workbench.findings.likelihood import covariance, factors, shared_of
from workbench.findings.records import Finding
from workbench.stator.copper import factor, k_of
from workbench.stator.expect import Expectations, Path
from workbench.stator.meter import Meter
from workbench.stator.pattern import CORE, Pattern
from workbench.stator.sheet import Conditions, Reading, Sheet

# from one visit to the next a sound winding may change by so much of itself (standard deviation): joints, a mended
# lead, another place for the probe. Common practice, no source.
OWN_CHANGE = 0.004
# that a part was rewound or changed where the shop didn't see it. Common practice, no source.
CHANGED_UNSEEN = 0.03
# a network's ohms are not quite straight in its windings': so many steps find where they are
_STEPS = 3


def known_of(pattern: Pattern, sheets: Sequence[Sheet], meter: Meter) -> Known | None:
    """The part's own windings a visit after its good sheets, in the order they were read; None where they tell nothing.

    `meter`: the one in hand. The band is what is believed before the first, and every sheet narrows it: least squares
    with what is believed as one more reading (JCGM 100 for the covariances; Kalman's filter). Sheets read on the same
    meter share its gains, so that these fall out of what changed. A sheet counts only while a sound part is still the
    likeliest explanation of it; where the windings were changed unseen, all before it is forgotten. Readings that this
    pattern doesn't join by its windings are left out. Some 5 ms a sheet.
    """
    ask = Expectations(pattern)
    nodes = {*pattern.pins, CORE}
    known: Known | None = None
    for i, sheet in enumerate(sheets):
        fitting = tuple(
            r for r in sheet.readings
            if r.ohms is not None and nodes.issuperset(r.pair) and ask.of(r.pair).path is Path.WINDINGS
        )  # fmt: skip
        if not fitting:
            continue
        before = known
        if known is not None:
            said = explain_knowing(pattern, sheet.meter, sheet.conditions, fitting, _on(known, meter, sheet.meter))
            if not sound_leads(said):
                continue
            if said.by_past is not None and said.by_past < 0.5:
                before = None
        learnt = _learnt(pattern, sheet, gather(sheet.meter, fitting), before or _by_bands(pattern, meter), meter)
        known = replace(_loosened(learnt), sheets=(*(before.sheets if before else ()), i))
    return known


def explain_knowing(
    pattern: Pattern,
    meter: Meter,
    conditions: Conditions,
    readings: Sequence[Reading],
    known: Known | None,
    priors: Mapping[Fault, float] = STATED,
) -> Explained:
    """As `explain`, for a part whose windings are known, unless they were changed unseen (`CHANGED_UNSEEN`).

    `Explained.by_past` tells how likely it is that the windings are still those of its past.
    """
    anew = explain(pattern, meter, conditions, readings, priors)
    if known is None:
        return anew
    own = explain(pattern, meter, conditions, readings, priors, known=known)
    top = max(own.log, anew.log)
    weights = (1 - CHANGED_UNSEEN) * math.exp(own.log - top), CHANGED_UNSEEN * math.exp(anew.log - top)
    total = sum(weights)
    share = weights[0] / total
    lead = own if share >= 0.5 else anew
    findings = _mixed(own, anew, share)
    return replace(lead, findings=findings, log=top + math.log(total), by_past=share, past=known.sheets)


def _mixed(own: Explained, anew: Explained, share: float) -> tuple[Finding, ...]:
    """Each explanation once, its size from where it is likelier."""
    parts: dict[tuple[object, str], list[tuple[float, Finding]]] = {}
    for weight, found in ((share, own), (1 - share, anew)):
        for f in found.findings:
            parts.setdefault((f.fault, f.where), []).append((weight * f.probability, f))
    mixed = [
        replace(max(of, key=lambda x: x[0])[1], probability=math.fsum(p for p, _ in of)) for of in parts.values()
    ]  # fmt: skip
    return tuple(sorted(mixed, key=lambda f: -f.probability))


def _by_bands(pattern: Pattern, meter: Meter) -> Known:
    """What is believed of a part nobody has seen."""
    circuit = Circuit(pattern, pattern.reference_celsius)
    nw, gains = circuit.windings, np.array([r.gain(1.0) for r in meter.ranges])
    root = np.diag(np.concatenate((circuit.sd, gains)))
    return Known(tuple(circuit.names), circuit.r[:nw], root[:nw], root[nw:])


def _on(known: Known, meter: Meter, other: Meter) -> Known:
    """As another meter would read it, whose gains are its own."""
    if other == meter:
        return known
    gains = np.diag([r.gain(1.0) for r in other.ranges])
    n, m = known.root.shape[1], len(gains)
    return replace(known, root=np.pad(known.root, ((0, 0), (0, m))), gains=np.pad(gains, ((0, 0), (n, 0))))


def _learnt(pattern: Pattern, sheet: Sheet, e: Evidence, before: Known, meter: Meter) -> Known:
    """What is believed after one more sheet of a sound part."""
    circuit = Circuit(pattern, sheet.conditions.celsius, before)
    same = sheet.meter == meter
    own = e if not same else replace(e, scale=np.zeros(len(e.pairs)))
    nw, start = circuit.windings, circuit.r[: circuit.windings].copy()
    assert circuit.together is not None
    assert circuit.gains is not None
    root = np.vstack((circuit.together, circuit.gains))
    for _ in range(_STEPS):
        probe, shared = Probe(circuit, *circuit.nodes_of(e.pairs)), shared_of(circuit, sheet.conditions)
        x = probe.ohms + shared.lead
        read = Read(probe.ohms[:, None], probe.jac[:, :, None], np.zeros((AXES, len(e.pairs), 1)))
        f = factors(read, shared, e.range if same else None)
        whole = covariance(f, x[:, None], own, shared)[..., 0]
        whole += np.tril(whole, -1).T
        # along each cause of what is believed
        along = f[: root.shape[1], :, 0]
        # the reading there would be, were the windings as they were believed before
        expected = x + probe.jac.T @ (start - circuit.r[:nw])
        pulled = np.linalg.solve(whole, np.column_stack((e.shown - expected, along.T)))
        moved = root @ (along @ pulled[:, 0])
        circuit.r[:nw] = np.maximum(start + moved[:nw], 0.01 * start)
        circuit.solve()
    left = np.eye(len(along)) - along @ pulled[:, 1:]
    values, axes = np.linalg.eigh((left + left.T) / 2)
    root = root @ (axes * np.sqrt(np.clip(values, 0.0, 1.0)))
    warm = factor(pattern.reference_celsius, sheet.conditions.celsius, k_of(pattern.conductor))
    return Known(before.names, circuit.r[:nw] / warm, root[:nw] / warm, root[nw:])


def _loosened(known: Known) -> Known:
    """As it is believed a visit later."""
    own = np.diag(OWN_CHANGE * known.ohms)
    root = np.hstack((known.root, own))
    gains = np.pad(known.gains, ((0, 0), (0, len(own))))
    # no more causes than there are things to know
    whole = np.vstack((root, gains))
    values, axes = np.linalg.eigh(whole @ whole.T)
    least = axes * np.sqrt(np.clip(values, 0.0, None))
    return replace(known, root=least[: len(own)], gains=least[len(own) :])
