"""The counter: find a unit by its tag or what it is called by, or book a new one in."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from enum import Enum
from typing import Any, Protocol
from uuid import UUID

from workbench.records import (
    USUAL_CELSIUS_UNCERTAINTY,
    BenchFile,
    Job,
    KeptDraft,
    NamedMeter,
    PatternRevision,
    SheetHead,
    TemperatureSource,
    Unit,
    UnitListed,
    new_id,
    now,
)
from workbench.sitting.carried import Carried
from workbench.sitting.keeper import Failed, Then
from workbench.sitting.otherpattern import moved_words
from workbench.sitting.say import Said, Tone
from workbench.sitting.scanned import look_up, scan
from workbench.sitting.whichpart import KIND
from workbench.stator.sheet import Conditions

LONGEST_TAG = 60
NO_METER = "The shop has no meter yet, and a sheet needs one. Nothing was begun: add a meter first."


class Records(Protocol):
    """What the counter asks of the shop's records."""

    def book(self, unit: Unit, job: Job, then: Any = None, failed: Failed | None = None) -> Any: ...

    def begin_sheet(self, head: SheetHead, then: Any = None, failed: Failed | None = None) -> Any: ...

    def begin_on(self, unit: Unit, head: SheetHead, then: Any = None, failed: Failed | None = None) -> Any: ...

    def find_unit(self, tag: str, then: Any = None, failed: Failed | None = None) -> Any: ...

    def unit_by_tag(self, tag: str, then: Any = None, failed: Failed | None = None) -> Any: ...

    def recent_units(self, limit: int = 20, then: Any = None, failed: Failed | None = None) -> Any: ...

    def search_units(self, text: str, limit: int = 20, then: Any = None, failed: Failed | None = None) -> Any: ...

    def suggest_tag(self, then: Any = None, failed: Failed | None = None) -> Any: ...

    def patterns(self, then: Any = None, failed: Failed | None = None) -> Any: ...

    def meters(self, then: Any = None, failed: Failed | None = None) -> Any: ...

    def open_sheet(self, sheet_id: UUID, then: Any = None, failed: Failed | None = None) -> Any: ...

    def cards_of(self, sheet_id: UUID, then: Any = None, failed: Failed | None = None) -> Any: ...

    def drafts(self, kind: str, then: Any = None, failed: Failed | None = None) -> Any: ...


class Place(Enum):
    """What a sentence is about: the field to find by, one of those to book by, or the booking as such."""

    FIND = "find"
    TAG = "tag"
    LABEL = "label"
    PATTERN = "pattern"
    BOOK = "book"


@dataclass(frozen=True, slots=True)
class Booking:
    """What is asked of a part that comes over the counter."""

    tag: str
    label: str
    complaint: str
    revision: PatternRevision | None
    seen: str = ""


class Counter:
    """Tells `on_change` after whatever changes it, and `on_bench` when a unit is to go to the bench."""

    def __init__(self, records: Records) -> None:
        self._records = records
        self.units: tuple[UnitListed, ...] = ()
        self.patterns: tuple[PatternRevision, ...] = ()
        self.meters: tuple[NamedMeter, ...] = ()
        self.suggested = ""
        self.last_meter: UUID | None = None
        self.carried: Carried | None = None  # read of a part without papers, before it is booked in
        self.begun: tuple[KeptDraft, ...] = ()  # parts without papers
        self.text = ""
        self._listed = False  # once it is known which units there are
        self._beginning = False  # a new sheet of the unit on the bench is on its way
        self.said: Said | None = None
        self.place = Place.BOOK  # what that is about
        self.on_change: Callable[[], None] = lambda: None
        self.on_bench: Callable[[BenchFile], None] = lambda file: None
        self.on_tag: Callable[[Unit], None] = lambda unit: None  # it has just gone to the bench and is to be tagged
        self.on_remark: Callable[[Unit, str], None] = lambda unit, sentence: None  # of what has just gone to the bench

    def refresh(self) -> None:
        """Looks everything up anew."""
        self._records.patterns(self._set("patterns"), self._failed)
        self._records.meters(self._set("meters"), self._failed)
        self._records.suggest_tag(self._set("suggested"), self._failed)
        self.search(self.text)
        self._records.drafts(KIND, self._set("begun"), self._failed)

    def search(self, text: str) -> None:
        """Lists the units that fit; without a text, those last in the shop."""
        self.text = text

        def then(units: tuple[UnitListed, ...]) -> None:
            if self.text == text:  # an answer that was overtaken by more typing is dropped
                self.units, self._listed = units, True
                self.on_change()

        if text.strip():
            self._records.search_units(text, 50, then, self._failed)
        else:
            self._records.recent_units(50, then, self._failed)

    @property
    def nothing(self) -> str:
        """What is said where a list of units would stand; empty while there is one, or none is known yet."""
        if self.units or not self._listed:
            return ""
        if self.text.strip():
            return "No part is called that."
        return "No part is in the shop yet. Book the first one in: it goes to the bench with a sheet of its own."

    @property
    def without_papers(self) -> str:
        """How many parts without papers are begun, as a sentence; empty where none is."""
        n = len(self.begun)
        if n == 0:
            return ""
        return f"{n} part{'s' if n > 1 else ''} without papers {'are' if n > 1 else 'is'} begun: what was read is kept."

    def changed(self, place: Place) -> None:
        """A hand went on with what was refused there: it need not be said any longer."""
        if self.said is not None and self.said.tone is Tone.REFUSES and self.place is place:
            self.said = None
            self.on_change()

    def find(self, tag: str) -> None:
        """A unit by its tag or by the square code of one of its cards, to the bench."""
        tag = tag.strip()
        if not tag:
            self.refuse("Type or scan a tag, or choose a unit from the list.", Place.FIND)
            return
        card = scan(tag)
        if isinstance(card, str):
            self.refuse(card, Place.FIND)
        elif card is not None:
            look_up(card, self._records, self._scanned, self._failed)
        else:
            self._find(tag)

    def _scanned(self, of: BenchFile | None, worth: str) -> None:
        if of is None:
            self.refuse(worth, Place.FIND)
        else:
            self._find(of.unit.tag, of.sheet.id, worth)

    def _find(self, tag: str, scanned: UUID | None = None, worth: str = "") -> None:
        """`worth`: what is to be said of the card of the sheet `scanned`, once the unit is on the bench."""

        def then(file: BenchFile | None) -> None:
            if file is not None:
                self.said = None
                self.on_bench(file)
                if worth:
                    later = "" if file.sheet.id == scanned else " It is of an earlier sheet than this one."
                    self.on_remark(file.unit, worth + later)
            else:
                self._records.unit_by_tag(tag, known, self._failed)

        def known(found: tuple[Unit, Job | None] | None) -> None:
            if found is None:
                like = "choose one from the list, " if self.units and self.text.strip() == tag else ""
                told = f"{like}look at the tag again, or book the part in."
                self.refuse(f"No unit has the tag “{tag}”: {told}", Place.FIND)
            else:
                self._resume(*found)

        self._records.find_unit(tag, then, self._failed)

    def book(self, form: Booking, *, tag_it: bool = False) -> None:
        """A new unit with its tag, its job and its first sheet; then to the bench. `tag_it`: and its tag printed."""
        tag = form.tag.strip()
        trouble = self._why_not(tag, form)
        if trouble:
            self.refuse(*trouble)
            return

        def known(found: tuple[Unit, Job | None] | None) -> None:
            if found is not None:
                self.refuse(
                    f"The tag “{tag}” is on another unit already ({found[0].label}). Choose a free one.", Place.TAG
                )
                return
            assert form.revision is not None
            unit = Unit(new_id(), tag, form.label.strip(), form.revision.pattern_id, now())
            carried = self.carried if self.carried is not None and self.carried.fits(form.revision) else None
            self._open_job(
                unit, form.complaint.strip(), form.revision, form.seen.strip(), tag_it=tag_it, carried=carried
            )

        self._records.unit_by_tag(tag, known, self._failed)

    def carry(self, carried: Carried | None) -> None:
        """What was read of a part without papers, to come onto its sheet once it is booked in; None: it stays."""
        self.carried = carried
        self.said = None
        self.on_change()

    def again(self, file: BenchFile, complaint: str, failed: Failed | None = None) -> None:
        """The unit came back: a new job and a new sheet on the pattern as it is now. `failed` hears why it was not."""
        if not self.meters:
            (failed or self._failed)(Exception(NO_METER))
            return
        revision = next((r for r in self.patterns if r.pattern_id == file.revision.pattern_id), file.revision)
        self._once(failed, lambda told: self._open_job(file.unit, complaint.strip(), revision, failed=told))

    def new_sheet(self, file: BenchFile, failed: Failed | None = None) -> None:
        """Another sitting within the same job, under the same meter and leads. `failed` hears why there is none."""
        head = _head(file.job, file.revision, head=file.sheet)
        self._once(failed, lambda told: self._begin(head, failed=told))

    def move(
        self, file: BenchFile, to: PatternRevision, failed: Failed | None = None, *,
        hindered: Callable[[], str] = lambda: "",
    ) -> None:  # fmt: skip
        """The unit is of another pattern, or of a newer revision of its own: both at once, the unit and a new sheet.

        Within the same job, under the same meter and leads. No reading moves: pins are other pins. `hindered` is asked
        once all that was on its way to the disk has come through or not; `failed` hears what keeps it from being done.
        """
        head = _head(file.job, to, head=file.sheet)

        def act(told: Failed) -> None:
            def known(found: tuple[Unit, Job | None] | None) -> None:
                if found is None or hindered():
                    told(Exception(hindered() or f"{file.unit.tag} is not in the shop's records: nothing was begun."))
                    return
                unit = replace(found[0], pattern_id=to.pattern_id)  # as it is kept now
                self._records.begin_on(unit, head, begun, told)

            self._records.unit_by_tag(file.unit.tag, known, told)

        def begun(moved: BenchFile) -> None:
            self._arrive(moved, moved_words(file.revision, to))

        self._once(failed, act)

    # ---- inside

    def _once(self, failed: Failed | None, act: Callable[[Failed], None]) -> None:
        """A second press while the first is still on its way to the disk begins nothing."""
        if self._beginning:
            return
        self._beginning = True

        def told(e: Exception) -> None:
            self._beginning = False
            (failed or self._failed)(e)

        act(told)

    def usual_meter(self) -> NamedMeter:
        """The one the last sheet was begun on; before that the coarsest, which promises least."""
        last = next((m for m in self.meters if m.id == self.last_meter), None)
        return last or max(self.meters, key=lambda m: m.meter.ranges[0].resolution_ohms)

    def _why_not(self, tag: str, form: Booking) -> tuple[str, Place] | None:
        if not tag:
            return "A part needs a tag before it leaves the counter: type one, or take the one suggested.", Place.TAG
        if len(tag) > LONGEST_TAG:
            return f"A tag has at most {LONGEST_TAG} characters, so that it can be printed and scanned.", Place.TAG
        if not form.label.strip():
            return "Say what the part came off, or whose it is, so that it can be told from the next one.", Place.LABEL
        if form.revision is None:
            return "Choose the pattern that the part should be read against.", Place.PATTERN
        if not self.meters:
            return NO_METER, Place.BOOK
        return None

    def _resume(self, unit: Unit, job: Job | None) -> None:
        """A unit whose booking was cut off before its sheet was begun."""
        revision = next((r for r in self.patterns if r.pattern_id == unit.pattern_id), None)
        if revision is None:
            self.refuse(f"{unit.tag} is known, but not by which pattern it should be read.", Place.FIND)
        elif not self.meters:
            self.refuse(NO_METER)
        elif job is None:
            self._open_job(unit, "", revision)
        else:
            self._begin(_head(job, revision, meter=self.usual_meter()))

    def _open_job(
        self, unit: Unit, complaint: str, revision: PatternRevision, seen: str = "", *, tag_it: bool = False,
        carried: Carried | None = None, failed: Failed | None = None,
    ) -> None:  # fmt: skip
        job = Job(new_id(), unit.id, 0, complaint, now(), seen)

        def booked(kept: tuple[Unit, Job]) -> None:
            head = carried.head(kept[1], revision) if carried else _head(kept[1], revision, meter=self.usual_meter())
            self._begin(head, tag_it=tag_it, carried=carried, failed=failed)

        self._records.book(unit, job, booked, failed or self._failed)

    def _begin(
        self, head: SheetHead, *, tag_it: bool = False, carried: Carried | None = None, failed: Failed | None = None
    ) -> None:
        def begun(file: BenchFile) -> None:
            self.last_meter = file.sheet.meter_id
            if carried is None:
                arrive(file)
                return
            self.carried = None
            carried.onto(file, arrive)

        def arrive(file: BenchFile, remark: str = "") -> None:
            self._arrive(file, remark)
            if tag_it:
                self.on_tag(file.unit)

        self._records.begin_sheet(head, begun, failed or self._failed)

    def _arrive(self, file: BenchFile, remark: str) -> None:
        self.said = None
        self._beginning = False
        self.on_bench(file)
        if remark:
            self.on_remark(file.unit, remark)

    def _set(self, name: str) -> Then:
        def then(value: Any) -> None:
            setattr(self, name, value)
            self.on_change()

        return then

    def refuse(self, sentence: str, place: Place = Place.BOOK) -> None:
        self.said = Said(Tone.REFUSES, sentence)
        self.place = place
        self.on_change()

    def _failed(self, e: Exception) -> None:
        self.refuse(str(e))


def _head(
    job: Job, revision: PatternRevision, *, meter: NamedMeter | None = None, head: SheetHead | None = None
) -> SheetHead:
    """A fresh sheet: on the shop's first meter at room temperature, or as an earlier sheet was."""
    if head is not None:
        return SheetHead(
            new_id(), job.id, revision.id, head.meter_id, head.meter_name, head.meter,
            head.conditions, head.source, head.meter_zeroed, None, now(),
            celsius_assumed=head.celsius_assumed, leads_assumed=head.leads_assumed,
        )  # fmt: skip
    assert meter is not None
    return room_head(job.id, revision.id, meter)


def room_head(job: UUID, revision: UUID, meter: NamedMeter) -> SheetHead:
    """On this meter, in a part that is as warm as the room: all of it assumed, until it is measured."""
    source = TemperatureSource.ROOM
    conditions = Conditions(20.0, USUAL_CELSIUS_UNCERTAINTY[source], 0.2, 0.05)
    return SheetHead(
        new_id(), job, revision, meter.id, meter.name, meter.meter, conditions, source, False, None, now(),
        celsius_assumed=True, leads_assumed=True,
    )  # fmt: skip
