"""Another pattern for a part that was booked in on the wrong one: what is offered, and what is in the way."""

from dataclasses import replace
from uuid import uuid4

from tests.sitting.fakes import AT, TWO_COILS, WYE, bench_file, bench_of, starter
from workbench.exchange.starters import starter_revisions
from workbench.records import Outcome, PatternRevision, RepairKind
from workbench.sitting.bench import Bench
from workbench.sitting.otherpattern import (
    DECIDED,
    NOT_KEPT,
    ONLY_TO_LOOK,
    choices,
    in_the_way,
    moved_words,
    newest,
    plugs_words,
    read_on,
)
from workbench.stator.pattern import Pattern, Side, Terminal


def revision(pattern: Pattern, number: int = 1) -> PatternRevision:
    return PatternRevision(uuid4(), uuid4(), number, pattern, AT)


NOW = revision(starter(TWO_COILS))


def test_what_has_the_same_plugs_is_offered_first_and_its_own_pattern_not_at_all() -> None:
    twin = revision(replace(starter(TWO_COILS), name="zebra"))
    other = revision(replace(starter(WYE), name="aardvark"))
    found = choices(NOW, (other, NOW, twin))
    assert [(c.revision, c.mark) for c in found] == [(twin, "same plugs"), (other, "")]
    assert found[0].spoken == f"zebra, {found[0].detail}, same plugs"


def test_plugs_in_another_order_and_drawn_in_another_unit_are_the_same_plugs() -> None:
    p = NOW.pattern
    larger = tuple(replace(c, cavities=tuple(replace(x, x=3 * x.x, y=3 * x.y) for x in c.cavities))
                   for c in reversed(p.connectors))  # fmt: skip
    (found,) = choices(NOW, (revision(replace(p, name="drawn by another hand", connectors=larger)),))
    assert found.alike


def test_a_socket_for_a_blade_or_a_key_elsewhere_is_another_plug() -> None:
    p = NOW.pattern
    first, *rest = p.connectors
    cavity = first.cavities[0]
    terminal = Terminal.BLADE if cavity.terminal is Terminal.SOCKET else Terminal.SOCKET
    turned = replace(first, key=Side.LEFT if first.key is not Side.LEFT else Side.TOP)
    for odd in (replace(first, cavities=(replace(cavity, terminal=terminal), *first.cavities[1:])), turned):
        (found,) = choices(NOW, (revision(replace(p, name="odd", connectors=(odd, *rest))),))
        assert not found.alike


def test_a_newer_revision_of_its_own_stands_first_and_an_older_one_is_not_offered() -> None:
    third = replace(NOW, id=uuid4(), number=3)
    twin = revision(replace(NOW.pattern, name="a twin"))
    found = choices(NOW, (twin, third))
    assert [c.revision for c in found] == [third, twin]
    assert (found[0].mark, found[0].detail) == ("newer", "revision 3 is out: take it for the next sheet")
    assert newest(NOW, (twin, third)) is third
    assert choices(third, (twin, NOW)) == choices(third, (twin,))
    assert newest(third, (twin, NOW)) is None


def test_every_pattern_that_ships_says_what_its_plugs_look_like() -> None:
    library = [revision(p) for p in starter_revisions()]
    for c in choices(NOW, library):
        assert plugs_words(c.revision.pattern) in c.detail
        assert all(f"{p.name}: {len(p.cavities)} cavit" in c.detail for p in c.revision.pattern.connectors)


def test_what_it_is_read_by_is_said_and_that_a_newer_one_is_out() -> None:
    bench, _ = bench_of()
    now = bench.revision
    assert read_on(bench, (now,)) == f"Read as {TWO_COILS}, revision 2."
    newer = replace(now, id=uuid4(), number=3)
    assert read_on(bench, (newer,)) == (
        f"Read as {TWO_COILS}, revision 2. Revision 3 is out: take it for the next sheet."
    )


def test_a_decision_an_earlier_sheet_and_readings_not_kept_are_in_the_way() -> None:
    bench, keeper = bench_of(at_once=False)
    assert in_the_way(bench) == ""
    bench.enter("155.2")
    assert in_the_way(bench) == ""  # on its way: waited for, not refused
    keeper.waiting[0].fail()
    assert in_the_way(bench) == NOT_KEPT
    assert in_the_way(Bench(bench_file(), keeper, past=True)) == ONLY_TO_LOOK
    bench, _ = bench_of()
    bench.decide(Outcome.PASS, "")
    assert in_the_way(bench) == DECIDED
    assert read_on(bench, ()).endswith(DECIDED)
    bench.repair(RepairKind.SPLICE, "P 3", "")  # to be read once more, within the same visit
    assert in_the_way(bench) == ""


def test_what_is_said_of_the_new_sheet_tells_a_revision_from_a_pattern() -> None:
    third = replace(NOW, id=uuid4(), number=3)
    assert moved_words(NOW, third).startswith("This sheet is read by revision 3.")
    said = moved_words(NOW, revision(starter(WYE)))
    assert said.startswith(f"Read as {WYE} from here on. What was read before stays on its own sheet;")
    assert said.endswith("an intake tag printed before names the old pattern.")
