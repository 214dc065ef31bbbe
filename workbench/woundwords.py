"""The shop's words for what is known as codes of a rewind as wound: steps, senses, coils' verdicts, what is lacking."""

import math
from collections.abc import Sequence

from workbench.rewind.finished import Lack
from workbench.rewind.wound import LEAST_MEGOHMS, Apart, CoilJudged, Compared, held, megohms_at_40
from workbench.rewind.woundrecord import Bake, Insulation, Spot, Way, WoundStep
from workbench.stator.verdict import Verdict
from workbench.words import decision_word, ohms_words

STEP_WORDS = {
    WoundStep.LINER: "Liner",
    WoundStep.WIND: "Wind",
    WoundStep.TIE: "Tie",
    WoundStep.STRIP_ENDS: "Strip the ends",
    WoundStep.JOIN: "Splice or crimp, and pull",
    WoundStep.SLEEVE: "Sleeve",
    WoundStep.INSULATION: "Insulation, before the dip",
    WoundStep.VARNISH: "Varnish",
    WoundStep.BAKE: "Bake",
    WoundStep.CLEARANCE: "Clearance",
    WoundStep.COLD: "Cold retest",
}
RUN_WORDS = "Run on the machine"
# of a step that is not done: what is to be done, or noted
STEP_HINT = {
    WoundStep.LINER: "on every tooth",
    WoundStep.WIND: "coil by coil, by the counter",
    WoundStep.TIE: "nothing that can move",
    WoundStep.STRIP_ENDS: "to bright copper",
    WoundStep.JOIN: "each pulled by hand",
    WoundStep.SLEEVE: "over every joint",
    WoundStep.INSULATION: "volts and MΩ",
    WoundStep.VARNISH: "its lot",
    WoundStep.BAKE: "how hot, how long",
    WoundStep.CLEARANCE: "turned all the way round",
    WoundStep.COLD: "on a sheet of its own",
}
# what to mind at a step, and what to do: local codes and licensed practice go first wherever it can hurt
STEP_MIND = {
    WoundStep.LINER: "No bare iron where wire lies: a nick there is a ground later.",
    WoundStep.WIND: "Turns by the counter, each coil's noted beside it. Glasses: a cut end whips.",
    WoundStep.TIE: "Nothing that can move: what moves chafes.",
    WoundStep.STRIP_ENDS: "A stripper that is a chemical: gloves, glasses, moving air, by what is printed on it.",
    WoundStep.JOIN: "Pull every joint by hand before it is sleeved. Solder burns.",
    WoundStep.SLEEVE: "Over every joint, and over what crosses another coil.",
    WoundStep.INSULATION: "Only with the part off the machine, by someone who may; at most 500 V dc, nothing "
    "electronic connected, discharged after. Local codes and licensed practice go first.",
    WoundStep.VARNISH: "By the varnish maker's sheet and local rules: moving air, no flame, gloves.",
    WoundStep.BAKE: "By the varnish maker's sheet and local rules: drained first, since solvent in a hot oven burns. "
    "Never an oven for food.",
    WoundStep.CLEARANCE: "To the flywheel and over the ends, turned by hand all the way round.",
    WoundStep.COLD: "At the room's own warmth, on a sheet of its own: warm copper reads more.",
}
RUN_MIND = (
    "A running engine has moving parts and its windings make hundreds of volts: by the machine's own instructions, "
    "by someone who may."
)
SENSE_MIND = (
    "Small limited dc, plus on the phase's start, nothing electronic connected; a compass at each tip. North: the tip "
    "draws its south end."
)
WAY_WORDS = {
    Way.CLOCKWISE: "clockwise", Way.ANTICLOCKWISE: "anticlockwise", Way.NORTH: "north", Way.SOUTH: "south",
}  # fmt: skip
COMPARED_WORDS = {
    Compared.AGREES: "agrees",
    Compared.DIFFERS: "REVERSED",
    Compared.UNTESTED: "not tested",
    Compared.NOTHING: "nothing to hold it against",
}
LACK_WORDS = {
    Lack.SENSE: "sense not tested at every tooth",
    Lack.INSULATION: "insulation before the dip not proved",
    Lack.RUN: "not run on the machine",
    Lack.OHMS: "a coil's ohms are out",
}
FAILED_WORDS = {
    Lack.SENSE: "a coil is reversed",
    Lack.INSULATION: "insulation failed before the dip",
    Lack.RUN: "ran badly on the machine",
    Lack.OHMS: "a coil's ohms are out",
}
NOT_BY_THIS_METER = "It isn't open; more this meter can't tell of so few ohms: the turn counter, or four wires."
# from so many times its ohms on no count of turns accounts for it
FAR = 2.0
FAR_TOO_MUCH = "More than miscounted turns account for: a poor joint, other wire, or leads not taken off."
UNKNOWN = "Its turns, its wire or the mean turn isn't known, so that there is nothing to hold it against."


def spot_words(spot: Spot) -> str:
    if not spot.tooth:
        return "coil beside the ring" if not spot.place else f"coil {spot.place + 1} beside the ring"
    return f"tooth {spot.tooth}" + (f", place {spot.place + 1} in its stack" if spot.place else "")


def spots_words(spots: Sequence[Spot]) -> str:
    """`tooth 3`, `teeth 3, 7 and 9`; coils beside the ring by their own words."""
    teeth = [str(s.tooth) for s in spots if s.tooth]
    said = (
        [f"tooth {teeth[0]}" if len(teeth) == 1 else f"teeth {', '.join(teeth[:-1])} and {teeth[-1]}"] if teeth else []
    )
    return "; ".join([*said, *(spot_words(s) for s in spots if not s.tooth)])


def reversed_words(spots: Sequence[Spot], *, whole_phase: bool) -> str:
    one = len(spots) == 1
    again = " All of a phase are: was plus on its finish? Then test it again." if whole_phase else ""
    return (
        f"REVERSED: {spots_words(spots)}. {'It ohms' if one else 'They ohm'} perfectly and "
        f"{'kills' if one else 'kill'} the output: turn {'it' if one else 'them'} about before the dip.{again}"
    )


def sense_seen_words(sense: int | None, way: Way | None) -> str:
    """What it should be and what was seen, in the same kind of words."""
    if way is not None and way.by_compass:
        should = {1: "south", -1: "north"}.get(sense or 0, "")
    else:
        should = {1: "clockwise", -1: "anticlockwise"}.get(sense or 0, "")
    laid = f"laid {should}" if should else "sense not noted"
    return f"{laid}, seen {WAY_WORDS[way]}" if way is not None else laid


def coil_word(judged: CoilJudged) -> str:
    """The verdict's word; nothing where there is none."""
    return decision_word(judged.decision) if judged.decision is not None else ""


def coil_told(judged: CoilJudged) -> str:
    """What a coil's reading comes to, a sentence or two; nothing where it was not read."""
    reading, want = judged.coil.reading, judged.expected
    if reading is None:
        return ""
    if want is None:
        return UNKNOWN if reading.ohms is not None else f"An overload. {UNKNOWN}"
    step = want.ohms / 300
    should = f"wire and turns say {ohms_words(want.low, step).rpartition(' ')[0]} to {ohms_words(want.high, step)}"
    if judged.corrected is None or judged.decision is None:
        is_open = judged.decision is not None and judged.decision.verdict is Verdict.OUTSIDE
        return f"{'Open' if is_open else 'An overload, though the meter may not reach so far'}; {should} at 20 °C."
    value = judged.corrected.ohms
    said = f"At 20 °C {ohms_words(value, step)}; {should}."
    match judged.decision.verdict:
        case Verdict.CONTINUOUS:
            return f"{said} {NOT_BY_THIS_METER}"
        case Verdict.OUTSIDE:
            if value > FAR * want.ohms:
                return f"{said} {FAR_TOO_MUCH}"
            off = abs(value / want.ohms - 1) * (judged.coil.turns or 0)
            less = "few, or turns that touch" if value < want.ohms else "many, or a poor joint"
            return f"{said} As if {_turns(off)} too {less}: count again."
        case Verdict.UNDECIDED:
            return f"{said} Too near the edge to tell: read it again, or on four wires."
        case Verdict.INSIDE:
            return f"{said} {_seen(judged.seen_turns)}"


def _seen(turns: int | None) -> str:
    return "" if turns is None else f"This meter would tell {_turns(turns)} too few."


def _turns(turns: float) -> str:
    n = max(1, math.floor(turns + 0.5))
    return f"{n} turn{'' if n == 1 else 's'}"


def apart_words(a: Apart) -> str:
    if a.share > FAR - 1:
        said = spot_words(a.spot)
        return f"{said[:1].upper()}{said[1:]} stands out: {1 + a.share:.0f} times its fellows. {FAR_TOO_MUCH}"
    side = "less" if a.share < 0 else "more"
    what = "too few, or turns that touch" if a.share < 0 else "too many, or a poor joint"
    said = spot_words(a.spot)
    return (
        f"{said[:1].upper()}{said[1:]} stands out: {abs(100 * a.share):.1f} % {side} than its fellows, "
        f"as if {_turns(abs(a.turns))} {what}."
    )


def insulation_words(test: Insulation) -> str:
    shown = f"{'above ' if test.above else ''}{test.megohms:g} MΩ at {test.volts:g} V and {test.celsius:g} °C"
    at_40 = f"{'above ' if test.above else ''}{megohms_at_40(test):.3g} MΩ at 40 °C"
    verdict = {
        True: "holds",
        False: "FAILS",
        None: "undecided: dry it and test again, or on a tester that reaches further",
    }
    return f"{shown}: {at_40}, where {LEAST_MEGOHMS:g} are wanted; {verdict[held(test)]}."


def bake_words(bake: Bake) -> str:
    return f"{bake.celsius:g} °C for {hours_text(bake.minutes)} h"


def hours_text(minutes: float) -> str:
    """`4`, `1.5`, `1:40`: as it is typed."""
    if not minutes % 15:
        return f"{minutes / 60:g}"
    return f"{minutes // 60:.0f}:{minutes % 60:02.0f}"


def lack_words(lacks: Sequence[Lack], failed: Sequence[Lack]) -> str:
    """One sentence; nothing where nothing is lacking."""
    if not lacks:
        return ""
    said = [FAILED_WORDS[x] if x in failed else LACK_WORDS[x] for x in lacks]
    return f"Can't be called good: {'; '.join(said)}."


def failed_words(bad: Sequence[str]) -> str:
    """What came out bad, by the codes of `Lack`."""
    return "; ".join(FAILED_WORDS[Lack(x)] for x in bad)


def lacking_words(lacks: Sequence[str]) -> str:
    """What is not shown yet, by the codes of `Lack`."""
    return "; ".join(LACK_WORDS[Lack(x)] for x in lacks)
