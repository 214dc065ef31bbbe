"""What every pair of a pattern that is being drawn should read, as the bench's triangles show it."""

from dataclasses import replace

from workbench import words
from workbench.drafting.prove import Proof, Remark
from workbench.sitting.pairs import REACH_SHORT, Cell, PairsView, Triangle, drawn, grid, short_band
from workbench.stator.expect import Expected, Path
from workbench.stator.pattern import Connector, Pair, Pattern

Key = tuple[str, str]


class PatternPairs:
    """Makes the views of one draft. As long as the proof is the same, cells are the same objects again."""

    def __init__(self) -> None:
        self._proof: Proof | None = None
        self._plugs: list[Connector] = []
        self._cells: dict[Key, Cell] = {}
        self._others: tuple[Key, ...] = ()

    def view(self, proof: Proof | None, nodes: tuple[str, ...] = ()) -> PairsView:
        """`nodes`: those in hand. Nothing while it is no pattern."""
        if proof is not self._proof:
            self._proof = proof
            self._prepare(proof)
        here = Pair(*nodes).unordered if len(nodes) == 2 else None

        def cell(key: Key) -> Cell:
            found = self._cells[key]
            return replace(found, current=True) if key == here else found

        triangles = tuple(
            Triangle(
                c.name,
                tuple(x.pin for x in c.cavities),
                (*(x.pin for x in c.cavities[1:]), "gnd"),
                tuple(tuple(cell(p.unordered) for p in row) for row in grid(c)),
            )
            for c in self._plugs
        )
        others = tuple(cell(k) for k in self._others)
        return PairsView(triangles, others, "Plug to plug" if others else "", "", "")

    def _prepare(self, proof: Proof | None) -> None:
        self._plugs, self._cells, self._others = [], {}, ()
        if proof is None or proof.pattern is None:
            return
        pattern = proof.pattern
        planned = {c.unordered: c for c in proof.checks}
        beyond = {s.pair.unordered: s for s in proof.said if s.remark is Remark.BEYOND_METERS and s.pair is not None}
        for pair, expected in proof.pairs:
            key = pair.unordered
            said = beyond.get(key)
            reach = REACH_SHORT[said.reach] if said is not None and said.reach is not None else ""
            self._cells[key] = _cell(planned.get(key, pair), expected, pattern, planned=key in planned, reach=reach)
        # a triangle is whole or it is not drawn: a proof looks at so many pairs, and no more
        self._plugs = [
            c for c in drawn(pattern.connectors) if all(p.unordered in self._cells for r in grid(c) for p in r)
        ]
        inside = {p.unordered for c in self._plugs for row in grid(c) for p in row}
        joined = {p.unordered for p, expected in proof.pairs if expected.path is not Path.NONE}
        self._others = tuple(k for k in self._cells if k not in inside and (k in planned or k in joined))


def _cell(pair: Pair, expected: Expected, pattern: Pattern, *, planned: bool, reach: str) -> Cell:
    title, wanted = words.pair_words(pair, pattern), words.band_words(expected)
    said = (f"should be {wanted}", "planned" if planned else "", reach)
    return Cell(
        pair, title, short_band(expected), "", planned, 0, False, False, False, False, False, reach,
        f"{title}: {', '.join(s for s in said if s)}",
    )  # fmt: skip
