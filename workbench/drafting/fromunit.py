"""A pattern's ohms from a unit known good: the windings that would read what it read."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from workbench.drafting.draft import Draft
from workbench.drafting.edits import EditError
from workbench.drafting.windings import set_percent
from workbench.stator.correct import Corrected, Corrector
from workbench.stator.errors import FieldError
from workbench.stator.expect import Expectations, Path
from workbench.stator.meter import Meter
from workbench.stator.network import Floats, Network
from workbench.stator.pattern import CORE, LINK_OHMS, Link, Pair, Pattern, Winding
from workbench.stator.sheet import Conditions, Reading

# the band a single good unit is given until there are more of them: common practice, no source
PERCENT = 10.0
_STEPS, _TINY = 200, 1e-6
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
    came from. Raises EditError where the wiring isn't whole yet, or nothing tells a thing.
    """
    uncertain = {p: y.u / y.ohms for p, y in read.items() if isinstance(y, Corrected) and y.ohms > 0}
    ohms = {p: y.ohms if isinstance(y, Corrected) else y for p, y in read.items()}
    names = [w.name for w in draft.windings if w.element is None]
    start = float(np.median(list(ohms.values()))) if ohms else 0.0
    if not names or not start > 0:
        raise EditError("Draw the windings first, and read the unit: then its ohms can be taken over.")
    try:
        net = _Net(_valued(draft, names, start), names)
    except FieldError as e:
        raise EditError(f"The wiring isn't whole yet: {e.sentence}.") from None
    pairs = [p for p, y in ohms.items() if y > 0 and net.tells(p)]
    if not pairs:
        raise EditError("No reading goes through a winding as it is drawn: look at the wiring.")
    shown = np.log([ohms[p] for p in pairs])
    surest = max(min(uncertain.values(), default=_TINY), _TINY)
    # none weighs so little that what it alone tells would be taken for untold
    weight = np.clip([surest / max(uncertain.get(p, surest), surest) for p in pairs], _LEAST_WEIGHT, 1)
    found = [
        _fit(net, pairs, shown, weight, np.full(len(names), at)) for at in (np.log(start), shown.min(), shown.max())
    ]
    logs = min(found, key=lambda f: f[0])[1]
    reads, jac = net.read(pairs, logs)
    told = np.sqrt(np.diag(np.linalg.inv(jac.T @ jac + np.eye(len(names)) * _TINY))) < 1 / _LOOSE
    out = draft
    for name, log, sure in zip(names, logs.tolist(), told.tolist(), strict=True):
        if sure:
            out = set_percent(out, name, _rounded(float(np.exp(log))), percent, band_from)
    misses = np.exp(reads) - np.exp(shown)
    far = [(p, float(m)) for p, m in zip(pairs, misses, strict=True) if abs(m) > 0.02 * ohms[p]]
    return FromUnit(out, tuple(n for n, sure in zip(names, told.tolist(), strict=True) if not sure), tuple(far))


def _fit(net: "_Net", pairs: list[Pair], shown: Floats, weight: Floats, logs: Floats) -> tuple[float, Floats]:
    """The sum of squares that is left, and the logarithms of the ohms that leave it (Levenberg-Marquardt)."""
    damping, reads_jac = 1e-3, net.read(pairs, logs)
    left = weight * (shown - reads_jac[0])
    for _ in range(_STEPS):
        jac = reads_jac[1] * weight[:, None]
        move = np.linalg.solve(jac.T @ jac + damping * np.eye(len(logs)), jac.T @ left).clip(-1, 1)
        tried = net.read(pairs, logs + move)
        then = weight * (shown - tried[0])
        if then @ then <= left @ left:
            logs, left, reads_jac = logs + move, then, tried
            damping = max(damping / 5, 1e-9)
            if np.abs(move).max() < 1e-10:
                break
        elif damping > 1e6:
            break
        else:
            damping *= 4
    return float(left @ left), logs


class _Net:
    """A drawn network whose windings take any ohms."""

    def __init__(self, pattern: Pattern, names: list[str]) -> None:
        self._ask = Expectations(pattern)
        self._touchable = {*pattern.pins, CORE}
        wound = [pattern.winding(n) for n in names]
        nodes = dict.fromkeys((*pattern.pins, CORE, *pattern.inner_points))
        at = self._at = {n: i for i, n in enumerate(nodes)}
        self._ends = np.array([(at[e.start], at[e.finish]) for e in wound])
        kept: list[Winding | Link] = [*wound, *pattern.links]
        edges = [(at[e.start], at[e.finish]) for e in kept]
        self._wires = np.full(len(pattern.links), LINK_OHMS)
        self._net = Network(len(at), edges, [*(w.nominal for w in wound), *self._wires.tolist()])

    def tells(self, pair: Pair) -> bool:
        return {*pair} <= self._touchable and self._ask.of(pair).path is Path.WINDINGS

    def read(self, pairs: list[Pair], logs: Floats) -> tuple[Floats, Floats]:
        """Logarithms of what pairs read, and how they follow those of the windings; shapes (pairs,), (pairs, windings).

        A unit current a -> b leaves X/2 across an edge u, v, X = R_av + R_bu - R_au - R_bv; and dR/dr is the square of
        the current through it.
        """
        r = np.exp(logs.clip(-15, 25))
        every = self._net.all_pairs(np.concatenate((r, self._wires)))
        apart = np.where(np.isfinite(every), every, 0.0)
        a, b = (np.array([self._at[p[end]] for p in pairs])[:, None] for end in (0, 1))
        u, v = self._ends[:, 0], self._ends[:, 1]
        across = apart[a, v] + apart[b, u] - apart[a, u] - apart[b, v]
        reads = apart[a, b]
        follow: Floats = across**2 / (4 * r * reads)
        return np.log(reads[:, 0]), follow


def _valued(draft: Draft, names: list[str], ohms: float) -> Pattern:
    """Every winding at the same ohms. Raises FieldError."""
    windings = tuple(
        replace(w, ohms=ohms, tolerance_percent=PERCENT, low_ohms=None, high_ohms=None) if w.name in names else w
        for w in draft.windings
    )
    return replace(draft, name=draft.name or "unnamed", windings=windings, checks=None, layout=None).pattern()


def _rounded(ohms: float) -> float:
    """To four figures: more than any meter at a counter tells."""
    return float(f"{ohms:.4g}")
