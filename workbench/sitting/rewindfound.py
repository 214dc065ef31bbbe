"""A winding as it was found: noted, what nobody counted worked out of the rest, and handed on to the page Wire."""

from dataclasses import dataclass, replace
from functools import partial

from workbench.foundwords import (
    BUILD_UNKNOWN,
    BY_SIDES,
    BY_TAG,
    IN_DOUBT,
    KNOWN_BY,
    MEASURED,
    NO_BUILD,
    NOTE_WORDS,
    QUANTITY_WORDS,
    UNITS,
    USUAL,
    WORKED_OUT,
    any_of,
    coil_count_lines,
    contradiction_words,
    give_words,
    sense_lines,
)
from workbench.rewind.found import AsFound
from workbench.rewind.inferred import GaugeFound, Inferred, Quantity, infer
from workbench.rewind.ofpattern import alike, coils_of_winding
from workbench.rewind.record import WHOLE, WireWork
from workbench.rewind.shelf import AsWas
from workbench.rewind.strip import Figure, StripRecord
from workbench.rewindwords import BUILD_WORDS, wire_words
from workbench.sitting.conditions import FormError
from workbench.sitting.foundform import BEFORE_THE_KNIFE, LOOKED_FOR, FoundForm, found_form, found_of, noted
from workbench.sitting.foundtowire import Handed, handed
from workbench.sitting.rewinding import Rewinding
from workbench.sitting.say import Choice, Said, Tone
from workbench.stator.errors import FieldError

MOST_GAUGES, LEAST_SHARE = 3, 0.005
BEFORE_CUT = "Before it is cut, note {}: it can't be had any more afterwards."
NOT_SEEN = "Not noted of what went with the old wire: {}."
FIRST = "Note what was found first."
TAKEN_FALLS = "The wire that was taken is none any more then."
OF_ONE_PHASE = "All three are wound: coils, ohms and copper are of one phase here."
# by which of its figures a quantity may be recorded without being counted or measured itself
_ITS_FIGURES = {
    Quantity.TURNS: (Figure.TURNS,), Quantity.BARE: (Figure.BARE,), Quantity.OVERALL: (Figure.OVERALL,),
    Quantity.STRANDS: (Figure.STRANDS,), Quantity.MEAN_TURN: (Figure.MEAN_TURN,), Quantity.OHMS: (Figure.OHMS,),
    Quantity.GRAMS: (Figure.GRAMS,), Quantity.LENGTH: (),
}  # fmt: skip

_OF_WHICH = {f: q for q, figures in _ITS_FIGURES.items() for f in figures} | {
    Figure.GAUGE: Quantity.BARE, Figure.GEOMETRY: Quantity.MEAN_TURN,
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class QuantityView:
    """`how` it is known; `value` with its ±, twice the standard uncertainty."""

    quantity: Quantity
    name: str
    value: str
    how: str
    spoken: str


@dataclass(frozen=True, slots=True)
class GaugeView:
    """A size the wire may be of; `builds` that its diameter over enamel goes with; `share` among its table's sizes."""

    name: str
    builds: str
    share: str
    spoken: str


@dataclass(frozen=True, slots=True)
class FoundView:
    """What the figures come to together. `wrong`: they contradict each other, as the first of `lines` says."""

    quantities: tuple[QuantityView, ...] = ()
    gauges: tuple[GaugeView, ...] = ()
    lines: tuple[str, ...] = ()
    wrong: bool = False


class FoundWork:
    def __init__(self, rewinding: Rewinding) -> None:
        self._r = rewinding
        self._of: StripRecord | None = None
        self._inferred: Inferred | None = None

    @property
    def found(self) -> AsFound | None:
        return self._r.body.found

    @property
    def form(self) -> FoundForm:
        return found_form(self._r.pattern, self._r.winding, self.found)

    @property
    def inferred(self) -> Inferred | None:
        """None until something is noted, and while it is worked out, which is asked for here."""
        if self.found is None:
            return None
        record = self.found.record
        if record != self._of:
            self._of, self._inferred = record, None
            self._r.reckon(partial(infer, record), partial(self._know, record))
        return self._inferred

    @property
    def view(self) -> FoundView | None:
        """None where `inferred` is."""
        found, inferred = self.found, self.inferred
        if found is None or inferred is None:
            return None
        lines = (*contradiction_words(inferred), *(NOTE_WORDS[n] for n in inferred.notes))
        quantities = tuple(_quantity(q, inferred, found.record) for q in Quantity if q in inferred.worths)
        return FoundView(quantities, gauge_views(inferred), lines, inferred.contradicts)

    @property
    def seen(self) -> tuple[str, ...]:
        """What else there is to say, a sentence each: the senses held against the pattern's, what isn't noted yet."""
        found = self.found
        if found is None:
            return (OF_ONE_PHASE,) if self._r.winding == WHOLE else ()
        count = coil_count_lines(len(found.record.turns), found.record.coils, self._coils())
        lines = [*sense_lines(found.senses, self._senses())]
        have, missing = noted(found)
        first = [n for n in list(LOOKED_FOR)[:BEFORE_THE_KNIFE] if n in missing]
        later = [n for n in missing if n not in first]
        cut = any(n in have for n in ("turns", "the mean turn", "the copper's mass"))
        if first:
            lines.append(NOT_SEEN.format(any_of(first)) if cut else BEFORE_CUT.format(any_of(first)))
        if later:
            lines.append(f"Not measured: {any_of(later)}. It may stay so.")
        lines += count
        if self._r.winding == WHOLE:
            lines.append(OF_ONE_PHASE)
        if found.record != StripRecord(coils=found.record.coils):
            lines.append(USUAL)
        return tuple(lines)

    # ---- acts

    def note(self, form: FoundForm) -> None:
        """What is typed is written down; refused with its reason."""
        layout = self._r.pattern.layout
        try:
            found = found_of(form, None if layout is None else layout.teeth)
        except FormError as e:
            self._r.refuse(e.sentence, e.field)
            return
        if found is None and self.found is None:
            self._r.tell("Nothing is typed yet. Whatever is known may be noted, and the rest left out.")
            return
        self._r.change(replace(self._r.body, found=found))

    def take_to_wire(self, form: FoundForm) -> None:
        """Puts what is known on the page Wire; asked about where that would take the place of something there.

        `form`: as it stands typed, which must be noted first.
        """
        r, found, inferred = self._r, self.found, self.inferred
        if form != self.form:
            r.refuse("Something is typed here that is not noted yet: note it first.")
        elif found is None or inferred is None:
            r.refuse(FIRST if found is None else "The figures are still being worked out: once more in a moment.")
        elif inferred.contradicts and inferred.liar is None:
            r.refuse("The figures contradict each other, and which is wrong can't be told: take them again first.")
        else:
            before = r.body.wire.as_was if r.body.wire is not None else None
            self._hand(handed(found.record, inferred, before), before)

    # ---- inside

    def _hand(self, h: Handed, before: AsWas | None) -> None:
        r = self._r
        if h.as_was is None:
            r.refuse(f"Not known well enough for the page Wire: {any_of(h.lacking)}. Nothing was put there.")
            return
        if before == h.as_was and r.record.id not in r.unnoted:
            r.tell(f"The page Wire has it so already: {_as_was(before)}.")
            return
        was, told = h.as_was, _told(h)
        if before is None and r.record.id not in r.unnoted:
            self._put(was, told)
            return
        stands = f"has {_as_was(before)}" if before is not None else ""
        typed = "has something typed that is not noted yet" if r.record.id in r.unnoted else ""
        takes = f" {TAKEN_FALLS}" if r.body.wire is not None and r.body.wire.chosen is not None else ""
        r.ask(
            f"The page Wire {any_of([x for x in (stands, typed) if x])}. Put {_as_was(was)} there?{takes}",
            Choice("Put it there", lambda: self._put(was, told)),
            Choice("Leave it", lambda: r.tell("The page Wire stays as it was.")),
        )

    def _put(self, was: AsWas, told: str) -> None:
        r = self._r
        before = r.body.wire
        kept = before.chosen if before is not None and before.as_was == was else None
        wire = WireWork(was) if before is None else replace(before, as_was=was, chosen=kept)
        r.unnoted.discard(r.record.id)
        r.change(replace(r.body, wire=wire), Said(Tone.TELLS, told))

    def _know(self, record: StripRecord, inferred: Inferred) -> None:
        if record == self._of:
            self._inferred = inferred
            self._r.on_change()

    def _coils(self) -> int | None:
        """As many as the pattern has of it, of one phase; None where it doesn't tell."""
        try:
            return alike(self._r.pattern, self._r.winding) or None
        except FieldError:
            return None

    def _senses(self) -> tuple[tuple[int, int], ...]:
        """The pattern's own of this winding, by tooth; none of a tooth whose coils differ or weren't noted."""
        by_tooth: dict[int, set[int | None]] = {}
        for c in coils_of_winding(self._r.pattern, self._r.winding):
            if c.tooth is not None:
                by_tooth.setdefault(c.tooth, set()).add(c.sense)
        return tuple(sorted((t, s) for t, some in by_tooth.items() if len(some) == 1 for s in some if s is not None))


def _as_was(was: AsWas) -> str:
    return f"{wire_words(was.wire)}, {was.turns} turns a coil, {was.mean_turn_mm:g} mm a turn"


def _told(h: Handed) -> str:
    left = f" Left as it stood: {any_of(h.left)}." if h.left else ""
    return f"On the page Wire now: {', '.join(h.taken)}.{left}"


def found_done(r: Rewinding) -> str:
    """How much of it is noted."""
    have, missing = noted(r.body.found)
    return f"{len(have)} of {len(have) + len(missing)} noted" if have else "nothing noted"


def gauge_views(found: Inferred) -> tuple[GaugeView, ...]:
    """Of each table the likeliest few."""
    out: list[GaugeView] = []
    for scale in dict.fromkeys(g.likely.gauge.scale for g in found.gauges):
        some = [g for g in found.gauges if g.likely.gauge.scale is scale and g.likely.probability >= LEAST_SHARE]
        out += [_gauge(g, thick=Quantity.OVERALL in found.worths) for g in some[:MOST_GAUGES]]
    return tuple(out)


def _gauge(g: GaugeFound, *, thick: bool) -> GaugeView:
    """`thick`: whether it is known how thick the wire is over its enamel."""
    builds = any_of([BUILD_WORDS[b] for b in g.builds], "or") or (NO_BUILD if thick else BUILD_UNKNOWN)
    share = f"{100 * g.likely.probability:.0f} %"
    return GaugeView(g.likely.gauge.name, builds, share, f"{g.likely.gauge.name}, {share} likely; {builds}")


def _quantity(which: Quantity, found: Inferred, record: StripRecord) -> QuantityView:
    name, worth = QUANTITY_WORDS[which], found.worths[which]
    value, how = give_words(worth, UNITS.get(which, "")), _how(which, found, record)
    return QuantityView(which, name, value, how, f"{name}: {value}, {how}")


def _how(which: Quantity, found: Inferred, record: StripRecord) -> str:
    """By the figure that the record has of it, unless that is the one which is left out."""
    has = [f for f in _ITS_FIGURES[which] if record.figure(f) is not None]
    if len(found.suspects) > 1 and any(_OF_WHICH[s.figure] is which for s in found.suspects):
        return IN_DOUBT
    if has and found.liar not in has:
        return KNOWN_BY.get(which, MEASURED)
    if which is Quantity.BARE and record.gauge is not None and found.liar is not Figure.GAUGE:
        return BY_TAG
    if which is Quantity.MEAN_TURN and record.geometry_mm is not None and found.liar is not Figure.GEOMETRY:
        return BY_SIDES
    return f"{WORKED_OUT}, without the {KNOWN_BY.get(which, MEASURED)} one" if has else WORKED_OUT
