"""The card's sentences: what was found, decided and not tested, and under which conditions.

Each is a pair (what it is about, what there is to say).
"""

from collections.abc import Iterable, Sequence

from workbench.cards.check import Compared, Standing
from workbench.cards.facts import CardFacts
from workbench.cards.table import grouped, tied
from workbench.records import TemperatureSource
from workbench.stator.clash import Clash
from workbench.stator.judge import JudgedSheet, Row, SheetVerdict, Why
from workbench.stator.pattern import Pair, Pattern
from workbench.stator.verdict import Verdict
from workbench.words import (
    OHM,
    OUTCOME_WORDS,
    SHEET_WORDS,
    band_words,
    digits_for,
    ohms_words,
    pair_words,
    plain_number,
    reason_words,
    value_words,
    verdict_word,
)
from workbench.woundwords import failed_words, lacking_words

Saying = tuple[str, str]

MOST_NAMED = 24  # pairs in one sentence; a card is no ledger

SOURCE_WORDS = {
    TemperatureSource.ROOM: "by the room’s thermometer",
    TemperatureSource.INFRARED: "by infrared on copper",
    TemperatureSource.PROBE: "by a contact probe",
}

# the tests that other pages of the bench will one day do; until then no card may be silent about them
NEVER_DONE = "warm, flex, insulation, inductance, at speed."


def under_verdict(judged: JudgedSheet) -> str:
    """What the big word rests on, in one line."""
    planned = len(judged.sheet.plan)
    match judged.verdict:
        case SheetVerdict.GOOD:
            return f"as far as tested: {_count(planned, 'planned check')} read" + (
                f"; {lacking_words(judged.lacks)}" if judged.lacks else ""
            )
        case SheetVerdict.FAIL:
            out = [f"{_count(len(judged.failed), 'pair')} out, read again and still out"] if judged.failed else []
            return "; ".join([*out, *([failed_words(judged.bad)] if judged.bad else [])])
        case SheetVerdict.UNFINISHED:
            return "unfinished: " + _unfinished(judged)
        case _:
            if judged.overtaken:
                return "mended since these readings, and not read again"
            if judged.lacks and not judged.doubtful:
                return f"wound anew: {lacking_words(judged.lacks)}"
            if judged.outweighed:
                return "every check is in, but together they speak for something else"
            if not judged.doubtful:
                return "nothing here can be judged by ohms"
            return f"{_count(len(judged.doubtful), 'planned check')} not decided"


def _unfinished(judged: JudgedSheet) -> str:
    parts = []
    if judged.unread:
        parts.append(f"{_count(len(judged.unread), 'planned check')} not read")
    if len(judged.awaiting) == 1:
        parts.append("an outside reading awaits its repeat")
    elif judged.awaiting:
        parts.append(f"{len(judged.awaiting)} outside readings await their repeat")
    return ", ".join(parts) or "nothing is read yet"


def found(facts: CardFacts) -> list[Saying]:
    judged = facts.judged
    pattern = judged.sheet.pattern
    groups = [g[0] for g in grouped(judged.rows)]
    out = [r for r in groups if r.verdict is Verdict.OUTSIDE]
    failed = judged.failed
    sayings = [(_about(r, pattern), _why_out(r, r.reading.pair in failed, pattern)) for r in out]
    sayings += [
        (_about(r, pattern), f"{_reading(r)}, {verdict_word(r)}. {_reason(r, pattern)}")
        for r in groups
        if r.reading.pair in judged.doubtful
    ]
    sayings += [_clash(c, pattern) for c in judged.clashes]
    if judged.bad:
        sayings.append(("Wound anew:", f"{failed_words(judged.bad)}."))
    if not sayings:
        sayings.append(("", "No reading is out." if judged.rows else "Nothing is read yet."))
    if facts.found.strip():
        sayings.append(("Noted:", facts.found))
    return sayings


def _about(row: Row, pattern: Pattern) -> str:
    return tied(pair_words(row.reading.pair, pattern)) + ":"


def _reading(row: Row) -> str:
    return tied("open" if row.reading.ohms is None else value_words(row))


def _reason(row: Row, pattern: Pattern) -> str:
    band = band_words(row.expected)
    return reason_words(row, pattern).replace(band, tied(band))


def _why_out(row: Row, repeated: bool, pattern: Pattern) -> str:
    reason = _reason(row, pattern)
    number = "" if row.reading.ohms is None or row.why is Why.LEAKS else f"{_reading(row)}. "
    count = f"Read {_times(row.repeats)}." if repeated else "Read once; not yet read again."
    return f"{number}{reason} {count}"


def _clash(clash: Clash, pattern: Pattern) -> Saying:
    step = 10.0 ** -digits_for(clash.expanded / 2)
    first, second = (tied(pair_words(p, pattern)) for p in clash.parts)
    whole, total = (tied(f"{plain_number(v, step)} {OHM}") for v in (clash.read, clash.sum))
    gap = tied(f"{plain_number(abs(clash.excess), step)} ± {plain_number(clash.expanded, step)} {OHM}")
    text = f"reads {whole}, but its parts {first} and {second} make {total}: they can’t all be right, by {gap}."
    if clash.looks_like_leads:
        text += " Leads not taken off look like this."
    return tied(pair_words(clash.whole, pattern)), text


def decided(facts: CardFacts) -> list[Saying]:
    sayings = []
    if facts.outcome is None:
        sayings.append(("", "Nothing is decided yet." + (f" {facts.note}" if facts.note.strip() else "")))
    else:
        sayings.append((f"{OUTCOME_WORDS[facts.outcome]}{':' if facts.note.strip() else '.'}", facts.note.strip()))
    if facts.found_to_be:
        sayings.append(("Found to be:", f"{facts.found_to_be}."))
    if facts.rewound:
        sayings.append(("Wound anew:", f"{', '.join(facts.rewound)}."))
    if facts.done.strip():
        sayings.append(("Done:", facts.done))
    return sayings


def not_tested(judged: JudgedSheet) -> list[Saying]:
    """All that the verdict does not speak for."""
    pattern = judged.sheet.pattern
    groups = [g[0] for g in grouped(judged.rows)]

    def pairs(*words: str) -> list[Pair]:
        return [r.reading.pair for r in groups if verdict_word(r) in words]

    unproved = [r.reading.pair for r in groups if r.reading.ohms is None and r.verdict is Verdict.UNDECIDED]
    under = [r.reading.pair for r in groups if r.expected.is_under and r.verdict is Verdict.INSIDE]
    doubtful = [p for p in pairs("doubtful") if p not in unproved]
    sayings = [
        _named("Not read:", judged.unread, pattern),
        _named("Out, not read again:", judged.awaiting, pattern),
        _named("Doubtful, not decided:", doubtful, pattern),
        _named("Open not proved:", unproved, pattern),
        _named("Close, not decided:", pairs("close"), pattern),
        _named("Continuous only:", pairs("continuous"), pattern, "Shorted turns are not excluded there."),
        _named("High limit only:", under, pattern, "No low limit is known: shorted turns are not excluded there."),
        _named("Not by ohms:", pairs("not by ohms"), pattern, "A diode or electronics lies there."),
    ]
    if judged.sheet.checks is None and pattern.checks is None:
        sayings.append(("No plan:", "the pattern plans no checks; only what stands under Readings was read."))
    untested = [x for x in judged.lacks if x not in judged.bad]
    if untested:
        sayings.append(("Wound anew:", f"{lacking_words(untested)}."))
    sayings.append(("Not done:", NEVER_DONE))
    return [s for s in sayings if s is not None]


def _named(lead: str, pairs: Sequence[Pair], pattern: Pattern, more: str = "") -> Saying | None:
    if not pairs:
        return None
    text = _listed((tied(pair_words(p, pattern)) for p in pairs[:MOST_NAMED]), len(pairs) - MOST_NAMED)
    return lead, f"{text}. {more}".strip()


def _listed(words: Iterable[str], left: int) -> str:
    text = ", ".join(words)
    return f"{text} and {left} more" if left > 0 else text


def conditions(facts: CardFacts) -> list[Saying]:
    sheet = facts.judged.sheet
    held = sheet.conditions
    u = f", u {held.celsius_uncertainty:g}"
    leads = f"{tied(ohms_words(held.lead_ohms))}, u {tied(ohms_words(held.lead_uncertainty_ohms))}, taken off."
    if facts.meter_zeroed:
        leads = "the meter was zeroed on them" + (
            f", u {tied(ohms_words(held.lead_uncertainty_ohms))}." if held.lead_uncertainty_ohms else "."
        )
    if facts.leads_assumed:
        leads = leads.removesuffix(".") + "; assumed, not measured."
    known = "assumed, not measured" if facts.celsius_assumed else SOURCE_WORDS[facts.source]
    reference = tied(f"{sheet.pattern.reference_celsius:g} °C")
    iron = "contact with it not proved."
    if facts.iron_ohms is not None:
        iron = f"{tied(ohms_words(facts.iron_ohms))} between two bare spots."
    return [
        ("Part:", f"{tied(f'{held.celsius:g} °C{u}')}, {known}."),
        ("Meter:", f"{facts.meter_name}."),
        ("Leads:", leads),
        ("Iron:", iron),
        ("Corrected:", f"to {reference} as {sheet.pattern.conductor}; ± is U = 2u."),
        ("Pattern:", f"{facts.pattern_name}, {tied(f'revision {facts.pattern_revision}')}."),
    ]


def _count(n: int, noun: str) -> str:
    return f"{n} {noun}" if n == 1 else f"{n} {noun}s"


def _times(n: int) -> str:
    return {2: "twice"}.get(n, f"{n} times")


def scan_words(compared: Compared) -> str:
    """What a card that was scanned is worth, in a sentence."""
    if compared.standing is Standing.AS_PRINTED:
        return "The card says what the sheet says."
    if compared.standing is Standing.FOREIGN:
        return "This card was altered, or is not one of this shop's: its code doesn't belong to this sheet."
    c = compared.changed
    since = [
        f"{c.added} reading{'s were' if c.added > 1 else ' was'} taken" if c.added else "",
        f"{c.struck} reading{'s were' if c.struck > 1 else ' was'} struck" if c.struck else "",
        "leads, temperature, meter or iron were changed" if c.conditions else "",
        "what was decided or done was changed" if c.decision else "",
    ]
    more = ", ".join(s for s in since if s) or "it was changed"
    verdict = f" It says {SHEET_WORDS[SheetVerdict(c.verdict)]} now." if c.verdict else ""
    return f"This card is outdated: {more} since.{verdict} Print it anew."
