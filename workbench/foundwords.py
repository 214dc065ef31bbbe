"""The shop's words for what was found of a winding: its quantities, how each is known, who contradicts whom."""

import math
from collections.abc import Collection, Sequence

from workbench.rewind.inferred import Inferred, Note, Quantity, Suspect, Worth
from workbench.rewind.strip import Figure
from workbench.rewindwords import sense_words
from workbench.words import plain_number

QUANTITY_WORDS = {
    Quantity.TURNS: "Turns a coil",
    Quantity.BARE: "Bare wire",
    Quantity.OVERALL: "Over enamel",
    Quantity.STRANDS: "Strands in hand",
    Quantity.MEAN_TURN: "Mean turn",
    Quantity.LENGTH: "Wire, one strand",
    Quantity.OHMS: "Ohms at 20 °C",
    Quantity.GRAMS: "Bare copper",
}
UNITS = {
    Quantity.BARE: "mm", Quantity.OVERALL: "mm", Quantity.MEAN_TURN: "mm", Quantity.LENGTH: "m",
    Quantity.OHMS: "Ω", Quantity.GRAMS: "g",
}  # fmt: skip
# how each is known when the record has it itself
KNOWN_BY = {
    Quantity.TURNS: "counted", Quantity.STRANDS: "counted", Quantity.GRAMS: "weighed",
}  # fmt: skip
MEASURED, WORKED_OUT, BY_TAG, BY_SIDES = "measured", "worked out", "by its tag", "by the tooth's sides"
IN_DOUBT = "in doubt"
FIGURE_WORDS = {
    Figure.TURNS: "the turns counted",
    Figure.BARE: "the bare diameter",
    Figure.OVERALL: "the diameter over enamel",
    Figure.GAUGE: "the gauge as it is written",
    Figure.STRANDS: "the strands in hand",
    Figure.MEAN_TURN: "the mean turn",
    Figure.GEOMETRY: "the tooth's width, height and build",
    Figure.OHMS: "the ohms",
    Figure.GRAMS: "the copper weighed",
}
_PLURAL = (Figure.TURNS, Figure.STRANDS, Figure.OHMS)
_FIGURE_UNITS = {
    Figure.TURNS: "turns a coil", Figure.BARE: "mm", Figure.OVERALL: "mm", Figure.GAUGE: "mm", Figure.MEAN_TURN: "mm",
    Figure.GEOMETRY: "mm a turn", Figure.OHMS: "Ω at 20 °C", Figure.GRAMS: "g of bare copper",
    Figure.STRANDS: "strands",
}  # fmt: skip
NOTE_WORDS = {
    Note.UNEVEN_BARE: "The bare diameter differs from place to place by more than a caliper may be off: "
    "stretched wire, or two kinds of it.",
    Note.UNEVEN_OVERALL: "Over its enamel the wire differs from place to place by more than a caliper may be off.",
    Note.UNEVEN_TURNS: "The coils were counted to unlike turns: count one again, or note which coil had which.",
    Note.THINNER: "Over its enamel the wire is no thicker than bare: one of the two was not measured so.",
}
NO_BUILD, BUILD_UNKNOWN = "no build of it is so thick", "build not known"
AGREE = "The figures agree with each other."
UNCHECKED = "Nothing checks these figures yet: one more, as ohms, copper or a mean turn, would."
CONTRADICT = "The figures contradict each other"
USUAL = "± holds 19 times in 20. Where none was typed the usual one stands: common practice, no source."


def give_words(w: Worth, unit: str = "") -> str:
    """`34.0 ± 1.0`: ± is twice u, to two figures (JCGM 100, 7.2.6); a count sure to a hundredth stands alone."""
    expanded = 2 * w.u
    if not expanded > 0 or (not unit and expanded < 0.01 and abs(w.value - round(w.value)) < 0.01):
        return _with(plain_number(round(w.value) if not unit else w.value, 1.0 if not unit else 0.001), unit)
    step = 10.0 ** (math.floor(math.log10(float(f"{expanded:.1e}"))) - 1)
    if step > 1:  # 1240, not 1243, where the tens are all that is known
        return _with(f"{round(w.value / step) * step:,.0f} ± {round(expanded / step) * step:,.0f}", unit)
    return _with(f"{plain_number(w.value, step)} ± {plain_number(expanded, step)}", unit)


def contradiction_words(found: Inferred) -> tuple[str, ...]:
    """Whether the figures agree, and which is off by how much; a sentence each."""
    if not found.contradicts:
        return (AGREE,) if found.freedom else ((UNCHECKED,) if found.worths else ())
    if found.liar is not None:
        (suspect,) = found.suspects
        figure = FIGURE_WORDS[suspect.figure]
        many = suspect.figure in _PLURAL
        told = f"{CONTRADICT}; without {figure} all others agree, so {'they are' if many else 'it is'} likely wrong."
        return told, _should(suspect)
    if found.suspects:
        each = [FIGURE_WORDS[s.figure] for s in found.suspects]
        told = f"{CONTRADICT}, and any one of these may be wrong: {any_of(each, 'or')}. Take them again."
        return (told, *(_capital(_either(s)) for s in found.suspects if s.others_say is not None))
    return (f"{CONTRADICT}, and leaving out any one of them doesn't help: take each again.",)


def _should(s: Suspect) -> str:
    if s.others_say is None:
        return "Nothing else tells what it should have been: take it again."
    they, them = ("they", "them") if s.figure in _PLURAL else ("it", "it")
    said = give_words(s.others_say, _FIGURE_UNITS[s.figure])
    return f"By the others {they} should have been {said}: take {them} again."


def _either(s: Suspect) -> str:
    assert s.others_say is not None
    return f"{FIGURE_WORDS[s.figure]}, if wrong, should have been {give_words(s.others_say, _FIGURE_UNITS[s.figure])}."


def sense_lines(seen: Collection[tuple[int, int]], pattern: Sequence[tuple[int, int]]) -> tuple[str, ...]:
    """What was seen held against the pattern's own senses; teeth with their senses. Nothing where nothing was seen."""
    if not seen:
        return ()
    if not pattern:
        return ("The pattern notes no senses of this winding, so what was seen is the only record of them.",)
    theirs, ours = dict(pattern), dict(seen)
    both = [t for t in ours if t in theirs]
    off = [t for t in both if ours[t] != theirs[t]]
    strange, unseen = [t for t in ours if t not in theirs], [t for t in theirs if t not in ours]
    out = []
    if len(off) > 1 and off == both:
        out.append(
            "Every coil was seen wound the other way than the pattern has it: they may have been looked at from the "
            "root, or the leads change places."
        )
    elif off:
        there = any_of([f"{t} {sense_words(theirs[t])}" for t in off])
        out.append(
            f"Seen wound the other way than the pattern has it: {_teeth(off).lower()} (there {there}). "
            "Look again: if it was so, the part was wound wrongly, or the pattern is wrong."
        )
    elif both:
        out.append("The senses seen are the pattern's.")
    if strange:
        out.append(f"The pattern has no coil of this winding on {_teeth(strange).lower()}.")
    if unseen:
        out.append(f"Not seen yet: {_teeth(unseen).lower()}.")
    return tuple(out)


def coil_count_lines(counted: int, noted: int, pattern: int | None) -> tuple[str, ...]:
    """What is to be remarked of how many coils there are; `counted`: of how many the turns were."""
    out = []
    if pattern is not None and pattern != noted:
        has = f"{pattern} coil{'' if pattern == 1 else 's'}"
        are = "is" if noted == 1 else "are"
        out.append(f"The pattern has {has} here, and {noted} {are} noted: turns and ohms are shared out among so many.")
    if counted > noted:
        out.append(f"The turns of {counted} coils are noted, of {noted} that there are.")
    return tuple(out)


def any_of(words: Sequence[str], joint: str = "and") -> str:
    return f" {joint} ".join(filter(None, [", ".join(words[:-1]), *words[-1:]]))


def _teeth(teeth: Sequence[int]) -> str:
    return f"{'Teeth' if len(teeth) > 1 else 'Tooth'} {any_of([str(t) for t in sorted(teeth)])}"


def _with(number: str, unit: str) -> str:
    return f"{number} {unit}" if unit else number


def _capital(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}"
