"""A rewind is kept at each step, gone on with where it was left, put back where it can't be kept, finished once."""

from dataclasses import replace
from uuid import uuid4

from tests.sitting.fakes import AT, DISK_FULL, TWO_COILS, WYE, bench_of
from tests.sitting.rewinds import SPOOLS, rewinding
from workbench.exchange.rewindbody import body_from_text
from workbench.records import KeptRewind, Outcome
from workbench.rewind.record import WHOLE, Draw
from workbench.sitting.bench import Bench
from workbench.sitting.rewinding import Rewinding
from workbench.sitting.rewindsteps import StepsWork, steps_done
from workbench.sitting.rewindwhich import likely_winding
from workbench.sitting.say import Tone
from workbench.stator.pattern import Pair


def laid_out(r: Rewinding) -> StepsWork:
    steps = StepsWork(r)
    steps.lay_out(replace(steps.form, poles="8"))
    assert r.said is None, r.said
    return steps


def kept(winding: str, body: str = '{"v":1}', *, done: bool = False) -> KeptRewind:
    return KeptRewind(uuid4(), uuid4(), winding, body, AT, AT if done else None, 1)


def test_looking_writes_nothing_and_a_change_writes_at_once() -> None:
    r, keeper = rewinding()
    assert r.winding == WHOLE
    assert (keeper.asked, r.standing(WHOLE)) == ([], "")
    steps = laid_out(r)
    steps.tick()
    one, two = keeper.of("rewind")
    assert one.id == two.id
    assert (one.version, two.version, r.record.version) == (0, 1, 2)
    assert body_from_text(two.body).laid == steps.laid
    assert r.standing(WHOLE) == "begun"
    assert not r.saving


def test_one_change_is_on_its_way_at_a_time() -> None:
    r, keeper = rewinding(at_once=False)
    steps = laid_out(r)
    for _ in range(3):
        steps.tick()
    assert len(keeper.waiting) == 1
    assert steps_done(r) == "3 of 12 wound"
    assert r.saving
    keeper.waiting[0].ack()
    assert len(keeper.waiting) == 1
    assert body_from_text(keeper.waiting[0].record.body).laid == steps.laid
    keeper.waiting[0].ack()
    assert (keeper.waiting, r.saving) == ([], False)


def test_what_can_not_be_kept_is_said_and_put_back() -> None:
    r, keeper = rewinding(at_once=False)
    steps = laid_out(r)
    keeper.waiting[0].ack()
    steps.tick()
    keeper.waiting[0].fail()
    assert steps_done(r) == "0 of 12 wound"
    assert r.said is not None
    assert r.said.tone is Tone.REFUSES
    assert str(DISK_FULL) in r.said.sentence
    assert "put back" in r.said.sentence
    steps.tick()
    keeper.waiting[0].ack()
    assert steps_done(r) == "1 of 12 wound"


def test_one_left_unfinished_is_gone_on_with() -> None:
    first, _ = rewinding()
    laid_out(first).tick()
    left = replace(first.record, version=3)
    r, keeper = rewinding(kept=[kept("phase 2", done=True), left, kept("phase 3", done=True)], winding="phase 1")
    assert r.winding == WHOLE
    assert steps_done(r) == "1 of 12 wound"
    assert (r.standing("phase 2"), r.standing("phase 1")) == ("finished", "")
    StepsWork(r).tick()
    assert keeper.of("rewind")[0].id == left.id
    assert keeper.of("rewind")[0].version == 3


def test_each_winding_has_its_own() -> None:
    r, keeper = rewinding()
    laid_out(r)
    r.choose("phase 2")
    assert steps_done(r) == "not laid out"
    laid_out(r)
    assert {x.winding for x in keeper.of("rewind")} == {WHOLE, "phase 2"}
    r.choose("no such")
    assert r.winding == "phase 2"


def test_the_winding_that_was_asked_for_comes_first() -> None:
    r, _ = rewinding(winding="phase 3")
    assert r.winding == "phase 3"


def test_parts_that_are_not_known_are_kept_as_they_are() -> None:
    other = '{"v":1,"as_found":{"turns":[34,"counted"]},"run":null}'
    r, keeper = rewinding(kept=[kept("phase 1", other)])
    laid_out(r)
    assert dict(body_from_text(keeper.of("rewind")[0].body).others) == {
        "as_found": {"turns": [34, "counted"]},
        "run": None,
    }


def test_what_can_not_be_read_is_left_alone() -> None:
    r, keeper = rewinding(kept=[kept("phase 1", '{"v":2,"steps":{}}')])
    steps = StepsWork(r)
    steps.lay_out(replace(steps.form, poles="8"))
    assert keeper.asked == []
    assert r.said is not None
    assert "left alone" in r.said.sentence


# ---- finishing


def test_finishing_draws_what_was_weighed_once() -> None:
    r, keeper = rewinding()
    laid_out(r)
    told: list[bool] = []
    r.on_done = lambda: told.append(r.done)
    r.finish([Draw(SPOOLS[0].id, SPOOLS[0].name, 81.0), Draw(SPOOLS[1].id, SPOOLS[1].name, 0.0)])
    r.finish([Draw(SPOOLS[0].id, SPOOLS[0].name, 81.0)])
    ((draw,),) = keeper.draws
    assert (draw.spool_id, draw.grams, draw.rewind_id) == (SPOOLS[0].id, 81.0, r.record.id)
    (done,) = keeper.of("finish")
    assert (done.done_at, done.version) == (AT, 1)
    assert told == [True]


def test_it_waits_for_what_is_on_its_way_and_can_be_sent_again() -> None:
    r, keeper = rewinding(at_once=False)
    laid_out(r)
    r.finish(())
    assert keeper.of("finish") == []
    keeper.waiting[0].ack()
    (finish,) = keeper.waiting
    assert finish.record.version == 1
    StepsWork(r).tick()
    assert steps_done(r) == "0 of 12 wound"
    assert r.said is not None
    finish.fail(ValueError("The spool has 3 g left. Nothing was written."))
    assert "3 g left" in r.said.sentence
    assert not r.done
    r.finish([Draw(SPOOLS[0].id, SPOOLS[0].name, 5.0)])
    first = keeper.draws[-1]
    keeper.waiting[0].fail()
    r.finish([Draw(SPOOLS[0].id, SPOOLS[0].name, 5.0)])
    assert [d.id for d in keeper.draws[-1]] == [d.id for d in first]
    keeper.waiting[0].ack()
    assert r.done


def test_nothing_is_finished_where_nothing_stands_or_no_wire_was_taken() -> None:
    r, keeper = rewinding()
    r.finish(())
    assert r.said is not None
    assert "nothing to finish" in r.said.sentence
    laid_out(r)
    r.finish()
    assert "No wire is taken" in r.said.sentence
    assert keeper.of("finish") == []


def test_a_finished_one_stays_and_another_can_be_begun() -> None:
    r, keeper = rewinding()
    steps = laid_out(r)
    r.finish(())
    before = r.record
    steps.tick()
    assert r.record == before
    assert r.said is not None
    (choice,) = r.said.choices
    choice.act()
    assert not r.done
    assert r.record.id != before.id
    laid_out(r)
    assert keeper.of("rewind")[-1].id == r.record.id


# ---- which winding


def failing(pattern: str, winding: str) -> Bench:
    """A bench on which nothing but this winding was read, twice, far below its band."""
    bench, _ = bench_of(pattern)
    w = bench.pattern.winding(winding)
    for _ in range(2):
        bench.pick(Pair(w.start, w.finish))
        before = len(bench.lines)
        while len(bench.lines) == before:  # asked about, it is typed once more
            bench.enter(f"{w.low / 2:.1f}")
    assert bench.judged.failed
    return bench


def test_what_failed_is_most_likely_to_be_wound() -> None:
    assert likely_winding(failing(TWO_COILS, "high-speed coil")) == "high-speed coil"
    assert likely_winding(bench_of(TWO_COILS)[0]) == ""


def test_what_was_found_goes_before_it_and_a_phase_means_all_three() -> None:
    bench = failing(TWO_COILS, "high-speed coil")
    bench.decide(Outcome.REWIND, "", "open-winding", "lighting")
    assert likely_winding(bench) == "lighting"
    bench, _ = bench_of(WYE)
    bench.decide(Outcome.REWIND, "", "open-winding", "phase 2")
    assert likely_winding(bench) == WHOLE


def test_what_could_not_be_read_again_is_never_written() -> None:
    r, keeper = rewinding(WYE)
    steps = laid_out(r)
    assert steps.laid is not None
    written, scheme = len(keeper.asked), replace(steps.laid.scheme)
    object.__setattr__(scheme, "poles", 7)  # what a form let through
    assert not r.change(replace(r.body, laid=replace(steps.laid, scheme=scheme)))
    assert r.said is not None
    assert r.said.tone is Tone.REFUSES
    assert "What was noted before stays" in r.said.sentence
    assert len(keeper.asked) == written
    assert r.unreadable == ""
    assert steps_done(r) == "0 of 12 wound"
