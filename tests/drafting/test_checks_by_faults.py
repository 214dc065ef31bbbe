"""The chosen checks against every single fault, put into the pattern itself and the network solved anew."""

import itertools
from collections.abc import Iterator
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, assume, given, settings

from tests.exchange.test_starter_checks import lead_off, without
from tests.stator.strategies import pairs_of, patterns
from workbench.drafting.checks import choose_checks
from workbench.drafting.seeing import Seeing, Thing, What
from workbench.exchange.starters import starter_revisions
from workbench.stator.expect import Expectations, Path
from workbench.stator.pattern import CORE, Cavity, Connector, Kind, Link, Pair, Pattern, Winding

REVISIONS = [pytest.param(p, id=f"{p.name} #{i}") for i, p in enumerate(starter_revisions())]
SHARES = (0.3, 0.5, 0.8)
Faulty = tuple[str, Pattern | None]


def faults(p: Pattern) -> Iterator[Faulty]:
    """None: nothing is left that joins anything."""
    for e in p.edges:
        if not (isinstance(e, Winding) and e.element is not None):
            yield f"{e.name} broken", without(p, e.name)
    for pin in p.pins:
        yield f"{pin} off", lead_off(p, pin)
        down = Link("short", pin, CORE)
        yield (
            f"{pin} on the iron",
            replace(p, links=(*p.links, down)) if any(pin in (e.start, e.finish) for e in p.edges) else p,
        )
    for w, share in itertools.product((w for w in p.windings if w.element is None), SHARES):
        ohms = (1 - share) * w.nominal
        less = replace(w, ohms=ohms, tolerance_percent=1.0, low_ohms=None, high_ohms=None)
        yield f"{share:.0%} of {w.name} shorted", replace(p, windings=tuple(less if x is w else x for x in p.windings))


def shows(sound: Expectations, faulty: Expectations | None, pair: Pair, by: float = 0.0) -> bool:
    """Whether a part of these nominal values would leave what the pair should read, by such a share of a limit."""
    before = sound.of(pair)
    if before.path is Path.ELEMENT:
        return False
    path = Path.NONE if faulty is None else faulty.of(pair).path
    if Path.NONE in (before.path, path):
        return before.path is not path
    ohms = faulty.of(pair).ohms if faulty is not None else None
    return ohms is not None and not (1 - by) * (before.low or 0.0) <= ohms <= (1 + by) * (before.high or 0.0)


def missed(pattern: Pattern) -> list[str]:
    """Faults that some pair would clearly show, and no chosen check does."""
    plain = replace(pattern, checks=None, layout=None)
    ask = Expectations(plain)
    checks = choose_checks(plain)
    out = []
    for name, faulty in faults(plain):
        now = None if faulty is None else Expectations(faulty)
        if any(shows(ask, now, p, by=1e-4) for p in pairs_of(plain)) and not any(shows(ask, now, c) for c in checks):
            out.append(name)
    return out


@pytest.mark.parametrize("pattern", REVISIONS)
def test_of_a_starter_no_fault_that_can_be_seen_passes_them(pattern: Pattern) -> None:
    assert missed(pattern) == []


def test_a_link_in_a_mesh_is_seen_by_the_ohms_it_leaves_where_nothing_opens() -> None:
    def wound(name: str, a: str, b: str, ohms: float, percent: float) -> Winding:
        return Winding(name, a, b, Kind.LIGHTING, ohms=ohms, tolerance_percent=percent)

    pattern = Pattern(
        name="mesh",
        connectors=(Connector("P", (Cavity("1"),)), Connector("Q", (Cavity("1"), Cavity("2"), Cavity("3")))),
        windings=(
            wound("a", "P.1", "Q.2", 11, 8), wound("b", "P.1", "Q.2", 250, 50), wound("c", "P.1", "Q.2", 1097, 50),
            wound("d", "P.1", "Q.3", 1290, 60), wound("e", "hub", "Q.3", 706, 84), wound("f", "hub", "P.1", 1402, 60),
        ),
        links=(Link("g", "P.1", "Q.1"), Link("h", "hub", "Q.2")),
    )  # fmt: skip
    assert missed(pattern) == []
    assert Thing(What.LINK, "h") in Seeing(pattern).by(Pair("Q.2", "Q.3"))


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.filter_too_much, HealthCheck.too_slow])
@given(patterns(elements=True))
def test_of_any_topology_no_fault_that_can_be_seen_passes_them(pattern: Pattern) -> None:
    """But for windings that wire bridges, and those of milliohms, which a link's own allowance hides."""
    ask = Expectations(pattern)
    copper = [w for w in pattern.windings if w.element is None]
    assume(all(w.nominal > 4 and ask.of(Pair(w.start, w.finish)).path is not Path.LINKS for w in copper))
    assert missed(pattern) == []
