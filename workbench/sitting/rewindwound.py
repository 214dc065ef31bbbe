"""A rewind as wound: steps ticked in order, each coil's turns, ohms and sense, the run; what is still lacking."""

from dataclasses import replace
from uuid import UUID

from workbench.rewind.predict import meant_turns
from workbench.rewind.record import Body
from workbench.rewind.wound import AskedCoil
from workbench.rewind.woundrecord import (
    LONGEST_NOTE,
    ORDER,
    Done,
    SenseSeen,
    Spot,
    Way,
    WoundStep,
    WoundWire,
    WoundWork,
)
from workbench.sitting.conditions import FormError
from workbench.sitting.rewinding import Rewinding
from workbench.sitting.rewindwoundform import (
    CoilForm,
    StepForm,
    bake_of,
    coil_form,
    coil_of,
    insulation_of,
    lot_of,
    run_of,
    step_form,
    used_meter,
    wire_of_chosen,
)
from workbench.sitting.rewindwoundviews import (
    RUN,
    CoilLine,
    Seen,
    StepKey,
    StepLine,
    before_the_dip,
    in_order,
    seen_of,
    step_lines,
)
from workbench.sitting.say import Choice
from workbench.stator.layout import Layout
from workbench.words import ohms_words
from workbench.woundwords import STEP_WORDS


class WoundDesk:
    """`spot` and `step` are those in hand: the ones that were chosen, else the first coil and the next step."""

    def __init__(self, rewinding: Rewinding) -> None:
        self._r = rewinding
        self._chosen: tuple[UUID, Spot] | None = None  # of which rewind, and what
        self._looked: tuple[UUID, StepKey] | None = None
        self._known: tuple[Body, str, Seen] | None = None

    # ---- what stands

    @property
    def work(self) -> WoundWork:
        return self._r.body.wound or WoundWork()

    @property
    def asked(self) -> tuple[AskedCoil, ...]:
        return self._all.asked

    @property
    def spot(self) -> Spot:
        """The coil in hand; the first of the winding until one is chosen."""
        spots = [a.spot for a in self.asked]
        chosen = self._chosen
        if chosen is not None and chosen[0] == self._r.record.id and chosen[1] in spots:
            return chosen[1]
        return spots[0]

    @property
    def step(self) -> StepKey:
        looked = self._looked
        if looked is not None and looked[0] == self._r.record.id:
            return looked[1]
        return self.work.next_step or RUN

    @property
    def steps(self) -> tuple[StepLine, ...]:
        return step_lines(self.work)

    @property
    def shown_step(self) -> StepLine:
        return next(x for x in self.steps if x.key == self.step)

    @property
    def step_form(self) -> StepForm:
        note = next((d.note for d in self.work.done if d.step == self.step), "")
        return step_form(self.work, note, self._celsius)

    @property
    def coils(self) -> tuple[CoilLine, ...]:
        return self._all.coils

    @property
    def shown_coil(self) -> CoilLine:
        spot = self.spot
        return next(c for c in self.coils if c.spot == spot)

    @property
    def coil_form(self) -> CoilForm:
        return coil_form(self.work.coil(self.spot), self._wire_in_hand, self._celsius)

    @property
    def turns_meant(self) -> str:
        """Of a coil, as planned; nothing where nobody said."""
        turns = meant_turns(self._r.body)
        return "" if turns is None else str(turns)

    @property
    def meter(self) -> str:
        """On which coils are read, and what its leads are."""
        used = used_meter(self._r.head)
        if used is None:
            return ""
        return f"{used.name}, leads {ohms_words(used.lead_ohms)} taken off" if used.lead_ohms else used.name

    @property
    def apart(self) -> tuple[str, ...]:
        """A sentence for each coil that differs from its fellows."""
        return self._all.apart

    @property
    def sense_told(self) -> tuple[bool, str]:
        """Whether all is well so far, and how far the senses are."""
        return self._all.sense

    @property
    def sketch(self) -> Layout | None:
        """The core with its coils, each named by its place in `asked`; None where the core isn't known."""
        return self._all.sketch

    @property
    def lacks(self) -> str:
        return self._all.lacks

    # ---- acts

    def look_at(self, step: StepKey) -> None:
        if step != self.step:
            self._looked = self._r.record.id, step
            self._r.on_change()

    def choose(self, spot: Spot) -> None:
        if spot != self.spot:
            self._chosen = self._r.record.id, spot
            self._r.on_change()

    def tick(self, form: StepForm) -> None:
        """The step that is seen is done, with its note and figures; one that is done takes what is typed now."""
        work, key = self.work, self.step
        if isinstance(key, WoundStep) and key not in ORDER[: len(work.done) + 1]:
            self._r.refuse(f"First comes: {STEP_WORDS[work.next_step or key].lower()}. The steps are ticked in order.")
            return
        try:
            noted = self._noted(work, key, form)
        except FormError as e:
            self._r.refuse(e.sentence, e.field)
            return
        again = isinstance(key, WoundStep) and any(d.step == key for d in work.done)
        troubles = before_the_dip(self._all, work) if key is WoundStep.VARNISH and not again else ""
        if troubles:
            self._r.ask(
                f"Once it is dipped, no coil can be turned about or wound anew. {troubles}",
                Choice("Not yet", lambda: self._r.tell("The dip waits.")),
                Choice("Dip it all the same", lambda: self._keep(noted)),
            )
            return
        self._keep(noted)

    def take_back(self) -> None:
        """The tick of the last step; what was noted of it beside the tick stays. Of the run, where that is seen."""
        work = self.work
        if self.step == RUN and work.run is not None:
            self._keep(replace(work, run=None))
        elif work.done:
            self._keep(replace(work, done=work.done[:-1]))
        else:
            self._r.tell("No step is ticked that could be taken back.")

    def enter(self, form: CoilForm) -> None:
        """Notes the coil in hand, then goes on to the next. All left empty, its note is taken away."""
        spot, work = self.spot, self.work
        try:
            coil = coil_of(spot, form, self._taken, self._r.head, work)
        except FormError as e:
            self._r.refuse(e.sentence, e.field)
            return
        rest = tuple(c for c in work.coils if c.spot != spot)
        noted = (coil,) if coil.turns is not None or coil.reading is not None else ()
        if self._change(replace(work, coils=in_order(self.asked, (*rest, *noted)))):
            self._go_on()

    def see_sense(self, way: Way | None) -> None:
        """What was seen at the coil in hand, then on to the next; None: not tested after all."""
        spot, work = self.spot, self.work
        if way is None and work.way(spot) is None:
            return
        rest = tuple(s for s in work.sense if s.spot != spot)
        seen = (SenseSeen(spot, way),) if way is not None else ()
        if self._change(replace(work, sense=in_order(self.asked, (*rest, *seen)))) and way is not None:
            self._go_on()

    def move(self, by: int) -> None:
        """To the coil so many further on, round to the first."""
        spots = [a.spot for a in self.asked]
        self.choose(spots[(spots.index(self.spot) + by) % len(spots)])

    def finish(self) -> None:
        """The rewind is done; asked about where something is lacking, or where nothing comes off the shelf."""
        r = self._r
        body = r.body
        nothing_taken = body.wire is None or body.wire.chosen is None
        typed = any(c.wire is not None and c.wire.typed for c in self.work.coils)
        said = [self.lacks] if self.lacks else []
        if nothing_taken and body.wound is not None:
            said.append("No wire was taken on the page Wire, so nothing comes off the shelf: weigh the spool there.")
        elif typed:
            said.append("Some wire was typed here: only what was taken on the page Wire comes off the shelf.")
        if not said or r.done or body.wound is None:
            r.finish()
            return
        draws = () if nothing_taken else None
        r.ask(
            " ".join(said),
            Choice("Not yet", lambda: r.tell("The rewind stays open.")),
            Choice("Done all the same", lambda: r.finish(draws)),
        )

    # ---- inside

    @property
    def _taken(self) -> WoundWire | None:
        wire = self._r.body.wire
        return wire_of_chosen(wire.chosen if wire is not None else None)

    @property
    def _wire_in_hand(self) -> WoundWire | None:
        """Of the coil noted before this one, else what was taken off the shelf."""
        spots = [a.spot for a in self.asked]
        before = set(spots[: spots.index(self.spot)])
        wound = [c.wire for c in self.work.coils if c.wire is not None and c.spot in before]
        return wound[-1] if wound else self._taken

    @property
    def _celsius(self) -> float | None:
        read = [c.reading for c in self.work.coils if c.reading is not None]
        if read:
            return read[-1].celsius
        return self._r.head.conditions.celsius if self._r.head is not None else None

    @property
    def _all(self) -> Seen:
        """Worked out once for what is written down."""
        r = self._r
        known = self._known
        if known is None or known[0] is not r.body or known[1] != r.winding:
            known = self._known = r.body, r.winding, seen_of(r.pattern, r.winding, r.body)
        return known[2]

    def _noted(self, work: WoundWork, key: StepKey, form: StepForm) -> WoundWork:
        """With the tick and what belongs to it. Raises FormError."""
        if key == RUN:
            at = work.run.at if work.run is not None else self._r.moment()
            return replace(work, run=run_of(form, at))
        assert isinstance(key, WoundStep)
        if key is WoundStep.INSULATION:
            work = replace(work, insulation=insulation_of(form))
        elif key is WoundStep.VARNISH:
            work = replace(work, varnish_lot=lot_of(form))
        elif key is WoundStep.BAKE:
            work = replace(work, bake=bake_of(form))
        before = next((d for d in work.done if d.step == key), None)
        note = form.note.strip()
        if len(note) > LONGEST_NOTE:
            raise FormError("note", f"A note has at most {LONGEST_NOTE} characters: say it shorter.")
        if before is not None:
            return replace(work, done=tuple(replace(d, note=note) if d is before else d for d in work.done))
        return replace(work, done=(*work.done, Done(key, self._r.moment(), note)))

    def _keep(self, work: WoundWork) -> None:
        """Then the next step is in hand."""
        before, self._looked = self._looked, None
        if not self._change(work):
            self._looked = before

    def _change(self, work: WoundWork) -> bool:
        return self._r.change(replace(self._r.body, wound=work))

    def _go_on(self) -> None:
        spots = [a.spot for a in self.asked]
        at = spots.index(self.spot)
        self.choose(spots[min(at + 1, len(spots) - 1)])


def wound_done(r: Rewinding) -> str:
    """How far it is."""
    work = r.body.wound
    return "not begun" if work is None else f"{len(work.done)} of {len(ORDER)} steps"
