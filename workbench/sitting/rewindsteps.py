"""The steps of a rewind: laid out as the pattern has them or worked out, checked, ticked one by one."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import partial

from workbench.rewind.layout import Scheme, ToothCoil, coils_of, hold
from workbench.rewind.layoutcheck import Checked, check
from workbench.rewind.layoutplan import plan
from workbench.rewind.layoutsteps import Step
from workbench.rewind.ofpattern import names_of
from workbench.rewind.predict import meant_turns
from workbench.rewind.record import Laid
from workbench.rewindwords import (
    FAULT_WORDS,
    coil_words,
    finish_words,
    remark_words,
    reversed_words,
    sense_words,
    sentence,
    start_words,
    step_words,
)
from workbench.sitting.conditions import FormError
from workbench.sitting.rewindforms import LayoutForm, layout_form, phase_names, scheme_of
from workbench.sitting.rewinding import Rewinding
from workbench.sitting.say import Choice
from workbench.stator.errors import FieldError
from workbench.stator.layout import Facing

UNCOUNTED = "Nobody counted the poles: what is said of the layout holds under {} of them."


@dataclass(frozen=True, slots=True)
class StepView:
    """`start` and `finish` say where the wire comes from and goes; `spoken` is all of it in a sentence."""

    number: int
    coil: ToothCoil
    title: str
    phase: str
    sense: str
    turns: str
    start: str
    finish: str
    done: bool
    current: bool
    spoken: str


@dataclass(frozen=True, slots=True)
class Reckoned:
    """What is known of a layout beside its steps. `good`: nothing is wrong; `lines`: a sentence each."""

    good: bool
    lines: tuple[str, ...]


class StepsWork:
    """`looked_at`: a step's number that was chosen to be seen; None: the one that is next."""

    def __init__(self, rewinding: Rewinding) -> None:
        self._r = rewinding
        self.looked_at: int | None = None
        self._of: tuple[Scheme, tuple[ToothCoil, ...]] | None = None
        self._reckoned: Reckoned | None = None

    @property
    def laid(self) -> Laid | None:
        return self._r.body.laid

    @property
    def form(self) -> LayoutForm:
        return layout_form(self._r.pattern, self._r.winding, self.laid)

    @property
    def views(self) -> tuple[StepView, ...]:
        laid = self.laid
        if laid is None:
            return ()
        names, current = phase_names(self._r.pattern, laid, self._r.winding), laid.current
        turns = meant_turns(self._r.body)
        at = current.number if current is not None else 0
        return tuple(_view(s, names, s.number in laid.ticked, s.number == at, turns) for s in laid.steps)

    @property
    def shown(self) -> StepView | None:
        """The step that is seen large."""
        views = self.views
        looked = next((v for v in views if v.number == self.looked_at), None)
        return looked or next((v for v in views if v.current), None)

    @property
    def reckoned(self) -> Reckoned | None:
        """What the layout comes to; None until it is reckoned, which it is asked for here."""
        laid = self.laid
        if laid is None:
            return None
        key = (laid.scheme, laid.coils)
        if self._of != key:
            self._of, self._reckoned = key, None
            self._r.reckon(partial(_reckon, laid), partial(self._know, key))
        return self._reckoned

    # ---- acts

    def lay_out(self, form: LayoutForm) -> None:
        """Refused with its reason; asked about where steps are ticked that would be lost."""
        laid, r = self.laid, self._r
        try:
            scheme = scheme_of(form)
        except FormError as e:
            r.refuse(e.sentence, e.field)
            return
        if laid is not None and laid.ticked and not r.done:
            count = f"{len(laid.ticked)} step{'s are' if len(laid.ticked) > 1 else ' is'}"
            r.ask(
                f"{count} ticked, and would not be with another layout.",
                Choice("Lay it out anew", lambda: self._lay_out(form, scheme)),
                Choice("Keep it as it is", lambda: r.tell("The layout stays as it was.")),
            )
            return
        self._lay_out(form, scheme)

    def tick(self) -> None:
        """The step that is seen; then the next."""
        laid, shown = self.laid, self.shown
        if laid is None or shown is None or shown.done:
            return
        if self._r.change(replace(self._r.body, laid=replace(laid, ticked=laid.ticked | {shown.number}))):
            self.looked_at = None
            self._r.on_change()

    def take_back(self) -> None:
        """The tick of the step that is seen; of the latest one that has one, where that has none."""
        laid, shown = self.laid, self.shown
        if laid is None or not laid.ticked:
            self._r.tell("No step is ticked that could be taken back.")
            return
        number = shown.number if shown is not None and shown.done else max(laid.ticked)
        if self._r.change(replace(self._r.body, laid=replace(laid, ticked=laid.ticked - {number}))):
            self.looked_at = number
            self._r.on_change()

    def look_at(self, number: int | None) -> None:
        if number != self.looked_at:
            self.looked_at = number
            self._r.on_change()

    # ---- inside

    def _lay_out(self, form: LayoutForm, scheme: Scheme) -> None:
        r = self._r
        record = r.record.id

        def then(made: tuple[ToothCoil, ...] | FieldError) -> None:
            if r.record.id != record:
                return
            if isinstance(made, FieldError):
                r.refuse(sentence(made.sentence), made.field.partition("[")[0])
                return
            self.looked_at = None
            r.change(replace(r.body, laid=Laid(scheme, form.facing, made, form.as_found)))

        pattern, names = r.pattern, names_of(r.pattern, r.winding)

        def work() -> tuple[ToothCoil, ...] | FieldError:
            try:
                if not form.as_found:
                    return plan(scheme).coils
                if pattern.layout is None:
                    raise FieldError("as_found", "the pattern has no coil layout; work the senses out instead")
                coils = in_order(coils_of(pattern.layout, names))
                hold(scheme, coils)
            except FieldError as e:
                return e
            return coils

        r.reckon(work, then)

    def _know(self, key: tuple[Scheme, tuple[ToothCoil, ...]], reckoned: Reckoned) -> None:
        if key == self._of:
            self._reckoned = reckoned
            self._r.on_change()


def steps_done(r: Rewinding) -> str:
    """How far the steps are."""
    laid = r.body.laid
    return "not laid out" if laid is None else f"{len(laid.ticked)} of {len(laid.coils)} wound"


def in_order(coils: Sequence[ToothCoil]) -> tuple[ToothCoil, ...]:
    """Phase by phase, each once around."""
    return tuple(sorted(coils, key=lambda c: (c.phase, c.path, c.tooth, c.place)))


def _view(s: Step, names: Sequence[str], done: bool, current: bool, turns: int | None) -> StepView:
    state = "; wound" if done else "; next" if current else ""
    title = coil_words(s.coil)
    many = f"{turns} turns" if turns is not None else ""
    return StepView(
        s.number, s.coil, f"{title[:1].upper()}{title[1:]}", names[s.coil.phase - 1], sense_words(s.coil.sense), many,
        start_words(s.start), finish_words(s.finish), done, current, step_words(s, turns).rstrip(".") + state,
    )  # fmt: skip


def _reckon(laid: Laid) -> Reckoned:
    if laid.facing is Facing.STRAIGHT:
        return Reckoned(True, ("A straight core has no ring of poles to hold the senses against.",))
    checked = check(laid.scheme, laid.coils)
    if not checked:
        return Reckoned(False, ("No pole count fits these senses: look at every coil again, and count the poles.",))
    first = checked[0]
    lines = [FAULT_WORDS[f] for f in first.faults]
    if reversed_words(first):
        lines.insert(0, reversed_words(first))
    lines += [remark_words(x) for x in first.remarks]
    if laid.scheme.poles is None:
        lines.append(UNCOUNTED.format(_or([c.poles for c in checked[:4]])))
    return Reckoned(first.good, (_factor(first), *lines))


def _factor(c: Checked) -> str:
    factor = min(p.factor for p in c.electrical.phases)
    said = f"Winding factor {factor:.3f} under {c.poles} poles"
    if c.electrical.balance is None:
        return f"{said}."
    return f"{said}; the phases {'balance' if c.electrical.balanced else 'do not balance'}."


def _or(numbers: Sequence[int]) -> str:
    words = [str(n) for n in numbers]
    return " or ".join(filter(None, [", ".join(words[:-1]), words[-1]]))
