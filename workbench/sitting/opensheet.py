"""The sheet being read: its readings, judged anew after each, and their way to the disk."""

from collections.abc import Callable, Mapping
from dataclasses import replace
from uuid import UUID

from workbench import words
from workbench.exchange.finished import finished_by
from workbench.findings.circuit import Known
from workbench.findings.explain import Explained
from workbench.findings.faults import STATED, Fault
from workbench.findings.known import known_of
from workbench.findings.leading import sound_leads, weighed
from workbench.findings.wiring import explain_on_the_bench
from workbench.records import (
    BenchFile,
    Decided,
    Job,
    KeptReading,
    Outcome,
    Repair,
    RepairKind,
    SheetHead,
    Strike,
    Unit,
    new_id,
    now,
)
from workbench.sitting.jobwords import JobWords
from workbench.sitting.keeper import Keeper
from workbench.sitting.lines import Keeping, Line, Lines
from workbench.sitting.mended import retested, wound_anew
from workbench.sitting.say import SILENCE, Choice, Said, Tone
from workbench.sitting.standing import Standing
from workbench.stator.errors import FieldError
from workbench.stator.expect import Expectations
from workbench.stator.judge import JudgedSheet, Row, judge
from workbench.stator.meter import Meter
from workbench.stator.pattern import Pair, Pattern
from workbench.stator.sheet import MOST_READINGS, Proof, Reading, Sheet

# does the work somewhere, and gives its result back on the bench's own thread
Reckon = Callable[[Callable[[], Explained | None], Callable[[Explained | None], None]], None]
# news without words: the readings are weighed; a decision is safe
WEIGHED = Said(Tone.TELLS, "")
DECIDED = Said(Tone.TELLS, "")
SETTLED = 0.95
LITTLE = 0.02  # bit: a pair that tells less is not worth a touch


class OpenSheet:
    """What is written is judged at once and kept meanwhile; `news` hears how that went.

    `news(None)`: something changed that needs no words. Acts that can't be done give the sentence why, else "".
    """

    def __init__(
        self,
        file: BenchFile,
        keeper: Keeper,
        news: Callable[[Said | None], None],
        reckon: Reckon | None = None,
        priors: Mapping[Fault, float] = STATED,
    ) -> None:
        """`reckon` weighs the readings elsewhere, by `priors`; without it there are no explanations."""
        self.revision = file.revision
        self.expectations = Expectations(self.pattern)
        self.lines = Lines(tuple(Line(k, Keeping.SAFE) for k in file.readings))
        self._standing = Standing(file, keeper)
        self.rewinds = file.rewinds
        self.rewound_before = file.rewound_before
        self._finished = finished_by(self.pattern, file.rewinds, file.rewound_before)
        self._finished_before = finished_by(self.pattern, (), file.rewound_before)
        self._keeper = keeper
        self._news = news
        self._reckon: Reckon | None = None
        self.explained: Explained | None = None  # what the readings say, once they are weighed
        self._priors = priors
        self._past: tuple[Sheet, ...] = ()
        self._known: dict[Meter, Known | None] = {}
        self._striking: set[UUID] = set()  # strikes on their way: what they strike may come back
        self._rejudge()
        self._reckon = reckon

    @property
    def pattern(self) -> Pattern:
        return self.revision.pattern

    @property
    def unit(self) -> Unit:
        return self._standing.unit

    @property
    def job(self) -> Job:
        return self._standing.job

    @property
    def head(self) -> SheetHead:
        return self._standing.head

    @property
    def decided(self) -> Decided | None:
        return self._standing.decided

    @property
    def offered(self) -> Pair | None:
        """The next check: an outside reading that awaits its repeat first, then the plan in its order."""
        return next(iter(self.waiting), None)

    @property
    def waiting(self) -> tuple[Pair, ...]:
        """What is still to be read, in the order it is offered: repeats, what would tell most, then the plan.

        While nothing is likelier than sound the plan's own order holds: all of it must be read anyhow.
        """
        judged, found = self.judged, self.explained
        ahead: tuple[Pair, ...] = ()
        if found is not None and judged.rows and not sound_leads(found) and found.findings[0].probability < SETTLED:
            ahead = tuple(n.pair for n in found.next if n.bits >= LITTLE)[:1]
        first = {self.expectations.key(p) for p in ahead}
        rest = (p for p in judged.unread if self.expectations.key(p) not in first)
        return (*judged.awaiting, *ahead, *rest)

    @property
    def explains(self) -> bool:
        return self._reckon is not None

    def _sheet(self) -> Sheet:
        """What is struck, or could not be kept, left out."""
        head = self.head
        proof = Proof(iron=head.iron_ohms is not None)
        return Sheet(self.pattern, head.meter, head.conditions, self.lines.readings, proof=proof)

    def rows_by_reading(self) -> dict[UUID, Row]:
        """The judged row of each reading that counts, by the reading's id."""
        return {line.kept.id: row for line, row in zip(self.lines.counted, self.judged.rows, strict=True)}

    def last_row(self, pair: Pair) -> Row | None:
        """The newest judged row of this pair."""
        return self._newest.get(self.expectations.key(pair))

    # ---- acts

    def keep(self, reading: Reading, typed: str) -> str:
        if self._full():
            return self._full()
        kept = KeptReading(new_id(), self.head.id, self.lines.next_place, reading, typed, now())
        self.lines = self.lines.added(kept)
        self._rejudge()
        self._send(kept)
        return ""

    def keep_again(self, reading_id: UUID) -> str:
        """Tries a reading that could not be kept once more; its id makes that safe."""
        line = self.lines.find(reading_id)
        if line is None or line.keeping is not Keeping.LOST:
            return ""
        trouble = self._misfit(self.head, line) or self._full()
        if not trouble:
            self.lines = self.lines.keeping(reading_id, Keeping.HOLLOW)
            self._rejudge()
            self._send(replace(line.kept, strike=None))
        return trouble

    def strike(self, reading_id: UUID, reason: str) -> str:
        """A reason is needed; the reading stays visible and counts no more."""
        line = self.lines.find(reading_id)
        if line is None or line.kept.strike is not None:
            return ""
        if not reason.strip():
            return "Say why the reading is struck out: a missed pin, the wrong range, a slip of the finger."
        if line.keeping is Keeping.LOST:
            return "This reading is not kept, so there is nothing to strike out. It counts for nothing."
        struck = Strike(new_id(), reading_id, reason.strip(), now())
        self.lines = self.lines.struck(reading_id, struck)
        self._striking.add(reading_id)
        self._rejudge()

        def then(_: object) -> None:
            self._striking.discard(reading_id)

        def failed(e: Exception) -> None:
            self._striking.discard(reading_id)
            self.lines = self.lines.struck(reading_id, None)
            self._rejudge()
            lost = self.lines.find(reading_id)
            if lost is None or lost.keeping is not Keeping.LOST:  # else that it isn't kept was said, with the way on
                self._news(Said(Tone.REFUSES, f"The reading is not struck out. {e}"))

        self._keeper.strike(struck, then=then, failed=failed)
        return ""

    def decide(self, outcome: Outcome, note: str, found: str = "", where: str = "", *, ran_well: bool = False) -> None:
        """`found`, `where`: what the part was found to have, as `Decided` keeps it."""
        verdict = str(self.judged.verdict)
        decided = Decided(
            new_id(), self.job.id, self.head.id, outcome, note.strip(), verdict, now(), found, where, ran_well
        )

        def told(e: Exception | None) -> None:
            self._news(DECIDED if e is None else Said(Tone.REFUSES, f"The decision is not kept. {e}"))

        before = self._standing.decided
        self._standing.decide(decided, told)
        if self._finished.lacks and ran_well != (before is not None and before.ran_well):
            self._rejudge()  # a run is what a rewound part was wanting

    @property
    def repairs(self) -> tuple[Repair, ...]:
        return self._standing.repairs

    def repair(self, kind: RepairKind, where: str, note: str) -> str:
        """Written down for good; what was read before says nothing of the part any more."""
        if not (where.strip() or note.strip()):
            return "Say what was mended and where: nothing was written down."

        def told(e: Exception | None) -> None:
            self._rejudge()
            self._news(None if e is None else Said(Tone.REFUSES, f"The repair is not kept. {e}"))

        self._standing.repair(Repair(new_id(), self.job.id, kind, where.strip(), note.strip(), now()), told)
        self._rejudge()
        return ""

    @property
    def mended(self) -> bool:
        return self._standing.mended_at is not None

    @property
    def wants_retest(self) -> bool:
        """Whether the part was mended or wound anew since this sheet was begun."""
        mended = self._standing.mended_at
        return mended is not None and self.head.started_at < mended

    def write_job(self, words: JobWords) -> str:
        """What the shop writes of the part and of this visit."""

        def told(e: Exception | None) -> None:
            self._news(None if e is None else Said(Tone.REFUSES, f"What was written of the job is not kept. {e}"))

        if not words.trouble:
            self._standing.write(words, told)
        return words.trouble

    def change_conditions(self, head: SheetHead) -> str:
        """Leads, temperature, iron and meter of this sheet. Every reading is judged anew by them."""
        coming = (x for x in self.lines if x.counts or x.kept.id in self._striking)
        trouble = next((t for x in coming if (t := self._misfit(head, x))), "")
        if trouble:
            return f"{trouble} Nothing was changed."

        def told(e: Exception | None) -> None:
            self._rejudge()
            more = " The readings taken since need it: enter it again." if self._standing.unkept else ""
            self._news(None if e is None else Said(Tone.REFUSES, f"The change is not kept. {e}{more}"))

        self._standing.change(head, lambda h: not any(self._misfit(h, x) for x in self.lines.counted), told)
        self._rejudge()
        return ""

    # ---- inside

    def _send(self, kept: KeptReading) -> None:
        def then(_: object) -> None:
            self.lines = self.lines.keeping(kept.id, Keeping.SAFE)
            self._news(None)

        def failed(e: Exception) -> None:
            self.lines = self.lines.keeping(kept.id, Keeping.LOST)
            self._rejudge()
            pair = words.pair_words(kept.reading.pair, self.pattern)
            again = Choice("Try again", lambda: self._retry(kept.id))
            self._news(Said(Tone.REFUSES, f"{kept.typed} for {pair} is not kept. {e}", (again,)))

        self._keeper.keep_reading(kept, then=then, failed=failed)

    def _retry(self, reading_id: UUID) -> None:
        trouble = self.keep_again(reading_id)
        self._news(Said(Tone.REFUSES, trouble) if trouble else SILENCE)

    def _misfit(self, head: SheetHead, line: Line) -> str:
        """Why a reading can't be one of a sheet under this head, as a sentence; empty where it can."""
        try:
            Sheet(self.pattern, head.meter, head.conditions, (line.kept.reading,))
        except FieldError as e:
            pair = words.pair_words(line.kept.reading.pair, self.pattern)
            return f"The reading {line.kept.typed} for {pair} doesn't fit that meter: {e.sentence}."
        return ""

    def _full(self) -> str:
        if len(self.lines.counted) < MOST_READINGS:
            return ""
        return f"This sheet has {MOST_READINGS} readings, and more it can't hold: begin a new sheet."

    def _rejudge(self) -> None:
        self._plain = self._by_itself()
        self.judged: JudgedSheet = self._plain
        self._newest = {self.expectations.key(r.reading.pair): r for r in self.judged.rows}
        self.explained = None
        self.weigh()

    def _by_itself(self) -> JudgedSheet:
        """By its readings, and by what was mended or wound anew, without weighing."""
        judged, begun, standing = judge(self._sheet(), self.expectations), self.head.started_at, self._standing
        judged = retested(judged, begun, standing.mended_at)
        if standing.rewound_at is None or begun < standing.rewound_at:
            return wound_anew(judged, self._finished_before)
        return wound_anew(judged, self._finished, ran_well=standing.decided is not None and standing.decided.ran_well)

    def remember(self, good: tuple[Sheet, ...]) -> None:
        """The unit's own good sheets before this one, oldest first: its windings are known by them."""
        if good != self._past:
            self._past, self._known = good, {}
            self.weigh()

    def stand_on(self, priors: Mapping[Fault, float]) -> None:
        """Weighs anew by other odds; what the readings said before stays in sight until then."""
        if priors != self._priors:
            self._priors = priors
            self.weigh()

    def weigh(self) -> None:
        """Begins to weigh the readings as they are judged now."""
        plain, sheet, priors, past, known = self._plain, self._plain.sheet, self._priors, self._past, self._known
        if self._reckon is None:
            return

        def overtaken() -> bool:
            return self._plain is not plain or self._priors is not priors or self._past is not past

        def work() -> Explained | None:
            if overtaken():
                return None  # the next one says more
            if sheet.meter not in known:  # only here, and one at a time
                known[sheet.meter] = known_of(sheet.pattern, past, sheet.meter)
            by = known[sheet.meter]
            return explain_on_the_bench(sheet.pattern, sheet.meter, sheet.conditions, sheet.readings, priors, by)

        def then(found: Explained | None) -> None:
            if found is not None and not overtaken():
                self.explained = found
                self.judged = weighed(plain, found)
                self._news(WEIGHED)

        self._reckon(work, then)
