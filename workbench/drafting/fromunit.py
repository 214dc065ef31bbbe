"""A pattern's ohms from a unit known good: the windings that would read what it read."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from workbench.drafting.draft import Draft
from workbench.drafting.edits import EditError
from workbench.drafting.windings import set_percent
from workbench.stator.correct import Corrected, Corrector
from workbench.stator.expect import Expectations, Path
from workbench.stator.meter import Meter
from workbench.stator.pattern import Pair, Pattern, Winding
from workbench.stator.sheet import Conditions, Reading

# the band a single good unit is given until there are more of them: common practice, no source
PERCENT = 10.0
_STEPS, _TINY = 30, 1e-6
_LEAST_WEIGHT = 0.003
# a winding that the readings hold no better than this (share of itself) isn't told by them
_LOOSE = 0.5


@dataclass(frozen=True, slots=True)
class FromUnit:
    """`draft` with its windings' ohms. `untold`: windings that the readings don't tell. `misses`: pairs and how far
    (ohm) what the windings make of them lies from what was read, where the readings contradict each other."""

    draft: Draft
    untold: tuple[str, ...]
    misses: tuple[tuple[Pair, float], ...]


def corrected_pairs(draft: Draft, readings: Sequence[Reading], meter: Meter, at: Conditions) -> dict[Pair, Corrected]:
    """What a unit's sheet says of each pair that reads finite, at the draft's reference temperature; repeats as their
    mean. Raises FieldError for a reading that this meter can't have shown.
    """
    corrector = Corrector(meter, at, draft.conductor, draft.reference_celsius)
    groups: dict[tuple[str, str], list[Reading]] = {}
    for r in readings:
        if r.ohms is not None:
            groups.setdefault(r.pair.unordered, []).append(r)
    return {group[0].pair: corrector.mean(group) for group in groups.values()}


def from_unit(
    draft: Draft, read: Mapping[Pair, float | Corrected], percent: float = PERCENT, *, band_from: str = ""
) -> FromUnit:
    """`read`: ohms corrected to the draft's reference temperature; with their u they weigh by it. Least squares of the
    logarithms, so that a small winding counts as much as a large one. `band_from`: the shop's words for where the band
    came from. Raises EditError where the wiring isn't drawn yet, or nothing tells a thing.
    """
    uncertain = {p: y.u / y.ohms for p, y in read.items() if isinstance(y, Corrected) and y.ohms > 0}
    ohms = {p: y.ohms if isinstance(y, Corrected) else y for p, y in read.items()}
    names = [w.name for w in draft.windings if w.element is None]
    start = float(np.median(list(ohms.values()))) if ohms else 0.0
    if not names or not start > 0:
        raise EditError("Draw the windings first, and read the unit: then its ohms can be taken over.")
    guess = np.full(len(names), np.log(start))
    pattern = _with(draft, names, guess)
    ask = Expectations(pattern)
    nodes = {*pattern.pins, "core"}
    pairs = [p for p, y in ohms.items() if y > 0 and {*p} <= nodes and ask.of(p).path is Path.WINDINGS]
    if not pairs:
        raise EditError("No reading goes through a winding as it is drawn: look at the wiring.")
    shown = np.log([ohms[p] for p in pairs])
    surest = max(min(uncertain.values(), default=_TINY), _TINY)
    # none weighs so little that what it alone tells would be taken for untold
    weight = np.clip([surest / max(uncertain.get(p, surest), surest) for p in pairs], _LEAST_WEIGHT, 1)
    jac = np.zeros((len(pairs), len(names)))
    for _ in range(_STEPS):
        reads = _reads(draft, names, guess, pairs)
        for k in range(len(names)):
            step = guess.copy()
            step[k] += _TINY
            jac[:, k] = (_reads(draft, names, step, pairs) - reads) / _TINY
        # a little pull to where it stands keeps what nothing tells where it is
        pull = np.eye(len(names)) * 1e-6
        weighed = jac * weight[:, None]
        move = np.linalg.solve(weighed.T @ weighed + pull, weighed.T @ (weight * (shown - reads)))
        guess = guess + np.clip(move, -1.0, 1.0)
        if np.abs(move).max() < 1e-10:
            break
    told = np.sqrt(np.diag(np.linalg.inv(jac.T @ jac + np.eye(len(names)) * 1e-6))) < 1 / _LOOSE
    out = draft
    for name, log, sure in zip(names, guess.tolist(), told.tolist(), strict=True):
        if sure:
            out = set_percent(out, name, _rounded(float(np.exp(log))), percent, band_from)
    misses = np.exp(_reads(draft, names, guess, pairs)) - np.exp(shown)
    far = [(p, float(m)) for p, m in zip(pairs, misses, strict=True) if abs(m) > 0.02 * ohms[p]]
    return FromUnit(out, tuple(n for n, sure in zip(names, told.tolist(), strict=True) if not sure), tuple(far))


def _with(draft: Draft, names: list[str], logs: np.ndarray) -> Pattern:
    ohms = dict(zip(names, np.exp(np.clip(logs, -12, 18)).tolist(), strict=True))

    def valued(w: Winding) -> Winding:
        if w.name not in ohms:
            return w
        return replace(w, ohms=ohms[w.name], tolerance_percent=PERCENT, low_ohms=None, high_ohms=None)

    windings = tuple(valued(w) for w in draft.windings)
    return replace(draft, name=draft.name or "unnamed", windings=windings, checks=None, layout=None).pattern()


def _reads(draft: Draft, names: list[str], logs: np.ndarray, pairs: list[Pair]) -> np.ndarray:
    ask = Expectations(_with(draft, names, logs))
    ask.prepare(pairs)
    return np.log([ask.of(p).ohms or 1e-9 for p in pairs])


def _rounded(ohms: float) -> float:
    """To four figures: more than any meter at a counter tells."""
    return float(f"{ohms:.4g}")
