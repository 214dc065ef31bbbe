"""The wire of a rewind: what on the shelf could take the place of what it had, ranked, and which was taken."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import partial

from workbench.records import Spool
from workbench.rewind.ofpattern import names_of
from workbench.rewind.record import Chosen, Draw, WireWork
from workbench.rewind.shelf import Question
from workbench.rewind.substitute import Caution, Ranking, Running, Substitute, substitutes
from workbench.rewindwords import CAUTION_SHORT, CAUTION_WORDS, change_words, sentence, wire_words
from workbench.sitting.conditions import FormError
from workbench.sitting.rewindforms import WireForm, wire_asked, wire_form
from workbench.sitting.rewinding import Rewinding
from workbench.sitting.say import Said, Tone
from workbench.sitting.shelfform import on_shelf
from workbench.stator.errors import FieldError
from workbench.words import ohms_words

TAKEN_NO_MORE = "{} was taken in the place of other figures, and is none any more: take a wire again."
COLUMNS = ("Wire", "Turns", "Ohms", "Fill", "Volts", "At idle", "Working", "A/mm²", "Copper", "Look out")
TIPS = (
    "off the shelf, the nearest to what it had first", "of each coil", "change of the whole winding's ohms",
    "wire over enamel in the window", "change of volts with nothing connected", "change of current at idle speed",
    "change of current at working speed", "amperes to the mm² at working speed", "in all its coils", "to be minded",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class WireRow:
    """`cells` by `COLUMNS`; `told` what it comes to in figures; `cautions` a sentence each; `place` in the ranking."""

    place: int
    cells: tuple[str, ...]
    cautions: tuple[str, ...]
    told: str
    takes: str
    usable: bool
    taken: bool
    spoken: str


@dataclass(frozen=True, slots=True)
class Ranked:
    """`note`: why it can't be ranked by current, or can't be ranked at all."""

    rows: tuple[WireRow, ...] = ()
    note: str = ""


FIRST = "Type what it was wound of, and what is on the shelf is ranked against it here."
AS_LEFT = "As this shop left it on an earlier visit: rank the shelf against it, or type what it is now."


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
        return wire_form(self._r.pattern, self._r.winding, self.work, self._r.left)

    @property
    def first(self) -> str:
        """What is to be done while nothing is asked yet."""
        return AS_LEFT if self._r.left is not None else FIRST

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
        rows = tuple(_row(i, s, work, self._phases) for i, s in enumerate(found.nearest))
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
        lost = before.chosen if before is not None and kept is None else None
        told = Said(Tone.TELLS, TAKEN_NO_MORE.format(wire_words(lost.wire))) if lost is not None else None
        if self._r.change(replace(self._r.body, wire=replace(asked, chosen=kept)), told):
            self._r.unnoted.discard(self._r.record.id)

    def take(self, place: int) -> None:
        """Notes a wire of the ranking, and what of which spool it will need."""
        work = self.work
        found = self._ranking(work) if work is not None else None
        if work is None or not isinstance(found, Ranking) or not 0 <= place < len(found.nearest):
            return
        s = found.nearest[place]
        celsius = work.duty.celsius if work.duty is not None else 20.0
        chosen = Chosen(s.wire, s.turns, s.ohms, celsius, s.copper_grams * self._phases, self._draws(s, work))
        if self._r.change(replace(self._r.body, wire=replace(work, chosen=chosen))):
            short = (
                f" It is {s.short_grams:.0f} g short: order wire, or weigh the spools anew." if s.short_grams else ""
            )
            self._r.tell(f"{wire_words(s.wire)} is noted for this rewind.{short}")

    # ---- inside

    @property
    def _phases(self) -> int:
        """What is asked is one phase's; where all are wound, so many times its wire is needed."""
        return len(names_of(self._r.pattern, self._r.winding))

    def _draws(self, s: Substitute, work: WireWork) -> tuple[Draw, ...]:
        return draws_of(s, work.as_was.coils * s.wire.strands, self._phases, self._r.spools)

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
        known = [x for x in map(on_shelf, self._r.spools) if x is not None and x.grams > 0]
        # each phase may have its share of every spool
        spools = tuple(replace(x, grams=x.grams / self._phases) for x in known)
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


def draws_of(s: Substitute, strands: int, phases: int, spools: Sequence[Spool]) -> tuple[Draw, ...]:
    """Which spool gives how much: whole strands of a coil each, of which a phase has so many; the fullest first."""
    piece, pieces = s.grams_needed / strands, strands * phases
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


def _row(place: int, s: Substitute, work: WireWork, phases: int) -> WireRow:
    short = ", ".join(CAUTION_SHORT[c] for c in s.cautions)
    density = s.working.amps_per_mm2 if s.working is not None else None
    cells = (
        wire_words(s.wire), str(s.turns), change_words(s.ohms_ratio),
        "?" if s.fill is None else f"{100 * s.fill:.0f} %", change_words(s.volts_ratio),
        _change(s.idle), _change(s.working),
        f"{density:.1f}" if density is not None else change_words(s.working.density_ratio) if s.working else "?",
        f"{s.copper_grams * phases:.0f} g", short,
    )  # fmt: skip
    cautions = tuple(_caution(c, s, phases) for c in s.cautions)
    chosen = work.chosen
    taken = chosen is not None and (chosen.wire, chosen.turns) == (s.wire, s.turns)
    needed, left = s.grams_needed * phases, s.grams_left * phases
    takes = f"Takes {needed:.0f} g of {left:,.0f} g on {' and '.join(s.spools)}, a tenth to spare."
    told = [f"{name} {cell}" for name, cell in zip(COLUMNS[1:], cells[1:], strict=True) if cell]
    spoken = f"{cells[0]}{', taken' if taken else ''}{'' if s.usable else ', can not be used'}; {', '.join(told)}"
    return WireRow(place, cells, cautions, _told(s, work), takes, s.usable, taken, spoken)


def _change(r: Running | None) -> str:
    return "?" if r is None else change_words(r.ratio)


def _told(s: Substitute, work: WireWork) -> str:
    celsius = work.duty.celsius if work.duty is not None else 20.0
    speeds = [r for r in (s.idle, s.working) if r is not None]
    amps = [f"{r.amps:.1f} A at {r.rpm:,.0f} rpm" for r in speeds if r.amps is not None]
    said = [f"{ohms_words(s.ohms)} at {celsius:g} °C", *amps]
    return f"{', '.join(said)}."


def _caution(c: Caution, s: Substitute, phases: int) -> str:
    said = CAUTION_WORDS[c]
    if c is Caution.RUNS_OUT:
        return f"{said} {s.short_grams * phases:.0f} g are lacking."
    if c is Caution.OVERFILLED:
        return f"{said} {s.turns_fitting} turns would go in."
    return said
