"""What the bench asks before it keeps a reading, with the ways on; and what it tells after."""

from collections.abc import Callable

from workbench import words
from workbench.sitting.say import Choice, Said, Tone
from workbench.stator.entry import Shown
from workbench.stator.judge import Row
from workbench.stator.pattern import Pair, Pattern
from workbench.stator.slips import Slip, SlipKind

Act = Callable[[], None]


def lone_one_question(keep_overload: Act, keep_one_ohm: Act) -> Said:
    return Said(
        Tone.ASKS,
        "1 alone: does the meter show an overload, or one ohm? Type OL or 1.0.",
        (Choice("Overload", keep_overload), Choice("One ohm", keep_one_ohm)),
    )


def slip_question(pattern: Pattern, pair: Pair, shown: Shown, slip: Slip, keep_meant: Act, keep_typed: Act) -> Said:
    here = words.pair_words(pair, pattern)
    if slip.kind is SlipKind.PAIR:
        there = words.pair_words(slip.pair, pattern)
        sentence = f"{shown.text} doesn't fit {here} but would fit {there}: which pair do the probes touch?"
        meant = f"It was {there}"
    else:
        what = "kilohm and ohm mixed up" if slip.kind is SlipKind.FACTOR else "a digit or the point slipped"
        sentence = f"{shown.text} doesn't fit {here}, {slip.text} would: {what}? Enter again keeps {shown.text}."
        meant = f"It was {slip.text}"
    return Said(Tone.ASKS, sentence, (Choice(meant, keep_meant), Choice(f"Keep {shown.text}", keep_typed)))


def remedy_for(row: Row, pattern: Pattern, *, zeroed: bool) -> Said | None:
    """What would settle a reading that isn't inside; None where nothing is left to settle."""
    more = words.remedy_words(row, zeroed=zeroed)
    return Said(Tone.TELLS, f"{words.reason_words(row, pattern)} {more}") if more and row.verdict is not None else None
