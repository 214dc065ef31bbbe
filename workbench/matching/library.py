"""The library prepared once, and the patterns on whose plugs a part's can be laid."""

from collections import OrderedDict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from workbench.matching.faces import Faces
from workbench.matching.faulty import Faulty, faulty
from workbench.matching.layings import MOST_LAYINGS, MOST_PINS, Fitted, Shape, fit, ways
from workbench.matching.tables import Tables, tables
from workbench.stator.errors import FieldError
from workbench.stator.pattern import CORE, Connector, Link, Pattern

# numbers kept ready for shapes asked after lately; a few dozen shapes of an ordinary shop
_KEPT = 20_000_000


@dataclass(eq=False, slots=True)
class _Shelf:
    """The patterns of one shape."""

    shape: Shape
    members: list[int]
    nodes: list[tuple[str, ...]]


@dataclass(frozen=True, eq=False, slots=True)
class Ready:
    """A shape with the tables of its patterns."""

    shape: Shape
    sound: Tables
    faulty: Faulty


@dataclass(frozen=True, eq=False, slots=True)
class Candidates:
    """What a part of these plugs may be of.

    `patterns`: numbers in the library. `nodes` (slots,): the part's own nodes in the slots of its shape, `theirs`: each
    pattern's. Without patterns nothing is `ready`.
    """

    patterns: tuple[int, ...]
    nodes: tuple[str, ...]
    theirs: tuple[tuple[str, ...], ...] = ()
    ready: Ready | None = None

    def laid(self, which: int, laying: int) -> Mapping[str, str]:
        """The node of pattern `patterns[which]` under each of the part's, core on core, by a laying of the shape."""
        assert self.ready is not None
        onto = self.ready.shape.layings[laying].tolist()
        return {mine: self.theirs[which][slot] for mine, slot in zip(self.nodes, onto, strict=True)}


class Library:
    """Patterns ready to be compared with a part. Build it off the window's thread; then it is only read, but for a
    store of tables: ask it from one thread at a time."""

    def __init__(self, patterns: Iterable[Pattern]) -> None:
        self.patterns = tuple(patterns)
        self.skipped: tuple[int, ...] = ()
        self._faces = Faces()
        self._shelves: dict[tuple[int, ...], _Shelf] = {}
        self._ready: OrderedDict[tuple[int, ...], Ready] = OrderedDict()
        skipped = []
        for number, pattern in enumerate(self.patterns):
            if sum(len(c.cavities) for c in pattern.connectors) > MOST_PINS:
                skipped.append(number)
                continue
            fitted = fit(pattern.connectors, self._faces, keep=True)
            assert fitted is not None
            if ways(fitted.faces) > MOST_LAYINGS:
                skipped.append(number)
                continue
            shelf = self._shelves.get(fitted.key)
            if shelf is None:
                shelf = self._shelves[fitted.key] = _Shelf(Shape(fitted.faces), [], [])
            shelf.members.append(number)
            shelf.nodes.append(fitted.nodes)
        self.skipped = tuple(skipped)

    @classmethod
    def of(cls, patterns: Iterable[Pattern]) -> "Library":
        """Patterns with more than `MOST_PINS` pins or `MOST_LAYINGS` layings are left out, and `skipped` (numbers)."""
        return cls(patterns)

    def candidates(self, plugs: Sequence[Connector]) -> Candidates:
        """Raises FieldError where the plugs contradict themselves or are too many to be laid."""
        _refuse(plugs)
        fitted = fit(plugs, self._faces)
        shelf = self._shelves.get(fitted.key) if fitted is not None else None
        if fitted is None or shelf is None:
            return Candidates((), (*(n for p in plugs for n in p.nodes), CORE))
        ready = self._prepared(fitted, shelf)
        return Candidates(tuple(shelf.members), fitted.nodes, tuple(shelf.nodes), ready)

    def _prepared(self, fitted: Fitted, shelf: _Shelf) -> Ready:
        ready = self._ready.get(fitted.key)
        if ready is None:
            its = [self.patterns[m] for m in shelf.members]
            ready = Ready(shelf.shape, tables(shelf.shape, its, shelf.nodes), faulty(shelf.shape, its, shelf.nodes))
            self._ready[fitted.key] = ready
        self._ready.move_to_end(fitted.key)
        while len(self._ready) > 1 and sum(r.faulty.size for r in self._ready.values()) > _KEPT:
            self._ready.popitem(last=False)
        return ready


def why_not_laid(plugs: Sequence[Connector]) -> str | None:
    """Why plugs are not laid on any pattern's, as a sentence's words; None where they are."""
    pins = sum(len(p.cavities) for p in plugs)
    if pins > MOST_PINS:
        return f"{pins} cavities are more than the {MOST_PINS} of a part that is looked for"
    fitted = fit(plugs, Faces(), keep=True)
    if fitted is not None and ways(fitted.faces) > MOST_LAYINGS:
        return f"plugs that are alike can be laid in more than the {MOST_LAYINGS:,} ways that are looked at"
    return None


def _refuse(plugs: Sequence[Connector]) -> None:
    if not plugs:
        raise FieldError("connectors", "a part needs at least one plug")
    # a part's plugs keep the rules of a pattern's, which a pattern itself holds to
    end = next((n for p in plugs for n in p.nodes), "")
    Pattern("", tuple(plugs), (), (Link("", end, CORE),))
    why = why_not_laid(plugs)
    if why is not None:
        raise FieldError("connectors", why)
