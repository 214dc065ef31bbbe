"""A part that answers: what a meter would show on it, with the part's true ohms and its fault."""

import random
from dataclasses import replace

from workbench.stator.correct import Corrector
from workbench.stator.expect import Expectations
from workbench.stator.meter import Meter
from workbench.stator.pattern import Pair, Pattern, Winding
from workbench.stator.sheet import Conditions

# winding name -> share of its nominal ohms that the part really has; None: broken
Shares = dict[str, float | None]


class Part:
    """One physical part of a pattern. Repeated touches of a pair differ as real ones do."""

    def __init__(self, pattern: Pattern, shares: Shares, seed: int) -> None:
        rng = random.Random(seed)
        windings = []
        for w in pattern.windings:
            share = shares.get(w.name, 1 + rng.uniform(-0.015, 0.015))
            if share is not None:
                windings.append(w if w.element else _as_found(w, share))
        self._random = rng
        self._pattern = pattern
        found = _without_checks(pattern, tuple(windings))
        self._true = Expectations(found) if found else None

    def shows(self, pair: Pair, meter: Meter, conditions: Conditions) -> str:
        """The meter's display, as it would be typed."""
        p = self._pattern
        expected = self._true.of(pair) if self._true else None
        if expected is None or expected.ohms is None:
            return "OL"
        touch = abs(self._random.gauss(0, 0.01))
        ohms = Corrector(meter, conditions, p.conductor, p.reference_celsius).shown(expected.ohms) + touch
        on = meter.covering(ohms)
        if on is None or ohms > meter.open_above_ohms:
            return "OL"
        error = self._random.uniform(-0.3, 0.3) * (on.percent / 100 * ohms + on.digits * on.resolution_ohms)
        steps = round((ohms + error) / on.resolution_ohms)
        decimals = max(0, len(f"{on.resolution_ohms:.6f}".rstrip("0").partition(".")[2]))
        return f"{max(steps, 0) * on.resolution_ohms:.{decimals}f}"


def _as_found(w: Winding, share: float) -> Winding:
    return replace(w, ohms=w.nominal * share, tolerance_percent=1.0, low_ohms=None, high_ohms=None)


def _without_checks(pattern: Pattern, windings: tuple[Winding, ...]) -> Pattern | None:
    """The part's own circuit. An inner point that only one winding still reaches is left hanging off.

    None: nothing whole is left, and every pair is open.
    """
    ends = [n for w in windings for n in (w.start, w.finish)] + [n for x in pattern.links for n in (x.start, x.finish)]
    inner = set(pattern.inner_points)
    kept = tuple(w for w in windings if all(n not in inner or ends.count(n) > 1 for n in (w.start, w.finish)))
    return replace(pattern, windings=kept, checks=None, layout=None) if kept or pattern.links else None
