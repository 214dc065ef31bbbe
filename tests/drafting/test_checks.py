"""Checks chosen for the technician: they see all that can be seen, and no fewer would."""

import itertools

import pytest
from hypothesis import HealthCheck, given, settings

from tests.stator.strategies import patterns
from workbench.drafting.checks import choose_checks
from workbench.drafting.seeing import SHOWN_SHORT, Seeing, Thing, What
from workbench.exchange.starters import starter_patterns
from workbench.stator.expect import Expectations, Path
from workbench.stator.pattern import CORE, Cavity, Connector, Link, Pair, Pattern, Winding

STARTERS = {p.name: p for p in starter_patterns()}


def part(pins: str, *windings: tuple[str, str, str, float], links: tuple[Link, ...] = ()) -> Pattern:
    plug = Connector("P", tuple(Cavity(c) for c in pins))
    wound = tuple(Winding(n, a, b, ohms=r, tolerance_percent=10) for n, a, b, r in windings)
    return Pattern("a part", (plug,), wound, links)


@pytest.mark.parametrize("name", STARTERS)
def test_of_a_starter_they_see_all_that_any_pair_can_and_none_is_needless(name: str) -> None:
    seeing = Seeing(STARTERS[name])
    chosen = choose_checks(STARTERS[name], seeing)
    wanted = frozenset(seeing.things) & seeing.visible
    assert seeing.of(chosen) >= wanted
    for left in itertools.combinations(chosen, max(len(chosen) - 1, 0)):
        assert not seeing.of(left) >= wanted or not chosen
    assert chosen == choose_checks(STARTERS[name])


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(patterns(elements=True))
def test_no_smaller_set_would_do(pattern: Pattern) -> None:
    """Against every set of fewer pairs, where there are few enough of them to try."""
    seeing = Seeing(pattern)
    wanted = frozenset(seeing.things) & seeing.visible
    chosen = choose_checks(pattern, seeing)
    assert seeing.of(chosen) >= wanted
    offered = list({seeing.by(p) & wanted: p for p in seeing.pairs if seeing.by(p) & wanted}.values())
    if len(chosen) > 1 and len(offered) <= 24 and len(chosen) <= 5:
        for fewer in itertools.combinations(offered, len(chosen) - 1):
            assert not seeing.of(fewer) >= wanted


@pytest.mark.parametrize("name", STARTERS)
def test_a_fault_in_anything_they_see_takes_some_check_out_of_its_band(name: str) -> None:
    """Each fault put into the pattern itself, and the network solved anew: independent of what `Seeing` derived."""
    pattern = STARTERS[name]
    seeing = Seeing(pattern)
    ask = Expectations(pattern)
    checks = choose_checks(pattern, seeing)
    for thing in seeing.of(checks):
        faulty = broken(pattern, thing)
        if faulty is not None:
            assert any(shows(ask, Expectations(faulty), c, thing) for c in checks), thing


def broken(p: Pattern, thing: Thing) -> Pattern | None:
    """None for a lead, which is no edge, and for what is joined to the iron by what is seen itself."""
    rest = {"name": p.name, "connectors": p.connectors, "open_limit_ohms": p.open_limit_ohms}
    match thing.what:
        case What.WINDING:
            w = p.winding(thing.name)
            short = Winding(w.name, w.start, w.finish, w.kind, ohms=w.nominal * (1 - SHOWN_SHORT), tolerance_percent=1)
            return Pattern(windings=tuple(short if x is w else x for x in p.windings), links=p.links, **rest)  # type: ignore[arg-type]
        case What.GROUND if not any(CORE in (e.start, e.finish) for e in p.edges):
            down = Link("down to the iron", thing.name, CORE)
            return Pattern(windings=p.windings, links=(*p.links, down), **rest)  # type: ignore[arg-type]
        case _:
            return None


def shows(sound: Expectations, faulty: Expectations, check: Pair, thing: Thing) -> bool:
    should, reads = sound.of(check), faulty.of(check)
    if should.path is Path.NONE:
        return reads.path is not Path.NONE
    if should.path is Path.ELEMENT or reads.ohms is None:
        return should.path is not Path.ELEMENT
    return not (should.low or 0.0) <= reads.ohms <= (should.high or 0.0)


def test_a_small_coil_in_series_with_a_large_one_is_read_by_itself() -> None:
    chosen = choose_checks(part("123", ("large", "P.1", "P.2", 155.0), ("small", "P.2", "P.3", 17.0)))
    assert Pair("P.2", "P.3") in chosen


def test_two_alike_in_series_without_a_pin_between_are_read_together() -> None:
    two = part("12", ("one", "P.1", "middle", 50.0), ("other", "middle", "P.2", 50.0))
    assert choose_checks(two) == (Pair("P.1", "P.2"), Pair("P.1", CORE))


def test_a_winding_bridged_by_wire_is_seen_by_nothing() -> None:
    bridged = part("12", ("coil", "P.1", "P.2", 50.0), links=(Link("wire", "P.1", "P.2"),))
    seeing = Seeing(bridged)
    assert Thing(What.WINDING, "coil") not in seeing.visible
    assert Thing(What.LINK, "wire") in seeing.of(choose_checks(bridged))


def test_a_link_on_the_only_way_is_seen_by_what_reads_through_it() -> None:
    through = part(
        "123", ("coil", "P.1", "knot", 50.0), ("other", "P.2", "knot", 50.0), links=(Link("w", "knot", "P.3"),)
    )
    assert Thing(What.LINK, "w") in Seeing(through).by(Pair("P.1", "P.3"))
    assert Thing(What.LINK, "w") not in Seeing(through).by(Pair("P.1", "P.2"))
