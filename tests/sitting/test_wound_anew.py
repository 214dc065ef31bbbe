"""A part that was wound anew on the bench: its own band, and a verdict that wants senses, insulation and a run."""

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, timedelta
from uuid import uuid4

import pytest

from tests.rewind.test_predict import taken
from tests.rewind.wounds import body, in_order, turned
from tests.sitting.fakes import AT, WYE, FakeKeeper, bench_file, sound
from tests.sitting.pasts import COIL, past_sheet
from tests.sitting.test_earnedbands import good
from tests.sitting.test_says import read_all
from workbench.cards.cautions import shipped_cautions
from workbench.cards.content import card_content
from workbench.exchange.rewindbody import body_to_text
from workbench.records import BenchFile, KeptRewind, Outcome, Whose, as_read
from workbench.rewind.record import WHOLE, Body
from workbench.rewind.wire import Build, Wire, awg
from workbench.rewind.woundrecord import WoundWire, WoundWork
from workbench.sitting.bench import Bench
from workbench.sitting.card import card_facts
from workbench.sitting.earnedbands import earned_views
from workbench.sitting.history import good_before, history, remember
from workbench.sitting.views import band, heading
from workbench.stator.judge import SheetVerdict
from workbench.stator.pattern import Pair
from workbench.stator.predicted import Predicted

BEFORE = AT - timedelta(minutes=5)


def rewound(of: Body, winding: str = WHOLE) -> KeptRewind:
    return KeptRewind(uuid4(), uuid4(), winding, body_to_text(of), BEFORE, BEFORE)


def finished(work: WoundWork, spoil: Callable[[BenchFile], BenchFile] = lambda f: f) -> Bench:
    """On the bench after its rewind, every check read as it should."""
    file = replace(bench_file(WYE), rewinds=(rewound(body(work)),))
    bench = Bench(spoil(file), FakeKeeper(at_once=True))
    read_all(bench)
    return bench


def words(bench: Bench, whose: Whose = Whose.CUSTOMER) -> str:
    content = card_content(card_facts(bench, AT, whose=whose), shipped_cautions())
    return "\n".join(content.texts)


def test_in_order_it_is_good() -> None:
    bench = finished(in_order())
    assert (bench.judged.verdict, bench.judged.lacks) == (SheetVerdict.GOOD, ())
    assert "not run" not in words(bench)
    assert "Wound anew:\nall three phases." in words(bench)


@pytest.mark.parametrize(
    ("without", "said"),
    [
        ({"sense": ()}, "sense not tested at every tooth"),
        ({"insulation": None}, "insulation before the dip not proved"),
    ],
)
def test_without_senses_or_insulation_it_is_not_proved(without: dict[str, object], said: str) -> None:
    bench = finished(replace(in_order(), **without))  # type: ignore[arg-type]  # by name
    assert bench.judged.verdict is SheetVerdict.NOT_PROVED
    assert heading(bench).progress == said
    card = words(bench)
    assert f"wound anew: {said}" in card
    assert f"Wound anew:\n{said}." in card


def test_without_a_run_it_may_be_good_but_the_card_says_that_it_was_not_run() -> None:
    bench = finished(replace(in_order(), run=None))
    assert bench.judged.verdict is SheetVerdict.GOOD
    assert heading(bench).progress == "all 4 checks read; not run on the machine"
    card = words(bench)
    assert "as far as tested: 4 planned checks read; not run on the machine" in card
    assert "Wound anew:\nnot run on the machine." in card


def test_once_it_was_seen_to_run_well_nothing_is_lacking() -> None:
    bench = finished(replace(in_order(), run=None))
    bench.decide(Outcome.PASS, "", ran_well=True)
    assert bench.judged.lacks == ()
    assert "not run" not in words(bench)
    bench.decide(Outcome.PASS, "")
    assert bench.judged.lacks == ("run",)


def test_a_reversed_coil_fails_it_however_well_it_reads() -> None:
    bench = finished(turned(in_order(), 3))
    assert bench.judged.verdict is SheetVerdict.FAIL
    assert not bench.judged.failed
    assert heading(bench).progress == "a coil is reversed"
    card = words(bench)
    assert card.count("a coil is reversed") == 2  # under the verdict, and in what was found
    assert "not tested at every" not in card
    unread = Bench(replace(bench_file(WYE), rewinds=(rewound(body(turned(in_order(), 3))),)), FakeKeeper(at_once=True))
    assert heading(unread).progress == "a coil is reversed"


def test_readings_that_are_out_are_said_beside_it() -> None:
    file = replace(bench_file(WYE), rewinds=(rewound(body(turned(in_order(), 3))),))
    bench = Bench(file, FakeKeeper(at_once=True))
    read_all(bench, {bench.sheet().plan[0]: "9.9"})
    assert "1 pair out, read again and still out; a coil is reversed" in words(bench)


def test_a_sheet_from_before_says_nothing_of_it() -> None:
    done = replace(rewound(body(turned(in_order(), 3))), done_at=AT + timedelta(minutes=1))
    bench = finished(in_order(), lambda f: replace(f, rewinds=(done,)))
    assert bench.judged.overtaken
    assert bench.judged.bad == ()


def earlier(work: WoundWork, spoil: Callable[[BenchFile], BenchFile] = lambda f: f) -> Bench:
    """Back on the bench on a later visit, every check read as it should."""
    bench = Bench(spoil(replace(bench_file(WYE), rewound_before=(rewound(body(work)),))), FakeKeeper(at_once=True))
    read_all(bench)
    return bench


def test_a_reversed_coil_is_reversed_on_the_next_visit_too() -> None:
    bench = earlier(turned(in_order(), 3))
    assert (bench.judged.verdict, heading(bench).progress) == (SheetVerdict.FAIL, "a coil is reversed")
    unproved = earlier(replace(in_order(), sense=()))
    assert unproved.judged.verdict is SheetVerdict.NOT_PROVED
    assert heading(unproved).progress == "sense not tested at every tooth"


def test_an_earlier_visits_run_says_nothing_of_this_one_and_its_winding_data_is_the_shops() -> None:
    bench = earlier(replace(in_order(), run=None))
    assert (bench.judged.verdict, bench.judged.lacks) == (SheetVerdict.GOOD, ())
    assert "40 turns; gauge AWG 18, heavy" in words(bench, Whose.SHOP).replace("\u00a0", " ")
    for secret in ("40 turns", "AWG", "Wound anew"):
        assert secret not in words(bench)


def test_what_is_wound_once_more_is_no_longer_what_it_was() -> None:
    bench = earlier(
        turned(in_order(), 3), lambda f: replace(f, rewinds=(replace(rewound(body(in_order())), done_at=AT),))
    )
    assert (bench.judged.verdict, bench.judged.bad) == (SheetVerdict.GOOD, ())


def test_one_that_is_not_done_says_nothing() -> None:
    begun = replace(rewound(body(turned(in_order(), 3))), done_at=None)
    bench = finished(in_order(), lambda f: replace(f, rewinds=(begun,)))
    assert bench.judged.verdict is SheetVerdict.GOOD
    assert "Wound anew" not in words(bench)


# ---- winding data, for the shop alone


def test_the_shops_copy_tells_how_it_was_wound_and_the_customers_never_does() -> None:
    bench = finished(in_order())
    shop, customer = words(bench, Whose.SHOP), words(bench)
    told = next(line for line in shop.splitlines() if line.startswith("teeth 1,"))
    assert "40 turns" in told
    assert "40 turns; gauge AWG 18, heavy" in told.replace("\u00a0", " ")
    assert "varnish lot 7" in told
    assert "baked 240 min at 135 °C" in told
    for secret in ("40 turns", "AWG", "lot 7", "135 °C"):
        assert secret not in customer


def test_the_spool_is_the_one_that_its_coils_came_off() -> None:
    work = in_order()
    typed = tuple(replace(c, wire=WoundWire(Wire.of(awg(17), Build.HEAVY), "attic 17", True)) for c in work.coils)
    shop = words(finished(replace(work, coils=typed)), Whose.SHOP).replace("\u00a0", " ")
    told = next(line for line in shop.splitlines() if line.startswith("teeth 1,"))
    assert "gauge AWG 17, heavy; off attic 17" in told
    assert "top shelf" not in told


def test_the_complaint_tells_the_customer_no_winding_data() -> None:
    bench = finished(
        in_order(), lambda f: replace(f, job=replace(f.job, complaint="No charge; was 36 turns of AWG 17"))
    )
    assert "36 turns of AWG 17" in words(bench, Whose.SHOP)
    customer = words(bench)
    assert "No charge. Winding data stays with the shop." in customer
    assert "36 turns" not in customer


def test_turns_that_differ_are_told_coil_by_coil() -> None:
    work = in_order()
    off = replace(work, coils=(replace(work.coils[0], turns=41), *work.coils[1:]))
    assert "41 / 40 / 40 / 40 turns" in words(finished(off), Whose.SHOP)
    meant = finished(WoundWork(), lambda f: replace(f, rewinds=(rewound(taken(turns=63), "phase 2"),)))
    shop = words(meant, Whose.SHOP)
    assert "63 turns; gauge AWG 20, heavy; off top shelf" in shop.replace("\u00a0", " ")
    assert shop.count("turns not noted") == 2  # the phases that were not wound anew


# ---- its own band, its own past


def by_rewind(file: BenchFile, winding: str, ohms: float) -> BenchFile:
    head = replace(file.sheet, predicted=(Predicted(winding, ohms, 0.98 * ohms, 1.02 * ohms),))
    return replace(file, sheet=head, revision=as_read(file.revision, head))


def test_it_is_judged_by_what_its_rewind_says() -> None:
    plain = bench_file()
    old = Bench(plain, FakeKeeper(at_once=True))
    file = by_rewind(plain, "low-speed coil", 120.0)
    bench = Bench(file, FakeKeeper(at_once=True))
    as_built = sound(old, COIL)
    read_all(bench)
    assert bench.judged.verdict is SheetVerdict.GOOD
    row = bench.last_row(COIL)
    assert row is not None
    assert row.expected.ohms == pytest.approx(120.0)
    assert band(bench, COIL).origin == "by its rewind"
    for unlike in (band(old, COIL), band(bench, Pair("P.3", "P.2"))):
        assert unlike.origin == "from the pattern, revision 2"
    read_all(again := Bench(file, FakeKeeper(at_once=True)), {COIL: as_built})
    assert again.judged.verdict is SheetVerdict.FAIL


def test_its_past_before_the_rewind_is_of_other_wire() -> None:
    plain = bench_file()
    file = by_rewind(plain, "low-speed coil", 120.0)
    past = remember([past_sheet(plain, 1, 300)])
    bench = Bench(file, FakeKeeper(at_once=True))
    read_all(bench)
    view = history(bench, COIL, past, UTC)
    assert not view.drifted
    assert [p.note for p in view.points] == ["before it was wound anew", ""]
    assert good_before(past, bench.head, bench.revision.pattern_id) == []
    both = sound(bench, Pair("P.1", "P.2"))
    same = past_sheet(file, 2, 100, {COIL: 120.2, Pair("P.1", "P.2"): float(both)})
    after = remember([past_sheet(plain, 1, 300), same])
    assert [r.past.head.id for r in good_before(after, bench.head, bench.revision.pattern_id)] == [same.head.id]
    other = next(p for p in bench.sheet().plan if bench.expectations.of(p).ohms == pytest.approx(17.2, rel=0.2))
    assert [p.note for p in history(bench, other, past, UTC).points] == ["", ""]


def test_the_shops_own_wire_earns_no_band() -> None:
    shown = (155.2, 153.1, 157.0, 154.4)
    kept = good(*shown)
    own = Predicted("low-speed coil", 155.0, 150.0, 160.0)
    wound = [replace(g, past=replace(g.past, head=replace(g.past.head, predicted=(own,)))) for g in kept[:2]]
    pattern = kept[0].past.revision.pattern
    view = next(v for v in earned_views(pattern, [*wound, *kept[2:]]) if v.winding == "low-speed coil")
    assert view.band.n == 2
    other = next(v for v in earned_views(pattern, [*wound, *kept[2:]]) if v.winding != "low-speed coil")
    assert other.band.n == 4
