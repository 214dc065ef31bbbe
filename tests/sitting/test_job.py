"""What the shop writes of a part and its visit: shown at once, kept behind, put back where it can't be."""

from dataclasses import replace

from tests.sitting.fakes import AT, DISK_FULL, FakeKeeper, bench_file
from workbench.sitting.bench import Bench
from workbench.sitting.card import card_facts
from workbench.sitting.jobwords import JobWords, words_of
from workbench.sitting.say import Tone

DONE = JobWords("red sled, Tamsin's", "no spark", "splice at the grey", "by phone", "green terminal", "new terminal")


def bench_of(*, at_once: bool = True) -> tuple[Bench, FakeKeeper]:
    keeper = FakeKeeper(at_once=at_once)
    return Bench(bench_file(), keeper), keeper


def test_it_is_kept_word_for_word_and_stands_on_the_card() -> None:
    bench, keeper = bench_of()
    bench.write_job(replace(DONE, label="  red sled, Tamsin's "))
    assert words_of(bench.unit, bench.job) == DONE
    (unit,), (job,) = keeper.of("unit"), keeper.of("job")
    assert unit.label == DONE.label
    assert (job.complaint, job.seen, job.approved, job.found, job.done) == (
        "no spark", "splice at the grey", "by phone", "green terminal", "new terminal",
    )  # fmt: skip
    assert (bench.unit.version, bench.job.version) == (unit.version + 1, job.version + 1)
    facts = card_facts(bench, AT)
    assert (facts.label, facts.found, facts.done) == (DONE.label, "green terminal", "new terminal")


def test_only_what_was_changed_is_sent() -> None:
    bench, keeper = bench_of()
    before = words_of(bench.unit, bench.job)
    bench.write_job(before)
    assert keeper.asked == []
    bench.write_job(replace(before, done="cleaned"))
    assert [a.what for a in keeper.asked] == ["job"]


def test_a_part_without_a_name_is_refused_and_nothing_is_changed() -> None:
    bench, keeper = bench_of()
    before = words_of(bench.unit, bench.job)
    bench.write_job(replace(DONE, label="  "))
    assert keeper.asked == []
    assert words_of(bench.unit, bench.job) == before
    assert bench.said is not None
    assert bench.said.tone is Tone.REFUSES


def test_what_can_not_be_kept_is_put_back_and_said() -> None:
    bench, keeper = bench_of(at_once=False)
    before = words_of(bench.unit, bench.job)
    bench.write_job(replace(before, done="cleaned"))
    assert bench.job.done == "cleaned"
    keeper.waiting[0].fail(DISK_FULL)
    assert bench.job.done == ""
    assert bench.said is not None
    assert "is not kept. The disk is full" in bench.said.sentence


def test_a_second_change_waits_for_the_first_and_starts_from_what_was_kept() -> None:
    bench, keeper = bench_of(at_once=False)
    before, first = words_of(bench.unit, bench.job), bench.job.version
    bench.write_job(replace(before, done="cleaned"))
    bench.write_job(replace(before, done="cleaned, dried"))
    assert len(keeper.waiting) == 1
    keeper.waiting[0].ack()
    (second,) = keeper.waiting
    assert (second.record.done, second.record.version) == ("cleaned, dried", first + 1)
    second.ack()
    assert (bench.job.done, bench.job.version) == ("cleaned, dried", first + 2)
