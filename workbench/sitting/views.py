"""The bench as its panels show it: frozen records made from a sitting, words and numbers ready."""

from dataclasses import dataclass
from uuid import UUID

from workbench import words
from workbench.records import BY_REWIND, SheetHead, TemperatureSource
from workbench.sitting.bench import Bench
from workbench.sitting.lines import Keeping, Line
from workbench.stator.crossing import windings_of
from workbench.stator.expect import Path
from workbench.stator.judge import Row, SheetVerdict
from workbench.stator.pattern import Pair
from workbench.stator.reach import Reach, reach, smallest_short
from workbench.woundwords import failed_words, lacking_words

SOURCE_WORDS = {
    TemperatureSource.ROOM: "by the room's thermometer",
    TemperatureSource.INFRARED: "by infrared",
    TemperatureSource.PROBE: "by a contact probe",
}

REACH_WORDS = {
    Reach.JUDGES: "",
    Reach.CONTINUITY: "this meter: continuity only",
    Reach.ABOVE_RANGES: "above this meter's ranges",
    Reach.NO_OPEN: "this meter can't prove an open",
    Reach.NOT_BY_OHMS: "not to be judged by ohms",
}


ASSUMED = " assumed"


@dataclass(frozen=True, slots=True)
class Heading:
    tag: str
    pattern: str
    label: str
    job: str
    part: str
    meter: str
    leads: str
    verdict: str
    progress: str


def conditions_words(head: SheetHead) -> tuple[str, str]:
    """How warm the part is, and its leads; each says so where nobody measured it."""
    c = head.conditions
    leads = "meter zeroed on its leads" if head.meter_zeroed else f"leads {words.ohms_words(c.lead_ohms)}"
    warm = f"{c.celsius:g} °C, u {c.celsius_uncertainty:g} °C"
    return f"{warm}{ASSUMED * head.celsius_assumed}", f"{leads}{ASSUMED * head.leads_assumed}"


def heading(bench: Bench) -> Heading:
    head = bench.head
    part, leads = conditions_words(head)
    iron = "iron proved" if head.iron_ohms is not None else "iron not proved"
    return Heading(
        tag=bench.unit.tag,
        pattern=f"{bench.pattern.name}, revision {bench.revision.number}",
        label=bench.unit.label,
        job=f"job {bench.job.number}: {bench.job.complaint}" if bench.job.complaint else f"job {bench.job.number}",
        part=part,
        meter=head.meter_name,
        leads=f"{leads}, {iron}",
        verdict=words.SHEET_WORDS[bench.judged.verdict],
        progress=_progress(bench),
    )


def _progress(bench: Bench) -> str:
    judged = bench.judged
    plan = judged.sheet.plan
    if judged.bad:
        return failed_words(judged.bad)
    if judged.awaiting:
        return f"read {words.pair_words(judged.awaiting[0], bench.pattern)} again"
    if judged.unread:
        return f"{len(plan) - len(judged.unread)} of {len(plan)} checks read"
    if judged.overtaken or (bench.wants_retest and not bench.past):
        return "mended since: begin a new sheet"
    if judged.lacks and judged.verdict is SheetVerdict.NOT_PROVED and not (judged.doubtful or judged.outweighed):
        return lacking_words(judged.lacks)
    if judged.doubtful:
        return f"{words.pair_words(judged.doubtful[0], bench.pattern)} can't be decided"
    if judged.outweighed:
        return "something is likelier than sound"
    return f"all {len(plan)} checks read" + (f"; {lacking_words(judged.lacks)}" if judged.lacks else "")


def hint(bench: Bench) -> str:
    """Beside the pair in hand: what a practice part's meter shows; on a fresh sheet, what is to be done."""
    shows = bench.practice_shows()
    if shows:
        return f"the practice part's meter shows {shows}"
    fresh = bench.is_blank and not bench.past and bench.step is None and bench.pair is not None
    return "touch both with the probes, type what the meter shows, press Enter" if fresh else ""


@dataclass(frozen=True, slots=True)
class CheckView:
    pair: Pair
    title: str
    wanted: str
    value: str
    word: str
    note: str
    current: bool
    again: bool

    @property
    def spoken(self) -> str:
        said = f"{self.value} {self.word}" if self.word else "not read"
        more = [said, f"should be {self.wanted}", self.note, "read it again" if self.again else ""]
        return f"{self.title}: " + ", ".join(m for m in more if m)


def checks(bench: Bench) -> tuple[CheckView, ...]:
    """The plan in its order, then what was read beside it."""
    sheet, ask = bench.sheet(), bench.expectations
    plan = list(sheet.plan)
    known = {ask.key(p) for p in plan}
    for judged in bench.judged.rows:
        if ask.key(judged.reading.pair) not in known:
            known.add(ask.key(judged.reading.pair))
            plan.append(judged.reading.pair)
    awaiting = {ask.key(p) for p in bench.judged.awaiting}
    here = ask.key(bench.pair) if bench.pair else None
    out = []
    for pair in plan:
        row = bench.last_row(pair)
        out.append(
            CheckView(
                pair=pair,
                title=words.pair_words(pair, bench.pattern),
                wanted=words.band_words(ask.of(pair)),
                value=words.value_words(row) if row else "",
                word=words.verdict_word(row) if row else "",
                note="" if row else REACH_WORDS[reach(sheet, ask, pair)],
                current=ask.key(pair) == here,
                again=ask.key(pair) in awaiting,
            )
        )
    return tuple(out)


@dataclass(frozen=True, slots=True)
class ReadingView:
    id: UUID
    title: str
    typed: str
    value: str
    word: str
    struck: str
    keeping: Keeping

    @property
    def can_strike(self) -> bool:
        return not self.struck and self.keeping is not Keeping.LOST


def readings(bench: Bench) -> tuple[ReadingView, ...]:
    """Newest first, the struck ones among them."""
    rows = bench.rows_by_reading()
    return tuple(_reading(bench, line, rows.get(line.kept.id)) for line in reversed(bench.lines.every))


def _reading(bench: Bench, line: Line, row: Row | None) -> ReadingView:
    strike = line.kept.strike
    return ReadingView(
        id=line.kept.id,
        title=words.pair_words(line.kept.reading.pair, bench.pattern),
        typed=line.kept.typed,
        value=words.value_words(row) if row else "",
        word=words.verdict_word(row) if row else "",
        struck=strike.reason if strike else "",
        keeping=line.keeping,
    )


@dataclass(frozen=True, slots=True)
class LineView:
    """A read pair, as it is drawn between its pins."""

    pair: Pair
    text: str
    word: str
    safe: bool
    chosen: bool
    speaks: int = 0


def face_lines(bench: Bench) -> tuple[LineView, ...]:
    """The newest reading of each pair that counts."""
    newest: dict[tuple[str, str], Line] = {}
    for line in bench.lines.counted:
        key = bench.expectations.key(line.kept.reading.pair)
        newest.pop(key, None)  # the newest stands last
        newest[key] = line
    here = bench.expectations.key(bench.pair) if bench.pair else None
    rows = bench.rows_by_reading()
    out = []
    for key, line in newest.items():
        row = rows.get(line.kept.id)
        out.append(
            LineView(
                pair=line.kept.reading.pair,
                text="open" if line.kept.reading.ohms is None else line.kept.typed,
                word=words.verdict_word(row) if row else "",
                safe=line.keeping is Keeping.SAFE,
                chosen=key == here,
                speaks=bench.speaks_of(line.kept.reading.pair),
            )
        )
    return tuple(out)


@dataclass(frozen=True, slots=True)
class BandView:
    """One pair's value with its U against low and high, all in ohm at the reference temperature."""

    title: str
    path: Path | None
    low: float | None
    high: float | None
    nominal: float | None
    value: float | None
    expanded: float | None
    value_text: str
    word: str
    band_text: str
    origin: str
    note: str


def band(bench: Bench, pair: Pair | None) -> BandView:
    if pair is None:
        return BandView(
            "", None, None, None, None, None, None, "", "", "", "", "Pick two pins to see what they should read."
        )
    expected = bench.expectations.of(pair)
    row = bench.last_row(pair)
    corrected = row.corrected if row else None
    p = bench.pattern
    by_rewind = windings_of(p, pair) & {x.winding for x in bench.head.predicted}
    return BandView(
        title=f"{words.pair_words(pair, p)} at {p.reference_celsius:g} °C",
        path=expected.path,
        low=expected.low,
        high=expected.high,
        nominal=None if expected.is_under else expected.ohms,  # nothing is known of where it should lie
        value=corrected.ohms if corrected else None,
        expanded=corrected.expanded if corrected else None,
        value_text=words.value_words(row) if row else "",
        word=words.verdict_word(row) if row else "",
        band_text=words.band_words(expected),
        origin=BY_REWIND if by_rewind else f"from the pattern, revision {bench.revision.number}",
        note=_band_note(bench, pair, row),
    )


def _band_note(bench: Bench, pair: Pair, row: Row | None) -> str:
    sheet, ask = bench.sheet(), bench.expectations
    if row is not None:
        return words.reason_words(row, bench.pattern)
    at_best = REACH_WORDS[reach(sheet, ask, pair)]
    if at_best:
        return at_best[0].upper() + at_best[1:] + "."
    expected = ask.of(pair)
    if expected.path is not Path.WINDINGS:
        return "Should be open: an overload on the highest range." if expected.path is Path.NONE else "A plain wire."
    return short_words(bench, pair)


def short_words(bench: Bench, pair: Pair) -> str:
    """What this meter can see at best of a short in the one winding that a pair reads across."""
    ends = set(pair)
    winding = next((w for w in bench.pattern.windings if {w.start, w.finish} == ends and w.element is None), None)
    if winding is None:
        return ""
    if winding.is_under:
        return f"{winding.name}: no low limit is known, so that no short shows by ohms."
    found = smallest_short(bench.sheet(), bench.expectations, winding.name)
    if found is None:
        return f"{winding.name}: no short is large enough for this meter to show."
    return f"{winding.name}: the smallest short this meter shows is {100 * found.fraction:.0f} % of the turns."
