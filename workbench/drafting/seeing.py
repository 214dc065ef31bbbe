"""What a check can see: which windings, leads and grounds would show in it if they failed."""

import itertools
from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum
from typing import NamedTuple

import numpy as np

from workbench.stator.expect import Expectations, Path
from workbench.stator.network import Network
from workbench.stator.pattern import CORE, Link, Pair, Pattern, Winding

# so much of a winding's turns shorted has to take a check out of its band: common practice, no source
SHOWN_SHORT = 0.3
# pairs of a part with more pins than a stator's loom has are not all looked at
MOST_PAIRS = 2_000


class What(StrEnum):
    WINDING = "winding"
    LINK = "link"
    LEAD = "lead"  # the wire at a pin
    GROUND = "ground"  # that a part of the network is joined to the iron, or is not


class Thing(NamedTuple):
    """`name`: of a winding or link, a pin, or for a ground the first pin of its part."""

    what: What
    name: str


@dataclass(frozen=True, slots=True)
class Parts:
    """Nodes that copper and links join. `of`: each node's part; a part's own pins in the pattern's order."""

    of: dict[str, int]
    pins: dict[int, tuple[str, ...]]

    def grounded(self, part: int) -> bool:
        return self.of.get(CORE) == part


class Seeing:
    """Of one pattern. `pairs`: all that can be read, within plugs first; `things`: all that should be seen."""

    def __init__(self, pattern: Pattern, ask: Expectations | None = None) -> None:
        self.pattern = pattern
        self.ask = ask or Expectations(pattern)
        self.parts = parts_of(pattern)
        self.pairs = _pairs(pattern)
        self.ask.prepare(self.pairs)
        # parts in which something is wound or linked
        self._wired = {self.parts.of[e.start] for e in pattern.edges if not _is_element(e)}
        self._without = {x.name: parts_of(pattern, but=x.name).of for x in pattern.links}
        self._short = self._shorts()
        self._seen = {pair.unordered: self._shown(pair) for pair in self.pairs}
        self.things = self._things()

    def by(self, pair: Pair) -> frozenset[Thing]:
        """What shows in this pair, either way round."""
        return self._seen.get(pair.unordered, frozenset())

    def of(self, checks: Iterable[Pair]) -> frozenset[Thing]:
        return frozenset().union(*(self.by(c) for c in checks))

    @property
    def visible(self) -> frozenset[Thing]:
        """What any pair at all can show."""
        return self.of(self.pairs)

    # ---- inside

    def _things(self) -> tuple[Thing, ...]:
        """In the order a technician reads: windings, links, leads, grounds."""
        p = self.pattern
        used = {n for e in p.edges for n in (e.start, e.finish)}
        out = [Thing(What.WINDING, w.name) for w in p.windings if w.element is None]
        out += [Thing(What.LINK, x.name) for x in p.links]
        out += [Thing(What.LEAD, n) for n in p.pins if n in used and self.parts.of[n] in self._wired]
        out += [Thing(What.GROUND, pins[0]) for part, pins in self.parts.pins.items() if part in self._wired]
        return tuple(out)

    def _shorts(self) -> dict[tuple[str, str], frozenset[str]]:
        """Windings whose short of SHOWN_SHORT takes a pair below its band, the rest being nominal."""
        joined = [p for p in self.pairs if self.ask.of(p).path is Path.WINDINGS]
        out: dict[tuple[str, str], set[str]] = {p.unordered: set() for p in joined}
        if not joined:
            return {}
        low = np.array([self.ask.of(p).low for p in joined])
        for w in self.pattern.windings:
            if w.element is not None:
                continue
            (read,) = self.ask.shorted(joined, w.name, np.array([SHOWN_SHORT]))
            for pair, seen in zip(joined, (read < low).tolist(), strict=True):
                if seen:
                    out[pair.unordered].add(w.name)
        return {pair: frozenset(names) for pair, names in out.items()}

    def _shown(self, pair: Pair) -> frozenset[Thing]:
        path = self.ask.of(pair).path
        if path is Path.ELEMENT:
            return frozenset()
        of, seen = self.parts.of, set[Thing]()
        if path is Path.NONE:
            if CORE in pair:
                part = of[pair.positive if pair.negative == CORE else pair.negative]
                return frozenset({Thing(What.GROUND, self.parts.pins[part][0])} if part in self._wired else ())
            return frozenset()
        seen |= {Thing(What.WINDING, n) for n in self._short.get(pair.unordered, ())}
        seen |= {Thing(What.LEAD, n) for n in pair if n != CORE}
        if path is Path.LINKS:
            ends = {*pair}
            seen |= {Thing(What.LINK, x.name) for x in self.pattern.links if {x.start, x.finish} == ends}
        else:
            # a broken link on the way reads open: seen where nothing else joins its ends
            cut = (name for name, of in self._without.items() if of[pair.positive] != of[pair.negative])
            seen |= {Thing(What.LINK, name) for name in cut}
        if CORE in pair:
            seen.add(Thing(What.GROUND, self.parts.pins[of[CORE]][0]))
        return frozenset(seen)


def parts_of(pattern: Pattern, but: str = "") -> Parts:
    """`but`: the name of a winding or link that is left out."""
    kept = [e for e in pattern.edges if not _is_element(e) and e.name != but]
    nodes = tuple(dict.fromkeys((*pattern.pins, CORE, *pattern.inner_points)))
    at = {n: i for i, n in enumerate(nodes)}
    net = Network(len(nodes), [(at[e.start], at[e.finish]) for e in kept], [1.0] * len(kept))
    of: dict[str, int] = {}
    for i, n in enumerate(nodes):
        of[n] = next((j for j in range(i) if net.joined(j, i)), i)
    pins: dict[int, tuple[str, ...]] = {}
    for n in pattern.pins:
        pins[of[n]] = (*pins.get(of[n], ()), n)
    return Parts(of, pins)


def _pairs(pattern: Pattern) -> tuple[Pair, ...]:
    within = (Pair(a, b) for c in pattern.connectors for a, b in itertools.combinations(c.nodes, 2))
    grounds = [Pair(n, CORE) for n in pattern.pins]
    plugs = itertools.combinations(pattern.connectors, 2)
    across = (Pair(a, b) for one, other in plugs for a in one.nodes for b in other.nodes)
    return (*itertools.islice(within, MOST_PAIRS), *grounds, *itertools.islice(across, MOST_PAIRS))


def _is_element(e: Winding | Link) -> bool:
    return isinstance(e, Winding) and e.element is not None
