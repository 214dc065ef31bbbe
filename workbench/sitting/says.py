"""What the readings say, as its panel shows it: explanations with their shares, and what would tell more."""

from dataclasses import dataclass

from workbench import words
from workbench.findings.explain import Explained
from workbench.findings.faults import BenchFault, Fault
from workbench.findings.leading import sound_leads
from workbench.findings.records import Finding
from workbench.findingwords import detail_words, proof_words, title_words
from workbench.sitting.bench import Bench
from workbench.sitting.opensheet import LITTLE, SETTLED
from workbench.stator.pattern import Pair

ROWS, FAINT = 6, 0.01
# what reading the same pair once more would show
RETAKEN = (BenchFault.SLIP, BenchFault.ELSEWHERE)
# so many pairs outside, and half of all that were read, look like another part rather than a faulty one: common
# practice, no source
MANY_OUT = 3
STRANGE = (
    "Hardly a reading fits: is this its pattern? “Which one is this?” on the counter can tell; "
    "Other pattern in the job changes it."
)
LOOKING = "Weighing the readings …"
NOTHING = "Nothing is read yet. Before the first reading every part is as likely sound as the shop's parts are."


@dataclass(frozen=True, slots=True)
class ExplanationView:
    """`share`: its probability."""

    title: str
    detail: str
    share: float
    finding: Finding | None = None

    @property
    def percent(self) -> str:
        if 0 < self.share < 0.005:
            return "< 1 %"
        return "> 99 %" if 0.995 < self.share < 1 else f"{100 * self.share:.0f} %"

    @property
    def spoken(self) -> str:
        return ", ".join(x for x in (f"{self.title}: {self.percent}", self.detail) if x)


@dataclass(frozen=True, slots=True)
class SaysView:
    """Most probable first. `next`: the pair that would tell most; `foot`: what is settled, or what would tell."""

    rows: tuple[ExplanationView, ...]
    next: Pair | None
    foot: str
    settled: bool
    past: str = ""  # which earlier sheets of the unit are counted in
    unlike: bool = False  # it no longer reads as they did

    @property
    def spoken(self) -> str:
        return ". ".join(x for x in (*(r.spoken for r in self.rows), self.foot.rstrip("."), self.past) if x)


def says(bench: Bench) -> SaysView:
    """What is shown while the latest reading is still being weighed is the sentence that says so."""
    found = bench.explained
    if found is None:
        return SaysView((), None, LOOKING if bench.explains else "", settled=False)
    if not bench.judged.rows:
        return SaysView((), None, NOTHING, settled=False)
    shown = [f for f in found.findings if f.probability >= FAINT][:ROWS]
    rows = tuple(_row(bench, f) for f in shown)
    ahead = next((n for n in found.next if n.bits >= LITTLE), None)
    foot, settled = _foot(bench, found, ahead.pair if ahead else None)
    told = past_words(bench, found)
    unlike = found.by_past is not None and found.by_past < 0.5
    if unlike:
        foot = f"It doesn't read as on {told}: was it rewound or changed since?"
    if bench.pointed is not None:
        foot = _speaking(bench)
    past = f"Weighed with {told}" if found.by_past is not None and not unlike else ""
    return SaysView(rows, ahead.pair if ahead else None, foot, settled, past, unlike)


def is_settled(bench: Bench) -> bool:
    """Whether one explanation stands out, and nothing planned could still overturn a sound part."""
    found = bench.explained
    if found is None or not bench.judged.rows or found.findings[0].probability < SETTLED:
        return False
    first = found.findings[0].fault
    return first is not Fault.UNLISTED and (first is not Fault.SOUND or not bench.waiting)


def past_words(bench: Bench, found: Explained) -> str:
    """Which earlier sheets of the unit are counted in; "" where none are."""
    days = [bench.past_days[i] for i in found.past]
    if len(days) < 2:
        return f"its own good sheet of {days[0]}" if days else ""
    return f"its own {len(days)} good sheets, the last of {days[-1]}"


def _row(bench: Bench, f: Finding) -> ExplanationView:
    return ExplanationView(title_words(f, bench.pattern), detail_words(f, bench.pattern), f.probability, f)


def _speaking(bench: Bench) -> str:
    """What speaks for the explanation that is pointed at, and what against it."""
    if bench.pointed is None or bench.pointed.fault in (Fault.SOUND, Fault.UNLISTED):
        return "What speaks for the others speaks against this one."
    read = {bench.expectations.key(r.reading.pair): r.reading.pair for r in bench.judged.rows}.values()
    sides = [
        (lead, ", ".join(words.pair_words(p, bench.pattern) for p in read if bench.speaks_of(p) == side))
        for lead, side in (("For it:", 1), ("Against it:", -1))
    ]
    return " ".join(f"{lead} {pairs}." for lead, pairs in sides if pairs) or "No reading tells it from a sound part."


def _together(bench: Bench, found: Explained) -> tuple[str, bool] | None:
    """Where the likeliest explanation shares its readings with others: what tells them apart, if anything can."""
    group = next((g for g in found.groups() if found.findings[0] in g.findings), None)
    shown = [f for f in group.findings if f.probability >= FAINT] if group is not None else []
    if group is None or len(shown) < 2:
        return None
    names = " or ".join(title_words(f, bench.pattern) for f in shown[:3])
    if group.tell is not None:
        return f"{words.pair_words(group.tell.pair, bench.pattern)} would tell: {names}?", False
    proof = proof_words(shown[0])
    return f"{names}: no reading at the plugs tells which. What could: {proof}.", group.probability >= SETTLED


def _is_strange(bench: Bench) -> bool:
    out, read = len(bench.judged.failed), {bench.expectations.key(r.reading.pair) for r in bench.judged.rows}
    return out >= MANY_OUT and 2 * out >= len(read)


def _foot(bench: Bench, found: Explained, ahead: Pair | None) -> tuple[str, bool]:
    first = found.findings[0]
    name = title_words(first, bench.pattern)
    sound = sound_leads(found)
    if is_settled(bench):
        more = f"; what ohms can't tell: {proof_words(first)}." if sound else "."
        if first.slipped is not None:
            more = f"; {proof_words(first)}."
        return f"Settled: {name}{more}", True
    if first.slipped is not None:
        pair = words.pair_words(first.slipped.pair, bench.pattern)
        return f"{pair} was read again and reads otherwise: {proof_words(first)}, or read it once more.", False
    together = None if sound else _together(bench, found)
    if together is not None:
        return together
    if sound and bench.waiting:
        left = len(bench.waiting)
        return f"Nothing is likelier than sound so far; {left} check{'s' if left > 1 else ''} to read.", False
    if ahead is not None:
        return f"{words.pair_words(ahead, bench.pattern)} would tell most.", False
    if first.fault is Fault.UNLISTED and _is_strange(bench):
        return STRANGE, False
    if first.fault in RETAKEN:
        return f"No other pair can tell. What could: {proof_words(first)}.", False
    if left := len(bench.waiting):
        return f"No one pair would tell most; {left} check{'s' if left > 1 else ''} to read.", False
    return f"Ohms can tell no more. What could: {proof_words(first)}.", False
