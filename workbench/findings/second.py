"""A second fault beside a first one, worked out on the part that the first one leaves."""

import math
from dataclasses import replace

import numpy as np

from workbench.findings.circuit import Circuit, Floats, Ints
from workbench.findings.cutting import cells_of, cut, integrated
from workbench.findings.evidence import Evidence
from workbench.findings.grids import MIDDLING, Axis
from workbench.findings.hypotheses import Hypotheses, What
from workbench.findings.likelihood import Shared, likely, shared_of
from workbench.findings.seen import Seen, look
from workbench.findings.weigh import Weighed
from workbench.stator.sheet import Conditions


def beside(
    circuit: Circuit, h: Hypotheses, e: Evidence, shared: Shared, w: Weighed, conditions: Conditions, first: int,
    others: Ints,
) -> Floats:  # fmt: skip
    """Log likelihood (others,) of the readings under the hypothesis `first` and each of the others.

    `first` opens a winding, shorts some of one, or adds ohms to a lead; minus infinity where the pairs don't fit.
    """
    what, place = int(h.what[first]), int(h.a[first])
    axis = {What.SHORTED: MIDDLING.fraction, What.RESISTIVE: MIDDLING.lead_ohms}.get(what)
    if axis is None:
        gone = circuit.altered(place, 0)
        return _weigh(gone, h, e, shared_of(gone, conditions), _look(gone, h, w.finite), _look(gone, h, w.open), others)
    logs = []
    for value, spread in _cells(axis):
        if what == What.SHORTED:
            left = circuit.altered(place, 1 - value)
            finite = _look(left, h, w.finite)
            s = shared_of(left, conditions)
            # resistance of the winding as such, by how much the fraction may be off
            more = -circuit.r[place] * spread * finite.probe.jac[place]
            logs.append(_weigh(left, h, e, _with(s, s.lead, more), finite, _look(left, h, w.open), others))
        else:
            touch = ((w.finite.probe.i == place) | (w.finite.probe.j == place)).astype(float)
            s = _with(shared, shared.lead + value * touch[:, None], spread * touch)
            logs.append(_weigh(circuit, h, e, s, w.finite, w.open, others))
    top = np.max(logs, axis=0)
    safe = np.where(np.isfinite(top), top, 0.0)
    with np.errstate(divide="ignore"):
        out: Floats = np.log(np.exp(np.array(logs) - safe).mean(0)) + safe
    return out


def _cells(axis: Axis) -> list[tuple[float, float]]:
    return list(zip(axis.values.tolist(), axis.spread.tolist(), strict=True))


def _with(s: Shared, lead: float | Floats, more: Floats) -> Shared:
    return replace(s, lead=lead, more=more)


def _look(circuit: Circuit, h: Hypotheses, at: Seen) -> Seen:
    return look(circuit, h, at.probe.i, at.probe.j)


def _weigh(
    circuit: Circuit, h: Hypotheses, e: Evidence, shared: Shared, finite: Seen, opened: Seen, others: Ints
) -> Floats:
    fits = np.asarray(finite.finite[:, others].all(0)) & ~np.asarray(opened.finite[:, others].any(0))
    fits &= np.isin(h.what[others], (What.SHORTED, What.TO_CORE, What.RESISTIVE))
    wanted = np.zeros(len(h), dtype=bool)
    wanted[others[fits]] = True
    if circuit.gone is not None:
        wanted[(h.a == circuit.gone) & (h.what != What.RESISTIVE)] = False
    cells = cut(h, MIDDLING)
    picked = cells.pick(cells_of(cells, wanted))
    if not len(picked):
        return np.full(len(others), -math.inf)
    log = integrated(picked, likely(picked.read(finite), e, shared).log, np.full(len(h), -math.inf))
    out: Floats = log[others]
    return out
