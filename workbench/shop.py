"""The one door through which anything is written or asked.

Nothing here waits for a disk: every method gives a Future at once, and the store's own thread does the rest.
What is heavy to import (the store, its database library) is imported over there, so that a window can paint first.
"""

from collections.abc import Callable, Sequence
from concurrent.futures import Future
from datetime import datetime
from uuid import UUID

from db import queries
from db.thread import Crash, Deliver, Failed, StoreThread, Then
from workbench.findings.odds import Counts
from workbench.records import (
    BenchFile,
    Brought,
    CardMade,
    Decided,
    GoodSheet,
    Job,
    KeptDraft,
    KeptReading,
    KeptRewind,
    NamedMeter,
    PastSheet,
    PatternRevision,
    Repair,
    SheetHead,
    Spool,
    SpoolDraw,
    Strike,
    Unit,
    UnitListed,
    WholeJob,
    now,
)
from workbench.stator.meter import Meter
from workbench.stator.pattern import Pattern


class Shop:
    """`url`: a path or sqlite URL (None: this user's own store). Everything happens in the order it was asked.

    Every method may be told what to call: `then` with the result, or `failed` with a StoreTrouble whose
    sentence can be shown. Both are handed to `deliver`, which posts them to the owner's thread (by default
    they run on the store's thread), and are handed over before the Future resolves.

    What nobody expected goes to `on_crash`, on the store's thread (by default threading.excepthook), and
    into the Future; `failed` hears of it too. A write that failed can be sent again as it is: ids make that
    harmless. `bench`: the id that rows are marked with; by default the one kept for this machine's user.
    `clock`: what moment it is, for whoever writes a shop of another day.
    """

    def __init__(
        self,
        url: str | None,
        deliver: Deliver | None = None,
        *,
        on_crash: Crash | None = None,
        bench: UUID | None = None,
        clock: Callable[[], datetime] = now,
    ) -> None:
        self._at = StoreThread(url, bench, deliver, on_crash, clock)
        self._now = clock

    def open(
        self, then: Then[None] = None, failed: Failed = None, *, create: bool = True, place: str | None = None
    ) -> Future[None]:
        """Opens, makes (unless told not to) or brings up to date the store. May be asked again after a failure.

        `place`: from now on another path or URL than the one before, which couldn't be opened.
        """
        return self._at.open(then, failed, create=create, place=place)

    def look(self, then: Then[None] = None, failed: Failed = None) -> Future[None]:
        """Opens the store only to be asked: never made, brought up to date or written; an older one is refused."""
        return self._at.look(then, failed)

    def close(self) -> None:
        """Waits for all that was asked before, then closes the store. What is asked later raises RuntimeError."""
        self._at.close()

    # Written

    def book(
        self, unit: Unit, job: Job, then: Then[tuple[Unit, Job]] = None, failed: Failed = None
    ) -> Future[tuple[Unit, Job]]:
        """A new unit, or one that came back, with its new job. A job number of 0 asks for the next one."""
        return self._at.write(lambda s: (queries.units.save(s, unit), queries.jobs.open_job(s, job)), then, failed)

    def edit_unit(self, unit: Unit, then: Then[Unit] = None, failed: Failed = None) -> Future[Unit]:
        """The unit with its new version."""
        return self._at.write(lambda s: queries.units.save(s, unit), then, failed)

    def edit_job(self, job: Job, then: Then[Job] = None, failed: Failed = None) -> Future[Job]:
        """The job with its new version."""
        return self._at.write(lambda s: queries.jobs.edit_job(s, job), then, failed)

    def begin_sheet(self, head: SheetHead, then: Then[BenchFile] = None, failed: Failed = None) -> Future[BenchFile]:
        """With all that the bench needs of it. Job, pattern revision and meter must be kept already."""
        return self._at.write(lambda s: queries.sheets.begun(s, head), then, failed)

    def begin_on(
        self, unit: Unit, head: SheetHead, then: Then[BenchFile] = None, failed: Failed = None
    ) -> Future[BenchFile]:
        """The unit as it is to be, and a sheet begun on it, as by `edit_unit` and `begin_sheet`: both or neither."""
        return self._at.write(lambda s: (queries.units.save(s, unit), queries.sheets.begun(s, head))[1], then, failed)

    def change_conditions(
        self, head: SheetHead, then: Then[SheetHead] = None, failed: Failed = None
    ) -> Future[SheetHead]:
        """Conditions, meter and note of a sheet: the head with its new version."""
        return self._at.write(lambda s: queries.sheets.change_conditions(s, head), then, failed)

    def keep_reading(
        self, kept: KeptReading, then: Then[KeptReading] = None, failed: Failed = None
    ) -> Future[KeptReading]:
        return self._at.write(lambda s: queries.sheets.keep_reading(s, kept), then, failed)

    def keep_readings(
        self, kept: Sequence[KeptReading], then: Then[tuple[KeptReading, ...]] = None, failed: Failed = None
    ) -> Future[tuple[KeptReading, ...]]:
        """All of them or none."""
        return self._at.write(lambda s: tuple(queries.sheets.keep_reading(s, k) for k in kept), then, failed)

    def strike(self, struck: Strike, then: Then[Strike] = None, failed: Failed = None) -> Future[Strike]:
        return self._at.write(lambda s: queries.sheets.strike(s, struck), then, failed)

    def decide(self, decided: Decided, then: Then[Decided] = None, failed: Failed = None) -> Future[Decided]:
        return self._at.write(lambda s: queries.jobs.decide(s, decided), then, failed)

    def note_card(self, card: CardMade, then: Then[CardMade] = None, failed: Failed = None) -> Future[CardMade]:
        """The card with its copy number, which the store counts."""
        return self._at.write(lambda s: queries.cards.note(s, card), then, failed)

    def keep_draft(self, draft: KeptDraft, then: Then[KeptDraft] = None, failed: Failed = None) -> Future[KeptDraft]:
        """What is being worked on, with the version it has then."""
        return self._at.write(lambda s: queries.drafts.save(s, draft), then, failed)

    def drop_draft(self, draft: KeptDraft, then: Then[None] = None, failed: Failed = None) -> Future[None]:
        return self._at.write(lambda s: queries.drafts.drop(s, draft), then, failed)

    def save_spool(self, spool: Spool, then: Then[Spool] = None, failed: Failed = None) -> Future[Spool]:
        """The spool with the version it has then; a new one gets 1."""
        made_at = self._now()
        return self._at.write(lambda s: queries.shelf.save(s, spool, made_at), then, failed)

    def save_rewind(
        self, rewind: KeptRewind, then: Then[KeptRewind] = None, failed: Failed = None
    ) -> Future[KeptRewind]:
        """A rewind as far as it has come, with its new version."""
        return self._at.write(lambda s: queries.rewinds.save(s, rewind), then, failed)

    def finish_rewind(
        self, rewind: KeptRewind, draws: Sequence[SpoolDraw], then: Then[KeptRewind] = None, failed: Failed = None
    ) -> Future[KeptRewind]:
        """A rewind that is done, and what it took off the shelf, in one transaction; twice draws once."""
        return self._at.write(lambda s: queries.shelf.finish(s, rewind, draws), then, failed)

    def keep_repair(self, repair: Repair, then: Then[Repair] = None, failed: Failed = None) -> Future[Repair]:
        return self._at.write(lambda s: queries.rewinds.keep_repair(s, repair), then, failed)

    def keep_jobs(self, jobs: Sequence[WholeJob], then: Then[None] = None, failed: Failed = None) -> Future[None]:
        """Whole jobs, all of them or none. Patterns and meters must be kept already."""
        return self._at.write(lambda s: queries.whole.keep(s, jobs), then, failed)

    def save_pattern(
        self, pattern: Pattern, then: Then[PatternRevision] = None, failed: Failed = None
    ) -> Future[PatternRevision]:
        """A further revision of the pattern of that name; the latest one where nothing changed."""
        made_at = self._now()
        return self._at.write(lambda s: queries.patterns.save(s, pattern, made_at), then, failed)

    def bring_in(
        self,
        patterns: Sequence[Pattern],
        then: Then[tuple[Brought, ...]] = None,
        failed: Failed = None,
        *,
        as_revisions: bool = False,
    ) -> Future[tuple[Brought, ...]]:
        """Patterns from elsewhere, all of them or none, in their order.

        One that differs from the shop's of its name is refused (`db.trouble.PatternsThere`), or becomes a further
        revision of it.
        """
        made_at = self._now()
        return self._at.write(
            lambda s: queries.patterns.bring_in(s, patterns, made_at, as_revisions=as_revisions), then, failed
        )

    def save_meter(self, named: NamedMeter, then: Then[NamedMeter] = None, failed: Failed = None) -> Future[NamedMeter]:
        """The meter with the version it has then; a new one gets 1."""
        made_at = self._now()
        return self._at.write(lambda s: queries.meters.save(s, named, made_at), then, failed)

    def stock(
        self,
        patterns: Sequence[Pattern],
        meters: Sequence[tuple[str, Meter]],
        then: Then[None] = None,
        failed: Failed = None,
    ) -> Future[None]:
        """Adds those that the shop has none of by that name; what it has stays as the shop made it.

        Patterns of one name are its revisions, oldest first.
        """
        made_at = self._now()
        return self._at.write(lambda s: queries.stock.add_missing(s, patterns, meters, made_at), then, failed)

    # Asked

    def cards_of(
        self, sheet_id: UUID, then: Then[tuple[CardMade, ...]] = None, failed: Failed = None
    ) -> Future[tuple[CardMade, ...]]:
        """The cards of a sheet that left the program: the customer's, then the shop's, each in order."""
        return self._at.read(lambda s: queries.cards.of_sheet(s, sheet_id), then, failed)

    def find_unit(
        self, tag: str, then: Then[BenchFile | None] = None, failed: Failed = None
    ) -> Future[BenchFile | None]:
        """None where there is no such unit, or its latest job has no sheet yet (`unit_by_tag` tells which)."""
        return self._at.read(lambda s: queries.sheets.bench_file(s, tag), then, failed)

    def open_sheet(
        self, sheet_id: UUID, then: Then[BenchFile | None] = None, failed: Failed = None
    ) -> Future[BenchFile | None]:
        """One sheet with its own job, whether it is the unit's latest or not; None where it isn't kept."""
        return self._at.read(lambda s: queries.sheets.file_of(s, sheet_id), then, failed)

    def history(
        self, unit_id: UUID, then: Then[tuple[PastSheet, ...]] = None, failed: Failed = None
    ) -> Future[tuple[PastSheet, ...]]:
        """Every sheet of a unit, of all its jobs, oldest first; the one on the bench among them."""
        return self._at.read(lambda s: queries.sheets.of_unit(s, unit_id), then, failed)

    def revisions_of(
        self, pattern_id: UUID, then: Then[tuple[PatternRevision, ...]] = None, failed: Failed = None
    ) -> Future[tuple[PatternRevision, ...]]:
        """Every revision of a pattern, oldest first."""
        return self._at.read(lambda s: queries.patterns.revisions(s, pattern_id), then, failed)

    def known_good(
        self, pattern_id: UUID, then: Then[tuple[GoodSheet, ...]] = None, failed: Failed = None
    ) -> Future[tuple[GoodSheet, ...]]:
        """Sheets on which units of a pattern passed, oldest job first."""
        return self._at.read(lambda s: queries.good.of_pattern(s, pattern_id), then, failed)

    def found_so_far(
        self, but_for: UUID | None = None, then: Then[Counts] = None, failed: Failed = None
    ) -> Future[Counts]:
        """What decided jobs were found to have, by family of pattern; `but_for`: a job that is left out."""
        return self._at.read(lambda s: queries.found.counts(s, but_for), then, failed)

    def unit_by_tag(
        self, tag: str, then: Then[tuple[Unit, Job | None] | None] = None, failed: Failed = None
    ) -> Future[tuple[Unit, Job | None] | None]:
        """A unit with its latest job, whether that has a sheet or not."""
        return self._at.read(lambda s: queries.jobs.unit_and_latest(s, tag), then, failed)

    def drafts(
        self, kind: str, then: Then[tuple[KeptDraft, ...]] = None, failed: Failed = None
    ) -> Future[tuple[KeptDraft, ...]]:
        """What lies on one desk, the latest changed first."""
        return self._at.read(lambda s: queries.drafts.of_kind(s, kind), then, failed)

    def spools(self, then: Then[tuple[Spool, ...]] = None, failed: Failed = None) -> Future[tuple[Spool, ...]]:
        return self._at.read(queries.shelf.spools, then, failed)

    def rewinds_of(
        self, job_id: UUID, then: Then[tuple[KeptRewind, ...]] = None, failed: Failed = None
    ) -> Future[tuple[KeptRewind, ...]]:
        """Of one job, oldest first."""
        return self._at.read(lambda s: queries.rewinds.of_job(s, job_id), then, failed)

    def repairs_of(
        self, job_id: UUID, then: Then[tuple[Repair, ...]] = None, failed: Failed = None
    ) -> Future[tuple[Repair, ...]]:
        """Of one job, in the order they were written down."""
        return self._at.read(lambda s: queries.rewinds.repairs_of(s, job_id), then, failed)

    def recent_units(
        self, limit: int = 20, then: Then[tuple[UnitListed, ...]] = None, failed: Failed = None
    ) -> Future[tuple[UnitListed, ...]]:
        """Those with the latest jobs first."""
        return self._at.read(lambda s: queries.listed.recent(s, limit), then, failed)

    def search_units(
        self, text: str, limit: int = 20, then: Then[tuple[UnitListed, ...]] = None, failed: Failed = None
    ) -> Future[tuple[UnitListed, ...]]:
        """Those whose tag and label hold every word of `text`."""
        return self._at.read(lambda s: queries.listed.search(s, text, limit), then, failed)

    def suggest_tag(self, then: Then[str] = None, failed: Failed = None) -> Future[str]:
        """A free tag that goes on from the latest one."""
        return self._at.read(lambda s: queries.units.next_tag(s), then, failed)

    def patterns(
        self, then: Then[tuple[PatternRevision, ...]] = None, failed: Failed = None
    ) -> Future[tuple[PatternRevision, ...]]:
        """The latest revision of each."""
        return self._at.read(lambda s: queries.patterns.latest(s), then, failed)

    def meters(
        self, then: Then[tuple[NamedMeter, ...]] = None, failed: Failed = None
    ) -> Future[tuple[NamedMeter, ...]]:
        return self._at.read(lambda s: queries.meters.all_meters(s), then, failed)
