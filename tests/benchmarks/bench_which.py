"""Which pattern a part is of, over a folder of cases, one by one and reading by reading.

    python -m tests.benchmarks.bench_which FOLDER

FOLDER holds library.jsonl and cases.jsonl as `plugface which` takes them, and truth.jsonl, whose lines have `id`,
`pattern` (null: none of the library) and `class` (names that score as right). Without a folder: drawn cases. Reported,
never asserted. A frame is 16 ms; the peer, in the same run, is networkx on the nominal resistances of the patterns
that each part may be of. Give it a core to itself.
"""

import json
import math
import statistics
import sys
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import networkx as nx
import numpy as np

from tests.matching.drawn import a_library, an_unknown
from workbench.exchange.fields import Fields
from workbench.exchange.patterns import connector_from_json
from workbench.exchange.sheets import meter_and_leads, readings_from_json
from workbench.exchange.which import patterns_from_lines
from workbench.matching.library import Library
from workbench.matching.weighing import weigh
from workbench.stator.meter import Meter
from workbench.stator.pattern import LINK_OHMS, Connector, Pattern
from workbench.stator.sheet import Conditions, Reading

FRAME = 16.0
PATTERNS, CASES = 300, 200


@dataclass(frozen=True)
class Case:
    plugs: tuple[Connector, ...]
    meter: Meter
    conditions: Conditions
    readings: tuple[Reading, ...]
    right: tuple[str, ...] | None  # None: of no pattern


def _lines(path: Path) -> list[dict[str, Any]]:
    return [json.loads(line) for line in path.read_text("utf-8").splitlines() if line.strip()]


def stored(folder: Path) -> tuple[tuple[Pattern, ...], list[Case]]:
    with (folder / "library.jsonl").open("rb") as source:
        patterns = patterns_from_lines(source, str(folder))
    truth = {t["id"]: t for t in _lines(folder / "truth.jsonl")}
    cases = []
    for value in _lines(folder / "cases.jsonl"):
        f = Fields(value, "", "a sheet")
        plugs = tuple(connector_from_json(v, "pattern") for v in value["pattern"]["connectors"])
        meter, lead, lead_u = meter_and_leads(f)
        conditions = Conditions(value["celsius"], value["celsius_uncertainty"], lead, lead_u)
        t = truth[value["id"]]
        right = None if t["pattern"] is None else tuple(t["class"])
        cases.append(Case(plugs, meter, conditions, readings_from_json(f), right))
    return patterns, cases


def drawn() -> tuple[tuple[Pattern, ...], list[Case]]:
    patterns = a_library(4711, PATTERNS)
    rng = np.random.default_rng(4711)
    cases = []
    for _ in range(CASES):
        p = patterns[rng.integers(len(patterns))]
        u = an_unknown(rng, p)
        cases.append(Case(u.plugs, u.meter, u.conditions, u.readings, (p.name,)))
    return tuple(patterns), cases


def nominal(patterns: Sequence[Pattern]) -> None:
    """What a program that solves each pattern anew would do first."""
    for p in patterns:
        g = nx.MultiGraph()
        g.add_edges_from((w.start, w.finish, {"ohms": w.nominal}) for w in p.windings)
        g.add_edges_from((x.start, x.finish, {"ohms": LINK_OHMS}) for x in p.links)
        for part in nx.connected_components(g):
            nx.resistance_distance(g.subgraph(part), weight="ohms", invert_weight=True)


def line(name: str, ms: Sequence[float], against: float) -> None:
    p99 = float(np.quantile(ms, 0.99))
    middle = statistics.median(ms)
    sys.stdout.write(f"{name:44s} median {middle:8.3f} ms   p99 {p99:8.3f} ms   {middle / against:6.2f} of a frame\n")


def main() -> int:
    patterns, cases = stored(Path(sys.argv[1])) if len(sys.argv) > 1 else drawn()
    start = time.perf_counter()
    library = Library.of(patterns)
    prepared = (time.perf_counter() - start) * 1000
    first, again, frames, peers, logs, hits = [], [], [], [], [], []
    for c in cases:
        start = time.perf_counter()
        candidates = library.candidates(c.plugs)
        w = weigh(candidates, c.meter, c.conditions, c.readings)
        first.append((time.perf_counter() - start) * 1000)
        chances = {r.pattern: r.probability for r in w.ranked}
        mine = w.none if c.right is None else sum(p for k, p in chances.items() if patterns[k].name in c.right)
        logs.append(-math.log(max(mine, 1e-4)))
        hits.append(mine >= max([w.none, *chances.values()]) - 1e-9)
        for n in range(len(c.readings) + 1):
            start = time.perf_counter()
            weigh(candidates, c.meter, c.conditions, c.readings[:n])
            frames.append((time.perf_counter() - start) * 1000)
        again.append(frames[-1])
        start = time.perf_counter()
        nominal([patterns[k] for k in candidates.patterns])
        peers.append((time.perf_counter() - start) * 1000)
    sys.stdout.write(
        f"{len(cases)} parts, {len(patterns)} patterns: true pattern first or level with it {np.mean(hits):.3f}, "
    )
    sys.stdout.write(f"mean -ln(probability of the truth) {np.mean(logs):.3f}\n")
    line("the library prepared, once", [prepared], FRAME)
    line("a part, its shape seen for the first time", first, FRAME)
    line("a part, its shape seen before", again, FRAME)
    line("after each reading, from none", frames, FRAME)
    line("networkx, those patterns' nominal ohms", peers, FRAME)
    sys.stdout.write(f"a part against that peer: {statistics.median(again) / statistics.median(peers):.3f}\n")
    return 0


if __name__ == "__main__":
    sys.exit(main())
