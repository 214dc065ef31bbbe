"""The wire of a rewind: what on the shelf could take the place of what it had, ranked, and which was taken."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import partial

from workbench.records import Spool
from workbench.rewind.record import Chosen, Draw, WireWork
from workbench.rewind.shelf import Question
from workbench.rewind.substitute import Caution, Ranking, Running, Substitute, substitutes
from workbench.rewindwords import CAUTION_SHORT, CAUTION_WORDS, change_words, sentence, wire_words
from workbench.sitting.conditions import FormError
from workbench.sitting.rewindforms import WireForm, wire_asked, wire_form
from workbench.sitting.rewinding import Rewinding
from workbench.sitting.shelfform import on_shelf
from workbench.stator.errors import FieldError
from workbench.words import ohms_words

COLUMNS = ("Wire", "Turns", "Ohms", "Fill", "Volts", "At idle", "Working", "A/mm²", "Copper", "To look out for")
TIPS = (
    "off the shelf, the nearest to what it had first", "of each coil", "of the whole winding, and their change",
    "wire over enamel in the window", "change of volts with nothing connected", "change of current at idle speed",
    "change of current at working speed", "amperes to the mm² at working speed", "in all coils", "",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class WireRow:
    """`cells` by `COLUMNS`; `cautions` a sentence each; `place` in the ranking."""

    place: int
    cells: tuple[str, ...]
    cautions: tuple[str, ...]
    takes: str
    usable: bool
    taken: bool
    spoken: str


@dataclass(frozen=True, slots=True)
class Ranked:
    """`note`: why it can't be ranked by current, or can't be ranked at all."""

    rows: tuple[WireRow, ...] = ()
    note: str = ""


class WireDesk:
    def __init__(self, rewinding: Rewinding) -> None:
        self._r = rewinding
        self._of: Question | None = None
        self._found: Ranking | FieldError | None = None

    @property
    def work(self) -> WireWork | None:
        return self._r.body.wire

    @property
    def form(self) -> WireForm:
        return wire_form(self._r.pattern, self._r.winding, self.work)

    @property
    def taken(self) -> str:
        """What was taken and what it comes to; nothing before."""
        c = self.work.chosen if self.work is not None else None
        if c is None:
            return ""
        off = ", ".join(f"{d.grams:.0f} g off {d.name}" for d in c.draws) or "nothing off the shelf"
        return (
            f"Taken: {wire_words(c.wire)}, {c.turns} turns a coil; {ohms_words(c.ohms)} at {c.celsius:g} °C, "
            f"{c.copper_grams:.0f} g of copper; {off} when it is done."
        )

    @property
    def ranked(self) -> Ranked | None:
        """None until it is asked, and while it is reckoned."""
        work = self.work
        if work is None:
            return None
        found = self._ranking(work)
        if found is None or isinstance(found, str):
            return None if found is None else Ranked(note=found)
        if isinstance(found, FieldError):
            return Ranked(note=sentence(found.sentence))
        rows = tuple(_row(i, s, work) for i, s in enumerate(found.nearest))
        return Ranked(rows, sentence(found.why_not) if found.why_not else "")

    # ---- acts

    def ask(self, form: WireForm) -> None:
        """What is typed is written down, and ranked; refused with its reason."""
        try:
            asked = wire_asked(form)
        except FormError as e:
            self._r.refuse(e.sentence, e.field)
            return
        before = self.work
        # a wire that was taken for another winding than this is none any more
        kept = before.chosen if before is not None and before.as_was == asked.as_was else None
        self._r.change(replace(self._r.body, wire=replace(asked, chosen=kept)))

    def take(self, place: int) -> None:
        """Notes a wire of the ranking, and what of which spool it will need."""
        work = self.work
        found = self._ranking(work) if work is not None else None
        if work is None or not isinstance(found, Ranking) or not 0 <= place < len(found.nearest):
            return
        s = found.nearest[place]
        celsius = work.duty.celsius if work.duty is not None else 20.0
        chosen = Chosen(s.wire, s.turns, s.ohms, celsius, s.copper_grams, draws_of(s, work, self._r.spools))
        if self._r.change(replace(self._r.body, wire=replace(work, chosen=chosen))):
            short = (
                f" It is {s.short_grams:.0f} g short: order wire, or weigh the spools anew." if s.short_grams else ""
            )
            self._r.tell(f"{wire_words(s.wire)} is noted for this rewind.{short}")

    # ---- inside

    def _ranking(self, work: WireWork) -> Ranking | FieldError | str | None:
        """Asked for where that was not done yet; None while it is reckoned."""
        question = self._question(work)
        if isinstance(question, str):
            return question
        if question != self._of:
            self._of, self._found = question, None
            self._r.reckon(partial(_found, question), partial(self._know, question))
        return self._found

    def _question(self, work: WireWork) -> Question | str:
        spools = tuple(x for x in map(on_shelf, self._r.spools) if x is not None and x.grams > 0)
        if not spools:
            return "The shelf is empty. Note its spools (Shelf), and they are ranked here."
        try:
            return Question(work.as_was, spools, work.duty, work.turns)
        except FieldError as e:
            return sentence(e.sentence)

    def _know(self, question: Question, found: Ranking | FieldError) -> None:
        if question == self._of:
            self._found = found
            self._r.on_change()


def wire_done(r: Rewinding) -> str:
    """How far the wire is."""
    work = r.body.wire
    if work is None:
        return "not asked"
    return wire_words(work.chosen.wire) if work.chosen is not None else "none taken"


def draws_of(s: Substitute, work: WireWork, spools: Sequence[Spool]) -> tuple[Draw, ...]:
    """Which spool gives how much: whole strands of a coil each, the fullest spools first."""
    pieces = work.as_was.coils * s.wire.strands
    piece = s.grams_needed / pieces
    out = []
    for spool in sorted((x for x in spools if x.name in s.spools), key=lambda x: -x.grams):
        some = min(pieces, int(spool.grams / piece + 1e-9))
        if some:
            out.append(Draw(spool.id, spool.name, round(some * piece, 1)))
            pieces -= some
    return tuple(out)


def _found(question: Question) -> Ranking | FieldError:
    try:
        return substitutes(question)
    except FieldError as e:
        return e


def _row(place: int, s: Substitute, work: WireWork) -> WireRow:
    short = ", ".join(CAUTION_SHORT[c] for c in s.cautions)
    density = s.working.amps_per_mm2 if s.working is not None else None
    cells = (
        wire_words(s.wire), str(s.turns), f"{ohms_words(s.ohms)}, {change_words(s.ohms_ratio)}",
        "?" if s.fill is None else f"{100 * s.fill:.0f} %", change_words(s.volts_ratio),
        _current(s.idle), _current(s.working),
        f"{density:.1f}" if density is not None else change_words(s.working.density_ratio) if s.working else "?",
        f"{s.copper_grams:.0f} g", short or "nothing",
    )  # fmt: skip
    cautions = tuple(_caution(c, s) for c in s.cautions)
    chosen = work.chosen
    taken = chosen is not None and (chosen.wire, chosen.turns) == (s.wire, s.turns)
    takes = f"Takes {s.grams_needed:.0f} g of {s.grams_left:,.0f} g on {' and '.join(s.spools)}, a tenth to spare."
    told = [f"{name} {cell}" for name, cell in zip(COLUMNS[1:], cells[1:], strict=True)]
    spoken = f"{cells[0]}{', taken' if taken else ''}{'' if s.usable else ', can not be used'}; {', '.join(told)}"
    return WireRow(place, cells, cautions, takes, s.usable, taken, spoken)


def _current(r: Running | None) -> str:
    if r is None:
        return "?"
    return change_words(r.ratio) if r.amps is None else f"{r.amps:.1f} A, {change_words(r.ratio)}"


def _caution(c: Caution, s: Substitute) -> str:
    said = CAUTION_WORDS[c]
    if c is Caution.RUNS_OUT:
        return f"{said} {s.short_grams:.0f} g are lacking."
    if c is Caution.OVERFILLED:
        return f"{said} {s.turns_fitting} turns would go in."
    return said
