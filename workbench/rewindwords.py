"""The shop's words for what a rewind knows as codes: senses and ends, layouts, wire, what is to be looked out for."""

from workbench.rewind.coil import Caution as PlanCaution
from workbench.rewind.coil import Fit, Manner
from workbench.rewind.electrical import Note, Remark
from workbench.rewind.layout import Connection, ToothCoil
from workbench.rewind.layoutcheck import Checked, Fault
from workbench.rewind.layoutsteps import End, EndAt, Step
from workbench.rewind.substitute import Caution
from workbench.rewind.wire import Build, Wire
from workbench.stator.layout import Facing

SENSE_SEEN = "seen from the tooth's tip towards its root"
CONNECTION_WORDS = {
    Connection.SERIES: "in series",
    Connection.PARALLEL: "groups side by side",
    Connection.WYE: "wye",
    Connection.DELTA: "delta",
}
FACING_WORDS = {Facing.OUTWARD: "outward", Facing.INWARD: "inward", Facing.STRAIGHT: "straight, side by side"}
BUILD_WORDS = {
    Build.SINGLE: "single",
    Build.HEAVY: "heavy",
    Build.TRIPLE: "triple",
    Build.GRADE_1: "grade 1",
    Build.GRADE_2: "grade 2",
    Build.GRADE_3: "grade 3",
}
FAULT_WORDS = {
    Fault.REVERSED: "A coil is wound the other way: it ohms perfectly and kills the output.",
    Fault.UNEQUAL_COILS: "The phases have unlike numbers of coils.",
    Fault.UNEQUAL_TURNS: "The phases have unlike turns.",
    Fault.UNEQUAL_OHMS: "The phases' ohms differ by more than 2 % from their mean.",
    Fault.UNEQUAL_VOLTS: "The phases' volts differ.",
    Fault.NOT_120: "The phases are not 120 degrees apart.",
}
CAUTION_WORDS = {
    Caution.STRANDS_TOGETHER: "Strands in hand must have the very same turns, or they are a shorted secondary: "
    "wind and count them together.",
    Caution.RUNS_OUT: "The spools hold too little.",
    Caution.OVERFILLED: "More than is got into the window.",
    Caution.HOTTER: "More current to the copper than it had: it runs hotter.",
    Caution.FILL_UNKNOWN: "The window isn't known, so whether it fits isn't either.",
}
CAUTION_SHORT = {
    Caution.STRANDS_TOGETHER: "same turns",
    Caution.RUNS_OUT: "runs out",
    Caution.OVERFILLED: "too full",
    Caution.HOTTER: "hotter",
    Caution.FILL_UNKNOWN: "fit unknown",
}

MANNER_WORDS = {Manner.LAYERED: "layer by layer", Manner.SCRAMBLE: "as it falls"}
FIT_WORDS = {
    Fit.BOTH: "It goes in by both bounds: square-stacked, and nested.",
    Fit.SQUARE: "It goes in square-stacked, each wire right on top of one below; nested it would not.",
    Fit.NESTED: "It goes in only nested, every wire in the groove between two below; square-stacked it would not.",
    Fit.FILL: "It goes in as it falls, by the fill that hands get.",
}
PLAN_CAUTIONS = {
    PlanCaution.NESTED_ONLY: "It goes in only nested: one wire that rides up, and the last layer has no room.",
    PlanCaution.HIGH_FILL: "The fill is higher than hands usually get (common practice, no source).",
    PlanCaution.LAID_BY_NOMINAL: "Laid by the nominal diameter over the enamel, since the largest is not known: wire "
    "that runs thick takes more room.",
    PlanCaution.USUAL_TOLERANCE: "The wire's own tolerance is not in the table; the usual one of 1 % was taken (common "
    "practice, no source).",
}
TOOTH_WORD = "tooth"
TURNING_WORDS = {Facing.OUTWARD: "flywheel", Facing.INWARD: "rotor", Facing.STRAIGHT: "flywheel"}
# what of a plan has no source but the trade
PLAN_PRACTICE = "common practice, no source: put your own shop's in their place"


def sense_words(sense: int) -> str:
    return "clockwise" if sense > 0 else "anticlockwise"


def start_words(end: End) -> str:
    if end.at is EndAt.TOOTH:
        return f"the wire comes over from tooth {end.number}"
    return f"start: lead {end.number}" if end.at is EndAt.LEAD else "start at the star point"


def finish_words(end: End) -> str:
    if end.at is EndAt.TOOTH:
        return f"go over to tooth {end.number}"
    return f"finish: lead {end.number}" if end.at is EndAt.LEAD else "finish: to the star point"


def coil_words(c: ToothCoil) -> str:
    return f"tooth {c.tooth}" + (f", place {c.place + 1} in its stack" if c.place else "")


def step_words(step: Step, turns: int | None = None) -> str:
    """One sentence, as it would be said across the bench."""
    many = f"{turns} turns, " if turns is not None else ""
    return (
        f"Step {step.number}: {coil_words(step.coil)}, {many}{sense_words(step.coil.sense)}; "
        f"{start_words(step.start)}; {finish_words(step.finish)}."
    )


def remark_words(remark: Remark) -> str:
    share = "" if remark.share is None else f" ({100 * remark.share:.0f} %)"
    if remark.note is Note.CIRCULATES:
        return (
            f"Phase {remark.phase}'s groups side by side differ in volts{share}: current goes round in them unloaded."
        )
    if remark.note is Note.THIRD_CIRCULATES:
        return f"In a delta the third harmonic goes round{share}: it warms the part unloaded."
    if remark.note is Note.NO_VOLTS:
        return f"The coils of phase {remark.phase} cancel: no volts at all."
    return "Nobody counted the poles, so one a tooth was taken: count them on the flywheel before it is wound."


def reversed_words(checked: Checked) -> str:
    """Which coils to turn about; nothing where none is reversed."""
    ways = [" and ".join(coil_words(c) for c in way) for way in checked.reversed_coils if way]
    if not ways:
        return ""
    if len(ways) == 1:
        one = len(checked.reversed_coils[0]) == 1
        return f"Wound the other way: {ways[0]}. Turn {'it' if one else 'them'} about."
    return f"Wound the other way: either {', or '.join(ways[:4])}. A compass at every tooth tells which."


def wire_words(wire: Wire) -> str:
    build = f", {BUILD_WORDS[wire.build]}" if wire.build is not None else f", {wire.nominal_mm:.3f} mm over enamel"
    hand = f"{wire.strands} × " if wire.strands > 1 else ""
    return f"{hand}{wire.gauge.name}{build}"


def change_words(ratio: float) -> str:
    """A ratio as its change: `+4 %`, `−12 %`, `same`."""
    percent = round(100 * (ratio - 1))
    if percent == 0:
        return "same"
    return f"{'+' if percent > 0 else '−'}{abs(percent)} %"


def sentence(text: str) -> str:
    """A refusal as it is said: begun with a capital, ended with a full stop."""
    return f"{text[:1].upper()}{text[1:]}{'' if text.endswith('.') else '.'}"
