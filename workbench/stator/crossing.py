"""Which windings a pair of leads reads across."""

from functools import lru_cache

from workbench.stator.network import Network
from workbench.stator.pattern import Pair, Pattern

# a block's windings, and the place in it that each node hangs on
Block = tuple[frozenset[str], dict[str, int]]


def windings_of(pattern: Pattern, pair: Pair) -> frozenset[str]:
    """Names of the windings, elements too, that can carry current between the two nodes; empty where none joins them.

    An edge lies on some path between two nodes just when that path must cross the edge's two-connected block: when
    the nodes hang on different places of the block.
    """
    return _crossed(_blocks(pattern), pair)


def check_for(pattern: Pattern, winding: str) -> Pair | None:
    """The planned check that sees a winding most directly: across the fewest others, at its own ends if it can be.

    Without a planned one that sees it, the pair of its own ends; None where no lead reaches those.
    """
    w = pattern.winding(winding)
    ends = {w.start, w.finish}
    blocks = _blocks(pattern)
    seen = [(_crossed(blocks, c), c) for c in pattern.checks or ()]
    direct = [(len(names), set(c) != ends, i) for i, (names, c) in enumerate(seen) if winding in names]
    if direct:
        return seen[min(direct)[2]][1]
    return Pair(w.start, w.finish) if all(map(pattern.can_touch, ends)) else None


def _crossed(blocks: tuple[Block, ...], pair: Pair) -> frozenset[str]:
    one, other = pair
    crossed = (names for names, hangs in blocks if one in hangs and other in hangs and hangs[one] != hangs[other])
    return frozenset().union(*crossed)


@lru_cache(maxsize=16)
def _blocks(pattern: Pattern) -> tuple[Block, ...]:
    """Each two-connected block that holds a winding."""
    edges = pattern.edges
    names = list(dict.fromkeys(n for e in edges for n in (e.start, e.finish)))
    at = {n: i for i, n in enumerate(names)}
    ends = [(at[e.start], at[e.finish]) for e in edges]
    out = []
    for block in Network(len(names), ends, [1.0] * len(ends)).blocks():
        held = frozenset(edges[i].name for i in block if i < len(pattern.windings))
        if held:
            out.append((held, _hangs(names, ends, block)))
    return tuple(out)


def _hangs(names: list[str], ends: list[tuple[int, int]], block: set[int]) -> dict[str, int]:
    """For each node that is joined to the block, the node of it that it stays joined to without its edges."""
    near: list[list[int]] = [[] for _ in names]
    for i, (a, b) in enumerate(ends):
        if i not in block:
            near[a].append(b)
            near[b].append(a)
    hangs: dict[str, int] = {}
    for place in {x for i in block for x in ends[i]}:
        reached, todo = {place}, [place]
        while todo:
            for y in near[todo.pop()]:
                if y not in reached:
                    reached.add(y)
                    todo.append(y)
        hangs |= dict.fromkeys((names[x] for x in reached), place)
    return hangs
