"""Any edits in any order: the draft that is kept is the one on the desk, and undo goes back through all of them."""

from dataclasses import replace
from typing import Any

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, rule

from tests.drafting.drawn import wired
from tests.sitting.test_patterndesk import Records
from workbench.drafting import coils, plugs, windings
from workbench.drafting.draft import Draft
from workbench.drafting.prove import Weight
from workbench.records import KeptDraft
from workbench.sitting.conditions import FormError
from workbench.sitting.draftkeep import left_in
from workbench.sitting.patterndesk import PatternDesk
from workbench.sitting.patternpairs import PatternPairs
from workbench.sitting.plugform import PlugForm, Shape
from workbench.sitting.windingform import Band, WindingForm, applied, form_of
from workbench.stator.layout import Facing
from workbench.stator.pattern import CORE, Element, Side

HALVES = st.integers(-6, 6).map(lambda n: n / 2)
NAMES = st.sampled_from(["", "a", "b", "P", "point 1", "main coil", "a.b", "core", "  two  words "])


class AtTheDesk(RuleBasedStateMachine):
    """Nothing is refused by the one who draws; what can't be, the desk refuses in a sentence."""

    @initialize(drawn=st.booleans())
    def begin(self, drawn: bool) -> None:
        self.records = Records()
        self.desk = PatternDesk(self.records)
        self.been: list[Draft] = [self.desk.draft]
        if drawn:
            self.edit(lambda _: wired())

    def edit(self, change: Any) -> None:
        before, kept = self.desk.draft, len(self.records.of("keep"))
        if self.desk.edit(change):
            if self.desk.draft != before:
                self.been = [*self.been[: len(self.desk.history.before)], self.desk.draft]
        else:
            assert self.desk.draft is before
            assert len(self.records.of("keep")) == kept
            assert self.desk.said is not None
            assert self.desk.said.sentence.endswith(".")

    def any_node(self, data: st.DataObject) -> str:
        d = self.desk.draft
        return data.draw(st.sampled_from([*d.pins, CORE, *d.inner_points, "point 1", "point 2"]))

    @rule(name=NAMES)
    def name(self, name: str) -> None:
        self.edit(lambda d: d.named(name))

    @rule(name=NAMES, shape=st.sampled_from(Shape), counts=st.sampled_from(["1", "2+3", "5", "x"]), wire=st.booleans())
    def plug(self, name: str, shape: Shape, counts: str, wire: bool) -> None:
        form = PlugForm(name, shape, counts, wire_side=wire)
        if not form.trouble and len(self.desk.draft.plugs) < 3:
            self.edit(form.drawn)

    @rule(data=st.data(), x=HALVES, y=HALVES, what=st.sampled_from(["add", "move", "drop", "name", "mirror", "key"]))
    def cavity(self, data: st.DataObject, x: float, y: float, what: str) -> None:
        if not self.desk.draft.plugs:
            return
        plug = data.draw(st.sampled_from(self.desk.draft.plugs))
        pin = data.draw(st.sampled_from(plug.cavities)).pin
        acts = {
            "add": lambda d: plugs.add_cavity(d, plug.name, (x, y)),
            "move": lambda d: plugs.move_cavity(d, plug.name, pin, (x, y)),
            "drop": lambda d: plugs.drop_cavity(d, plug.name, pin),
            "name": lambda d: plugs.rename_pin(d, plug.name, pin, data.draw(NAMES)),
            "mirror": lambda d: plugs.mirror(d, plug.name),
            "key": lambda d: plugs.set_key(d, plug.name, data.draw(st.sampled_from([None, *Side]))),
        }
        self.edit(acts[what])

    @rule(data=st.data(), link=st.booleans())
    def join(self, data: st.DataObject, link: bool) -> None:
        one, other = self.any_node(data), self.any_node(data)
        self.edit(lambda d: (windings.link if link else windings.connect)(d, one, other)[0])

    @rule(data=st.data(), band=st.sampled_from(Band), texts=st.tuples(*[st.sampled_from(["", "1k2", "0,4", "x"])] * 3))
    def form(self, data: st.DataObject, band: Band, texts: tuple[str, str, str]) -> None:
        if not self.desk.draft.edges:
            return
        edge = data.draw(st.sampled_from(self.desk.draft.edges))
        ohms, low, high = texts
        element = data.draw(st.sampled_from([None, None, None, *Element]))
        typed: WindingForm = replace(
            form_of(edge), name=data.draw(NAMES), band=band, ohms=ohms, low=low, high=high, element=element
        )  # fmt: skip
        try:
            new = applied(self.desk.draft, edge.name, typed)
        except FormError:
            return  # the pane says it at its field
        self.edit(lambda _: new)

    @rule(data=st.data())
    def drop(self, data: st.DataObject) -> None:
        if self.desk.draft.edges:
            edge = data.draw(st.sampled_from(self.desk.draft.edges))
            self.edit(lambda d: windings.drop_edge(d, edge.name))

    @rule(data=st.data(), teeth=st.integers(0, 5), facing=st.sampled_from(Facing), tooth=st.integers(0, 6))
    def coil(self, data: st.DataObject, teeth: int, facing: Facing, tooth: int) -> None:
        self.edit(lambda d: coils.set_core(d, teeth, facing))
        wound = [w.name for w in self.desk.draft.windings if w.element is None]
        if wound:
            self.edit(lambda d: coils.put_coil(d, data.draw(st.sampled_from(wound)), tooth))

    @rule()
    def undo(self) -> None:
        self.desk.undo()
        assert self.desk.draft == self.been[len(self.desk.history.before)]

    @rule()
    def redo(self) -> None:
        self.desk.redo()
        assert self.desk.draft == self.been[len(self.desk.history.before)]

    @invariant()
    def what_is_kept_is_what_is_drawn(self) -> None:
        kept: list[KeptDraft] = self.records.of("keep")
        assert (left_in(kept[-1]).draft if kept else Draft()) == self.desk.draft

    @invariant()
    def the_proof_says_whether_it_can_be_saved(self) -> None:
        desk = self.desk
        assert desk.proof is not None
        assert desk.proof.stands == (desk.draft.trouble is None)
        views = desk.remarks()
        assert any(v.weight is Weight.ERROR for v in views) != desk.proof.stands
        assert all(v.sentence.endswith(".") and v.who and v.what for v in views)
        assert bool(PatternPairs().view(desk.proof).cells) == (desk.proof.stands and bool(desk.draft.plugs))


AtTheDesk.TestCase.settings = settings(max_examples=40, stateful_step_count=25, deadline=None)
TestAtTheDesk = AtTheDesk.TestCase
