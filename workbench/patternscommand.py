"""`plugface patterns`: the shop's patterns out to files, files into the shop, and what their proof says.

Exit status: 0, or 1 where something was refused or found wrong, or 2 where a store or a file's place was in the way.
"""

import io
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

from db.trouble import PatternsThere, StoreTrouble
from workbench.exchange.patternfiles import Bad, Found, WriteError, read_patterns, to_line, write_patterns
from workbench.records import Arrival, Brought
from workbench.shop import Shop
from workbench.stator.meter import Meter

REFUSED, IN_THE_WAY = 1, 2


def export(store: str | None, names: Sequence[str], to: Path | None, *, replace: bool) -> int:
    """`names`: which, and in which order; all where there are none. `to` None: lines to standard output."""
    try:
        with _shop(store, looking=True) as shop:
            kept = {r.pattern.name: r.pattern for r in shop.patterns().result()}
        strange = [n for n in names if n not in kept]
        if strange:
            _complain(f"The shop has no pattern named “{strange[0]}”. Nothing was exported. Look at its name.")
            return REFUSED
        patterns = [kept[n] for n in dict.fromkeys(names)] if names else list(kept.values())
        if to is None:
            sys.stdout.writelines(map(to_line, patterns))
            return 0
        if not patterns:
            _complain("The shop has no patterns yet. Nothing was exported.")
            return REFUSED
        files = write_patterns(patterns, to, replace=replace)
    except (StoreTrouble, WriteError) as e:
        _complain(e.sentence)
        return IN_THE_WAY
    _say(f"{_count(len(patterns))} exported to {files[0] if len(files) == 1 else to}.")
    return 0


def bring_in(store: str | None, paths: Sequence[Path], *, as_revisions: bool) -> int:
    """All that the files hold, or nothing."""
    found, bad = read_patterns(paths)
    refused = [str(b) for b in bad] + ([] if as_revisions else _twice(found))
    if refused:
        for line in refused:
            _complain(line)
        _complain("Nothing was imported; the shop's patterns stand as they were. Mend the files and import them again.")
        return REFUSED
    try:
        with _shop(store) as shop:
            brought = shop.bring_in([f.pattern for f in found], as_revisions=as_revisions).result()
    except PatternsThere as e:
        _complain(f"{e.sentence} For the first, say --as-revision; for the second, change the name in the file.")
        return REFUSED
    except StoreTrouble as e:
        _complain(e.sentence)
        return IN_THE_WAY
    for one in brought:
        _say(_arrival_words(one))
    return 0


def check(store: str | None, paths: Sequence[Path], *, strict: bool) -> int:
    """What is wrong with the files, then what the proof of each pattern says. `strict`: warnings count too."""
    from workbench.drafting.draft import Draft
    from workbench.drafting.prove import Weight, prove
    from workbench.draftwords import remark_words

    try:
        meters = _meters(store)
    except StoreTrouble as e:
        _complain(e.sentence)
        return IN_THE_WAY
    found, bad = read_patterns(paths)
    wrong = bool(bad)
    for line in bad:
        _complain(str(line))
    for one in found:
        proof = prove(Draft.of(one.pattern), meters)
        wrong |= not proof.stands or (strict and any(s.weight is Weight.WARNING for s in proof.said))
        fits = "fits the Schema" if proof.stands else "is no pattern"
        _say(f"{one.place}: “{one.pattern.name}” {fits}.")
        for said in sorted(proof.said, key=lambda s: list(Weight).index(s.weight)):
            _say(f"  {said.weight.value}: {remark_words(said, proof.pattern)}")
    return REFUSED if wrong else 0


# ---- inside


@contextmanager
def _shop(store: str | None, *, looking: bool = False) -> Iterator[Shop]:
    """Never made. Raises StoreTrouble."""
    shop = Shop(store)
    try:
        if looking:
            shop.look().result()
        else:
            shop.open(create=False).result()
        yield shop
    finally:
        shop.close()


def _meters(store: str | None) -> list[Meter]:
    """The shop's; those that ship, where no store is named. Raises StoreTrouble."""
    if store is None:
        from workbench.exchange.starters import starter_meters

        return [m for _, m in starter_meters()]
    with _shop(store, looking=True) as shop:
        return [m.meter for m in shop.meters().result()]


def _twice(found: Sequence[Found]) -> list[str]:
    """Two files of one name: which of them is meant is not for the program to say."""
    first: dict[str, Found] = {}
    out: list[str] = []
    for one in found:
        before = first.setdefault(one.pattern.name, one)
        if before is not one and before.pattern != one.pattern:
            why = f"name: another “{one.pattern.name}” stands in {before.place}."
            more = "Import one of them, or both as revisions, the older first (--as-revision)."
            out.append(str(Bad(one.place, f"{why} {more}")))
    return out


def _arrival_words(one: Brought) -> str:
    name, number = one.revision.pattern.name, one.revision.number
    match one.arrival:
        case Arrival.NEW:
            return f"“{name}”: new."
        case Arrival.REVISION:
            return f"“{name}”: revision {number}."
        case Arrival.KEPT:
            return f"“{name}”: there already, as revision {number}."


def _count(n: int) -> str:
    return "1 pattern" if n == 1 else f"{n} patterns"


def _say(line: str) -> None:
    if isinstance(sys.stdout, io.TextIOWrapper):
        sys.stdout.reconfigure(errors="backslashreplace")  # a terminal that lacks an ohm sign still says the rest
    sys.stdout.write(f"{line}\n")


def _complain(line: str) -> None:
    sys.stderr.write(f"{line}\n")
