"""What the shop keeps, as plain frozen records: the only shape in which it travels between rooms."""

from dataclasses import dataclass, replace
from datetime import UTC, datetime
from enum import StrEnum
from uuid import UUID, uuid4

from workbench.stator.meter import Meter
from workbench.stator.pattern import Pattern
from workbench.stator.predicted import Predicted, with_predicted
from workbench.stator.sheet import Conditions, Reading


def new_id() -> UUID:
    return uuid4()


def now() -> datetime:
    """The present moment, UTC."""
    return datetime.now(UTC)


class Outcome(StrEnum):
    """What was decided of a part."""

    PASS = "pass"
    REPAIR = "repair"
    REWIND = "rewind"
    SCRAP = "scrap"


class TemperatureSource(StrEnum):
    """How it is known how warm the part is."""

    ROOM = "room"
    INFRARED = "infrared"
    PROBE = "probe"


class Whose(StrEnum):
    """Who a copy of a card is for: only the shop's carries winding data."""

    CUSTOMER = "customer"
    SHOP = "shop"


class CardSize(StrEnum):
    """What a card is printed on: 62 x 100 mm, 100 x 150 mm, or A6 with a hole for its string."""

    LABEL = "label"
    STAND = "stand"
    TAG = "tag"


# what a band says of where it comes from, where a rewind predicted it
BY_REWIND = "by its rewind"

# u of the part's temperature by its source, degrees Celsius: common practice, no source
USUAL_CELSIUS_UNCERTAINTY = {
    TemperatureSource.ROOM: 3.0,
    TemperatureSource.INFRARED: 5.0,
    TemperatureSource.PROBE: 1.0,
}


@dataclass(frozen=True, slots=True)
class PatternRevision:
    """A pattern as it stood when it was saved for the `number`th time (from 1). Never changed."""

    id: UUID
    pattern_id: UUID
    number: int
    pattern: Pattern
    made_at: datetime


class Arrival(StrEnum):
    """What became of a pattern that was brought in."""

    NEW = "new"
    REVISION = "revision"  # a further one of a pattern that was there
    KEPT = "kept"  # it was there already, as this revision or an older one


@dataclass(frozen=True, slots=True)
class Brought:
    """A pattern that was brought in: `revision` is the one it is kept as."""

    revision: PatternRevision
    arrival: Arrival


@dataclass(frozen=True, slots=True)
class NamedMeter:
    """A meter the shop knows by name."""

    id: UUID
    name: str
    meter: Meter
    version: int = 1


@dataclass(frozen=True, slots=True)
class Unit:
    """One physical part. `label` is what the shop calls it by: machine, owner's tag, whatever was said."""

    id: UUID
    tag: str
    label: str
    pattern_id: UUID | None
    made_at: datetime
    version: int = 1


@dataclass(frozen=True, slots=True)
class Job:
    """One visit of a unit. `number` counts the shop's jobs."""

    id: UUID
    unit_id: UUID
    number: int
    complaint: str
    opened_at: datetime
    seen: str = ""
    approved: str = ""
    found: str = ""
    done: str = ""
    closed_at: datetime | None = None
    version: int = 1


@dataclass(frozen=True, slots=True)
class SheetHead:
    """A sheet without its readings: what holds for all of them.

    `iron_ohms`: shown between two bare spots of the iron, which proves contact with it (None: not done).
    `note`: what the technician wants remembered of this sitting, in their own words. `predicted`: what the windings
    that were wound anew before it should read by their rewinds, in the place of what the pattern says of them.
    `celsius_assumed`, `leads_assumed`: nobody measured that yet; it stands as a sheet begins with it.
    """

    id: UUID
    job_id: UUID
    revision_id: UUID
    meter_id: UUID
    meter_name: str
    meter: Meter
    conditions: Conditions
    source: TemperatureSource
    meter_zeroed: bool
    iron_ohms: float | None
    started_at: datetime
    version: int = 1
    note: str = ""
    predicted: tuple[Predicted, ...] = ()
    celsius_assumed: bool = False
    leads_assumed: bool = False


def as_read(revision: PatternRevision, head: SheetHead) -> PatternRevision:
    """The revision as a sheet is judged by it: windings that were wound anew should read what their rewinds say."""
    if not head.predicted:
        return revision
    return replace(revision, pattern=with_predicted(revision.pattern, head.predicted, BY_REWIND))


@dataclass(frozen=True, slots=True)
class Strike:
    """A reading struck out, with the reason."""

    id: UUID
    reading_id: UUID
    reason: str
    struck_at: datetime


@dataclass(frozen=True, slots=True)
class KeptReading:
    """A reading as it is kept: never edited, only struck. `place` counts within its sheet, from 1.

    `typed` is the number as it was typed (`1k2` tells its resolution).
    """

    id: UUID
    sheet_id: UUID
    place: int
    reading: Reading
    typed: str
    taken_at: datetime
    strike: Strike | None = None


@dataclass(frozen=True, slots=True)
class Decided:
    """What was decided of a job on the strength of a sheet. The latest one holds.

    `found`: the code of the fault that the part was found to have (`findings.faults`), empty where that was not
    said; `found_where`: its place, as a finding names it, or empty. `ran_well`: it was seen to run well on its
    machine, which makes it known good.
    """

    id: UUID
    job_id: UUID
    sheet_id: UUID
    outcome: Outcome
    note: str
    verdict: str
    decided_at: datetime
    found: str = ""
    found_where: str = ""
    ran_well: bool = False


@dataclass(frozen=True, slots=True)
class CardMade:
    """A card that left the program: `how` is saved or printed.

    `copy` counts from 1 within its sheet, the customer's apart from the shop's, whatever the size. `asserts` is
    what it said, as `cards.check` writes it; empty for a card from before that was kept.
    """

    id: UUID
    sheet_id: UUID
    copy: int
    how: str
    made_at: datetime
    whose: Whose = Whose.CUSTOMER
    size: CardSize = CardSize.STAND
    asserts: str = ""


@dataclass(frozen=True, slots=True)
class KeptDraft:
    """What is worked on at a desk before it is a record. `kind`: which desk's; `body`: JSON in that desk's shape."""

    id: UUID
    kind: str
    title: str
    body: str
    made_at: datetime
    changed_at: datetime
    version: int = 0


@dataclass(frozen=True, slots=True)
class WholeJob:
    """One visit of a unit with all that was written of it. The copies of a sheet's cards are counted by the store."""

    unit: Unit
    job: Job
    sheets: tuple[SheetHead, ...]
    readings: tuple[KeptReading, ...]
    decisions: tuple[Decided, ...]
    cards: tuple[CardMade, ...]


class RepairKind(StrEnum):
    """What was mended without replacing a winding."""

    TERMINAL = "terminal"
    SPLICE = "splice"
    GROUND = "ground"
    OTHER = "other"


@dataclass(frozen=True, slots=True)
class Repair:
    """Something mended within a job: `where` and what, in the shop's words. Sheets read before it say nothing of it."""

    id: UUID
    job_id: UUID
    kind: RepairKind
    where: str
    note: str
    repaired_at: datetime


@dataclass(frozen=True, slots=True)
class KeptRewind:
    """One winding replaced within a job. `body`: as found, planned and as wound, as JSON in the rewind desk's shape.

    `done_at` None while it is being worked on.
    """

    id: UUID
    job_id: UUID
    winding: str
    body: str
    made_at: datetime
    done_at: datetime | None = None
    version: int = 0


@dataclass(frozen=True, slots=True)
class BenchFile:
    """All that the bench needs of one unit: its latest job and that job's latest sheet.

    `revision` is as that sheet is judged by it (`as_read`). `repairs` and `rewinds` of that job in their order, those
    among them that are not finished. `rewound_before`: done rewinds of its earlier visits, before this sheet was begun.
    """

    unit: Unit
    job: Job
    revision: PatternRevision
    sheet: SheetHead
    readings: tuple[KeptReading, ...]
    decided: Decided | None
    repairs: tuple[Repair, ...] = ()
    rewinds: tuple[KeptRewind, ...] = ()
    rewound_before: tuple[KeptRewind, ...] = ()

    @property
    def rewound_at(self) -> datetime | None:
        """When a winding was last replaced within that job; None where none was."""
        return max((r.done_at for r in self.rewinds if r.done_at is not None), default=None)


@dataclass(frozen=True, slots=True)
class UnitListed:
    """A unit as the counter lists it: with its latest job, and what was decided of that; None where there is none."""

    unit: Unit
    job: Job | None = None
    decided: Decided | None = None

    @property
    def tag(self) -> str:
        return self.unit.tag


@dataclass(frozen=True, slots=True)
class PastSheet:
    """One sheet of a unit's history: the revision as it was judged by it (`as_read`), and the readings that count (none
    struck).

    `outcome`: what was decided of its job on this sheet, None where that was on another one or not at all.
    """

    job_number: int
    head: SheetHead
    revision: PatternRevision
    readings: tuple[KeptReading, ...]
    outcome: Outcome | None = None


@dataclass(frozen=True, slots=True)
class GoodSheet:
    """A sheet on which a unit passed. `ran_well`: the unit was seen to run well on its machine."""

    unit_id: UUID
    tag: str
    ran_well: bool
    past: PastSheet


@dataclass(frozen=True, slots=True)
class Spool:
    """Wire on the shelf. `gauge` and `build` as the wire tables name them; `grams` left of it now, enamel and all."""

    id: UUID
    name: str
    gauge: str
    build: str
    grams: float
    note: str = ""
    version: int = 0


@dataclass(frozen=True, slots=True)
class SpoolDraw:
    """What a rewind took off a spool, grams: drawn once, when the rewind is done."""

    id: UUID
    spool_id: UUID
    rewind_id: UUID
    grams: float
    drawn_at: datetime
