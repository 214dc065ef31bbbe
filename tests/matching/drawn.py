"""Libraries and unknown parts drawn by a seed: patterns, their look-alikes, the same part as another hand draws it."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from tests.findings.generate import Bench, Rng, Wrong, a_fault, a_meter, a_pattern
from workbench.stator.meter import Meter
from workbench.stator.pattern import CORE, Cavity, Connector, Link, Pair, Pattern, Side, Terminal, Winding
from workbench.stator.sheet import Conditions, Reading

SIDES = (Side.BOTTOM, Side.LEFT, Side.TOP, Side.RIGHT)  # each a quarter turn clockwise from the one before

ROW = ((0.0, 0.0), (1.0, 0.0), (2.0, 0.0), (3.0, 0.0))
FACES: dict[int, tuple[tuple[tuple[float, float], ...], ...]] = {
    1: (ROW[:1],),
    2: (ROW[:2],),
    3: (ROW[:3], ((0.0, 0.0), (2.0, 0.0), (1.0, 1.5))),
    4: (ROW, ((0.0, 0.0), (1.0, 0.0), (0.0, 1.0), (1.0, 1.0)), ((0.0, 0.0), (1.0, 0.0), (2.0, 0.0), (1.0, 1.0))),
}


def faced(rng: Rng, p: Pattern) -> Pattern:
    """The same with its plugs given faces: places, a key or none, blades or sockets."""
    plugs = []
    for c in p.connectors:
        choices = FACES[len(c.cavities)]
        places = choices[rng.integers(len(choices))]
        kind = (Terminal.BLADE, Terminal.SOCKET)[rng.integers(2)]
        cavities = tuple(Cavity(k.pin, kind, x, y) for k, (x, y) in zip(c.cavities, places, strict=True))
        plugs.append(Connector(c.name, cavities, None if rng.random() < 0.35 else Side.BOTTOM))
    return replace(p, connectors=tuple(plugs), reference_celsius=float(rng.choice([20, 25])))


def look_alike(rng: Rng, p: Pattern, name: str) -> Pattern:
    """Another pattern with the same faces: values off, exchanged or held otherwise, pins moved, a coil grounded."""
    w = list(p.windings)
    match rng.integers(6):
        case 0:
            k = rng.integers(len(w))
            w[k] = _times(w[k], 1 + float(rng.choice([-1, 1])) * float(rng.uniform(0.05, 0.4)))
        case 1:
            f = 1 + float(rng.uniform(-0.3, 0.4))
            w = [_times(x, f) for x in w]
        case 2:
            ohms = [x.ohms for x in w]
            w = [replace(x, ohms=r) for x, r in zip(w, np.roll(np.array(ohms), 1).tolist(), strict=True)]
        case 3:
            w = [replace(x, tolerance_percent=5.0) for x in w]
        case 4:
            pins = list(p.pins)
            onto = dict(zip(pins, rng.permutation(pins).tolist(), strict=True))
            w = [replace(x, start=onto.get(x.start, x.start), finish=onto.get(x.finish, x.finish)) for x in w]
            links = tuple(
                replace(x, start=onto.get(x.start, x.start), finish=onto.get(x.finish, x.finish)) for x in p.links
            )
            return replace(p, name=name, windings=tuple(w), links=links)
        case _:
            pin = str(rng.choice([n for n in p.pins if any(n in (e.start, e.finish) for e in p.edges)]))
            return replace(p, name=name, links=(*p.links, Link(f"ground {len(p.links)}", pin, CORE)))
    return replace(p, name=name, windings=tuple(w))


def _times(w: Winding, f: float) -> Winding:
    assert w.ohms is not None
    return replace(w, ohms=float(f"{w.ohms * f:.3g}"))


def a_library(seed: int, n: int = 60) -> list[Pattern]:
    rng = np.random.default_rng(seed)
    out: list[Pattern] = []
    while len(out) < n:
        if out and rng.random() < 0.75:
            out.append(look_alike(rng, out[rng.integers(len(out))], f"pattern {len(out)}"))
        else:
            out.append(replace(faced(rng, a_pattern(rng, int(rng.integers(1, 7)))), name=f"pattern {len(out)}"))
    return out


@dataclass(frozen=True)
class Disguised:
    """A part's plugs as another hand draws and names them, and what it calls each of the pattern's nodes."""

    plugs: tuple[Connector, ...]
    called: Mapping[str, str]

    def pair(self, a: str, b: str) -> Pair:
        return Pair(self.called[a], self.called[b])


def disguised(rng: Rng, p: Pattern, jitter: float = 0.03) -> Disguised:
    names = rng.permutation(list("KLMNOPQR"))
    called = {CORE: CORE}
    plugs = []
    for k in rng.permutation(len(p.connectors)).tolist():
        plug = p.connectors[k]
        name = str(names[k])
        pins = [str(x) for x in rng.permutation(len(plug.cavities))]
        called |= {n: f"{name}.{pin}" for n, pin in zip(plug.nodes, pins, strict=True)}
        at = drawn_by_hand(rng, plug, jitter)
        cavities = [replace(c, pin=pin) for c, pin in zip(at.cavities, pins, strict=True)]
        plugs.append(Connector(name, tuple(cavities[i] for i in rng.permutation(len(pins)).tolist()), at.key))
    return Disguised(tuple(plugs), called)


def drawn_by_hand(rng: Rng, plug: Connector, jitter: float = 0.03) -> Connector:
    """In some quarter turn, unit and origin, each cavity a little off."""
    places = np.array(plug.places)
    apart = [math.dist(a, b) for i, a in enumerate(places) for b in places[:i]]
    places = places + rng.uniform(-jitter, jitter, places.shape) * min(apart, default=1.0)
    quarters = int(rng.integers(4))
    places = turned(places, quarters) * float(np.exp(rng.uniform(-4, 4))) + rng.uniform(-20, 20, 2)
    key = None if plug.key is None else SIDES[(SIDES.index(plug.key) - quarters) % 4]
    cavities = tuple(replace(c, x=x, y=y) for c, (x, y) in zip(plug.cavities, places.tolist(), strict=True))
    return Connector(plug.name, cavities, key)


def turned(
    places: "np.ndarray[tuple[int, int], np.dtype[np.float64]]", quarters: int
) -> "np.ndarray[tuple[int, int], np.dtype[np.float64]]":
    """Counterclockwise."""
    for _ in range(quarters):
        places = np.stack((-places[:, 1], places[:, 0]), 1)
    return places


@dataclass(frozen=True)
class Unknown:
    """A part on the bench: what was read of it, in its own names, and of which pattern it is."""

    plugs: tuple[Connector, ...]
    meter: Meter
    conditions: Conditions
    readings: tuple[Reading, ...]
    pattern: Pattern
    called: Mapping[str, str]


def an_unknown(rng: Rng, p: Pattern, *, faulty: float = 0.04, most: int = 8, part: Pattern | None = None) -> Unknown:
    """`part`: read this in place of a part of the pattern, for one that is of no pattern."""
    d = disguised(rng, p)
    meter, conditions = a_meter(rng)
    nodes = [*p.pins, CORE]
    pairs = [Pair(a, b) for i, a in enumerate(nodes) for b in nodes[i + 1 :]]
    count = min(len(pairs), int(rng.integers(1, most + 1)))
    while True:
        asked = [pairs[i] for i in rng.permutation(len(pairs))[:count]]
        wrong: Sequence[Wrong] = ()
        if rng.random() < faulty:
            fault = "sound"
            while fault == "sound":
                fault, _, wrong = a_fault(rng, p)
        read = Bench(rng, part or p, meter, conditions, wrong).read(asked)
        if read is not None:
            mine = tuple(replace(r, pair=d.pair(*r.pair)) for r in read)
            return Unknown(d.plugs, meter, conditions, mine, p, d.called)
