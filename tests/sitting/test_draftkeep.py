"""A draft on its way to the store: the last state comes through, and what is dropped stays away."""

from dataclasses import replace

import pytest

from tests.drafting.drawn import TWO, wired
from tests.sitting.test_patterndesk import BASE, Records
from workbench.records import KeptDraft
from workbench.sitting.draftkeep import DraftKeep, Left, body_of, left_in
from workbench.stator.errors import FieldError


def keep(*, at_once: bool) -> tuple[DraftKeep, Records, list[str]]:
    records, said = Records(at_once=at_once), list[str]()
    return DraftKeep(records, None, said.append), records, said


def test_one_dropped_on_its_way_is_dropped_behind_itself_and_stays_dropped() -> None:
    """It was saved as a revision before the store had answered for the draft."""
    made, records, _ = keep(at_once=False)
    made.keep("a draft", lambda: body_of(TWO, None))
    made.keep("a draft", lambda: body_of(wired(), None))  # waits for its turn
    made.drop()
    (sent,) = records.of("keep")
    assert [d.id for d in records.of("drop")] == [sent.id]
    records.answer("keep")
    assert len(records.of("keep")) == 1  # what waited went with it
    assert not made.busy
    made.keep("a draft", lambda: body_of(TWO, None))
    assert records.of("keep")[1].id != sent.id


def test_what_can_not_be_kept_says_so_and_the_next_one_is_tried() -> None:
    made, records, said = keep(at_once=False)
    made.keep("a draft", lambda: body_of(TWO, None))
    made.keep("a draft", lambda: body_of(wired(), None))
    failed = records.asked[0][3]
    assert failed is not None
    failed(OSError("The disk is full."))
    assert (said, made.busy) == ([], True)
    failed = records.asked[1][3]
    assert failed is not None
    failed(OSError("The disk is full."))
    assert said == ["What was drawn is not kept yet. The disk is full."]
    assert made.lost
    made.keep("a draft", lambda: body_of(wired(), None))
    records.answer("keep")
    assert not made.lost


def test_what_is_kept_is_what_is_read() -> None:
    made, records, _ = keep(at_once=True)
    made.keep("a draft", lambda: body_of(wired(), BASE))
    made.keep("a draft", lambda: body_of(TWO, None))
    first, second = records.of("keep")
    assert left_in(first) == Left(wired(), BASE.pattern_id, BASE.id)
    assert left_in(second) == Left(TWO)
    assert (first.id, first.version, second.version) == (second.id, 0, 1)


@pytest.mark.parametrize(
    "body", ["", "{", "[]", "{}", "7", '{"draft": {}, "began": null}', '{"draft": 1, "began": {}}']
)
def test_a_body_that_was_never_written_is_refused(body: str) -> None:
    made, records, _ = keep(at_once=True)
    made.keep("a draft", lambda: body_of(TWO, None))
    kept: KeptDraft = records.of("keep")[0]
    with pytest.raises(FieldError):
        left_in(replace(kept, body=body))
    with pytest.raises(FieldError):
        left_in(replace(kept, body=body_of(TWO, None).replace('"copper"', '"tin"')))
