"""A part without papers, without a window: plugs put on, readings taken, patterns ranked, every step kept."""

from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta
from typing import Any

import pytest

from tests.sitting.fakes import AT, FOUR_WIRES, HANDHELD, TAPPED, TWO_COILS
from workbench.exchange.starters import starter_patterns
from workbench.matching.faces import Faces
from workbench.records import KeptDraft, PatternRevision, new_id
from workbench.sitting.faceplan import face_plan, key_down
from workbench.sitting.lines import Keeping
from workbench.sitting.say import Tone
from workbench.sitting.whichdraft import fresh_head, part_from
from workbench.sitting.whichfacts import SETTLED
from workbench.sitting.whichpart import KIND
from workbench.sitting.whichsitting import WhichSitting
from workbench.sitting.whichviews import FaceChoice, face_choices, face_lines, readings, which
from workbench.stator.errors import FieldError
from workbench.stator.expect import Expectations
from workbench.stator.pattern import CORE, Cavity, Connector, Pair, Pattern, Side, Winding
from workbench.whichwords import NO_PLUGS, NO_SUCH_FACE, NONE_OF_THEM, WEIGHING

LIBRARY = tuple(PatternRevision(new_id(), new_id(), 1, p, AT) for p in starter_patterns())
BY_NAME = {r.pattern.name: r for r in LIBRARY}


class Records:
    """Keeps drafts as the store does; answers when the test lets it."""

    def __init__(self, *, at_once: bool = True) -> None:
        self.at_once = at_once
        self.kept: list[KeptDraft] = []
        self.dropped: list[KeptDraft] = []
        self.waiting: list[tuple[KeptDraft, Callable[[KeptDraft], object], Callable[[Exception], object]]] = []

    def keep_draft(self, draft: KeptDraft, then: Any = None, failed: Any = None) -> None:
        self.waiting.append((draft, then, failed))
        if self.at_once:
            self.answer()

    def drop_draft(self, draft: KeptDraft, then: Any = None, failed: Any = None) -> None:
        self.dropped.append(draft)

    def answer(self) -> None:
        draft, then, _ = self.waiting.pop(0)
        self.kept.append(replace(draft, version=draft.version + 1))
        then(self.kept[-1])

    def fail(self) -> None:
        _, _, failed = self.waiting.pop(0)
        failed(OSError("The disk is full."))


def begun(*, records: Records | None = None, **more: Any) -> tuple[WhichSitting, Records]:
    records = records or Records()
    times = (AT + timedelta(seconds=n) for n in range(1000))
    made = WhichSitting(records, fresh_head(HANDHELD), LIBRARY, clock=lambda: next(times), **more)
    return made, records


def with_plugs_of(name: str, **more: Any) -> tuple[WhichSitting, Records]:
    made, records = begun(**more)
    for plug in BY_NAME[name].pattern.connectors:
        made.put_on(plug)
    return made, records


def shown(pattern: Pattern, laying: dict[str, str], pair: Pair) -> str:
    """What the handheld shows of a sound part, its leads with it."""
    ohms = Expectations(pattern).of(Pair(laying[pair.positive], laying[pair.negative])).ohms
    return "OL" if ohms is None else f"{ohms + 0.2:.2f}"


def laid(made: WhichSitting, pattern: Pattern) -> dict[str, str]:
    """The part was put on plug by plug as the pattern has them."""
    out = {CORE: CORE}
    for mine, theirs in zip(made.part.plugs, pattern.connectors, strict=True):
        out |= dict(zip(mine.nodes, theirs.nodes, strict=True))
    return out


# ---- plugs


def test_plugs_are_lettered_and_their_pins_counted_whatever_the_pattern_calls_them() -> None:
    made, _ = with_plugs_of(TWO_COILS)
    assert [p.name for p in made.part.plugs] == ["A", "B"]
    assert made.part.plugs[0].nodes == ("A.1", "A.2", "A.3", "A.4", "A.5")
    assert made.offered is not None
    assert made.picked == tuple(made.offered)


def test_a_wire_colour_as_found_on_another_part_does_not_come_along() -> None:
    made, _ = begun()
    made.put_on(Connector("X", (Cavity("9", x=0, y=0, colour="grey over white"),)))
    assert made.part.plugs[0].cavities[0].colour == ""


@pytest.mark.parametrize("key", list(Side))
def test_a_plug_is_put_on_as_it_is_drawn_its_key_down(key: Side) -> None:
    made, _ = begun()
    face = Connector("P", (Cavity("1", x=0, y=1), Cavity("2", x=0, y=0), Cavity("3", x=1, y=0)), key)
    made.put_on(face)
    (plug,) = made.part.plugs
    assert plug.key is Side.BOTTOM
    assert face_plan(plug).spots == face_plan(key_down(replace(face, name="A"))).spots
    assert Faces().add(face)[0].places == pytest.approx(Faces().add(plug)[0].places)


def test_the_faces_to_choose_from_are_shown_as_they_will_be_drawn() -> None:
    face = Connector("P", (Cavity("1", x=0, y=-1), Cavity("2", x=0, y=0), Cavity("3", x=-1, y=0)), Side.TOP)
    pattern = Pattern("a part", (face,), (Winding("coil", "P.1", "P.2", ohms=10, tolerance_percent=10),))
    (choice,) = face_choices([replace(LIBRARY[0], pattern=pattern)])
    assert choice.title == "3 cavities, 1+2, blades, key at the bottom"
    assert choice.plug.places == ((0, 1), (0, 0), (1, 0))


def test_only_a_plug_that_nothing_was_read_on_is_taken_off() -> None:
    made, _ = with_plugs_of(TWO_COILS)
    made.enter("A1 A2 5")
    made.take_off("A")
    assert made.said is not None
    assert made.said.tone is Tone.REFUSES
    assert "1 reading" in made.said.sentence
    assert len(made.part.plugs) == 2
    made.undo()
    made.take_off("A")
    assert [p.name for p in made.part.plugs] == ["B"]
    assert made.part.seen == ()  # what was struck on it is gone with it
    made.put_on(BY_NAME[TWO_COILS].pattern.connectors[0])
    assert [p.name for p in made.part.plugs] == ["B", "A"]


# ---- ranked


def test_nothing_is_compared_before_a_plug_is_on() -> None:
    made, _ = begun()
    assert which(made).foot == NO_PLUGS
    made.enter("155")
    assert made.said is not None
    assert "Put the plugs on first" in made.said.sentence
    assert made.text == "155"


@pytest.mark.parametrize("name", [TWO_COILS, TAPPED, "charging groups jumpered in series"])
def test_by_the_offered_pairs_a_sound_part_settles_on_its_pattern(name: str) -> None:
    made, _ = with_plugs_of(name)
    pattern = BY_NAME[name].pattern
    for _ in range(12):
        if made.offered is None:
            break
        assert made.pair == made.offered  # it lies in the hands already
        made.enter(shown(pattern, laid(made, pattern), made.offered))
    view = which(made)
    assert made.settled
    assert view.rows[0].title == name
    assert sum(v.share for v in view.rows) == pytest.approx(1, abs=0.05)
    assert view.foot.startswith(f"Settled: {name}")


def test_a_face_of_no_pattern_is_said_to_be_of_none() -> None:
    made, _ = begun()
    made.put_on(Connector("X", tuple(Cavity(str(i), x=i, y=i * i) for i in range(6))))
    view = which(made)
    assert [v.title for v in view.rows] == [NONE_OF_THEM]
    assert view.foot == NO_SUCH_FACE
    assert made.offered is None


def test_with_some_of_its_plugs_still_off_the_part_is_told_to_be_of_no_pattern_yet() -> None:
    made, _ = begun()
    first, *others = BY_NAME["coils stacked on one tooth"].pattern.connectors
    made.put_on(first)
    assert which(made).foot == NO_SUCH_FACE
    assert "Put every plug of the part on" in NO_SUCH_FACE
    for plug in others:
        made.put_on(plug)
    assert which(made).foot != NO_SUCH_FACE


def test_readings_like_no_pattern_settle_on_none_of_them() -> None:
    made, _ = with_plugs_of("charging groups jumpered in series")
    for text in ("1 2 4.7k", "1 3 3.3k", "1 4 2.2k", "2 3 8.2k"):
        made.enter(text)
    assert made.settled
    assert which(made).rows[0].title == NONE_OF_THEM
    assert "none of the shop's patterns" in which(made).foot


def test_patterns_that_ohms_can_not_tell_apart_are_taken_as_one() -> None:
    twin = replace(BY_NAME[TWO_COILS].pattern, name="its twin")
    library = (BY_NAME[TWO_COILS], PatternRevision(new_id(), new_id(), 1, twin, AT))
    made = WhichSitting(Records(), fresh_head(HANDHELD), library)
    for plug in twin.connectors:
        made.put_on(plug)
    lay = laid(made, twin)
    while made.offered is not None:
        made.enter(shown(twin, lay, made.offered))
    view = which(made)
    assert made.settled
    assert max(v.share for v in view.rows) < SETTLED  # neither alone
    assert {"its twin", TWO_COILS} == {v.title for v in view.rows[:2]}
    assert all("ohms can't tell it from" in v.detail for v in view.rows[:2])
    assert view.foot.startswith("Settled as far as ohms go")


def test_a_part_with_a_fault_still_finds_its_pattern() -> None:
    name = TWO_COILS
    made, _ = with_plugs_of(name)
    pattern = BY_NAME[name].pattern
    lay = laid(made, pattern)
    broken = {n for n, theirs in lay.items() if theirs == pattern.windings[0].start}
    for _ in range(14):
        if made.offered is None:
            break
        pair = made.offered
        made.enter("OL" if broken & set(pair) else shown(pattern, lay, pair))
    assert which(made).rows[0].title == name


def test_how_it_lies_is_told_pin_by_pin() -> None:
    made, _ = with_plugs_of(TWO_COILS)
    top = which(made).rows[0]
    assert top.revision is not None
    assert made.laying_on(top.revision)["A.1"].startswith(top.revision.pattern.connectors[0].name)
    assert "A 1 is " in top.lies
    with pytest.raises(KeyError):
        made.laying_on(BY_NAME["three-phase wye"])


def test_sixty_pins_are_a_sentence_and_not_a_long_wait() -> None:
    made, _ = begun()
    made.put_on(Connector("X", tuple(Cavity(str(i), x=i % 8, y=i // 8) for i in range(60))))
    view = which(made)
    assert view.rows == ()
    assert "60 cavities are more than" in view.foot
    made.enter("1 2 5")  # it can still be read
    assert len(made.part.counted) == 1


def test_an_empty_library_is_no_trouble() -> None:
    made = WhichSitting(Records(), fresh_head(HANDHELD), ())
    made.put_on(BY_NAME[TWO_COILS].pattern.connectors[0])
    assert which(made).foot == NO_SUCH_FACE
    assert face_choices(()) == ()


def test_what_comes_late_is_not_shown() -> None:
    """Weighed elsewhere: two steps before the first answer."""
    work: list[tuple[Callable[[], Any], Callable[[Any], Any]]] = []
    made, _ = begun(reckon=lambda do, then: work.append((do, then)))
    for plug in BY_NAME[TWO_COILS].pattern.connectors:
        made.put_on(plug)
    assert which(made).foot == WEIGHING
    (first, then_first), (second, then_second) = work
    then_first(first())
    assert made.weighed is None  # of one plug, and there are two now
    then_second(second())
    assert made.weighed is not None


def test_a_new_pattern_is_compared_once_it_is_known() -> None:
    made = WhichSitting(Records(), fresh_head(HANDHELD), (BY_NAME["three-phase wye"],))
    for plug in BY_NAME[TWO_COILS].pattern.connectors:
        made.put_on(plug)
    assert [v.title for v in which(made).rows] == [NONE_OF_THEM]
    made.know(LIBRARY)
    assert TWO_COILS in {v.title for v in which(made).rows}


# ---- hands


def test_two_pins_are_pressed_or_typed_and_the_number_follows() -> None:
    made, _ = with_plugs_of("charging groups jumpered in series")
    made.press("A.2")
    assert made.picked == ("A.2",)
    made.press(CORE)
    made.enter("OL")
    assert made.part.counted[-1].reading.pair == Pair("A.2", CORE)
    assert made.part.counted[-1].reading.ohms is None
    made.enter("1 3 1k2")
    assert (made.part.counted[-1].reading.pair, made.part.counted[-1].reading.ohms) == (Pair("A.1", "A.3"), 1200)
    assert made.part.counted[-1].typed == "1k2"
    made.pick(Pair("A.1", "A.2"))
    made.open_line()
    assert made.part.counted[-1].reading.ohms is None
    assert face_lines(made)[-1].text == "open"


@pytest.mark.parametrize(
    ("typed", "says"),
    [("1 77 5", "77"), ("lots", "“lots”"), ("1 1 5", ""), ("1 2 -900", "Not taken"), ("1 2 9e9", "")],
)
def test_what_can_not_be_used_stays_in_the_field_with_a_sentence(typed: str, says: str) -> None:
    made, _ = with_plugs_of("charging groups jumpered in series")
    made.enter(typed)
    assert made.said is not None
    assert made.said.tone is Tone.REFUSES
    assert says in made.said.sentence
    assert made.text == typed
    assert made.part.counted == ()


def test_a_lone_one_is_asked_about() -> None:
    made, _ = with_plugs_of("charging groups jumpered in series")
    made.enter("1 2")
    made.enter("1")
    assert made.said is not None
    assert made.said.tone is Tone.ASKS
    made.said.choices[0].act()  # an overload
    assert made.part.counted[-1].reading.ohms is None
    made.enter("1 3")
    made.enter("1")
    made.enter("1")  # the same again keeps it as it was typed
    assert made.part.counted[-1].reading.ohms == 1.0


def test_going_on_walks_the_pairs_that_tell_something_round_and_round() -> None:
    made, _ = with_plugs_of(TWO_COILS)
    telling = made.telling
    assert len(telling) > 1
    seen = []
    for _ in range(len(telling) + 1):
        assert made.pair is not None
        seen.append(made.pair)
        made.go_on()
    assert seen == [*telling, telling[0]]
    made.pick(Pair(*reversed(telling[0])))  # the leads the other way round: the same reading
    made.go_on()
    assert made.pair == telling[1]


def test_a_pair_picked_by_hand_stays_in_hand() -> None:
    made, _ = with_plugs_of(TWO_COILS)
    made.pick(Pair("A.4", "A.5"))
    made.change_conditions(replace(made.head, meter_zeroed=True))  # weighed anew
    assert made.pair == Pair("A.4", "A.5")


def test_a_reading_is_struck_with_its_reason_and_read_again() -> None:
    made, _ = with_plugs_of("charging groups jumpered in series")
    made.enter("1 2 0.7")
    made.enter("1 3 9")
    first = made.part.seen[0]
    made.strike(first.id, "missed the pin")
    assert [r.struck for r in readings(made)] == ["", "missed the pin"]
    assert len(made.part.counted) == 1
    made.strike(first.id, "again")
    assert made.part.seen[0].struck == "missed the pin"  # once
    made.read_again(first.id)
    assert made.pair == Pair("A.1", "A.2")
    made.undo()
    assert made.part.counted == ()
    assert made.part.seen[1].struck == "undone"
    assert made.pair == Pair("A.1", "A.3")


def test_another_meter_is_refused_where_it_can_not_have_shown_a_reading() -> None:
    made, _ = with_plugs_of("charging groups jumpered in series")
    made.enter("1 2 1M")
    small = replace(FOUR_WIRES.meter, ranges=FOUR_WIRES.meter.ranges[:1])
    other = replace(made.head, meter_id=FOUR_WIRES.id, meter_name=FOUR_WIRES.name, meter=small)
    made.change_conditions(other)
    assert made.said is not None
    assert "can't have shown 1M" in made.said.sentence
    assert made.head.meter_name == HANDHELD.name
    made.undo()
    made.change_conditions(other)
    assert made.head.meter_name == FOUR_WIRES.name


# ---- kept


def test_every_step_is_kept_and_gone_on_with() -> None:
    made, records = with_plugs_of(TWO_COILS)
    made.enter("A1 A3 155.2")
    made.enter("A1 A2 OL")
    made.strike(made.part.seen[1].id, "wrong pair")
    made.change_conditions(replace(made.head, conditions=replace(made.head.conditions, celsius=31.5)))
    draft = records.kept[-1]
    assert (draft.kind, draft.title) == (KIND, "2 plugs, 7 cavities, 1 reading")
    assert {d.id for d in records.kept} == {draft.id}
    again, _ = begun(records=records, kept=draft)
    assert again.part.plugs == made.part.plugs
    assert again.part.seen == made.part.seen
    assert again.head.conditions == made.head.conditions
    assert all(r.keeping is Keeping.SAFE for r in readings(again))
    assert part_from(draft.body).counted == made.part.counted


def test_a_reading_is_hollow_until_it_is_kept_and_said_where_it_is_not() -> None:
    made, records = with_plugs_of("charging groups jumpered in series", records=Records(at_once=False))
    records.answer()
    made.enter("1 2 5")
    assert [v.safe for v in face_lines(made)] == [False]
    records.answer()
    assert [v.safe for v in face_lines(made)] == [True]
    made.enter("1 3 6")
    records.fail()
    assert made.said is not None
    assert made.said.sentence == "What was read last is not kept yet. The disk is full."
    assert made.keeping.lost
    assert len(made.part.counted) == 2  # it stays on the screen
    made.keep_again()
    records.answer()
    assert not made.keeping.lost
    assert [v.safe for v in face_lines(made)] == [True, True]


def test_nothing_is_kept_of_a_part_that_nothing_was_done_with() -> None:
    made, records = begun()
    made.press("A.1")
    assert records.kept == []
    made.put_on(BY_NAME[TWO_COILS].pattern.connectors[0])
    made.take_off("A")
    assert len(records.dropped) == 1


@pytest.mark.parametrize("body", ["", "{}", "[1]", '{"head": 1, "plugs": [], "readings": []}'])
def test_a_draft_that_can_not_be_read_is_refused(body: str) -> None:
    kept = KeptDraft(new_id(), KIND, "a part", body, AT, AT, 1)
    with pytest.raises(FieldError):
        begun(kept=kept)


# ---- faces to choose from


def test_each_face_of_the_library_is_offered_once() -> None:
    choices = face_choices(LIBRARY)
    assert sum(c.patterns for c in choices) >= len(LIBRARY)
    assert [len(c.plug.cavities) for c in choices] == sorted(len(c.plug.cavities) for c in choices)
    twice = face_choices((*LIBRARY, *LIBRARY))
    assert [c.plug for c in twice] == [c.plug for c in choices]
    assert [c.patterns for c in twice] == [2 * c.patterns for c in choices]


@pytest.mark.parametrize(
    ("places", "said"),
    [
        ([(0, 0)], "1 cavity, blade, "),
        ([(0, 0), (1, 0), (2, 0)], "3 cavities, in a row, "),
        ([(0, 0), (0, 1)], "2 cavities, in a column, "),
        ([(0.5, 1), (1.5, 1), (0, 0), (1, 0), (2, 0)], "5 cavities, 2+3, "),
        ([(0, 1), (0.95, 0.31), (0.59, -0.81), (-0.59, -0.81), (-0.95, 0.31)], "5 cavities, round, "),
    ],
)
def test_a_face_is_told_in_words(places: list[tuple[float, float]], said: str) -> None:
    plug = Connector("X", tuple(Cavity(str(i), x=x, y=y) for i, (x, y) in enumerate(places)))
    assert FaceChoice(plug, 1).title.startswith(said)
    assert FaceChoice(plug, 1).title.endswith("key at the bottom")
