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

# so much of a winding's turns shorted has to take a check out of its band, or, where no pair shows so little, the
# next of these: common practice, no source
SHOWN_SHORT = 0.3
_SHARES = (SHOWN_SHORT, 0.5, 0.8)
# a winding with so many times its ohms is as good as broken
_BROKEN = -1e9
# of a grounded part with more pins than this, shorts to the iron are not told apart
_MOST_SHORTS = 64
# pairs of a part with more pins than a stator's loom has are not all looked at
MOST_PAIRS = 2_000


class What(StrEnum):
    WINDING = "winding"  # its turns: a good part of them shorted
    BREAK = "break"  # that it conducts at all
    LINK = "link"
    LEAD = "lead"  # the wire at a pin
    GROUND = "ground"  # that a part of the network is joined to the iron, or is not
    SHORT = "short"  # a pin of a part that is joined to the iron anyway: that it isn't down there itself


class Thing(NamedTuple):
    """`name`: of a winding or link, a pin (a lead, a short), or for a ground the first pin of its part."""

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
        self._wired = {self.parts.of[n] for e in pattern.edges if not _is_element(e) for n in (e.start, e.finish)}
        # an element's ends are parts of their own: what hangs on either may lie on the iron
        self._used = {self.parts.of[n] for e in pattern.edges for n in (e.start, e.finish)}
        names = [x.name for x in pattern.links]
        self._without = {name: parts_of(pattern, but=name).of for name in names}
        self._wires_without = {name: parts_of(pattern, but=name, wires_alone=True).of for name in names}
        self._shorted: tuple[str, ...] = ()
        self._moved = self._windings()
        self._add_shorts()
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
        out += [Thing(What.BREAK, w.name) for w in p.windings if w.element is None]
        out += [Thing(What.LINK, x.name) for x in p.links]
        out += [Thing(What.LEAD, n) for n in p.pins if n in used and self.parts.of[n] in self._wired]
        for part, pins in self.parts.pins.items():
            open_ = self.ask.of(Pair(pins[0], CORE)).path is Path.NONE
            # what hangs on the iron by electronics alone is nothing that ohms were ever to tell
            if part in self._wired or (part in self._used and open_):
                out.append(Thing(What.GROUND, pins[0]))
        out += [Thing(What.SHORT, n) for n in self._shorted]
        return tuple(out)

    def _windings(self) -> dict[tuple[str, str], set[Thing]]:
        """What a winding can do to a joined pair, the rest being nominal: a share of its turns shorted takes it below
        its band; a break opens it, or takes it above.
        """
        joined = [p for p in self.pairs if self.ask.of(p).path is Path.WINDINGS]
        out: dict[tuple[str, str], set[Thing]] = {p.unordered: set() for p in joined}
        if not joined:
            return {}
        low, high = (np.array([getattr(self.ask.of(p), limit) for p in joined]) for limit in ("low", "high"))
        for w in self.pattern.windings:
            if w.element is not None:
                continue
            *short, broken = self.ask.shorted(joined, w.name, np.array([*_SHARES, _BROKEN]))
            least = next((shown for reads in short if (shown := reads < low).any()), np.zeros(len(joined), bool))
            for what, shown in ((What.WINDING, least), (What.BREAK, broken > high)):
                for i in np.flatnonzero(shown).tolist():
                    out[joined[i].unordered].add(Thing(what, w.name))
        return out

    def _add_shorts(self) -> None:
        """A short from a pin to the iron, the rest being nominal: what it takes below its band.

        With n and the iron c made one node, R_ab falls by (R_ac + R_bn - R_an - R_bc)^2 / (4 R_nc): the superposition
        of a unit current a -> b and of the one that then flows n -> c.
        """
        of, core = self.parts.of, self.parts.of[CORE]
        pins = [n for n in self.parts.pins.get(core, ()) if len(self.parts.pins[core]) <= _MOST_SHORTS]
        shorted = [n for n in pins if self.ask.of(Pair(n, CORE)).path is Path.WINDINGS]
        pairs = [p for p in self.pairs if of[p.positive] == core and self.ask.of(p).path is Path.WINDINGS]
        if not shorted or not pairs:
            return
        nodes = (*pins, CORE)
        at = {n: i for i, n in enumerate(nodes)}
        ohms = np.zeros((len(nodes), len(nodes)))
        every = list(itertools.combinations(nodes, 2))
        self.ask.prepare(Pair(a, b) for a, b in every)
        for a, b in every:
            ohms[at[a], at[b]] = ohms[at[b], at[a]] = self.ask.of(Pair(a, b)).ohms or np.nan
        i, j = (np.array([at[p[end]] for p in pairs]) for end in (0, 1))
        c = at[CORE]
        low = np.array([self.ask.of(p).low for p in pairs])
        for n in shorted:
            k = at[n]
            fall = (ohms[i, c] + ohms[j, k] - ohms[i, k] - ohms[j, c]) ** 2 / (4 * ohms[k, c])
            for index in np.flatnonzero(ohms[i, j] - fall < low).tolist():
                self._moved[pairs[index].unordered].add(Thing(What.SHORT, n))
        self._shorted = tuple(shorted)

    def _shown(self, pair: Pair) -> frozenset[Thing]:
        path = self.ask.of(pair).path
        if path is Path.ELEMENT:
            return frozenset()
        of, seen = self.parts.of, set[Thing]()
        if path is Path.NONE:
            if CORE in pair:
                part = of[pair.positive if pair.negative == CORE else pair.negative]
                return frozenset({Thing(What.GROUND, self.parts.pins[part][0])} if part in self._used else ())
            return frozenset()
        seen |= self._moved.get(pair.unordered, set())
        seen |= {Thing(What.LEAD, n) for n in pair if n != CORE}
        # a link on the way that is broken: the pair opens, or goes on through a winding where wire alone should be
        without = self._wires_without if path is Path.LINKS else self._without
        seen |= {Thing(What.LINK, name) for name, of in without.items() if of[pair.positive] != of[pair.negative]}
        if CORE in pair:
            seen.add(Thing(What.GROUND, self.parts.pins[of[CORE]][0]))
        return frozenset(seen)


def parts_of(pattern: Pattern, but: str = "", *, wires_alone: bool = False) -> Parts:
    """`but`: the name of a winding or link that is left out. `wires_alone`: without the windings."""
    edges = pattern.links if wires_alone else pattern.edges
    kept = [e for e in edges if not _is_element(e) and e.name != but]
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
