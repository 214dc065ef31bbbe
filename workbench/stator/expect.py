"""What each pair of a pattern should read."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from workbench.stator.errors import FieldError
from workbench.stator.network import Floats, Network, Routes
from workbench.stator.pattern import CORE, LINK_OHMS, Link, Pair, Pattern, Winding
from workbench.stator.verdict import Decision, against_band, against_high, against_limit

# a winding whose tolerance reaches 100 % has no lowest value above 0; loops need one
_LEAST_SHARE = 1e-9


class Path(StrEnum):
    """How two nodes are joined by a pattern."""

    WINDINGS = "windings"
    LINKS = "links"  # by plain wire alone: judged one-sided
    NONE = "none"  # should read open
    ELEMENT = "element"  # through a diode or electronics: not to be judged by ohms


@dataclass(frozen=True, slots=True)
class Expected:
    """Ohms at the reference temperature, without leads; None where the path gives no network band.

    `low` to `high` is the band: every winding at its low limit, and at its high limit (resistance
    rises with every edge, Rayleigh's monotonicity law). `low` is 0 where there is no low limit: along links, and
    where no winding on some way between the two has one.
    """

    path: Path
    ohms: float | None = None
    low: float | None = None
    high: float | None = None

    @property
    def has_band(self) -> bool:
        return self.path in (Path.WINDINGS, Path.LINKS)

    @property
    def is_under(self) -> bool:
        """Whether its band is all that lies under `high`."""
        return self.path is Path.WINDINGS and self.low == 0

    def decided(self, y: float, u: float) -> Decision:
        """A value (ohm) with its standard uncertainty against the band. For those that have one."""
        assert self.low is not None
        assert self.high is not None
        if self.path is Path.LINKS:
            return against_limit(y, u, self.high)
        return against_high(y, u, self.high) if self.is_under else against_band(y, u, self.low, self.high)

    @property
    def keeps_polarity(self) -> bool:
        """Whether the pair and its reverse are two different readings."""
        return self.path is Path.ELEMENT


class Expectations:
    """Answers `of(pair)` for any pair of a pattern's nodes, from one network built once."""

    def __init__(self, pattern: Pattern) -> None:
        self.pattern = pattern
        nodes = tuple(dict.fromkeys((*pattern.pins, CORE, *pattern.inner_points)))
        self._index = {node: i for i, node in enumerate(nodes)}
        at = self._index
        copper = [w for w in pattern.windings if w.element is None]
        kept: list[Winding | Link] = [*copper, *pattern.links]
        edges = [(at[e.start], at[e.finish]) for e in kept]
        links = [LINK_OHMS] * len(pattern.links)
        nominal = [w.nominal for w in copper]
        self._net = Network(len(nodes), edges, nominal + links)
        low = [max(w.low, _LEAST_SHARE * w.nominal) for w in copper]
        high = [w.high for w in copper]
        limits = [link.limit_ohms for link in pattern.links]
        self._values = np.array([nominal + links, low + links, high + links, high + limits])
        n, wires = len(nodes), edges[len(copper) :]
        self._wired = Network(n, wires, limits)
        loose = [at for at, w in zip(edges, copper, strict=False) if w.is_under]
        self._under = Network(n, [*loose, *wires], [1.0] * len(loose) + limits) if loose else None
        self._through = _through_elements(pattern, at, edges)
        self._known: dict[Pair, Expected] = {}

    def of(self, pair: Pair) -> Expected:
        if pair not in self._known:
            self.prepare((pair,))
        return self._known[pair]

    def prepare(self, pairs: Iterable[Pair]) -> None:
        """Work out many pairs at once; `of` then only looks them up.

        Raises FieldError where ohms of no real part (1e-320, say) leave nothing finite.
        """
        joined: list[Pair] = []
        for pair in dict.fromkeys(pairs):
            if pair in self._known:
                continue
            a, b = self._index[pair.positive], self._index[pair.negative]
            if self._through and any(part[a] != part[b] for part in self._through if part[a] and part[b]):
                self._known[pair] = Expected(Path.ELEMENT)
            elif self._net.joined(a, b):
                joined.append(pair)
            else:
                self._known[pair] = Expected(Path.NONE)
        if not joined:
            return
        a_s = [self._index[p.positive] for p in joined]
        b_s = [self._index[p.negative] for p in joined]
        with np.errstate(all="ignore"):
            try:
                found = Routes(self._net, a_s, b_s).resistances(self._values)
            except np.linalg.LinAlgError:
                found = np.full((4, len(joined)), np.nan)
        if not np.isfinite(found).all():
            raise FieldError("pattern", "its ohms are too small or too far apart to be worked out together")
        ohms, low, high, limit = found
        for i, pair in enumerate(joined):
            if self._wired.joined(a_s[i], b_s[i]):
                self._known[pair] = Expected(Path.LINKS, float(ohms[i]), 0.0, float(limit[i]))
            else:
                under = self._under is not None and self._under.joined(a_s[i], b_s[i])
                least = 0.0 if under else float(low[i])
                self._known[pair] = Expected(Path.WINDINGS, float(ohms[i]), least, float(high[i]))

    def same(self, one: Pair, other: Pair) -> bool:
        """Whether two pairs are one reading: also in reverse, unless an element lies on the path."""
        return self.key(one) == self.key(other)

    def key(self, pair: Pair) -> tuple[str, str]:
        return (pair.positive, pair.negative) if self.of(pair).keeps_polarity else pair.unordered

    def shorted(self, pairs: Sequence[Pair], winding: str, fractions: Floats) -> Floats:
        """What joined pairs read (ohm) with a fraction of one winding's turns shorted, the rest at nominal.

        Shape (fractions, pairs).
        """
        copper = [w.name for w in self.pattern.windings if w.element is None]
        ohms = np.repeat(self._values[:1], len(fractions), axis=0)
        ohms[:, copper.index(winding)] *= np.maximum(1 - fractions, _LEAST_SHARE)
        a = [self._index[p.positive] for p in pairs]
        b = [self._index[p.negative] for p in pairs]
        return Routes(self._net, a, b).resistances(ohms)


def _through_elements(pattern: Pattern, at: dict[str, int], edges: list[tuple[int, int]]) -> list[list[int]]:
    """For each block of the network that holds an element: the place in it that each node hangs on.

    Without the block's own edges, its nodes fall apart; a node hangs on the one it stays joined to
    (numbered from 1; 0: on none). A path between two nodes crosses the block, and can take the
    element, just when they hang on different ones.
    """
    elements = [(at[w.start], at[w.finish]) for w in pattern.windings if w.element is not None]
    if not elements:
        return []
    every = edges + elements
    whole = Network(len(at), every, [1.0] * len(every))
    out = []
    for block in whole.blocks():
        if not any(e >= len(edges) for e in block):
            continue
        rest = [e for i, e in enumerate(every) if i not in block]
        apart = Network(len(at), rest, [1.0] * len(rest))
        ends = sorted({x for i in block for x in every[i]})
        out.append([next((k for k, x in enumerate(ends, 1) if apart.joined(node, x)), 0) for node in range(len(at))])
    return out
