"""The shop's words for what may be wrong with a part."""

from workbench.findings.faults import BenchFault, Fault
from workbench.findings.odds import ENOUGH, Basis, Counts, Family, Odds, odds
from workbench.findings.records import Finding, Parameter
from workbench.stator.pattern import Pair, Pattern
from workbench.words import node_words, ohms_words, pair_words

# a share of the turns, as it is said across a counter
_SHARES = (
    (0.1, "a tenth"),
    (0.2, "a fifth"),
    (0.25, "a quarter"),
    (1 / 3, "a third"),
    (0.5, "half"),
    (2 / 3, "two thirds"),
    (0.75, "three quarters"),
)

# what shows, or rules out, what ohms can't: common practice, no source
_PROOFS: dict[Fault | BenchFault, str] = {
    Fault.SOUND: "warm and flexed, insulation, a run at speed",
    Fault.OPEN_WINDING: "flex the loom while it is read",
    Fault.OPEN_LEAD: "flex the loom while it is read, or read behind the terminal",
    Fault.SHORTED_TURNS: "L and Q beside a known-good twin, or a run at speed",
    Fault.WINDING_TO_CORE: "an insulation test with the ground lifted",
    Fault.WINDING_TO_WINDING: "an insulation test between the two",
    Fault.RESISTIVE_LEAD: "clean the terminal, then read behind it",
    Fault.SWAPPED_PINS: "follow the wires, or lay the plug beside a known-good one",
    Fault.LEADS_NOT_ZEROED: "zero the leads and read one pair again",
    Fault.WRONG_TEMPERATURE: "let the part reach the room's temperature, or probe the copper",
    BenchFault.OPEN_GROUND: "clean the ground's terminal and its seat, then read to the bare iron",
    BenchFault.POOR_GROUND: "clean the ground's terminal and its seat, then read to the bare iron",
    BenchFault.OPEN_LINK: "follow that wire, and flex it while it is read",
    BenchFault.POOR_LINK: "follow that wire, and flex it while it is read",
    BenchFault.WET_PLUG: "dry the plug and read it again",
    BenchFault.SLIP: "look at the meter's unit and point, and read that pair again",
    BenchFault.ELSEWHERE: "set the probes by the picture of the plug, and read that pair again",
    Fault.UNLISTED: "part it at the plug or the splices, and read what is left",
}

_KINDS: dict[Fault | BenchFault, str] = {
    Fault.SOUND: "Sound",
    Fault.OPEN_WINDING: "A break inside a winding",
    Fault.OPEN_LEAD: "Wire broken at a pin",
    Fault.SHORTED_TURNS: "Shorted turns",
    Fault.WINDING_TO_CORE: "A winding down to the iron",
    Fault.WINDING_TO_WINDING: "One winding touches another",
    Fault.RESISTIVE_LEAD: "Poor joint at a pin",
    Fault.SWAPPED_PINS: "Two pins swapped",
    Fault.LEADS_NOT_ZEROED: "Leads not zeroed",
    Fault.WRONG_TEMPERATURE: "Warmer than stated",
    BenchFault.OPEN_GROUND: "A shared ground is open",
    BenchFault.POOR_GROUND: "A shared ground is poor",
    BenchFault.OPEN_LINK: "A link is open",
    BenchFault.POOR_LINK: "A link is poor",
    BenchFault.WET_PLUG: "Wet plug",
    BenchFault.SLIP: "A slip in a reading",
    BenchFault.ELSEWHERE: "Probes on another pair",
    Fault.UNLISTED: "Two faults at once, or another",
}


def kind_words(fault: Fault | BenchFault) -> str:
    """`Shorted turns`: a fault without its place."""
    return _KINDS[fault]


def family_words(family: Family) -> str:
    """`exciter, lighting and pulser`."""
    if len(family) < 2:
        return "".join(family) or "no windings"
    return f"{', '.join(family[:-1])} and {family[-1]}"


def odds_words(o: Odds) -> str:
    """What the odds before the first reading stand on, in a sentence."""
    match o.basis:
        case Basis.FAMILY:
            return f"The odds stand on {_jobs(o.number)} of this family ({family_words(o.family or ())})."
        case Basis.SHOP if o.family is not None:
            less = f"only {o.of_family}" if o.of_family else "none"
            return (
                f"The odds stand on all {_jobs(o.number)} of the shop: {less} of this family "
                f"({family_words(o.family)}), and {ENOUGH} are enough."
            )
        case Basis.SHOP:
            return f"The odds stand on all {_jobs(o.number)} of the shop."
        case _:
            return "The odds are the stated ones: of no decided job was it said what the part was found to have."


def counts_words(counts: Counts) -> str:
    """What the odds of any part stand on: the whole shop's jobs, and the families of which there are enough."""
    enough = sorted(f for f in counts.by_family if counts.number(f) >= ENOUGH)
    named = "; ".join(f"{family_words(f)}: {counts.number(f)}" for f in enough)
    more = f" A family with {ENOUGH} of them or more stands on its own ({named})." if enough else ""
    return odds_words(odds(counts, None)) + more


def _jobs(number: int) -> str:
    return f"{number} decided job{'' if number == 1 else 's'}"


def title_words(f: Finding, pattern: Pattern) -> str:
    """`Shorted turns in the main exciter coil`."""
    said = _title(f, pattern)
    return said[:1].upper() + said[1:]


def _title(f: Finding, pattern: Pattern) -> str:
    where = f.where
    match f.fault:
        case Fault.SOUND:
            return "Sound"
        case Fault.OPEN_WINDING:
            return f"A break inside the {where}"
        case Fault.OPEN_LEAD:
            return f"Wire broken at {node_words(where, pattern)}"
        case Fault.SHORTED_TURNS:
            return f"Shorted turns in the {where}"
        case Fault.WINDING_TO_CORE:
            return f"the {where} down to the iron"
        case Fault.WINDING_TO_WINDING:
            return " touches ".join(where.split("|"))
        case Fault.RESISTIVE_LEAD:
            return f"Poor joint at {node_words(where, pattern)}"
        case Fault.SWAPPED_PINS:
            return f"{' and '.join(node_words(p, pattern) for p in where.split('|'))} swapped"
        case Fault.LEADS_NOT_ZEROED:
            return "Leads not zeroed"
        case Fault.WRONG_TEMPERATURE:
            return "Warmer than stated"
        case BenchFault.OPEN_GROUND:
            return "The windings' shared ground is open"
        case BenchFault.POOR_GROUND:
            return "The windings' shared ground is poor"
        case BenchFault.OPEN_LINK:
            return f"{where} is open"
        case BenchFault.POOR_LINK:
            return f"{where} is poor"
        case BenchFault.WET_PLUG:
            return f"Wet plug: {' and '.join(node_words(p, pattern) for p in where.split('|'))}"
        case BenchFault.SLIP:
            return f"A slip: {' – '.join(node_words(p, pattern) for p in where.split('|'))} read or typed wrong"
        case BenchFault.ELSEWHERE:
            return f"{pair_words(Pair(*where.split('|')), pattern)}: probes on another pair"
        case _:
            return "Two faults at once, or another"


def detail_words(f: Finding, pattern: Pattern) -> str:
    """Its size, as far as the readings tell: `about a quarter of them, 21 to 30 %`. Empty where there is none."""
    known = {p.name: p for p in f.parameters}
    if (p := known.get("fraction")) is not None:
        return f"about {share_words(p.value)} of them, {100 * p.low:.0f} to {100 * p.high:.0f} %"
    ohms = known.get("ohms")
    match f.fault:
        case Fault.WINDING_TO_CORE:
            at = known.get("position")
            said = [_end_words(f.where, at, pattern) if at is not None else "", _through(ohms)]
            return ", ".join(s for s in said if s)
        case Fault.WINDING_TO_WINDING:
            return _through(ohms)
        case Fault.RESISTIVE_LEAD if ohms is not None:
            return f"{_between(ohms)} more than it should have"
        case BenchFault.POOR_GROUND | BenchFault.POOR_LINK if ohms is not None:
            return f"{_between(ohms)} where there should be next to none"
        case BenchFault.WET_PLUG if ohms is not None:
            return _through(ohms)
        case BenchFault.SLIP if ohms is not None:
            return f"{ohms_words(ohms.value)} would fit{_not_of_it(f, ' in place of ')}"
        case BenchFault.ELSEWHERE if f.instead is not None:
            return f"{_not_of_it(f) or 'it'} fits {pair_words(f.instead, pattern)}"
        case BenchFault.SLIP | BenchFault.ELSEWHERE if f.slipped is not None:
            return f"{_not_of_it(f)} doesn’t go with its other reading"
        case Fault.LEADS_NOT_ZEROED if ohms is not None:
            return f"{_between(ohms)} too much on every reading"
        case Fault.WRONG_TEMPERATURE if (warm := known.get("celsius")) is not None:
            return f"about {warm.value:.0f} °C, {warm.low:.0f} to {warm.high:.0f} °C"
        case _:
            return ""


def proof_words(f: Finding) -> str:
    """What would show it, or rule it out, where ohms can't."""
    if f.slipped is not None:  # it was read again already
        return f"strike out the {_not_of_it(f)}"
    return _PROOFS.get(f.fault, "")


def share_words(share: float) -> str:
    """`a quarter`, or the per cent where no plain share is near."""
    near, said = min(_SHARES, key=lambda s: abs(s[0] - share))
    return said if abs(near - share) <= 0.12 * near else f"{100 * share:.0f} %"


def _not_of_it(f: Finding, lead: str = "") -> str:
    """Of a pair's readings the one that doesn't belong to it; nothing where there is but one."""
    shown = f.slipped.ohms if f.slipped is not None else None
    return f"{lead}{ohms_words(shown)}" if shown is not None else ""


def _through(ohms: Parameter | None) -> str:
    return f"through {_between(ohms)}" if ohms is not None else ""


def _between(p: Parameter) -> str:
    low, high = (float(f"{v:.2g}") for v in (p.low, p.high))
    if low == high:
        return f"about {ohms_words(low)}"
    return f"{ohms_words(low)} to {ohms_words(high)}"


def _end_words(winding: str, at: Parameter, pattern: Pattern) -> str:
    """Which end of the winding it lies near; nothing where the readings leave that open."""
    w = next((w for w in pattern.windings if w.name == winding), None)
    if w is None or at.high - at.low > 0.5:
        return ""
    if at.high < 0.35:
        return f"near its {node_words(w.start, pattern)} end"
    if at.low > 0.65:
        return f"near its {node_words(w.finish, pattern)} end"
    return "midway" if at.low > 0.2 and at.high < 0.8 else ""
