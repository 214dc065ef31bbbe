"""What decided jobs were found to have, counted by the latest decision of each job and the family of its pattern."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from uuid import UUID

import pytest

from db import queries
from db.store import Store
from tests.db.invented import BENCH, DECIDED, HEAD_OF_SHEET, METER, PATTERN, UNIT, WIDER, at, fill, uid
from workbench.findings.faults import Fault
from workbench.records import Decided, Job, KeptRewind, Outcome, Repair, RepairKind
from workbench.stator.pattern import Kind, Pattern

SHORTED, SOUND, JOINT = Fault.SHORTED_TURNS, Fault.SOUND, Fault.RESISTIVE_LEAD
COILS = ("ignition",)


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    made = Store.open(tmp_path / "shop.sqlite", bench=BENCH)
    fill(made)  # its one job was found to have a poor joint
    yield made
    made.close()


def decide(store: Store, number: int, *found: str, pattern: Pattern = PATTERN) -> UUID:
    """A job with its sheet, decided on once for each word."""
    job = Job(uid(100 + number), UNIT.id, 100 + number, "", at(number))
    with store.writing() as s:
        revision = queries.patterns.save(s, pattern, at(number))
        queries.jobs.open_job(s, job)
        head = replace(HEAD_OF_SHEET, id=uid(500 + number), job_id=job.id, revision_id=revision.id, meter_id=METER.id)
        queries.sheets.begin(s, head)
    for i, word in enumerate(found):
        made = Decided(
            uid(9000 + 10 * number + i), job.id, head.id, Outcome.REPAIR, "", "fail", at(number + i), word, ""
        )
        with store.writing() as s:
            queries.jobs.decide(s, made)
    return job.id


def counted(store: Store, but_for: UUID | None = None) -> dict[tuple[str, ...], dict[Fault, int]]:
    with store.reading() as s:
        return {f: dict(n) for f, n in queries.found.counts(s, but_for).by_family.items()}


def test_each_decided_job_counts_once_by_its_latest_decision(store: Store) -> None:
    assert counted(store) == {COILS: {JOINT: 1}}
    decide(store, 1, "shorted-turns")
    decide(store, 2, "sound", "shorted-turns")  # thought better of
    decide(store, 3)  # not decided yet
    assert counted(store) == {COILS: {JOINT: 1, SHORTED: 2}}


def test_a_later_decision_that_does_not_say_takes_the_earlier_word_away(store: Store) -> None:
    decide(store, 1, "shorted-turns", "")
    assert counted(store) == {COILS: {JOINT: 1}}


@pytest.mark.parametrize("mended", ["repaired", "rewound", "rewind begun", ""])
def test_a_part_that_passes_once_it_was_mended_was_found_to_have_what_it_was_mended_for(
    store: Store, mended: str
) -> None:
    job = decide(store, 1, "shorted-turns")
    with store.writing() as s:
        if mended == "repaired":
            queries.rewinds.keep_repair(s, Repair(uid(8000), job, RepairKind.OTHER, "", "new loom", at(1)))
        elif mended:
            done = at(2) if mended == "rewound" else None
            queries.rewinds.save(s, KeptRewind(uid(8001), job, "coil", "{}", at(1), done))
    passed = Decided(uid(9500), job, uid(501), Outcome.PASS, "", "good", at(3), "sound", "")
    with store.writing() as s:
        queries.jobs.decide(s, passed)
    right = SHORTED if mended in ("repaired", "rewound") else SOUND
    assert counted(store) == {COILS: {JOINT: 1, right: 1}}


def test_revisions_of_a_pattern_are_one_family_and_another_family_is_apart(store: Store) -> None:
    decide(store, 1, "sound", pattern=replace(WIDER, links=()))
    decide(store, 3, "resistive-lead", pattern=WIDER)
    pulser = replace(PATTERN, name="a pulser more", windings=(replace(PATTERN.windings[0], kind=Kind.PULSER),
                                                             PATTERN.windings[1]))  # fmt: skip
    decide(store, 2, "sound", pattern=pulser)
    assert counted(store) == {COILS: {JOINT: 2, SOUND: 1}, ("ignition", "pulser"): {SOUND: 1}}


def test_one_job_can_be_left_out(store: Store) -> None:
    job = decide(store, 1, "shorted-turns")
    assert counted(store, job) == {COILS: {JOINT: 1}}
    assert counted(store, DECIDED.job_id) == {COILS: {SHORTED: 1}}


@pytest.mark.parametrize("found", ["worn-magnets", "wet-plug"])  # of a program that knows more; of the bench alone
def test_a_fault_beyond_the_models_moves_none_of_its_odds(store: Store, found: str) -> None:
    decide(store, 1, found)
    assert counted(store) == {COILS: {JOINT: 1}}


def test_what_was_found_is_read_back_with_the_decision(store: Store) -> None:
    with store.reading() as s:
        assert queries.jobs.decision_of(s, DECIDED.job_id) == DECIDED
    assert (DECIDED.found, DECIDED.found_where) == ("resistive-lead", "P.3")
