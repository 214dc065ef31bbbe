"""What one kind of stator should be: plugs, windings, links and the checks it plans."""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from typing import NamedTuple

from workbench.stator.copper import Conductor
from workbench.stator.errors import FieldError
from workbench.stator.layout import Layout

CORE = "core"

LINK_OHMS = 0.02
LINK_LIMIT_OHMS = 0.5  # common practice, no source
OPEN_LIMIT_OHMS = 1e6  # common practice, no source

MOST_WINDINGS = 64
MOST_LINKS = 64
MOST_CAVITIES = 512
MOST_CHECKS = 1000


class Kind(StrEnum):
    """What a winding is for."""

    LIGHTING = "lighting"
    CHARGING = "charging"
    EXCITER = "exciter"
    IGNITION = "ignition"
    PULSER = "pulser"
    FIELD = "field"
    PRIMARY = "primary"
    SECONDARY = "secondary"
    OTHER = "other"


class Element(StrEnum):
    """What stands in a winding's place where ohms say nothing."""

    DIODE = "diode"
    ELECTRONICS = "electronics"


class Terminal(StrEnum):
    BLADE = "blade"
    SOCKET = "socket"


class Side(StrEnum):
    """The side of a face, seen from the mating side, that its key is on."""

    BOTTOM = "bottom"
    TOP = "top"
    LEFT = "left"
    RIGHT = "right"


class KeyShape(StrEnum):
    """A tongue outside the outline, a ridge inside it along its side, or the side itself cut flat."""

    TAB = "tab"
    RIB = "rib"
    FLAT = "flat"


class Outline(StrEnum):
    """The shape of a plug's body, where it is not the one that its cavities suggest."""

    BOX = "box"
    ROUND = "round"


class Pair(NamedTuple):
    """Two nodes that a meter touches; the first takes the positive lead."""

    positive: str
    negative: str

    @property
    def unordered(self) -> tuple[str, str]:
        """The same for a pair and its reverse."""
        return (self[0], self[1]) if self[0] <= self[1] else (self[1], self[0])

    def __str__(self) -> str:
        return f"{self[0]} - {self[1]}"


@dataclass(frozen=True, slots=True)
class Cavity:
    """One place in a plug's face. `x` to the right and `y` up, looking into the mating side, in any unit.

    `colour`: the wire's as it was found, in the shop's words. No evidence: nothing is ever matched by it.
    """

    pin: str
    terminal: Terminal = Terminal.BLADE
    x: float | None = None
    y: float | None = None
    colour: str = ""


@dataclass(frozen=True, slots=True)
class Connector:
    """A plug of the stator's loom, stored as drawn, with the side its key is on (None: no key) and what it is.

    `outline` None: as its cavities suggest.
    """

    name: str
    cavities: tuple[Cavity, ...]
    key: Side | None = Side.BOTTOM
    key_shape: KeyShape = KeyShape.TAB
    outline: Outline | None = None

    @property
    def nodes(self) -> tuple[str, ...]:
        return tuple(f"{self.name}.{c.pin}" for c in self.cavities)

    @property
    def places(self) -> tuple[tuple[float, float], ...]:
        """(x, y) of each cavity, as drawn; a row from left to right where none are given."""
        return tuple(
            (float(i) if c.x is None else c.x, 0.0 if c.y is None else c.y) for i, c in enumerate(self.cavities)
        )


@dataclass(frozen=True, slots=True)
class Winding:
    """An electrical run between two nodes. Ohms are at the pattern's reference temperature.

    Either `ohms` with `tolerance_percent` (100: no low limit), or `low_ohms` and `high_ohms`; an `element` has none of
    them. In the shop's words: `word` for what it is, `wire` it is wound of, `band_from` where its band came from.
    """

    name: str
    start: str
    finish: str
    kind: Kind = Kind.OTHER
    ohms: float | None = None
    tolerance_percent: float | None = None
    low_ohms: float | None = None
    high_ohms: float | None = None
    element: Element | None = None
    word: str = ""
    wire: str = ""
    band_from: str = ""

    @property
    def nominal(self) -> float:
        if self.ohms is not None:
            return self.ohms
        return (self.low + self.high) / 2

    @property
    def low(self) -> float:
        if self.low_ohms is not None:
            return self.low_ohms
        assert self.ohms is not None
        assert self.tolerance_percent is not None
        return self.ohms * (1 - self.tolerance_percent / 100)

    @property
    def high(self) -> float:
        if self.high_ohms is not None:
            return self.high_ohms
        assert self.ohms is not None
        assert self.tolerance_percent is not None
        return self.ohms * (1 + self.tolerance_percent / 100)

    @property
    def is_under(self) -> bool:
        """Whether all that its band says is what it lies under: 100 per cent below leaves no low limit, since no ohms
        lie below 0."""
        return self.tolerance_percent == 100


@dataclass(frozen=True, slots=True)
class Link:
    """A plain wire in the loom."""

    name: str
    start: str
    finish: str
    limit_ohms: float = LINK_LIMIT_OHMS


@dataclass(frozen=True, slots=True)
class Pattern:
    """One kind of stator. Raises FieldError where it contradicts itself."""

    name: str
    connectors: tuple[Connector, ...]
    windings: tuple[Winding, ...]
    links: tuple[Link, ...] = ()
    reference_celsius: float = 20.0
    conductor: Conductor = Conductor.COPPER
    open_limit_ohms: float = OPEN_LIMIT_OHMS
    checks: tuple[Pair, ...] | None = None
    layout: Layout | None = None

    def __post_init__(self) -> None:
        _refuse_contradictions(self)

    @property
    def pins(self) -> tuple[str, ...]:
        """Every node that a lead can touch but the core, plug by plug."""
        return tuple(n for c in self.connectors for n in c.nodes)

    @property
    def inner_points(self) -> tuple[str, ...]:
        """Nodes that no pin reaches, in the order of their first use."""
        known = {*self.pins, CORE}
        ends = [n for e in self.edges for n in (e.start, e.finish)]
        return tuple(dict.fromkeys(n for n in ends if n not in known))

    @property
    def edges(self) -> tuple["Winding | Link", ...]:
        return (*self.windings, *self.links)

    def can_touch(self, node: str) -> bool:
        return node == CORE or node in self.pins

    def winding(self, name: str) -> Winding:
        return next(w for w in self.windings if w.name == name)


def _refuse_contradictions(p: Pattern) -> None:
    for field, sentence in _contradictions(p):
        raise FieldError(field, sentence)


def _contradictions(p: Pattern) -> Iterator[tuple[str, str]]:
    yield from _counts(p)
    yield from _plugs(p)
    for i, w in enumerate(p.windings):
        yield from _winding(w, f"windings[{i}]")
    for i, link in enumerate(p.links):
        if not (math.isfinite(link.limit_ohms) and link.limit_ohms > 0):
            yield f"links[{i}].limit_ohms", f"a link's limit must be above 0 ohm, not {link.limit_ohms:g}"
    yield from _ends(p)
    if not -60 <= p.reference_celsius <= 300:
        yield "reference_celsius", f"{p.reference_celsius:g} C lies outside -60 to 300 C"
    if not (math.isfinite(p.open_limit_ohms) and p.open_limit_ohms > 0):
        yield "open_limit_ohms", f"the open limit must be above 0 ohm, not {p.open_limit_ohms:g}"
    for i, check in enumerate(p.checks or ()):
        yield from _check(p, check, f"checks[{i}]")
    if p.layout is not None:
        for field, sentence in p.layout.strangers({w.name for w in p.windings}):
            yield f"layout.{field}", sentence


def _counts(p: Pattern) -> Iterator[tuple[str, str]]:
    if not p.windings and not p.links:
        yield "windings", "a pattern needs at least one winding or link"
    for field, things, most in (
        ("windings", p.windings, MOST_WINDINGS),
        ("links", p.links, MOST_LINKS),
        ("connectors", p.pins, MOST_CAVITIES),
        ("checks", p.checks or (), MOST_CHECKS),
    ):
        if len(things) > most:
            yield field, f"{len(things)} of them is more than the {most} that a pattern may have"
    names = [e.name for e in p.edges]
    yield from (
        (f"windings[{i}].name" if i < len(p.windings) else f"links[{i - len(p.windings)}].name",
         f"the name {n!r} is used twice")
        for i, n in enumerate(names)
        if n in names[:i]
    )  # fmt: skip


def _plugs(p: Pattern) -> Iterator[tuple[str, str]]:
    seen: set[str] = set()
    for i, c in enumerate(p.connectors):
        where = f"connectors[{i}]"
        if not c.name or "." in c.name or c.name == CORE:
            yield f"{where}.name", f"{c.name!r} can't name a plug: it must be a word without a dot, and not 'core'"
        if c.name in seen:
            yield f"{where}.name", f"the plug {c.name!r} is named twice"
        seen.add(c.name)
        if c.key is None and c.key_shape is not KeyShape.TAB:
            yield f"{where}.key_shape", "a plug without a key has no shape of it"
        if not c.cavities:
            yield f"{where}.cavities", "a plug needs at least one cavity"
        pins: set[str] = set()
        for j, cavity in enumerate(c.cavities):
            if not cavity.pin:
                yield f"{where}.cavities[{j}].pin", "a pin needs a name"
            if cavity.pin in pins:
                yield f"{where}.cavities[{j}].pin", f"the pin {cavity.pin!r} is named twice"
            pins.add(cavity.pin)
        placed = [v is not None for cavity in c.cavities for v in (cavity.x, cavity.y)]
        if any(placed) and not all(placed):
            yield f"{where}.cavities", "either every cavity has its x and y, or none has"
        places = c.places
        for j, place in enumerate(places):
            if place in places[:j]:
                yield f"{where}.cavities[{j}]", "two cavities lie on the same place"


def _winding(w: Winding, where: str) -> Iterator[tuple[str, str]]:
    given = (w.ohms, w.tolerance_percent, w.low_ohms, w.high_ohms)
    if w.element is not None:
        if any(v is not None for v in given):
            yield f"{where}.element", f"a {w.element} has no ohms and no band"
        return
    if w.ohms is not None and not (math.isfinite(w.ohms) and w.ohms > 0):
        yield f"{where}.ohms", f"a winding's ohms must be above 0, not {w.ohms:g}"
    limits = (w.low_ohms, w.high_ohms)
    if limits != (None, None):
        if w.tolerance_percent is not None:
            yield f"{where}.tolerance_percent", "give a tolerance, or low_ohms and high_ohms, not both"
        if w.low_ohms is None or w.high_ohms is None:
            yield f"{where}.{'low_ohms' if w.low_ohms is None else 'high_ohms'}", "low_ohms and high_ohms go together"
        else:
            if not w.low_ohms > 0:
                yield f"{where}.low_ohms", f"a winding's ohms must be above 0, not {w.low_ohms:g}"
            if not w.low_ohms < w.high_ohms:
                yield f"{where}.low_ohms", f"low ({w.low_ohms:g}) must lie below high ({w.high_ohms:g})"
            if w.ohms is not None and not w.low_ohms <= w.ohms <= w.high_ohms:
                yield f"{where}.ohms", f"{w.ohms:g} lies outside its own band of {w.low_ohms:g} to {w.high_ohms:g}"
    elif w.ohms is None:
        yield f"{where}.ohms", "a winding needs ohms with tolerance_percent, or low_ohms and high_ohms"
    elif w.tolerance_percent is None:
        yield f"{where}.tolerance_percent", "ohms need a tolerance_percent, or low_ohms and high_ohms"
    elif not 0 < w.tolerance_percent <= 100:
        yield f"{where}.tolerance_percent", f"a tolerance must lie above 0 and up to 100, not {w.tolerance_percent:g}"


def _ends(p: Pattern) -> Iterator[tuple[str, str]]:
    pins = set(p.pins)
    edges: list[tuple[str, Winding | Link]] = [(f"windings[{i}]", w) for i, w in enumerate(p.windings)]
    edges += [(f"links[{i}]", link) for i, link in enumerate(p.links)]
    uses: dict[str, int] = {}
    for _, e in edges:
        for node in {e.start, e.finish}:
            uses[node] = uses.get(node, 0) + 1
    for where, e in edges:
        for end, node in (("from", e.start), ("to", e.finish)):
            if not node:
                yield f"{where}.{end}", "a node needs a name"
            elif "." in node:
                if node not in pins:
                    yield f"{where}.{end}", f"there is no pin {node!r}"
            elif node != CORE and uses[node] < 2:
                yield f"{where}.{end}", f"nothing else uses the inner point {node!r}"
        if e.start == e.finish:
            yield f"{where}.to", f"both ends lie on {e.start!r}"


def _check(p: Pattern, check: Pair, where: str) -> Iterator[tuple[str, str]]:
    for node in check:
        sentence = why_untouchable(p, node)
        if sentence:
            yield where, sentence
    if check.positive == check.negative:
        yield where, f"both leads lie on {check.positive!r}"


def why_untouchable(p: Pattern, node: str) -> str | None:
    """Why no lead can touch this node, as a sentence's words; None where one can."""
    if p.can_touch(node):
        return None
    if "." in node:
        return f"there is no pin {node!r}"
    if node in p.inner_points:
        return f"{node!r} is an inner point, which no lead can touch"
    return f"there is no {node!r} in this pattern"
