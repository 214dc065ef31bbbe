"""A unit in the counter's list."""

from dataclasses import replace

from tests.sitting.fakes import AT, bench_file
from workbench.records import Decided, Outcome, UnitListed, new_id
from workbench.sitting.unitline import unit_line

FILE = bench_file()


def test_it_tells_why_it_came_last_and_how_that_ended() -> None:
    job = replace(FILE.job, complaint="no spark\nwhen warm")
    decided = Decided(new_id(), job.id, FILE.sheet.id, Outcome.REWIND, "", "not proved", AT)
    line = unit_line(UnitListed(FILE.unit, job, decided))
    assert line.about == f"{FILE.unit.label} · no spark when warm"
    assert (line.standing, line.verdict) == ("Rewind", "not proved")
    assert line.spoken == f"{FILE.unit.tag}: {line.about}. Rewind, not proved"


def test_what_is_not_decided_is_in_the_shop_and_what_never_came_says_nothing() -> None:
    line = unit_line(UnitListed(FILE.unit, replace(FILE.job, complaint="")))
    assert (line.about, line.standing, line.verdict) == (FILE.unit.label, "In the shop", "")
    bare = unit_line(UnitListed(FILE.unit))
    assert (bare.standing, bare.verdict) == ("", "")
    assert bare.spoken == f"{FILE.unit.tag}: {FILE.unit.label}"
