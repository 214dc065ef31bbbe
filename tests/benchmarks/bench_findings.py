"""What the readings say of a sheet, with the next pair, over sheets drawn from the model, one by one.

    python -m tests.benchmarks.bench_findings

Reported, never asserted. The peer, in the same run: one numpy call that factorises (`numpy.linalg.cholesky`) as many
covariances as such a sheet has cells, of the size it has readings; and networkx for the bare pair resistances of the
same sheets' parts. Give it a core to itself; where OPENBLAS_CORETYPE or OPENBLAS_L2_SIZE are set, also without them.
"""

import statistics
import sys
import time
from collections.abc import Callable, Sequence

import networkx as nx
import numpy as np

from tests.findings.generate import Drawn, sheets
from workbench.findings.explain import Explained, explain

SHEETS, ROUNDS = 300, 3


def answer(d: Drawn) -> Explained:
    return explain(d.pattern, d.meter, d.conditions, d.readings)


def times(call: Callable[[Drawn], object], drawn: Sequence[Drawn]) -> list[float]:
    """Milliseconds of each sheet, the best of the rounds."""
    best = [float("inf")] * len(drawn)
    for _ in range(ROUNDS):
        for i, d in enumerate(drawn):
            start = time.perf_counter()
            call(d)
            best[i] = min(best[i], (time.perf_counter() - start) * 1000)
    return best


def peer(cells: int, readings: int) -> Callable[[Drawn], object]:
    rng = np.random.default_rng(1)
    half = rng.normal(size=(cells, readings, readings))
    matrices = half @ np.swapaxes(half, 1, 2) + 3 * np.eye(readings)
    return lambda _: np.linalg.cholesky(matrices)


def bare_resistances(d: Drawn) -> object:
    g = nx.MultiGraph()
    g.add_edges_from((w.start, w.finish, {"ohms": w.nominal}) for w in d.pattern.windings)
    g.add_edges_from((w.start, w.finish, {"ohms": 0.02}) for w in d.pattern.links)
    return [
        nx.resistance_distance(g.subgraph(part), weight="ohms", invert_weight=True)
        for part in nx.connected_components(g)
    ]


def line(name: str, ms: Sequence[float], against: float) -> None:
    ordered = sorted(ms)
    p99 = ordered[int(0.99 * (len(ordered) - 1))]
    middle = statistics.median(ms)
    sys.stdout.write(f"{name:44s} median {middle:7.3f} ms   p99 {p99:7.3f} ms   {middle / against:6.2f}\n")


def main() -> int:
    drawn = sheets(4711, SHEETS)
    for d in drawn[:40]:
        answer(d)
    ours = times(answer, drawn)
    # the middle of such sheets' cells, as counted by what their likelihood is asked for
    cells, readings = _sizes(drawn)
    factored = times(peer(cells, readings), drawn[:50])
    against = statistics.median(factored)
    line("findings and next pair, a sheet", ours, against)
    line("any topology", times(answer, sheets(4712, SHEETS // 3, families=(6,))), against)
    line(f"numpy cholesky, {cells} matrices of {readings} x {readings}", factored, against)
    line("networkx, the nominal resistances alone", times(bare_resistances, drawn[:50]), against)
    return 0


def _sizes(drawn: Sequence[Drawn]) -> tuple[int, int]:
    counts, reads = [], []
    for d in drawn[:100]:
        o = answer(d).workings
        counts.append(int(np.isfinite(o.w.cell_log).sum()))
        reads.append(len(o.e.pairs))
    return int(statistics.median(counts)), int(statistics.median(reads))


if __name__ == "__main__":
    sys.exit(main())
