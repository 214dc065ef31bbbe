"""Two faults at once."""

import math

import numpy as np

from workbench.findings.circuit import Circuit
from workbench.findings.evidence import Evidence
from workbench.findings.hypotheses import Hypotheses, What
from workbench.findings.weigh import Weighed

_OF_TWO = (What.OPEN_WINDING, What.OPEN_LEAD, What.SHORTED, What.TO_CORE, What.RESISTIVE)


def double_log(circuit: Circuit, h: Hypotheses, e: Evidence, w: Weighed) -> float:
    """Log likelihood of the readings under two faults at different places, all such pairs being equally likely."""
    d = np.concatenate([h.at[k] for k in _OF_TWO])
    what = h.what[d]
    pinned = (what == What.OPEN_LEAD) | (what == What.RESISTIVE)
    place = np.where(pinned, -1 - h.a[d], h.a[d])
    apart = np.triu(place[:, None] != place[None, :], 1)
    count = int(apart.sum())
    if not count:
        return -math.inf
    sound = w.log[0]
    log = w.log[d]
    bridge = circuit.bridge[h.a[d] * ~pinned] & (what == What.OPEN_WINDING)
    parts = (what == What.OPEN_LEAD) | bridge
    # what each of them parts, among the pairs that read a number and those that read open
    sound_open = w.open.probe.same
    off_open = (sound_open[:, None] & ~w.open.finite[:, d]) & parts
    on_open = w.open.finite[:, d]
    if len(e.opens):
        still = (on_open.T.astype(float) @ (~off_open).astype(float)) > 0
    else:
        still = np.zeros((len(d), len(d)), dtype=bool)
    # row: what it does to the ohms; column: what it parts
    parted = np.where(parts[None, :] & ~still & np.isfinite(log)[None, :], log[:, None], -np.inf)
    parted = np.where(np.isfinite(log)[:, None], parted, -np.inf)
    with_open = np.where(parts[:, None] & parts[None, :], np.minimum(parted, parted.T), np.maximum(parted, parted.T))
    either = parts[:, None] | parts[None, :]
    shut = ~np.asarray(on_open.any(0))
    both = shut[:, None] & shut[None, :]
    larger = np.maximum(log[:, None], log[None, :])
    known = np.where(np.isfinite(log), log, -1e300)
    product = known[:, None] + known[None, :] - sound if np.isfinite(sound) else larger
    unparted = np.where(
        both & np.isfinite(log)[:, None] & np.isfinite(log)[None, :], np.minimum(larger, product), -np.inf
    )
    every = np.where(either, with_open, unparted)[apart]
    top = every.max()
    if not np.isfinite(top):
        return -math.inf
    return float(top + np.log(np.exp(every - top).sum() / count))
