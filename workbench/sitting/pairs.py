"""Every pair of a part: a triangle per plug with the ground below, the drawn face's equal."""

import math
from dataclasses import dataclass

from workbench import words
from workbench.sitting.benchfacts import BenchFacts
from workbench.sitting.lines import Keeping
from workbench.sitting.views import REACH_WORDS
from workbench.stator.expect import Expected, Path
from workbench.stator.judge import Row
from workbench.stator.pattern import CORE, Connector, Pair
from workbench.stator.reach import Reach, reach

Key = tuple[str, str]

MOST_CELLS = 1000  # beyond, a plug's pairs are listed where planned or read: nobody reads a triangle that large
FIGURES, LIMIT_FIGURES = 3, 4  # of a number in a cell, and of a band's limit, at most

REACH_SHORT = {
    Reach.JUDGES: "",
    Reach.CONTINUITY: "cont. only",
    Reach.ABOVE_RANGES: "off range",
    Reach.NO_OPEN: "no proof",
    Reach.NOT_BY_OHMS: "",  # the cell says so already where its band would stand
}


@dataclass(frozen=True, slots=True)
class Cell:
    """One pair. `text` is what was read, else what it should be, short; `word` the verdict's, empty if unread."""

    pair: Pair
    title: str
    text: str
    word: str
    planned: bool
    times: int  # readings that count
    current: bool
    offered: bool
    again: bool  # out once, to be read again
    contradicted: bool
    hollow: bool
    reach: str  # why this meter can't judge a planned check that is not read yet
    spoken: str
    speaks: int = 0  # for the explanation that is pointed at (1), or against it (-1)

    @property
    def read(self) -> bool:
        return self.times > 0

    @property
    def below(self) -> str:
        """The small line under the number."""
        if not self.read:
            return self.reach
        more = f" ×{self.times}" if self.times > 1 else ""
        return f"at odds{more}" if self.contradicted else f"{self.word}, again" if self.again else f"{self.word}{more}"


SPEAKS = {0: "", 1: "speaks for it", -1: "speaks against it"}


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
    others: tuple[Cell, ...]  # planned, read or picked, and in no triangle
    others_title: str
    progress: str
    limits: str  # what this meter can't tell here, and what can; empty where it can

    @property
    def cells(self) -> tuple[Cell, ...]:
        return (*(c for t in self.triangles for row in t.rows for c in row), *self.others)


@dataclass(frozen=True, slots=True)
class _Fixed:
    """What hangs on pattern and meter alone."""

    title: str
    wanted: str
    band: str
    reach: Reach


@dataclass(frozen=True, slots=True)
class _Now:
    """What a cell shows, as far as it can change under the same meter."""

    pair: Pair
    row: Row | None = None
    times: int = 0
    planned: bool = False
    current: bool = False
    offered: bool = False
    again: bool = False
    contradicted: bool = False
    hollow: bool = False
    speaks: int = 0


class Pairs:
    """Makes the views of one bench. What didn't change since the last view is the same object again."""

    def __init__(self, bench: BenchFacts) -> None:
        self._bench = bench
        self._stamp: object = None
        self._fixed: dict[Pair, _Fixed] = {}
        self._cells: dict[Key, tuple[_Now, Cell]] = {}
        self._limits: tuple[tuple[Pair, ...] | None, str] = (None, "")
        self._plugs = tuple(drawn(bench.pattern.connectors))
        self._grids = [grid(c) for c in self._plugs]
        self._inside = {p.unordered for grid in self._grids for row in grid for p in row}
        bench.expectations.prepare(p for grid in self._grids for row in grid for p in row)

    def view(self) -> PairsView:
        bench = self._bench
        stamp = (bench.head.meter, bench.head.conditions)
        if stamp != self._stamp:
            self._stamp, self._fixed, self._cells, self._limits = stamp, {}, {}, (None, "")
        ask, plan = bench.expectations, bench.judged.sheet.plan
        known = self._known(plan)
        taken: set[Key] = set()

        def cell(pair: Pair) -> Cell:
            if ask.of(pair).keeps_polarity:
                pair = _facing(pair, known)
            k = ask.key(pair)
            taken.add(k)
            now = known.get(k)
            return self._cell(k, now if now is not None else _Now(pair))

        triangles = tuple(
            Triangle(
                c.name,
                tuple(x.pin for x in c.cavities),
                (*(x.pin for x in c.cavities[1:]), "gnd"),
                tuple(tuple(map(cell, row)) for row in grid),
            )
            for c, grid in zip(self._plugs, self._grids, strict=True)
        )
        others = tuple(self._cell(k, now) for k, now in known.items() if k not in taken)
        return PairsView(
            triangles,
            others,
            self._title(others),
            f"{len(plan) - len(bench.judged.unread)} of {len(plan)} read",
            self._limits_of(plan),
        )

    def _known(self, plan: tuple[Pair, ...]) -> dict[Key, _Now]:
        """Each pair that is planned, read or picked, by its key: the plan's order first."""
        bench, ask = self._bench, self._bench.expectations
        pairs: dict[Key, Pair] = {}
        rows: dict[Key, list[Row]] = {}
        for pair in plan:
            pairs.setdefault(ask.key(pair), pair)
        planned = set(pairs)
        for row in bench.judged.rows:
            k = ask.key(row.reading.pair)
            pairs.setdefault(k, row.reading.pair)
            rows.setdefault(k, []).append(row)
        here = ask.key(bench.pair) if bench.pair else None
        if bench.pair and here:
            pairs.setdefault(here, bench.pair)
        offered = ask.key(bench.offered) if bench.offered else None
        again = {ask.key(c) for c in bench.judged.awaiting}
        hollow = {ask.key(x.kept.reading.pair) for x in bench.lines.counted if x.keeping is Keeping.HOLLOW}
        return {
            k: _Now(
                pair, rows[k][-1] if k in rows else None, len(rows.get(k, ())), k in planned, k == here, k == offered,
                k in again, any(r.contradicted for r in rows.get(k, ())), k in hollow, bench.speaks_of(pair),
            )
            for k, pair in pairs.items()
        }  # fmt: skip

    def _cell(self, k: Key, now: _Now) -> Cell:
        before = self._cells.get(k)
        if before is not None and before[0] == now:
            return before[1]
        made = self._made(now)
        self._cells[k] = (now, made)
        return made

    def _made(self, now: _Now) -> Cell:
        fixed, row = self._fixed_of(now.pair), now.row
        word = words.verdict_word(row) if row else ""
        said = (
            f"{words.value_words(row)} {word}" if row else "not read",
            f"{now.times} times" if now.times > 1 else "",
            f"should be {fixed.wanted}",
            "planned" if now.planned else "",
            "" if row else REACH_WORDS[fixed.reach],
            "being kept" if now.hollow else "",
            "its readings contradict each other" if now.contradicted else "",
            "read it again" if now.again else "",
            "next" if now.offered and not now.again else "",
            SPEAKS[now.speaks],
        )
        return Cell(
            now.pair, fixed.title, short_value(row) if row else fixed.band, word, now.planned, now.times,
            now.current, now.offered, now.again, now.contradicted, now.hollow,
            REACH_SHORT[fixed.reach] if now.planned and not row else "",
            f"{fixed.title}: {', '.join(s for s in said if s)}",
            now.speaks,
        )  # fmt: skip

    def _fixed_of(self, pair: Pair) -> _Fixed:
        found = self._fixed.get(pair)
        if found is None:
            bench = self._bench
            expected = bench.expectations.of(pair)
            found = self._fixed[pair] = _Fixed(
                words.pair_words(pair, bench.pattern),
                words.band_words(expected),
                short_band(expected),
                reach(bench.judged.sheet, bench.expectations, pair),
            )
        return found

    def _title(self, others: tuple[Cell, ...]) -> str:
        swapped = [c.pair.unordered in self._inside for c in others]
        if len(self._plugs) < len(self._bench.pattern.connectors):
            return "Other pairs"
        parts = ("Plug to plug" if not all(swapped) else "", "leads swapped" if any(swapped) else "")
        title = ", ".join(p for p in parts if p)
        return title[:1].upper() + title[1:]

    def _limits_of(self, plan: tuple[Pair, ...]) -> str:
        if self._limits[0] != plan:
            self._limits = (plan, " ".join(self._sentences(plan)))
        return self._limits[1]

    def _sentences(self, plan: tuple[Pair, ...]) -> list[str]:
        turns: list[str] = []
        wires: list[str] = []
        beyond: list[str] = []
        opens = False
        for pair in plan:
            fixed = self._fixed_of(pair)
            path = self._bench.expectations.of(pair).path
            if fixed.reach is Reach.CONTINUITY:
                (wires if path is Path.LINKS else turns).append(fixed.title)
            elif fixed.reach is Reach.ABOVE_RANGES:
                beyond.append(fixed.title)
            opens = opens or fixed.reach is Reach.NO_OPEN
        out = []
        if turns:
            out.append(f"This meter can't tell shorted turns on {_named(turns)}: four wires, L and Q, or a run can.")
        if wires:
            out.append(f"This meter can't tell a poor wire on {_named(wires)}: four wires can.")
        if beyond:
            out.append(f"Above this meter's ranges: {_named(beyond)}.")
        if opens:
            out.append("No range of this meter proves an open.")
        return out


def drawn(plugs: tuple[Connector, ...]) -> list[Connector]:
    """Those that get a triangle."""
    out: list[Connector] = []
    room = MOST_CELLS
    for c in plugs:
        n = len(c.cavities)
        if n * (n + 1) // 2 <= room:
            room -= n * (n + 1) // 2
            out.append(c)
    return out


def grid(c: Connector) -> list[list[Pair]]:
    """A plug's pairs as its triangle has them: rows from the second pin down, then ground."""
    nodes = c.nodes
    rows = [[Pair(a, b) for a in nodes[:i]] for i, b in enumerate(nodes) if i]
    rows.append([Pair(a, CORE) for a in nodes])
    return rows


def _facing(pair: Pair, known: dict[Key, _Now]) -> Pair:
    """Where an element keeps a pair and its reverse apart, the one for the cell: planned, else read, else picked."""

    def weight(p: Pair) -> tuple[bool, bool, bool]:
        now = known.get((p.positive, p.negative))
        return (now.planned, now.times > 0, now.current) if now else (False, False, False)

    back = Pair(pair.negative, pair.positive)
    return back if weight(back) > weight(pair) else pair


def _named(titles: list[str]) -> str:
    return ", ".join(titles[:4]) + (f" and {len(titles) - 4} more" if len(titles) > 4 else "")


def short_value(row: Row) -> str:
    """The corrected value as far as its U reaches, to fit a cell: `307`, `17.1`, `1.55k`; `open`."""
    if row.reading.ohms is None:
        return "open"
    if row.corrected is None:
        return _number(row.reading.ohms, 0.0)
    expanded = row.corrected.expanded
    # U has two figures (JCGM 100, 7.2.6), and the value ends where they do, but not before the ohm
    step = min(10.0 ** (math.floor(math.log10(float(f"{expanded:.1e}"))) - 1), 1.0) if expanded > 0 else 0.0
    return _number(row.corrected.ohms, step)


def _unit(ohms: float) -> tuple[str, float]:
    return ("M", 1e6) if abs(ohms) >= 999_500 else ("k", 1e3) if abs(ohms) >= 9_999.5 else ("", 1.0)


def _number(ohms: float, step: float) -> str:
    """No finer than `step` (ohm), nor than its figures in a cell; but a whole number is never rounded."""
    unit, scale = _unit(ohms)
    size = abs(ohms / scale)
    finest = 10.0 ** (math.floor(math.log10(size)) + 1 - FIGURES) if size > 0 else 0.001
    return words.plain_number(ohms / scale, max(step / scale, min(finest, 1.0), 0.001)) + unit


def short_band(expected: Expected) -> str:
    """`140–171`, `< 5`, `≤ 0.5`, `open`, `not by ohms`."""
    match expected.path:
        case Path.NONE:
            return "open"
        case Path.ELEMENT:
            return "not by ohms"
        case Path.LINKS:
            return f"≤ {expected.high or 0.0:.3g}"
        case Path.WINDINGS:
            low, high = expected.low or 0.0, expected.high or 0.0
            unit, scale = _unit(high)
            if expected.is_under:
                return f"< {_limit(high / scale)}{unit}"
            return f"{_limit(low / scale)}–{_limit(high / scale)}{unit}"


def _limit(value: float) -> str:
    """Never with an exponent."""
    places = f".{LIMIT_FIGURES}g" if value < 9_999.5 else ".0f"
    return f"{value if value >= 1e-4 else 0.0:{places}}"
