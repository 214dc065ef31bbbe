"""What a screen reader is told of a bench that changed: all of it stands on the screen too, where no focus is."""

from dataclasses import dataclass

from workbench import words
from workbench.sitting.bench import Bench
from workbench.stator.judge import SheetVerdict
from workbench.stator.pattern import Pair


@dataclass(frozen=True, slots=True)
class Heard:
    """How far a listener knows a bench: readings taken, the sheet's verdict, the pair in hand."""

    lines: int
    verdict: SheetVerdict
    pair: Pair | None


def heard(bench: Bench) -> Heard:
    return Heard(len(bench.lines), bench.judged.verdict, bench.pair)


def aloud(bench: Bench, before: Heard) -> str:
    """What is new since: a reading with its verdict, the sheet's verdict, the pair in hand. Empty where nothing is."""
    said = []
    row = bench.last_row(bench.last) if bench.last is not None else None
    if len(bench.lines) > before.lines and bench.last is not None and row is not None:
        read = words.pair_words(bench.last, bench.pattern)
        said.append(f"{read}: {words.value_words(row)}, {words.verdict_word(row)}.")
    if bench.judged.verdict is not before.verdict:
        said.append(f"The sheet: {words.SHEET_WORDS[bench.judged.verdict]}.")
    if bench.pair is not None and bench.pair != before.pair:
        offered = bench.offered is not None and bench.expectations.same(bench.pair, bench.offered)
        said.append(f"{'Next' if offered else 'In hand'}: {words.pair_words(bench.pair, bench.pattern)}.")
    return " ".join(said)
