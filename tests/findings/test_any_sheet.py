"""Any part, any meter, any readings: an answer that adds up, and that names and order don't sway."""

import json
import math
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.exchange.example import ask_one, read, sheet
from tests.findings.generate import Drawn, sheets
from tests.findings.parts import ask, chance, part
from tests.stator.strategies import conditions, meters, pairs_of, patterns
from workbench.findings.explain import Explained, explain
from workbench.stator.meter import Meter
from workbench.stator.pattern import Pair, Pattern
from workbench.stator.sheet import Conditions, Reading


@st.composite
def asked(draw: st.DrawFn) -> tuple[Pattern, Meter, Conditions, list[Reading]]:
    p, m = draw(patterns(elements=True)), draw(meters)
    shown = st.none() | st.floats(0, m.top.upto_ohms) | st.floats(0, min(20.0, m.top.upto_ohms))
    pairs = pairs_of(p)
    taken = draw(st.lists(st.tuples(st.sampled_from(pairs), shown), max_size=8))
    return p, m, draw(conditions), [Reading(q, y) for q, y in taken]


def sound_answer(x: Explained) -> None:
    chances = [f.probability for f in x.findings]
    assert math.fsum(chances) == pytest.approx(1, abs=1e-9)
    assert all(0 <= p <= 1 for p in chances)
    assert chances == sorted(chances, reverse=True)
    assert len({(f.fault, f.where) for f in x.findings}) == len(x.findings)
    for f in x.findings:
        for p in f.parameters:
            assert p.low <= p.value <= p.high
    chances = [round(n.chance, 8) for n in x.next]
    assert chances == sorted(chances, reverse=True)
    assert all(0 < n.bits < 20 and 0 < n.chance <= 1 + 1e-9 for n in x.next)


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(asked())
def test_an_answer_adds_up(case: tuple[Pattern, Meter, Conditions, list[Reading]]) -> None:
    x = explain(*case)
    sound_answer(x)
    read_already = {r.pair.unordered for r in case[3] if r.pair}
    through = {r.pair.unordered for r in case[3]} - {n.pair.unordered for n in x.next}
    assert through == read_already or any(w.element for w in case[0].windings)


def by_name(x: Explained) -> dict[tuple[str, str], float]:
    return {(str(f.fault), f.where): f.probability for f in x.findings}


@pytest.fixture(scope="module")
def some() -> list[Drawn]:
    return sheets(5, 60, families=(1, 2, 3, 4, 5, 6))


def again(d: Drawn, readings: list[Reading], pattern: Pattern | None = None) -> Explained:
    return explain(pattern or d.pattern, d.meter, d.conditions, readings)


def test_the_order_of_readings_and_of_leads_says_nothing(some: list[Drawn]) -> None:
    for d in some:
        want = again(d, list(d.readings))
        got = again(d, [replace(r, pair=Pair(r.pair[1], r.pair[0])) for r in reversed(d.readings)])
        assert by_name(got) == pytest.approx(by_name(want), abs=1e-12)
        assert [n.bits for n in got.next] == pytest.approx([n.bits for n in want.next], abs=1e-9)


def test_names_of_windings_say_nothing(some: list[Drawn]) -> None:
    for d in some:
        names = [w.name for w in d.pattern.windings]
        to = dict(zip(names, reversed([f"z{i}" for i in range(len(names))]), strict=True))
        other = replace(d.pattern, windings=tuple(replace(w, name=to[w.name]) for w in d.pattern.windings))
        want = by_name(again(d, list(d.readings)))
        got = by_name(again(d, list(d.readings), other))
        back = {
            (k, "|".join(sorted(to.get(n, n) for n in where.split("|"))) if where else ""): p
            for (k, where), p in want.items()
        }
        assert got == pytest.approx(back, abs=1e-12)


def test_which_end_of_a_winding_comes_first_says_nothing(some: list[Drawn]) -> None:
    for d in some:
        turned = tuple(replace(w, start=w.finish, finish=w.start) for w in d.pattern.windings)
        got = again(d, list(d.readings), replace(d.pattern, windings=turned))
        assert by_name(got) == pytest.approx(by_name(again(d, list(d.readings))), abs=1e-9)


@pytest.mark.parametrize("ohms", [1e-300, 1e-12, 1e12, 1e18])
def test_ohms_of_no_real_part_still_get_an_answer(ohms: float) -> None:
    pattern = sheet()["pattern"]
    odd = {"name": "odd", "from": "P.1", "to": "P.2", "ohms": ohms, "tolerance_percent": 10}
    answer = ask_one(
        read(("P.1", "P.3", 247), ("P.2", "P.3", 31), pattern=pattern | {"windings": [*pattern["windings"], odd]})
    )
    assert math.fsum(f["probability"] for f in answer["findings"]) == pytest.approx(1)
    json.dumps(answer, allow_nan=False)


def test_repeats_of_a_reading_count_as_their_mean_with_smaller_digits() -> None:
    def shown(*ohms: float) -> float:
        return chance(ask(part("P:12", links=[("loop", "P.1", "P.2")]), *(("P.1", "P.2", y) for y in ohms)), "sound")

    assert shown(0.33, 0.33) < shown(0.33)
    assert shown(0.15, 0.11) == pytest.approx(shown(0.13, 0.13))


def test_an_open_reading_of_a_pair_that_also_reads_a_number_was_a_missed_touch(some: list[Drawn]) -> None:
    for d in some[:20]:
        finite = [r for r in d.readings if r.ohms is not None][:1]
        missed = [replace(r, ohms=None) for r in finite]
        assert by_name(again(d, [*d.readings, *missed])) == by_name(again(d, list(d.readings)))
