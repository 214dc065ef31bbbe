"""Patterns, meters and conditions for hypothesis: small, but of any topology."""

from hypothesis import strategies as st
from hypothesis.strategies import DrawFn, SearchStrategy, composite

from workbench.stator.copper import Conductor
from workbench.stator.layout import Coil, Facing, Layout, Wire
from workbench.stator.meter import Meter, Range
from workbench.stator.pattern import (
    CORE,
    Cavity,
    Connector,
    Element,
    KeyShape,
    Kind,
    Link,
    Outline,
    Pair,
    Pattern,
    Side,
    Terminal,
    Winding,
)
from workbench.stator.sheet import Conditions

OHMS = st.floats(0.05, 2000.0)


def edge_ends(nodes: tuple[str, ...]) -> SearchStrategy[tuple[str, str]]:
    """Two different nodes."""
    return st.tuples(st.sampled_from(nodes), st.sampled_from(nodes)).filter(lambda e: e[0] != e[1])


@composite
def copper_windings(draw: DrawFn, name: str, ends: tuple[str, str]) -> Winding:
    kind = draw(st.sampled_from(Kind))
    nominal = draw(OHMS)
    if draw(st.booleans()):
        words = {"word": draw(st.sampled_from(("", "source coil"))), "wire": "0.7 mm", "band_from": "14 good units"}
        return Winding(name, *ends, kind, ohms=nominal, tolerance_percent=draw(st.floats(0.5, 100)), **words)
    low, high = nominal * draw(st.floats(0.3, 0.99)), nominal * draw(st.floats(1.01, 2))
    return Winding(name, *ends, kind, ohms=draw(st.sampled_from((None, nominal))), low_ohms=low, high_ohms=high)


@composite
def plugs(draw: DrawFn, name: str, most: int) -> Connector:
    n = draw(st.integers(1, most))
    terminal = draw(st.sampled_from(Terminal))
    placed = draw(st.booleans())
    cavities = tuple(
        Cavity(str(i + 1), terminal, float(i % 3) if placed else None, float(i // 3) if placed else None, colour)
        for i, colour in enumerate(draw(st.lists(st.sampled_from(("", "grey over white")), min_size=n, max_size=n)))
    )
    key = draw(st.sampled_from((*Side, None)))
    outline = draw(st.sampled_from((*Outline, None)))
    return Connector(name, cavities, key, draw(st.sampled_from(KeyShape)) if key else KeyShape.TAB, outline)


@composite
def layouts(draw: DrawFn, windings: tuple[str, ...]) -> Layout:
    """Coils of these windings: stacked, on some teeth, or beside the ring."""
    teeth, facing = draw(st.integers(1, 96)), draw(st.sampled_from(Facing))
    spots = st.tuples(st.integers(1, teeth), st.none())
    if facing is not Facing.STRAIGHT:
        spots |= st.tuples(st.none(), st.floats(0, 360, exclude_max=True))
    taken = draw(st.lists(st.tuples(spots, st.integers(0, 7)), max_size=9 if windings else 0, unique=True))
    sense, wire = st.sampled_from((None, 1, -1)), st.none() | st.sampled_from(Wire)
    coils = tuple(
        Coil(draw(st.sampled_from(windings)), tooth, place, draw(sense), draw(wire), beside)
        for (tooth, beside), place in taken
    )
    return Layout(teeth, facing, coils)


@composite
def patterns(
    draw: DrawFn, elements: bool = False, links: bool = True, least_edges: int = 1, laid_out: bool = False
) -> Pattern:
    """One to three plugs, up to nine edges between any pins, the core and an inner point or two."""
    connectors = tuple(draw(plugs(name, 4)) for name in draw(st.sampled_from(("P", "PQ", "PQR"))))
    touchable = (*(n for c in connectors for n in c.nodes), CORE)
    ends = draw(st.lists(edge_ends(touchable), min_size=least_edges, max_size=6))
    for inner in draw(st.sampled_from(((), ("hub",), ("hub", "tap")))):
        ends += [(inner, to) for to in draw(st.lists(st.sampled_from(touchable), min_size=2, max_size=3))]
    windings: list[Winding] = []
    wires: list[Link] = []
    for i, e in enumerate(ends):
        what = draw(st.sampled_from(("winding", "winding", *(["link"] * links), *(["element"] * elements))))
        if what == "link":
            wires.append(Link(f"l{i}", *e, limit_ohms=draw(st.sampled_from((0.5, 0.2, 2.0)))))
        elif what == "element":
            windings.append(Winding(f"e{i}", *e, element=draw(st.sampled_from(Element))))
        else:
            windings.append(draw(copper_windings(f"w{i}", e)))
    checks = draw(st.none() | st.lists(edge_ends(touchable).map(lambda e: Pair(*e)), max_size=4).map(tuple))
    return Pattern(
        name=draw(st.text('ab 1."\\Ω磁', max_size=8)),
        connectors=connectors,
        windings=tuple(windings),
        links=tuple(wires),
        reference_celsius=draw(st.sampled_from((20.0, 25.0)) | st.floats(-60, 300)),
        conductor=draw(st.sampled_from(Conductor)),
        open_limit_ohms=draw(st.sampled_from((1e6, 2e6, 1e5))),
        checks=checks,
        layout=draw(st.none() | layouts(tuple(w.name for w in windings))) if laid_out else None,
    )


def nodes_of(p: Pattern) -> tuple[str, ...]:
    """Every node, inner points too."""
    return (*p.pins, CORE, *p.inner_points)


def pairs_of(p: Pattern) -> list[Pair]:
    """Every two nodes that leads can touch, once."""
    nodes = (*p.pins, CORE)
    return [Pair(a, b) for i, a in enumerate(nodes) for b in nodes[i + 1 :]]


HANDHELD = Meter(
    (Range(200, 0.1, 0.8, 3), Range(2000, 1, 0.8, 3), Range(2e4, 10, 0.8, 3), Range(2e7, 1e4, 1.0, 3)),
    open_above_ohms=2e7,
)

meters = st.builds(
    lambda low, steps, percent, digits: Meter(
        tuple(Range(low * 10**i, low * 10**i / 2000, percent, digits) for i in range(steps)), low * 10 ** (steps - 1)
    ),
    st.sampled_from((20.0, 200.0, 600.0)),
    st.integers(1, 6),
    st.floats(0, 2),
    st.integers(0, 10),
)

conditions = st.builds(
    Conditions,
    celsius=st.floats(-60, 300),
    celsius_uncertainty=st.floats(0, 10),
    lead_ohms=st.floats(0, 1),
    lead_uncertainty_ohms=st.floats(0, 0.2),
)
