"""Every pair of a part: a triangle per plug with the ground below, the drawn face's equal."""

from dataclasses import dataclass

from workbench import words
from workbench.sitting.benchfacts import BenchFacts
from workbench.sitting.lines import Keeping
from workbench.sitting.views import REACH_WORDS
from workbench.stator.expect import Expected, Path
from workbench.stator.judge import Row
from workbench.stator.pattern import CORE, Connector, Pair
from workbench.stator.reach import Reach, reach


@dataclass(frozen=True, slots=True)
class Cell:
    """One pair. `text` is what was read, else what it should be, short; `word` the verdict's, empty if unread."""

    pair: Pair
    title: str
    text: str
    word: str
    planned: bool
    times: int
    current: bool
    offered: bool
    again: bool
    hollow: bool
    limited: bool  # this meter can't judge it
    spoken: str

    @property
    def read(self) -> bool:
        return self.times > 0


@dataclass(frozen=True, slots=True)
class Triangle:
    """Rows from the second pin down, then ground; row i has a cell for each of the first columns."""

    plug: str
    columns: tuple[str, ...]
    headers: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]


@dataclass(frozen=True, slots=True)
class PairsView:
    triangles: tuple[Triangle, ...]
    across: tuple[Cell, ...]  # planned or read pairs from plug to plug
    progress: str
    limits: str  # what this meter can't tell here, and what can; empty where it can

    @property
    def cells(self) -> tuple[Cell, ...]:
        return (*(c for t in self.triangles for row in t.rows for c in row), *self.across)


class Pairs:
    """Makes the views of one bench; what hangs on pattern and meter alone is worked out once for both."""

    def __init__(self, bench: BenchFacts) -> None:
        self._bench = bench
        self._known: tuple[object, dict[Pair, tuple[str, str, bool]]] = (None, {})
        self._grid = [_grid(c) for c in bench.pattern.connectors]
        bench.expectations.prepare(p for _, rows in self._grid for row in rows for p in row)

    def view(self) -> PairsView:
        bench = self._bench
        ask, judged = bench.expectations, bench.judged
        plan = judged.sheet.plan
        hollow = {ask.key(x.kept.reading.pair) for x in bench.lines.counted if x.keeping is Keeping.HOLLOW}
        read: dict[tuple[str, str], tuple[Row, int]] = {}
        for row in judged.rows:
            k = ask.key(row.reading.pair)
            read[k] = (row, read.get(k, (row, 0))[1] + 1)
        planned = {ask.key(c) for c in plan}
        again = {ask.key(c) for c in judged.awaiting}
        here = ask.key(bench.pair) if bench.pair else None
        offered = ask.key(bench.offered) if bench.offered else None

        def cell(pair: Pair) -> Cell:
            k = ask.key(pair)
            row, times = read.get(k, (None, 0))
            wanted, note, limited = self._static(pair)
            word = words.verdict_word(row) if row else ""
            title = words.pair_words(pair, bench.pattern)
            said = f"{words.value_words(row)} {word}" if row else "not read"
            more = (said, f"{times} times" if times > 1 else "", f"should be {words.band_words(ask.of(pair))}",
                    "planned" if k in planned else "", note if row is None else "",
                    "read it again" if k in again else "")  # fmt: skip
            return Cell(
                pair, title, short_value(row) if row else wanted, word, k in planned, times, k == here,
                k == offered, k in again, k in hollow, limited and row is None and k in planned,
                f"{title}: {', '.join(m for m in more if m)}",
            )  # fmt: skip

        triangles = tuple(
            Triangle(c.name, tuple(x.pin for x in c.cavities), headers, tuple(tuple(map(cell, row)) for row in rows))
            for c, (headers, rows) in zip(bench.pattern.connectors, self._grid, strict=True)
        )
        inside = {ask.key(p) for _, rows in self._grid for row in rows for p in row}
        other = dict.fromkeys(p for p in (*plan, *(r.reading.pair for r in judged.rows)) if ask.key(p) not in inside)
        known: dict[tuple[str, str], Pair] = {}
        for p in other:
            known.setdefault(ask.key(p), p)
        return PairsView(
            triangles,
            tuple(map(cell, known.values())),
            f"{len(plan) - len(judged.unread)} of {len(plan)} read",
            self._limits(plan),
        )

    def _static(self, pair: Pair) -> tuple[str, str, bool]:
        bench = self._bench
        stamp = (bench.head.meter, bench.head.conditions)
        if self._known[0] != stamp:
            self._known = (stamp, {})
        known = self._known[1]
        if pair not in known:
            at_best = reach(bench.judged.sheet, bench.expectations, pair)
            known[pair] = (short_band(bench.expectations.of(pair)), REACH_WORDS[at_best], at_best is Reach.CONTINUITY)
        return known[pair]

    def _limits(self, plan: tuple[Pair, ...]) -> str:
        weak = [words.pair_words(c, self._bench.pattern) for c in plan if self._static(c)[2]]
        if not weak:
            return ""
        named = ", ".join(weak[:4]) + (f" and {len(weak) - 4} more" if len(weak) > 4 else "")
        return f"This meter can't tell shorted turns on {named}: four wires, L and Q, or a run can."


def _grid(c: Connector) -> tuple[tuple[str, ...], list[list[Pair]]]:
    nodes = c.nodes
    rows = [[Pair(a, b) for a in nodes[:i]] for i, b in enumerate(nodes) if i]
    rows.append([Pair(a, CORE) for a in nodes])
    return (*(x.pin for x in c.cavities[1:]), "gnd"), rows


def short_value(row: Row) -> str:
    """A number that fits a cell: `307`, `1.24k`, `0.40`; `open`."""
    if row.reading.ohms is None:
        return "open"
    return _short(row.corrected.ohms if row.corrected else row.reading.ohms)


def _short(ohms: float) -> str:
    for unit, scale in (("M", 1e6), ("k", 1e3)):
        if abs(ohms) >= 0.9995 * scale:
            return f"{ohms / scale:.3g}{unit}"
    return f"{ohms:.0f}" if abs(ohms) >= 99.95 else f"{ohms:.1f}" if abs(ohms) >= 9.995 else f"{ohms:.2f}"


def short_band(expected: Expected) -> str:
    """`140–171`, `≤ 0.5`, `open`, `–` where ohms can't judge."""
    if expected.path is Path.NONE:
        return "open"
    if expected.low is None or expected.high is None:
        return "–"
    if expected.path is Path.LINKS:
        return f"≤ {expected.high:.3g}"
    return f"{_short(expected.low)}–{_short(expected.high)}"
