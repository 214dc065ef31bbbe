"""Saving at the pattern desk: what stands in the shop is never added to unasked, and nothing drawn is lost by it."""

from dataclasses import replace

import pytest

from tests.drafting.drawn import wired
from tests.sitting.fakes import AT
from tests.sitting.test_patterndesk import BASE, desk, value
from workbench.drafting import plugs, windings
from workbench.drafting.draft import Draft
from workbench.drafting.prove import Weight
from workbench.records import PatternRevision, new_id
from workbench.sitting.draftkeep import left_in
from workbench.sitting.patterndesk import PatternDesk
from workbench.sitting.say import Tone
from workbench.stator.pattern import Element

LATER = replace(BASE, id=new_id(), number=4)


def saying(made: PatternDesk) -> tuple[Tone, str, list[str]]:
    assert made.said is not None
    return made.said.tone, made.said.sentence, [c.label for c in made.said.choices]


def choose(made: PatternDesk, at: int) -> None:
    assert made.said is not None
    made.said.choices[at].act()


def test_a_new_pattern_of_a_name_that_is_there_is_asked_about() -> None:
    made, records = desk()
    records.there = (BASE,)
    made.edit(lambda _: wired())
    made.save()
    assert records.of("save") == []
    tone, sentence, labels = saying(made)
    assert (tone, labels) == (Tone.ASKS, ["Save revision 4", "Not now"])
    assert "a pattern of that name, at revision 3: is this its revision 4?" in sentence
    assert sentence.endswith("Old sheets keep theirs.")
    choose(made, 1)
    assert records.of("save") == []
    assert made.draft == wired()
    made.save()
    choose(made, 0)
    assert [p.name for p in records.of("save")] == [wired().name]
    assert saying(made)[1].endswith("revision 4 stands.")


def test_a_revision_that_was_saved_meanwhile_is_asked_about() -> None:
    made, records = desk(base=BASE)
    records.there = (LATER,)
    made.edit(value(22))
    made.save()
    assert records.of("save") == []
    assert "Revision 4 stands already, and this was begun from revision 3." in saying(made)[1]
    assert saying(made)[2] == ["Save revision 5", "Not now"]


def test_the_revision_that_was_opened_is_gone_on_from_unasked() -> None:
    made, records = desk(base=BASE)
    records.there = (BASE, replace(LATER, pattern=replace(BASE.pattern, name="another")))
    made.edit(value(22))
    assert made.save_short == "Save revision 4"
    made.save()
    assert len(records.of("save")) == 1


def test_under_another_name_it_becomes_a_new_pattern() -> None:
    made, records = desk(base=BASE)
    records.there = (BASE,)
    made.edit(lambda d: d.named("further"))
    assert made.save_short == "Save"
    made.save()
    assert [p.name for p in records.of("save")] == ["further"]


def test_what_is_drawn_while_it_is_saved_goes_on() -> None:
    made, records = desk(base=BASE)
    made.edit(value(22))
    records.at_once = False
    made.save()
    records.answer("look")
    made.edit(value(23))
    records.answer("save")
    assert made.base is not None
    assert made.base.number == 4
    assert made.draft.windings[1].ohms == 23
    assert made.changed
    assert records.of("drop") == []


def test_nothing_changed_is_nothing_saved() -> None:
    made, records = desk(base=BASE)
    made.save()
    assert saying(made)[:2] == (Tone.TELLS, "Nothing was changed since revision 3.")
    assert records.asked == []


def test_the_shop_that_can_not_be_asked_saves_nothing() -> None:
    made, records = desk(base=BASE)
    made.edit(value(22))
    records.at_once = False
    made.save()
    failed = records.asked[-1][3]
    assert failed is not None
    failed(OSError("The store is gone."))
    assert saying(made)[:2] == (Tone.REFUSES, "Not saved. The store is gone.")
    assert not made.saving


def test_an_older_revision_is_looked_at_and_drawn_on_only_when_that_is_asked_for() -> None:
    made, records = desk(base=BASE, looking=True)
    records.there = (LATER,)
    assert "Revision 3, opened to be looked at" in saying(made)[1]
    assert not made.edit(value(22))
    made.save()
    assert (made.draft, records.asked) == (wired(), [])
    choose(made, 0)
    assert made.edit(value(22))
    made.save()
    assert "Revision 4 stands already" in saying(made)[1]


def test_a_draft_is_gone_on_with_on_the_revision_it_began_from() -> None:
    made, records = desk(base=BASE)
    made.edit(value(22))
    kept = replace(records.of("keep")[-1], version=1)
    left = left_in(kept)
    assert (left.pattern_id, left.revision_id) == (BASE.pattern_id, BASE.id)
    again, records = desk(base=BASE, kept=kept)
    records.there = (LATER,)
    assert again.changed
    again.save()
    assert "Revision 4 stands already" in saying(again)[1]


@pytest.mark.parametrize("number", [1, 7])
def test_a_new_drafts_words_say_what_saving_will_do(number: int) -> None:
    base = PatternRevision(new_id(), new_id(), number, wired().pattern(), AT)
    made, _ = desk(base=base)
    assert f"revision {number + 1}" in made.save_words
    assert "new pattern" in desk()[0].save_words
    assert desk()[0].draft == Draft()


def _diode(draft: Draft) -> tuple[Draft, str]:
    return windings.connect(draft, "P.4", "P.5")


def test_what_is_missing_is_said_thing_by_thing() -> None:
    made, _ = desk()
    assert [r.who for r in made.remarks()] == ["No name", "No plug", "Nothing is joined"]
    made.edit(lambda d: plugs.add_plug(d.named("half"), plugs.rows((2, 3)), name="P"))
    assert [r.who for r in made.remarks()] == ["Nothing is joined"]
    for ends in (("P.1", "P.2"), ("P.2", "point 1")):
        made.edit(lambda d, ends=ends: windings.connect(d, *ends)[0])  # type: ignore[misc]
    made.edit(lambda d: windings.set_element(*_diode(d), Element.DIODE))  # has no ohms, and lacks none
    views = made.remarks()
    assert [(r.who, r.what) for r in views] == [
        ("winding 1", "no ohms and no band yet"), ("winding 2", "no ohms and no band yet"),
        ("point 1", "joined to one thing only"),
    ]  # fmt: skip
    assert {r.weight for r in views} == {Weight.ERROR}
    assert views[0].about == ("winding 1",)
    made.save()
    assert saying(made)[1].startswith("Not saved. The winding 1 has no ohms")
    made.edit(lambda d: windings.move_end(d, "winding 2", finish="P.3"))
    for name in ("winding 1", "winding 2"):
        made.edit(lambda d, name=name: windings.set_percent(d, name, 20, 10))  # type: ignore[misc]
    assert made.can_save
    assert all(r.weight is not Weight.ERROR for r in made.remarks())
