"""All layings of a part's plugs on a pattern's, as permutations of the slots that both are written in.

A shape is the faces of a part's plugs, in order of their numbers. Its slots are the cavities of those faces one after
another, and last the core. A part of this shape, and every pattern of it, is first put into the slots in one way; the
other ways are the same permutations for them all: equal faces exchanged, and faces without a key turned.
"""

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from workbench.matching.faces import Face, Faces, Ints
from workbench.stator.pattern import CORE, Connector

# pins of a part, and ways of laying it, beyond which it is not looked at
MOST_PINS = 32
MOST_LAYINGS = 5040  # seven alike bullets


def ways(faces: Sequence[Face]) -> int:
    """In how many ways plugs of these faces can be laid on others of the same."""
    alike = [len(list(same)) for _, same in itertools.groupby(sorted(f.number for f in faces))]
    return math.prod(math.factorial(n) for n in alike) * math.prod(len(f.turns) for f in faces)


@dataclass(frozen=True, eq=False)
class Shape:
    """`faces` in rising order of their numbers. `slots` counts the core, the last."""

    faces: tuple[Face, ...]

    @property
    def slots(self) -> int:
        return sum(len(f.places) for f in self.faces) + 1

    @cached_property
    def layings(self) -> Ints:
        """(layings, slots): the pattern's slot on which each of the part's lies; the first leaves all in place."""
        starts = [0, *itertools.accumulate(len(f.places) for f in self.faces)]
        alike = [tuple(same) for _, same in itertools.groupby(range(len(self.faces)), lambda i: self.faces[i].number)]
        exchanged = itertools.product(*(itertools.permutations(same) for same in alike))
        rows = []
        for onto in (tuple(itertools.chain.from_iterable(e)) for e in exchanged):
            for turns in itertools.product(*(f.turns for f in self.faces)):
                parts = [starts[to] + turn for to, turn in zip(onto, turns, strict=True)]
                rows.append(np.concatenate((*parts, [starts[-1]])))
        return np.array(rows, dtype=np.intp)

    @cached_property
    def pairs(self) -> tuple[Ints, Ints]:
        """First and second slot of every pair of two, the first the lower."""
        i, j = np.triu_indices(self.slots, 1)
        return i, j

    @cached_property
    def pair_of(self) -> Ints:
        """(slots, slots): the number of each pair in `pairs`."""
        i, j = self.pairs
        out = np.zeros((self.slots, self.slots), dtype=np.intp)
        out[i, j] = out[j, i] = np.arange(len(i))
        return out

    @cached_property
    def images(self) -> Ints:
        """(layings, pairs): the pair of the pattern that each pair of the part lies on."""
        i, j = self.pairs
        out: Ints = self.pair_of[self.layings[:, i], self.layings[:, j]]
        return out


@dataclass(frozen=True, slots=True)
class Fitted:
    """A part in the slots of a shape: `nodes` (slots,), its node in each; `faces` rising by their numbers."""

    faces: tuple[Face, ...]
    nodes: tuple[str, ...]

    @property
    def key(self) -> tuple[int, ...]:
        return tuple(f.number for f in self.faces)


def fit(plugs: Sequence[Connector], faces: Faces, *, keep: bool = False) -> Fitted | None:
    """A part's plugs by their faces; None if one of them is none of the faces known. `keep`: unknown ones are added."""
    found: list[tuple[Face, tuple[str, ...]]] = []
    for plug in plugs:
        known = faces.add(plug) if keep else faces.find(plug)
        if known is None:
            return None
        face, on = known
        # `on` tells where each cavity goes; wanted is who comes to lie in each slot
        found.append((face, tuple(plug.nodes[k] for k in np.argsort(on).tolist())))
    found.sort(key=lambda f: f[0].number)
    return Fitted(tuple(f for f, _ in found), (*itertools.chain.from_iterable(n for _, n in found), CORE))
