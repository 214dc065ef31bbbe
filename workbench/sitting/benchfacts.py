"""What stands on the bench, for panels to render: nothing here changes anything."""

from collections.abc import Callable
from uuid import UUID

from workbench.findings.explain import Explained
from workbench.findings.records import Finding
from workbench.records import Decided, Job, KeptRewind, Repair, SheetHead, Unit
from workbench.sitting.lines import Lines
from workbench.sitting.opensheet import OpenSheet
from workbench.sitting.pick import Held, Pick
from workbench.sitting.say import Said
from workbench.sitting.steps import Step
from workbench.stator.expect import Expectations
from workbench.stator.judge import JudgedSheet, Row
from workbench.stator.pattern import Connector, Pair, Pattern
from workbench.stator.sheet import Sheet


class BenchFacts(Held):
    """The sheet being read, and what is picked, typed and said."""

    def __init__(self, opened: OpenSheet) -> None:
        self._open = opened
        self.revision = opened.revision
        self.text = ""
        self.said: Said | None = None
        self.step: Step | None = None
        self.past_days: tuple[str, ...] = ()  # of the unit's earlier good sheets
        self.shows: Callable[[Pair], str] | None = None  # what a practice part's meter shows
        self._pick = Pick(self.pattern.connectors[0].name if self.pattern.connectors else None)
        self._pointed: tuple[JudgedSheet, Finding, dict[tuple[str, str], float]] | None = None

    @property
    def unit(self) -> Unit:
        return self._open.unit

    @property
    def job(self) -> Job:
        return self._open.job

    @property
    def repairs(self) -> tuple[Repair, ...]:
        """What was mended within this job, in its order."""
        return self._open.repairs

    @property
    def rewinds(self) -> tuple[KeptRewind, ...]:
        """Of this job, those among them that are not finished."""
        return self._open.rewinds

    @property
    def rewound_before(self) -> tuple[KeptRewind, ...]:
        """Done rewinds of the part's earlier visits."""
        return self._open.rewound_before

    @property
    def pattern(self) -> Pattern:
        return self.revision.pattern

    @property
    def connectors(self) -> tuple[Connector, ...]:
        """Its plugs."""
        return self.pattern.connectors

    def same(self, one: Pair, other: Pair) -> bool:
        """Whether two pairs are one reading."""
        return self.expectations.same(one, other)

    @property
    def expectations(self) -> Expectations:
        return self._open.expectations

    @property
    def lines(self) -> Lines:
        return self._open.lines

    @property
    def head(self) -> SheetHead:
        return self._open.head

    @property
    def decided(self) -> Decided | None:
        return self._open.decided

    @property
    def judged(self) -> JudgedSheet:
        return self._open.judged

    @property
    def explained(self) -> Explained | None:
        """What the readings say; None while they are weighed, and where nothing weighs them."""
        return self._open.explained

    @property
    def pointed(self) -> Finding | None:
        """The explanation that is pointed at, while the sheet is as it was then."""
        return self._pointed[1] if self._pointed is not None and self._pointed[0] is self.judged else None

    def speaks_of(self, pair: Pair) -> int:
        """1 where a read pair speaks for the explanation that is pointed at by a bit or more, -1 where against it."""
        if self.pointed is None or self._pointed is None:
            return 0
        bits = self._pointed[2].get(self.expectations.key(pair), 0.0)
        return 1 if bits >= 1 else -1 if bits <= -1 else 0

    @property
    def explains(self) -> bool:
        return self._open.explains

    @property
    def offered(self) -> Pair | None:
        """The next check: an outside reading that awaits its repeat first, then the plan in its order."""
        return self._open.offered

    @property
    def waiting(self) -> tuple[Pair, ...]:
        """What is still to be read, in the order it is offered."""
        return self._open.waiting

    def sheet(self) -> Sheet:
        """The sheet as it is judged: what is struck, or could not be kept, left out."""
        return self._open.judged.sheet

    def rows_by_reading(self) -> dict[UUID, Row]:
        """The judged row of each reading that counts, by the reading's id."""
        return self._open.rows_by_reading()

    def last_row(self, pair: Pair) -> Row | None:
        """The newest judged row of this pair."""
        return self._open.last_row(pair)

    @property
    def came_back(self) -> bool:
        """Whether the next sheet is of another visit: once it was decided on, unless it was mended or wound anew since
        this sheet was begun, and is to be read once more before it goes.
        """
        return self.decided is not None and not self._open.wants_retest

    @property
    def wants_retest(self) -> bool:
        """Whether the part was mended or wound anew since this sheet was begun."""
        return self._open.wants_retest

    @property
    def mended(self) -> bool:
        """Whether it was repaired or wound anew within this visit."""
        return self._open.mended

    @property
    def is_blank(self) -> bool:
        """Whether nothing was read or decided on this sheet yet."""
        return not len(self.lines) and self.decided is None

    def practice_shows(self) -> str | None:
        """What the practice part's meter shows for the picked pair; None on a real bench."""
        return self.shows(self.pair) if self.shows and self.pair else None
