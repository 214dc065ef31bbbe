"""What a check can see: which windings, leads and grounds would show in it if they failed."""

import itertools
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from workbench.stator.expect import Expectations, Path
from workbench.stator.network import Floats, Network
from workbench.stator.pattern import CORE, LINK_OHMS, Link, Pair, Pattern, Winding

# so much of a winding's turns shorted has to take a check out of its band, or, where no pair shows so little, the
# next of these: common practice, no source
SHOWN_SHORT = 0.3
_SHARES = (SHOWN_SHORT, 0.5, 0.8)
# what lies on a limit but for rounding is not beyond it
_CLEARLY = 1 - 1e-9
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
        on_iron = self.parts.pins.get(self.parts.of[CORE], ())
        self._beside_iron = tuple(n for n in on_iron if self.ask.of(Pair(n, CORE)).path is Path.WINDINGS)
        self._moved = self._faults()
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
        out += [Thing(What.SHORT, n) for n in self._beside_iron]
        return tuple(out)

    def _faults(self) -> dict[tuple[str, str], set[Thing]]:
        """What a fault does to each joined pair, the rest being nominal: a share of a winding's turns shorted takes it
        below its band; a break, of a link too, opens it or takes it above; a wire from a pin to the iron, below.
        """
        joined = [p for p in self.pairs if self.ask.of(p).path is Path.WINDINGS]
        out: dict[tuple[str, str], set[Thing]] = {p.unordered: set() for p in joined}
        if not joined:
            return {}
        with_branch = _Branches(self.pattern, joined)
        low, high = (np.array([getattr(self.ask.of(p), limit) for p in joined]) for limit in ("low", "high"))
        low, high = low * _CLEARLY, high / _CLEARLY

        def note(thing: Thing, shown: NDArray[np.bool_]) -> None:
            for k in np.flatnonzero(shown).tolist():
                out[joined[k].unordered].add(thing)

        for w in self.pattern.windings:
            if w.element is not None:
                continue
            # so much less of it is the whole of it beside (1 - f)/f of it
            reads = (with_branch(w.start, w.finish, w.nominal * (1 - f) / f) for f in _SHARES)
            note(Thing(What.WINDING, w.name), next((below for r in reads if (below := r < low).any()), low < 0))
            note(Thing(What.BREAK, w.name), with_branch(w.start, w.finish, -w.nominal) > high)
        for link in self.pattern.links:
            note(Thing(What.LINK, link.name), with_branch(link.start, link.finish, -LINK_OHMS) > high)
        for n in self._beside_iron:
            note(Thing(What.SHORT, n), with_branch(n, CORE, LINK_OHMS) < low)
        return out

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


class _Branches:
    """What pairs of a pattern read with one branch more, the rest being nominal."""

    def __init__(self, pattern: Pattern, pairs: Sequence[Pair]) -> None:
        kept = [e for e in pattern.edges if not _is_element(e)]
        nodes = dict.fromkeys((*pattern.pins, CORE, *pattern.inner_points))
        at = self._at = {n: i for i, n in enumerate(nodes)}
        values = [e.nominal if isinstance(e, Winding) else LINK_OHMS for e in kept]
        net = Network(len(at), [(at[e.start], at[e.finish]) for e in kept], values)
        every = net.all_pairs(np.array(values))
        self._ohms = np.where(np.isfinite(every), every, 0.0)  # apart: no current of one moves the other
        self._i, self._j = (np.array([at[p[end]] for p in pairs]) for end in (0, 1))
        self._reads: Floats = self._ohms[self._i, self._j]

    def __call__(self, start: str, finish: str, ohms: float) -> Floats:
        """Ohms of each pair with a branch of `ohms` between two joined nodes; -r takes one of r away.

        R_ab falls by (R_av + R_bu - R_au - R_bv)^2 / (4 (R_uv + ohms)): the superposition of a unit current a -> b and
        of the one that then flows through the branch u -> v.
        """
        every, i, j, u, v = self._ohms, self._i, self._j, self._at[start], self._at[finish]
        across = every[i, v] + every[j, u] - every[i, u] - every[j, v]
        loop = every[u, v] + ohms
        if abs(loop) <= 1e-9 * every[u, v]:  # nothing else joined them: what goes across it opens
            return np.where(np.abs(across) > every[u, v], np.inf, self._reads)
        reads: Floats = self._reads - across**2 / (4 * loop)
        return reads


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
