"""What the bench asks before it keeps a reading, as sentences."""

from workbench import words
from workbench.stator.entry import Shown
from workbench.stator.pattern import Pair, Pattern
from workbench.stator.slips import Slip, SlipKind

LONE_ONE = "1 alone: does the meter show an overload, or one ohm? Type OL or 1.0."


def slip_question(pattern: Pattern, pair: Pair, shown: Shown, slip: Slip) -> tuple[str, str]:
    """The question, and the label of the answer that takes the slip for what it was."""
    here = words.pair_words(pair, pattern)
    if slip.kind is SlipKind.PAIR:
        there = words.pair_words(slip.pair, pattern)
        return (
            f"{shown.text} doesn't fit {here} but would fit {there}: which pair do the probes touch?",
            f"It was {there}",
        )
    what = {SlipKind.FACTOR: "kilohm and ohm mixed up", SlipKind.DIGIT: "a digit or the point slipped"}[slip.kind]
    return (
        f"{shown.text} doesn't fit {here}, {slip.text} would: {what}? Enter again keeps {shown.text}.",
        f"It was {slip.text}",
    )
