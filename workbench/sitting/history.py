"""One check of a unit as all its sheets read it: every value corrected alike, to be seen beside each other."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, tzinfo
from uuid import UUID

from workbench import words
from workbench.records import Outcome, PastSheet, SheetHead
from workbench.sitting.bench import Bench
from workbench.stator.correct import Corrected, Corrector
from workbench.stator.drift import Drift, drift
from workbench.stator.expect import Expectations, Path
from workbench.stator.judge import JudgedSheet, Row, SheetVerdict, judge
from workbench.stator.pattern import CORE, Pair
from workbench.stator.reach import smallest_short
from workbench.stator.sheet import Proof, Sheet

MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
LOOKING = "Looking for earlier sheets …"
FIRST_TIME = "First time in the shop: nothing to compare with."
NEVER_READ = "This check was not read on this part before."
NOT_BY_OHMS = "Not to be judged by ohms: nothing to compare."
NO_PAIR = "Pick two pins to see how they read before."


@dataclass(frozen=True, slots=True)
class Remembered:
    """A past sheet as it was judged, by the revision it was judged against."""

    past: PastSheet
    judged: JudgedSheet
    ask: Expectations


def remember(past: Sequence[PastSheet]) -> tuple[Remembered, ...]:
    """Judges every sheet again: some milliseconds each, so not for the window's thread."""
    asks: dict[object, Expectations] = {}
    out = []
    for p in past:
        by = p.revision.id, p.head.predicted
        if by not in asks:
            asks[by] = Expectations(p.revision.pattern)
        ask = asks[by]
        proof = Proof(iron=p.head.iron_ohms is not None)
        readings = tuple(k.reading for k in p.readings)
        sheet = Sheet(p.revision.pattern, p.head.meter, p.head.conditions, readings, proof=proof)
        out.append(Remembered(p, judge(sheet, ask), ask))
    return tuple(out)


@dataclass(frozen=True, slots=True)
class HistoryPoint:
    """One sheet's value of the check, ohm at the reference temperature; `ohms` None is an overload: open."""

    sheet_id: UUID
    job_number: int
    when: str
    ohms: float | None
    expanded: float | None
    value: str
    word: str
    is_current: bool
    note: str = ""

    @property
    def spoken(self) -> str:
        where = "this sheet" if self.is_current else f"{self.when}, job {self.job_number}"
        return f"{where}: {self.value} {self.word}".rstrip() + (f", {self.note}" if self.note else "")


@dataclass(frozen=True, slots=True)
class HistoryView:
    """Oldest point first. `low` and `high`: the band of the revision on the bench (ohm), None where it has none."""

    title: str
    points: tuple[HistoryPoint, ...]
    low: float | None
    high: float | None
    sentence: str
    drifted: bool = False

    @property
    def empty(self) -> bool:
        """Nothing to compare: the sentence says why."""
        return not any(not p.is_current for p in self.points)

    @property
    def spoken(self) -> str:
        if self.empty:
            return self.sentence
        return f"{self.title}. {self.sentence} " + "; ".join(p.spoken for p in self.points)


def history(
    bench: Bench, pair: Pair | None, remembered: Sequence[Remembered] | None, zone: tzinfo | None = None
) -> HistoryView:
    """`remembered`: all sheets of the unit, the one on the bench among them or not; None while they are looked for.

    `zone`: the shop's (None: this machine's).
    """
    if pair is None:
        return HistoryView("", (), None, None, NO_PAIR)
    expected = bench.expectations.of(pair)
    title = f"{words.pair_words(pair, bench.pattern)} at {bench.pattern.reference_celsius:g} °C"
    if expected.path is Path.ELEMENT:
        return HistoryView(title, (), None, None, NOT_BY_OHMS)
    if remembered is None:
        return HistoryView(title, (), None, None, LOOKING)
    before, after = _around(remembered, bench.head.id, bench.revision.pattern_id)
    marks = [
        *(_mark(bench, pair, r, zone) for r in before),
        _mark_now(bench, pair, zone),
        *(_mark(bench, pair, r, zone) for r in after),
    ]
    points = tuple(m.point for m in marks if m is not None)
    view = HistoryView(title, points, expected.low, expected.high, "")
    if view.empty:
        read = any(r.past.readings for r in (*before, *after))
        return replace(view, sentence=NEVER_READ if read else _otherwise(remembered, bench.revision.pattern_id))
    moved = None if expected.path is Path.NONE else _moved(bench, [m for m in marks if m is not None])
    return replace(view, sentence=_sentence(points, moved), drifted=moved is not None and moved[0].flagged)


def earlier(bench: Bench, remembered: Sequence[Remembered]) -> tuple[Remembered, dict[Pair, Corrected]] | None:
    """The latest earlier good sheet of this unit, and what it read of the checks planned now, corrected alike.

    None where there is no such sheet. For `stator.reach.smallest_short(..., earlier=...)`.
    """
    good = next(reversed(good_before(remembered, bench.head, bench.revision.pattern_id)), None)
    if good is None:
        return None
    values = {c: _corrected(bench, good, c) for c in bench.sheet().plan}
    return good, {c: v for c, v in values.items() if v is not None}


def short_by_past(bench: Bench, pair: Pair | None, remembered: Sequence[Remembered], zone: tzinfo | None = None) -> str:
    """What this unit's own past lets one see of a short in the winding that a pair reads across; "" without a past."""
    found = earlier(bench, remembered)
    ends = set(pair or ())
    winding = next((w for w in bench.pattern.windings if {w.start, w.finish} == ends and w.element is None), None)
    if found is None or winding is None:
        return ""
    sheet, values = found
    short = smallest_short(bench.sheet(), bench.expectations, winding.name, values) if values else None
    if short is None:
        return ""
    when = _day(sheet.past.head.started_at, zone)
    return f"Against its own good sheet of {when}: {100 * short.fraction:.0f} % of the turns."


@dataclass(frozen=True, slots=True)
class _Mark:
    """A point with what it was made from."""

    point: HistoryPoint
    corrected: Corrected | None
    sheet: Remembered | None  # None: the one on the bench
    other_wire: bool = False


def good_before(remembered: Sequence[Remembered], head: SheetHead, pattern_id: UUID) -> list[Remembered]:
    """The good sheets before one of a unit, of the same pattern, since a winding of it was last replaced."""
    before, _ = _around(remembered, head.id, pattern_id)
    replaced = max((i for i, r in enumerate(before) if r.past.outcome is Outcome.REWIND), default=-1)
    return [
        r for r in before[replaced + 1 :]
        if r.judged.verdict is SheetVerdict.GOOD and r.past.head.predicted == head.predicted
    ]  # fmt: skip


def days_of(sheets: Sequence[Remembered], zone: tzinfo | None = None) -> tuple[str, ...]:
    return tuple(_day(r.past.head.started_at, zone) for r in sheets)


def _around(
    remembered: Sequence[Remembered], sheet_id: UUID, pattern_id: UUID
) -> tuple[list[Remembered], list[Remembered]]:
    """The sheets before and after one; those of another pattern left out: its pins are other pins."""
    here = next((i for i, r in enumerate(remembered) if r.past.head.id == sheet_id), len(remembered))
    before, after = remembered[:here], remembered[here + 1 :]
    return ([r for r in before if r.past.revision.pattern_id == pattern_id],
            [r for r in after if r.past.revision.pattern_id == pattern_id])  # fmt: skip


def _otherwise(remembered: Sequence[Remembered], pattern_id: UUID) -> str:
    """What is said where no sheet of this pattern was read: of the latest that was read by another one, if any."""
    others = (r.past for r in reversed(remembered) if r.past.revision.pattern_id != pattern_id and r.past.readings)
    other = next(others, None)
    if other is None:
        return FIRST_TIME
    return f"Read before as {other.revision.pattern.name} only: other pins, nothing to compare."


def _newest(r: Remembered, pair: Pair) -> Row | None:
    if set(pair) - {*r.past.revision.pattern.pins, CORE}:
        return None  # an earlier revision had no such pin
    return next((x for x in reversed(r.judged.rows) if r.ask.same(x.reading.pair, pair)), None)


def _corrected(bench: Bench, r: Remembered, pair: Pair) -> Corrected | None:
    """By the sheet's own meter, leads and temperature, to the reference temperature of the pattern on the bench."""
    row = _newest(r, pair)
    if row is None or row.corrected is None:
        return None
    p, head = bench.pattern, r.past.head
    finite = [k.reading for k in r.past.readings if k.reading.ohms is not None and r.ask.same(k.reading.pair, pair)]
    return Corrector(head.meter, head.conditions, p.conductor, p.reference_celsius).mean(finite)


def _mark(bench: Bench, pair: Pair, r: Remembered, zone: tzinfo | None) -> _Mark | None:
    row = _newest(r, pair)
    if row is None or (row.corrected is None and row.reading.ohms is not None):
        return None  # not read, or shown only: what is shown never stands among what is corrected
    value = _corrected(bench, r, pair)
    other = r.past.revision.number
    note = f"judged by revision {other}" if r.past.revision.id != bench.revision.id else ""
    if _of_other_wire(bench, r, pair):
        note = "before it was wound anew" if not r.past.head.predicted else "wound otherwise"
    made = _point(row, value, r.past.head.id, r.past.job_number, _day(r.past.head.started_at, zone))
    return _Mark(replace(made, note=note), value, r, _of_other_wire(bench, r, pair))


def _of_other_wire(bench: Bench, r: Remembered, pair: Pair) -> bool:
    """Whether a winding that the pair reads was wound anew between the two sheets."""
    if r.past.head.predicted == bench.head.predicted:
        return False
    return r.ask.of(pair).ohms != bench.expectations.of(pair).ohms


def _mark_now(bench: Bench, pair: Pair, zone: tzinfo | None) -> _Mark | None:
    row = bench.last_row(pair)
    if row is None or (row.corrected is None and row.reading.ohms is not None):
        return None
    when = _day(bench.head.started_at, zone)
    made = _point(row, row.corrected, bench.head.id, bench.job.number, when)
    return _Mark(replace(made, is_current=True), row.corrected, None)


def _point(row: Row, value: Corrected | None, sheet_id: UUID, job_number: int, when: str) -> HistoryPoint:
    return HistoryPoint(
        sheet_id=sheet_id,
        job_number=job_number,
        when=when,
        ohms=value.ohms if value else None,
        expanded=value.expanded if value else None,
        value=words.value_words(replace(row, corrected=value)),
        word=words.verdict_word(row),
        is_current=False,
    )


def _moved(bench: Bench, marks: list[_Mark]) -> tuple[Drift, _Mark] | None:
    """The value on the bench against the latest of an earlier visit, or else of this one."""
    at = next((i for i, m in enumerate(marks) if m.sheet is None), None)
    if at is None or marks[at].corrected is None:
        return None
    past = [m for m in marks[:at] if m.corrected is not None and not m.other_wire]
    visits = [m for m in past if m.point.job_number != bench.job.number]
    then = next(reversed(visits or past), None)
    now = marks[at].corrected
    if then is None or then.corrected is None or then.sheet is None or now is None:
        return None
    head = then.sheet.past.head
    # a meter whose figures were changed since is taken for another one: that flags less, never more
    same = head.meter_id == bench.head.meter_id and head.meter == bench.head.meter
    return drift(now, then.corrected, same_meter=same), then


def _sentence(points: tuple[HistoryPoint, ...], moved: tuple[Drift, _Mark] | None) -> str:
    now = next((p for p in points if p.is_current), None)
    last = moved[1].point if moved else next(p for p in reversed(points) if not p.is_current)
    when = "the sheet before" if now is not None and now.when == last.when else last.when
    if moved is not None:
        d, share = moved[0], moved[0].share
        amount = words.ohms_words(abs(d.change), d.expanded) if share is None else f"{100 * abs(share):.1f} %"
        return words.drift_words(amount, above=d.change > 0, when=when, explained=not d.flagged)
    if now is None:
        return f"Not read on this sheet yet; {last.value} on {when}."
    if (now.ohms is None) != (last.ohms is None):
        return f"{now.value[0].upper()}{now.value[1:]}; on {when} it read {last.value}."
    if now.ohms is not None:  # not compared: one may be a leak, or came after the sheet on the bench
        return f"{last.value[0].upper()}{last.value[1:]} on {when}."
    return f"As on {when}: {last.value}."


def _day(moment: datetime, zone: tzinfo | None) -> str:
    d: date = moment.astimezone(zone).date()
    return f"{d.day} {MONTHS[d.month - 1]} {d.year}"
