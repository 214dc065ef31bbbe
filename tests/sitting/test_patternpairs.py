"""What every pair of a drawn pattern should read, as triangles."""

from dataclasses import replace

from tests.drafting.drawn import TWO, wired
from tests.sitting.fakes import starter
from workbench.drafting import plugs, windings
from workbench.drafting.draft import Draft
from workbench.drafting.prove import prove
from workbench.sitting.patternpairs import PatternPairs
from workbench.stator.meter import Meter, Range
from workbench.stator.pattern import CORE, Pair

COARSE = Meter((Range(2000, 1, 0.8, 3),), 2000)


def texts(draft: Draft) -> dict[tuple[str, str], str]:
    return {c.pair.unordered: c.text for c in PatternPairs().view(prove(draft)).cells}


def test_each_pair_with_what_it_should_read_and_the_planned_ones_marked() -> None:
    view = PatternPairs().view(prove(wired()))
    (triangle,) = view.triangles
    assert (triangle.columns, triangle.headers) == (("1", "2", "3"), ("2", "3", "gnd"))
    rows = [[(c.text, c.planned) for c in row] for row in triangle.rows]
    assert rows == [
        [("135–165", True)],
        [("153–187", False), ("18–22", False)],
        [("153–187", False), ("18.02–22.02", False), ("≤ 0.5", True)],
    ]
    assert triangle.rows[0][0].spoken == "1 – 2: should be 135 … 165 Ω, planned"
    assert view.others == ()


def test_the_pair_in_hand_is_lit_either_way_round_and_the_rest_is_left_alone() -> None:
    pairs, proof = PatternPairs(), prove(wired())
    before = pairs.view(proof)
    now = pairs.view(proof, ("P.2", "P.1"))
    assert [c.pair for c in now.cells if c.current] == [Pair("P.1", "P.2")]
    assert now.triangles[0].rows[1] == before.triangles[0].rows[1]
    assert now.triangles[0].rows[1][0] is before.triangles[0].rows[1][0]
    assert not any(c.current for c in pairs.view(proof, ("P.2",)).cells)


def test_nothing_while_it_is_no_pattern() -> None:
    assert PatternPairs().view(prove(TWO)).triangles == ()
    assert PatternPairs().view(None).cells == ()


def test_from_plug_to_plug_only_what_is_joined_or_planned() -> None:
    draft = plugs.add_plug(wired(), plugs.rows((2,)), name="L")
    assert "1–" not in {k for pair in texts(draft) for k in pair}
    assert not any({p[0] for p in pair} == {"P", "L"} for pair in texts(draft))
    joined, name = windings.connect(draft, "P.1", "L.1")
    joined = windings.set_percent(joined, name, 5.0, 10)
    view = PatternPairs().view(prove(joined))
    assert {c.pair for c in view.others} == {Pair(f"P.{i}", "L.1") for i in "123"}
    assert view.others_title == "Plug to plug"


def test_what_the_shops_meters_can_not_judge_stands_in_its_cell() -> None:
    draft = Draft.of(starter("lighting floating"))
    view = PatternPairs().view(prove(draft, (COARSE,)))
    assert {c.reach for c in view.cells if c.planned and CORE not in c.pair} == {"cont. only"}
    assert {c.reach for c in PatternPairs().view(prove(draft)).cells} == {""}


def test_a_new_proof_is_shown_anew() -> None:
    pairs = PatternPairs()
    assert pairs.view(prove(wired())).triangles[0].rows[0][0].text == "135–165"
    other = replace(wired(), windings=(replace(wired().windings[0], ohms=100.0), wired().windings[1]))
    assert pairs.view(prove(other)).triangles[0].rows[0][0].text == "90–110"
