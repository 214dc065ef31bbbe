"""From a sheet to its verdict: the one function behind the window, the card and the command line."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from enum import StrEnum

from workbench.stator.clash import Clash, clashes
from workbench.stator.correct import Corrected, Corrector
from workbench.stator.expect import Expectations, Expected, Path
from workbench.stator.pattern import CORE, Pair, Pattern
from workbench.stator.sheet import Reading, Sheet
from workbench.stator.verdict import UNPROVED, Decision, Verdict


class SheetVerdict(StrEnum):
    GOOD = "good"
    FAIL = "fail"
    NOT_PROVED = "not proved"
    UNFINISHED = "unfinished"


class Why(StrEnum):
    """What stands behind a row's verdict where the numbers alone don't say it."""

    BAND = "band"
    OPENS = "opens"  # overload on a pair that should join
    STAYS_OPEN = "stays open"  # overload on a pair that should be open, proved
    LEAKS = "leaks"  # a number below the open limit on a pair that should be open
    HIGH_OHMS = "high ohms"  # a number above it
    SHORT_RANGE = "short range"  # an overload on a range that doesn't reach far enough
    CONTACT = "contact"  # an overload with a contact not proved
    ELEMENT = "element"


@dataclass(frozen=True, slots=True)
class Row:
    """One reading, judged. Repeats of a pair carry the mean's values."""

    reading: Reading
    expected: Expected
    corrected: Corrected | None
    decision: Decision | None  # None: not to be judged by ohms
    why: Why
    repeats: int  # unstruck readings of this pair that say the same kind of thing (finite, or overload)
    unproved_contacts: tuple[str, ...] = ()
    contradicted: bool = False  # other readings of this pair say otherwise: a missed touch, or a loose contact

    @property
    def verdict(self) -> Verdict | None:
        return self.decision.verdict if self.decision else None


@dataclass(frozen=True, slots=True)
class JudgedSheet:
    """`rows` stand in the order of the sheet's readings."""

    sheet: Sheet
    verdict: SheetVerdict
    rows: tuple[Row, ...]
    unread: tuple[Pair, ...]  # planned, not read yet
    awaiting: tuple[Pair, ...]  # read outside once, to be read again
    failed: tuple[Pair, ...]  # read outside, repeated, and still outside
    doubtful: tuple[Pair, ...]  # planned: undecided and leaning out, its open not proved, or contradicted
    clashes: tuple[Clash, ...]
    outweighed: bool = False  # good by its rows, but something other than sound is likelier
    overtaken: bool = False  # good by its rows, but the part was mended since
    lacks: tuple[str, ...] = ()  # of a part that was wound anew: what its record doesn't show yet, by its codes
    bad: tuple[str, ...] = ()  # those of them that were tested and came out bad

    def rows_of(self, pair: Pair, key: "Expectations") -> tuple[Row, ...]:
        return tuple(r for r in self.rows if key.same(r.reading.pair, pair))


def judge(
    sheet: Sheet, expectations: Expectations | None = None, *, outside_counts_at_once: bool = False
) -> JudgedSheet:
    """Judge a sheet. `expectations` of its pattern may be handed in to spare building them again.

    `outside_counts_at_once`: a single outside reading counts as repeated (the command line's stated
    option); otherwise it is asked for again before it fails a part.
    """
    ask = expectations or Expectations(sheet.pattern)
    ask.prepare((*(r.pair for r in sheet.readings), *sheet.plan))
    p = sheet.pattern
    corrector = Corrector(sheet.meter, sheet.conditions, p.conductor, p.reference_celsius)
    groups: dict[tuple[tuple[str, str], bool], list[Reading]] = {}
    for r in sheet.readings:
        groups.setdefault((ask.key(r.pair), r.ohms is None), []).append(r)
    judged: dict[tuple[tuple[str, str], bool], Row] = {}
    for at, group in groups.items():
        judged[at] = _row(sheet, ask, corrector, group)
    enough = 1 if outside_counts_at_once else 2
    for at, group in groups.items():
        other = judged.get((at[0], not at[1]))
        disputed = other is not None and Verdict.OUTSIDE in (judged[at].verdict, other.verdict)
        if (disputed and judged[at].repeats < enough) or _scattered(sheet, ask, corrector, judged[at], group):
            judged[at] = replace(judged[at], contradicted=True)
    rows = tuple(replace(judged[ask.key(r.pair), r.ohms is None], reading=r) for r in sheet.readings)
    outside = [g for g in judged.values() if g.verdict is Verdict.OUTSIDE]
    failed = tuple(g.reading.pair for g in outside if g.repeats >= enough)
    awaiting = tuple(g.reading.pair for g in outside if g.repeats < enough and not g.contradicted)
    by_key: dict[tuple[str, str], list[Row]] = {}
    for (k, _), g in judged.items():
        by_key.setdefault(k, []).append(g)
    plan = sheet.plan
    unread = tuple(c for c in plan if ask.key(c) not in by_key)
    planned = [g for c in plan for g in by_key.get(ask.key(c), ())]
    doubtful = tuple(dict.fromkeys(g.reading.pair for g in planned if _holds_back(g)))
    if failed:
        verdict = SheetVerdict.FAIL
    elif unread or awaiting or not planned:
        verdict = SheetVerdict.UNFINISHED
    elif doubtful or all(g.decision is None for g in planned):
        # a sheet on which nothing could be judged proves nothing
        verdict = SheetVerdict.NOT_PROVED
    else:
        verdict = SheetVerdict.GOOD
    return JudgedSheet(sheet, verdict, rows, unread, awaiting, failed, doubtful, clashes(judged.values(), ask))


def _scattered(sheet: Sheet, ask: Expectations, corrector: Corrector, row: Row, group: list[Reading]) -> bool:
    """Whether a repeated pair's mean is not outside, yet one of its readings alone would be."""
    if len(group) < 2 or row.corrected is None or not row.expected.has_band or row.verdict is Verdict.OUTSIDE:
        return False
    return any(_row(sheet, ask, corrector, [r]).verdict is Verdict.OUTSIDE for r in group)


def _holds_back(row: Row) -> bool:
    if row.contradicted:
        return True
    return row.verdict is Verdict.UNDECIDED and row.decision is not None and not row.decision.leans_in


def _row(sheet: Sheet, ask: Expectations, corrector: Corrector, group: list[Reading]) -> Row:
    first = group[0]
    expected = ask.of(first.pair)
    n = len(group)
    if expected.path is Path.ELEMENT:
        return Row(first, expected, None, None, Why.ELEMENT, n)
    if first.ohms is None:
        return _overload(sheet, corrector, expected, group)
    value = corrector.mean(group)
    if expected.path is Path.NONE:
        # leakage is not copper: compared as it stands, without the temperature's factor
        below = value.ohms / corrector.factor < sheet.pattern.open_limit_ohms
        decision = Decision(Verdict.OUTSIDE, 0.0) if below else UNPROVED
        return Row(first, expected, value, decision, Why.LEAKS if below else Why.HIGH_OHMS, n)
    return Row(first, expected, value, expected.decided(value.ohms, value.u), Why.BAND, n)


def _overload(sheet: Sheet, corrector: Corrector, expected: Expected, group: list[Reading]) -> Row:
    first, n = group[0], len(group)
    # the reading on the range that reaches furthest says most
    above = max(sheet.meter.overload_above(r.range_on(sheet.meter)) for r in group)
    unproved = unproved_contacts(sheet, first.pair, should_be_open=expected.path is Path.NONE)
    if expected.path is Path.NONE:
        if above < sheet.pattern.open_limit_ohms:
            return Row(first, expected, None, UNPROVED, Why.SHORT_RANGE, n, unproved)
        if unproved:
            return Row(first, expected, None, UNPROVED, Why.CONTACT, n, unproved)
        return Row(first, expected, None, Decision(Verdict.INSIDE, 1.0), Why.STAYS_OPEN, n)
    if unproved:
        return Row(first, expected, None, UNPROVED, Why.CONTACT, n, unproved)
    assert expected.high is not None
    if corrector.shown(expected.high) < above:
        return Row(first, expected, None, Decision(Verdict.OUTSIDE, 0.0), Why.OPENS, n)
    return Row(first, expected, None, UNPROVED, Why.SHORT_RANGE, n)


def unproved_contacts(sheet: Sheet, pair: Pair, *, should_be_open: bool) -> tuple[str, ...]:
    """The ends of an overload whose contact this sheet doesn't prove.

    A pin is proved by any finite reading of another pair; the iron by a reading between two bare
    spots. An overload where the pattern has a path needs no such proof: it is asked for again with
    the probes lifted before it counts, and on a broken winding no other reading could ever give it.
    """
    if sheet.proof.stated is not None:
        return () if sheet.proof.stated else tuple(pair)
    if not should_be_open:
        return ()
    proved = proved_pins(sheet.pattern, sheet.readings, except_for=pair)
    if sheet.proof.iron:
        proved.add(CORE)
    return tuple(node for node in pair if node not in proved)


def proved_pins(pattern: Pattern, readings: Iterable[Reading], except_for: Pair) -> set[str]:
    pins = set(pattern.pins)
    return {
        node
        for r in readings
        if r.ohms is not None and r.pair.unordered != except_for.unordered
        for node in r.pair
        if node in pins
    }
