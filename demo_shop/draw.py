"""What a tale is drawn from: one unit's own copper, chance, and which meter would show a fault at all."""

import random
from collections.abc import Iterable, Sequence
from functools import cache

from demo_shop import texts
from demo_shop.faults import Fault
from demo_shop.part import Part, Shares
from demo_shop.story import FOUR_WIRES, HANDHELD
from workbench.exchange.starters import starter_meters
from workbench.stator.correct import Corrector
from workbench.stator.expect import Expectations, Path
from workbench.stator.pattern import Pair, Pattern, Winding
from workbench.stator.sheet import Conditions

_METERS = dict(starter_meters())
# what a shop states on an ordinary day; times U, so that chance at the bench can't undo a tale
_STATED = {HANDHELD: Conditions(20.0, 3.0, 0.2, 0.05), FOUR_WIRES: Conditions(20.0, 1.0, 0.0, 0.0002)}
_MARGIN = 1.8


@cache
def expectations(pattern: Pattern) -> Expectations:
    ask = Expectations(pattern)
    ask.prepare(pattern.checks or ())
    return ask


class Draw:
    """One unit of a pattern, and a random generator of its own."""

    def __init__(self, pattern: Pattern, rng: random.Random) -> None:
        self.pattern = pattern
        self.rng = rng
        self.ask = expectations(pattern)
        self.copper: Sequence[Winding] = rng.sample(
            [w for w in pattern.windings if w.element is None],
            k=sum(w.element is None for w in pattern.windings),
        )
        self.own = {w.name: self._own(w) for w in self.copper}

    def _own(self, w: Winding) -> float:
        """A sound winding lies well within its band."""
        tolerance = (w.high - w.low) / (2 * w.nominal)
        return 1 + min(max(self.rng.gauss(0, tolerance / 4), -0.5 * tolerance), 0.5 * tolerance)

    def watched(self) -> Iterable[tuple[Winding, Pair]]:
        """The windings that a check of their own reads, from end to end."""
        for w in self.copper:
            for check in self.pattern.checks or ():
                expected = self.ask.of(check)
                alone = expected.ohms is not None and abs(expected.ohms / w.nominal - 1) < 0.02
                if alone and {w.start, w.finish} == set(check):
                    yield w, check

    def meter(self) -> str:
        return self.rng.choice((HANDHELD, HANDHELD, FOUR_WIRES))

    def celsius(self) -> float:
        return round(2 * self.rng.uniform(14.5, 23.5)) / 2

    def days(self, low: int, high: int) -> int:
        return self.rng.randint(low, high)

    def text(self, *choices: str) -> str:
        return self.rng.choice(choices)

    def complaint(self, w: Winding | None = None) -> str:
        return self.rng.choice(texts.COMPLAINTS[(w or self.copper[0]).kind if self.copper else None])

    def shown_by(self, faults: Sequence[Fault] = (), shares: dict[str, float] | None = None) -> str | None:
        """A meter on which some check of this unit would be well outside; None where no meter would show it."""
        mine: Shares = {name: own * (shares or {}).get(name, 1.0) for name, own in self.own.items()}
        part = Part(self.pattern, mine, 0, faults)
        meters = [HANDHELD, FOUR_WIRES] if self.rng.random() < 0.7 else [FOUR_WIRES, HANDHELD]
        return next((m for m in meters if any(self._outside(part, c, m) for c in self.pattern.checks or ())), None)

    def _outside(self, part: Part, check: Pair, meter: str) -> bool:
        expected = self.ask.of(check)
        ohms = part.ohms(check, self.pattern.reference_celsius)
        if expected.path is Path.ELEMENT:
            return False
        if expected.path is Path.NONE:
            return ohms is not None and ohms < 0.7 * self.pattern.open_limit_ohms
        if ohms is None:
            return True
        corrector = Corrector(_METERS[meter], _STATED[meter], self.pattern.conductor, self.pattern.reference_celsius)
        value = corrector.at(ohms)
        assert expected.low is not None
        assert expected.high is not None
        room = _MARGIN * value.expanded if value else 0.0
        return ohms + room < expected.low or ohms - room > expected.high
