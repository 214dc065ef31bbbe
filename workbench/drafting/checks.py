"""Checks chosen for the technician: as few as show every winding, lead and ground."""

from collections.abc import Sequence

from workbench.drafting.seeing import Seeing, Thing, What
from workbench.stator.expect import Path
from workbench.stator.pattern import CORE, Pair, Pattern

# how far the search for fewer goes on; a stator's loom is done long before
_MOST_STEPS = 20_000


def choose_checks(pattern: Pattern, seeing: Seeing | None = None) -> tuple[Pair, ...]:
    """A least set of pairs that sees all that any pair can see, in the order they are read: windings, links, grounds.

    Among sets as small, the one whose pairs see fewer things at once: a winding is best read by itself. Deterministic.
    Where the search would take too long the set may have a pair too many, but none that could be left out.
    """
    s = seeing or Seeing(pattern)
    wanted = frozenset(s.things) & s.visible
    useful = [(pair, s.by(pair) & wanted) for pair in s.pairs]
    # among pairs that show the same, the first
    kept: dict[frozenset[Thing], Pair] = {}
    for pair, seen in useful:
        if seen:
            kept.setdefault(seen, pair)
    offered = [(pair, seen) for seen, pair in kept.items()]
    first = _pruned(_greedy(offered, wanted), wanted)
    best = _fewer(offered, wanted, first)
    return tuple(sorted((pair for pair, _ in best), key=lambda p: _rank(s, p)))


Offer = tuple[Pair, frozenset[Thing]]


def _greedy(offered: Sequence[Offer], wanted: frozenset[Thing]) -> list[Offer]:
    out: list[Offer] = []
    left = set(wanted)
    while left:
        pair, seen = max(offered, key=lambda o: (len(o[1] & left), -len(o[1])))
        out.append((pair, seen))
        left -= seen
    return out


def _pruned(chosen: list[Offer], wanted: frozenset[Thing]) -> list[Offer]:
    """Without those that the others make needless, the widest first."""
    kept = list(chosen)
    for offer in sorted(chosen, key=lambda o: len(o[1]), reverse=True):
        rest = [o for o in kept if o is not offer]
        if frozenset().union(*(seen for _, seen in rest)) >= wanted:
            kept = rest
    return kept


def _fewer(offered: Sequence[Offer], wanted: frozenset[Thing], first: list[Offer]) -> list[Offer]:
    """Branch and bound: by the thing that the fewest pairs show."""
    best = first
    showing = {thing: [o for o in offered if thing in o[1]] for thing in wanted}
    widest = max((len(seen) for _, seen in offered), default=1)
    steps = 0

    def better(chosen: list[Offer]) -> bool:
        return (len(chosen), _width(chosen)) < (len(best), _width(best))

    def go(chosen: list[Offer], left: frozenset[Thing]) -> None:
        nonlocal best, steps
        steps += 1
        if not left:
            if better(chosen):
                best = chosen
            return
        least = len(chosen) + -(-len(left) // widest)
        if steps > _MOST_STEPS or least > len(best):
            return
        hardest = min(left, key=lambda t: (len(showing[t]), t))
        for offer in sorted(showing[hardest], key=lambda o: (-len(o[1] & left), len(o[1]))):
            go([*chosen, offer], left - offer[1])

    go([], wanted)
    return best


def _width(chosen: Sequence[Offer]) -> int:
    return sum(len(seen) for _, seen in chosen)


def _rank(s: Seeing, pair: Pair) -> tuple[int, int, int]:
    path = s.ask.of(pair).path
    kind = 2 if path is Path.NONE else 1 if path is Path.LINKS else 0
    windings = [i for i, t in enumerate(s.things) if t.what is What.WINDING and t in s.by(pair)]
    pins = s.pattern.pins
    return kind, min(windings, default=len(s.things)), pins.index(pair.positive if pair.positive != CORE else pins[0])
