"""The pattern desk without a window: edits, undo, the proof, a draft kept at each step, a revision saved."""

from collections.abc import Callable
from dataclasses import replace
from functools import partial
from typing import Any

import pytest

from tests.drafting.drawn import wired
from tests.sitting.fakes import AT, bench_file
from tests.sitting.pasts import past_sheet
from workbench.drafting import plugs, windings
from workbench.drafting.draft import Draft
from workbench.drafting.prove import Proof, Weight
from workbench.records import KeptDraft, PatternRevision, Strike, new_id
from workbench.sitting.draftkeep import KIND, Left, left_in
from workbench.sitting.patterndesk import PatternDesk
from workbench.sitting.say import Tone
from workbench.stator.errors import FieldError
from workbench.stator.pattern import Pair, Pattern

BASE = PatternRevision(new_id(), new_id(), 3, wired().pattern(), AT)


class Records:
    """Answers when the test lets it."""

    def __init__(self, *, at_once: bool = True) -> None:
        self.at_once = at_once
        self.there: tuple[PatternRevision, ...] = ()
        self.asked: list[tuple[str, Any, Callable[[Any], None] | None, Callable[[Exception], None] | None]] = []

    def patterns(self, then: Any = None, failed: Any = None) -> None:
        self._ask("look", None, then, failed, self.there)

    def save_pattern(self, pattern: Pattern, then: Any = None, failed: Any = None) -> None:
        self._ask("save", pattern, then, failed, PatternRevision(new_id(), BASE.pattern_id, 4, pattern, AT))

    def keep_draft(self, draft: KeptDraft, then: Any = None, failed: Any = None) -> None:
        self._ask("keep", draft, then, failed, replace(draft, version=draft.version + 1))

    def drop_draft(self, draft: KeptDraft, then: Any = None, failed: Any = None) -> None:
        self._ask("drop", draft, then, failed, None)

    def answer(self, what: str) -> None:
        """The last one asked for."""
        _, _, then, _ = next(a for a in reversed(self.asked) if a[0] == what)
        assert then is not None
        then()  # type: ignore[call-arg]

    def of(self, what: str) -> list[Any]:
        return [record for w, record, _, _ in self.asked if w == what]

    def _ask(self, what: str, record: Any, then: Any, failed: Any, answer: Any) -> None:
        self.asked.append((what, record, then and partial(then, answer), failed))
        if self.at_once and then:
            then(answer)


def desk(**more: Any) -> tuple[PatternDesk, Records]:
    records = Records()
    return PatternDesk(records, **more), records


def value(ohms: float) -> Callable[[Draft], Draft]:
    return lambda d: windings.set_percent(d, "low", ohms, 10)


def test_an_edit_is_proved_kept_and_can_be_undone() -> None:
    made, records = desk(base=BASE)
    assert not made.changed
    assert made.edit(value(22))
    assert made.draft.windings[1].ohms == 22
    assert made.proof is not None
    assert made.proof.pattern is not None
    assert made.proof.pattern.winding("low").ohms == 22
    (kept,) = records.of("keep")
    assert (kept.kind, kept.title) == (KIND, BASE.pattern.name)
    assert left_in(kept) == Left(made.draft, BASE.pattern_id, BASE.id)
    made.undo()
    assert made.draft == wired()
    made.redo()
    assert made.draft.windings[1].ohms == 22
    assert [d.version for d in records.of("keep")] == [0, 1, 2]


def test_what_is_refused_changes_nothing_and_says_why() -> None:
    made, records = desk(base=BASE)
    assert not made.edit(lambda d: plugs.rename_pin(d, "P", "1", "2"))
    assert made.said is not None
    assert (made.said.tone, made.said.sentence) == (
        Tone.REFUSES, "A pin named 2 is there already: choose another name.",
    )  # fmt: skip
    assert (made.draft, records.asked) == (wired(), [])
    made.undo()
    assert made.said.sentence == "There is nothing to undo."


def test_what_is_missing_stands_first_in_words_of_the_shop() -> None:
    made, _ = desk()
    made.edit(lambda d: plugs.add_plug(d, plugs.rows((2,))))
    assert made.remarks()[0].word == "missing"
    assert not made.can_save
    made.save()
    assert made.said is not None
    assert made.said.sentence == "Not saved. A pattern needs a name: give it one at the top."
    made, _ = desk(base=BASE)
    made.edit(lambda d: d.checked((Pair("P.1", "P.2"),)))
    weights = [r.weight for r in made.remarks()]
    assert weights == sorted(weights, key=list(Weight).index)
    assert weights[0] is Weight.WARNING


def test_a_revision_is_saved_with_the_programs_checks_and_the_draft_is_dropped() -> None:
    made, records = desk(base=BASE)
    saved: list[PatternRevision] = []
    made.on_saved = saved.append
    assert "revision 4" in made.save_words
    made.edit(lambda d: value(22)(d.checked(None)))
    made.save()
    (pattern,) = records.of("save")
    assert pattern.checks
    assert saved[0].number == 4
    assert records.of("drop") == [replace(records.of("keep")[0], version=1)]
    assert not made.changed
    assert made.said is not None
    assert made.said.sentence == f"{BASE.pattern.name}: revision 4 stands."
    assert not made.history.before


def test_what_can_not_be_saved_stays_under_the_hands() -> None:
    made, records = desk(base=BASE)
    made.edit(value(22))
    records.at_once = False
    made.save()
    made.save()  # one at a time
    records.answer("look")
    assert len(records.of("save")) == 1
    assert not made.can_save
    _, _, _, failed = records.asked[-1]
    assert failed is not None
    failed(OSError("The disk is full."))
    assert made.said is not None
    assert made.said.sentence == "Not saved. The disk is full."
    assert made.draft.windings[1].ohms == 22
    assert made.can_save


def test_the_last_state_is_kept_however_fast_the_hands_are() -> None:
    made, records = desk(base=BASE)
    records.at_once = False
    for ohms in (21, 22, 23):
        made.edit(value(ohms))
    assert len(records.of("keep")) == 1
    _, _, then, _ = records.asked[0]
    assert then is not None
    then()  # type: ignore[call-arg]
    assert [left_in(k).draft.windings[1].ohms for k in records.of("keep")] == [21, 23]
    assert records.of("keep")[1].version == 1


def test_a_draft_that_was_left_is_gone_on_with() -> None:
    made, records = desk()
    made.edit(lambda d: plugs.add_plug(d.named("half"), plugs.rows((2, 3))))
    kept = replace(records.of("keep")[-1], version=1)
    again, records = desk(kept=kept)
    assert again.draft == made.draft
    again.edit(lambda d: d.named("whole"))
    assert records.of("keep")[0].id == kept.id
    again.give_up()
    assert again.draft == Draft()
    assert [d.id for d in records.of("drop")] == [kept.id]
    with pytest.raises(FieldError):
        PatternDesk(Records(), kept=replace(kept, body="{"))


def test_a_large_draft_is_proved_elsewhere_and_what_comes_too_late_is_dropped() -> None:
    waiting: list[tuple[Callable[[], Proof], Callable[[Proof], None]]] = []
    made, _ = desk(reckon=lambda work, then: waiting.append((work, then)))
    made.edit(lambda d: plugs.add_plug(d.named("large"), plugs.rows((30, 30))))
    assert made.proof is None
    assert made.remarks() == ()
    made.edit(lambda d: plugs.add_plug(d, plugs.rows((1,))))
    work, then = waiting[0]
    then(work())
    assert made.proof is None
    work, then = waiting[1]
    then(work())
    assert made.proof is not None


def test_the_ohms_of_a_unit_known_good_are_taken_over() -> None:
    file = bench_file()
    pattern = file.revision.pattern
    bare = Draft.of(pattern)
    for w in pattern.windings:
        bare = windings.set_element(bare, w.name, None)
    made, _ = desk(base=replace(BASE, pattern=pattern))
    made.edit(lambda _: bare)
    sheet = past_sheet(file, 1, 1)
    made.take_ohms(replace(file, readings=sheet.readings))
    ohms = {w.name: w.ohms for w in made.draft.windings}
    assert ohms["low-speed coil"] == pytest.approx(155.0, rel=1e-3)
    assert ohms["high-speed coil"] == pytest.approx(17.0, rel=5e-3)
    assert made.draft.windings[0].band_from == f"one unit known good, {file.unit.tag}"
    assert made.said is not None
    assert made.said.sentence.startswith(f"Taken over from {file.unit.tag}: low-speed coil, high-speed coil, lighting.")
    one = next(k for k in sheet.readings if k.reading.pair == Pair("P.1", "P.2"))
    slip = replace(one, strike=Strike(new_id(), one.id, "probe slipped", AT), reading=replace(one.reading, ohms=9.0))
    made.edit(lambda _: bare)
    made.take_ohms(replace(file, readings=(*sheet.readings, slip)))
    assert {w.name: w.ohms for w in made.draft.windings} == ohms  # what was struck out counts no more
    assert "contradict" not in made.said.sentence
    made.take_ohms(file)  # nothing read
    assert made.said.tone is Tone.REFUSES
    some = tuple(k for k in sheet.readings if k.reading.pair == Pair("P.1", "P.2"))
    made.edit(lambda _: bare)
    made.take_ohms(replace(file, readings=some))
    assert "Not told by its readings" in made.said.sentence
