"""Every kind of story ends as it is told, by what the readings say, whatever the seed."""

import re
from datetime import timedelta

import pytest

from demo_shop.roll import KINDS
from tests.demo_shop.conftest import Written
from workbench.findings.explain import explain
from workbench.findings.leading import weighed
from workbench.records import Outcome
from workbench.stator.correct import Corrected, Corrector
from workbench.stator.drift import drift
from workbench.stator.expect import Path
from workbench.stator.judge import SheetVerdict, Why
from workbench.stator.pattern import Pair
from workbench.stator.verdict import Verdict

# every sheet of a unit: its verdict and what was decided on it, in order
ENDINGS = {
    "sound": r"good/pass",
    "sound, back again": r"good/pass( good/pass){1,2}",
    "not proved": r"not proved/(pass|repair|scrap)",
    "unfinished": r"unfinished/-",
    "undone readings": r"good/pass",
    "forgotten zero": r"good/pass",
    "read hot": r"fail/- good/pass",
    "wet plug": r"fail/repair good/pass",
    "wrong sheet": r"unfinished/- good/pass",
    "floated": r"good/repair good/pass good/pass",
    "bad terminal": r"fail/repair good/pass",
    "drifting": r"(good/pass ){4}fail/rewind",
    "open lead": r"fail/repair good/pass( good/pass)?",
    "swapped": r"fail/repair good/pass good/pass",
    "warm failure": r"good/pass good/repair( good/pass)?",
    "rewound and back": r"fail/rewind good/pass good/pass",
    "reversed coil": r"good/pass good/rewind good/pass",
    "down to iron": r"fail/(scrap|rewind good/pass)",
    "shorted turns": r"fail/rewind( good/pass)?",
    "open winding": r"fail/(scrap|rewind)",
    "on the bench": r"unfinished/-",
}


def test_every_kind_is_told_of() -> None:
    assert ENDINGS.keys() == {*KINDS, "on the bench"}


@pytest.mark.parametrize("kind", ENDINGS)
def test_a_story_ends_as_it_is_told(any_shop: Written, kind: str) -> None:
    for story, jobs in any_shop.of(kind):
        assert re.fullmatch(ENDINGS[kind], " ".join(any_shop.verdicts(jobs))), (story.tag, any_shop.verdicts(jobs))


def test_what_was_decided_says_what_the_sheet_said(any_shop: Written) -> None:
    seen = set()
    for _, jobs in any_shop.told:
        for job in jobs:
            for decided in job.decisions:
                head = next(h for h in job.sheets if h.id == decided.sheet_id)
                assert decided.verdict == any_shop.judged(job, head).verdict
                seen.add((decided.outcome, decided.verdict))
    assert {o for o, _ in seen} == set(Outcome)


def test_every_verdict_of_a_sheet_and_of_a_reading_is_met(written: Written) -> None:
    sheets = [written.judged(job, head) for _, jobs in written.told for job in jobs for head in job.sheets]
    assert {s.verdict for s in sheets} == set(SheetVerdict)
    rows = [r for s in sheets for r in s.rows]
    assert {r.verdict for r in rows} == {*Verdict, None}
    assert {r.why for r in rows} >= {Why.BAND, Why.OPENS, Why.STAYS_OPEN, Why.LEAKS, Why.CONTACT, Why.ELEMENT}


def test_no_sheet_says_otherwise_once_its_readings_are_weighed(written: Written) -> None:
    for story, jobs in written.told:
        for job in jobs:
            for head in job.sheets:
                judged = written.judged(job, head)
                sheet = judged.sheet
                explained = explain(sheet.pattern, sheet.meter, sheet.conditions, sheet.readings)
                assert weighed(judged, explained).verdict is judged.verdict, story.tag


def test_an_outside_reading_was_taken_again_at_once(any_shop: Written) -> None:
    for _, jobs in any_shop.told:
        for job in jobs:
            for head in job.sheets:
                assert not any_shop.judged(job, head).awaiting


def values(any_shop: Written, tag: str) -> list[Corrected]:
    """The check of the winding that a story is about, at every visit."""
    story, jobs = next((s, j) for s, j in any_shop.told if s.tag == tag)
    out = []
    for job in jobs:
        head = job.sheets[-1]
        pattern = any_shop.revision(head).pattern
        w = pattern.winding(story.tale.watch or "")
        mine = [k.reading for k in job.readings if {*k.reading.pair} == {w.start, w.finish} and k.strike is None]
        corrector = Corrector(head.meter, head.conditions, pattern.conductor, pattern.reference_celsius)
        out.append(corrector.mean([r for r in mine if r.ohms is not None]))
    return out


def test_a_decision_says_what_the_part_was_found_to_be(any_shop: Written) -> None:
    said = {"open lead": "open-lead", "drifting": "shorted-turns", "swapped": "swapped-pins", "sound": "sound"}
    for kind, code in said.items():
        for story, jobs in any_shop.of(kind):
            found = [d.found for job in jobs for d in job.decisions]
            assert code in found, story.tag
            # mended within the job, it stays what it came in with
            assert all(len({d.found for d in job.decisions}) <= 1 for job in jobs), story.tag
            if kind == "sound":
                assert set(found) == {"sound"}


def test_a_drifting_winding_falls_every_winter_until_it_is_more_than_the_readings_explain(any_shop: Written) -> None:
    for story, _ in any_shop.of("drifting"):
        read = values(any_shop, story.tag)
        assert len(read) == 5
        assert [v.ohms for v in read] == sorted((v.ohms for v in read), reverse=True)
        last = drift(read[-1], read[-2], same_meter=True)
        assert last.flagged
        assert last.change < 0
        assert drift(read[-2], read[0], same_meter=True).flagged


def test_a_winding_that_was_rewound_stays_where_it_is_for_two_winters(any_shop: Written) -> None:
    for _, jobs in any_shop.of("rewound and back"):
        assert jobs[2].job.opened_at - jobs[1].job.opened_at > timedelta(days=590)
        assert jobs[0].decisions[-1].outcome is Outcome.REWIND


def test_leads_that_were_not_zeroed_read_too_much_and_are_struck_out(any_shop: Written) -> None:
    for story, (job,) in any_shop.of("forgotten zero"):
        (head,) = job.sheets
        struck = [k for k in job.readings if k.strike is not None]
        assert {k.strike.reason for k in struck if k.strike} == {"leads not zeroed"}
        wrong = any_shop.judged(job, head, struck=True)
        assert any(r.verdict is Verdict.OUTSIDE for r in wrong.rows), story.tag


def test_a_hot_part_reads_too_much_until_it_is_cold(any_shop: Written) -> None:
    for _, (job,) in any_shop.of("read hot"):
        hot, cold = job.sheets
        too_much = [r for r in any_shop.judged(job, hot).rows if r.verdict is Verdict.OUTSIDE]
        assert too_much
        assert all(r.corrected and r.expected.high and r.corrected.ohms > r.expected.high for r in too_much)
        assert cold.started_at - hot.started_at > timedelta(hours=12)
        assert hot.note
        assert cold.note


def test_another_patterns_sheet_is_struck_out_whole(any_shop: Written) -> None:
    for _, (job,) in any_shop.of("wrong sheet"):
        wrong, right = job.sheets
        assert any_shop.revision(wrong).pattern_id != any_shop.revision(right).pattern_id
        assert any_shop.revision(right).pattern_id == job.unit.pattern_id
        assert all(k.strike for k in job.readings if k.sheet_id == wrong.id)
        assert not any(k.strike for k in job.readings if k.sheet_id == right.id)


def test_slips_are_undone(any_shop: Written) -> None:
    for _, (job,) in any_shop.of("undone readings"):
        assert "undone" in {k.strike.reason for k in job.readings if k.strike}


def test_a_floated_part_is_judged_by_the_revision_it_then_was(any_shop: Written) -> None:
    for _, jobs in any_shop.of("floated"):
        assert [any_shop.revision(h).number for j in jobs for h in j.sheets] == [1, 2, 2]


def test_what_is_down_to_the_iron_or_wet_leaks(any_shop: Written) -> None:
    for kind in ("down to iron", "wet plug"):
        for story, jobs in any_shop.of(kind):
            rows = any_shop.judged(jobs[0], jobs[0].sheets[0]).rows
            outside = [r for r in rows if r.verdict is Verdict.OUTSIDE]
            leaks = any(r.why is Why.LEAKS for r in outside)
            designed = all(r.expected.path is not Path.NONE for r in outside)  # grounded by design: its ohms move
            assert leaks or (kind == "down to iron" and designed), story.tag


def test_shorted_turns_take_their_share_off(any_shop: Written) -> None:
    for story, jobs in any_shop.of("shorted turns"):
        rows = any_shop.judged(jobs[0], jobs[0].sheets[0]).rows
        outside = [r for r in rows if r.verdict is Verdict.OUTSIDE]
        assert outside
        assert all(r.corrected and r.expected.low and r.corrected.ohms < r.expected.low for r in outside), story.tag


def test_an_open_lead_opens_what_goes_through_it(any_shop: Written) -> None:
    for story, jobs in any_shop.of("open lead"):
        rows = any_shop.judged(jobs[0], jobs[0].sheets[0]).rows
        opened: set[Pair] = {r.reading.pair for r in rows if r.why is Why.OPENS and r.verdict is Verdict.OUTSIDE}
        assert opened, story.tag
        assert set.intersection(*({*p} for p in opened)), story.tag
