"""The plan of a coil: asked, worked out on the back desk, seen in its window and in words, noted."""

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import partial
from itertools import groupby
from uuid import UUID

from workbench.rewind.asfar import as_far
from workbench.rewind.coil import CoilPlan, Fit, Manner, plan_coil
from workbench.rewind.errors import MisfitError, RewindError
from workbench.rewind.ofpattern import names_of
from workbench.rewind.record import PlanWork
from workbench.rewind.rows import Lay, counted, rows
from workbench.rewindwords import FIT_WORDS, PLAN_CAUTIONS, sentence, wire_words
from workbench.sitting.conditions import FormError
from workbench.sitting.plandrawing import PlanDrawing, plan_drawing
from workbench.sitting.planform import Asked, PlanForm, begun, field_at_fault, plan_asked
from workbench.sitting.rewinding import Rewinding
from workbench.sitting.say import Said, Tone
from workbench.words import ohms_words

MOST_LAYERS = 10
TAKEN_OTHER = "Taken on the page Wire: {}, {}. Plan that too: whether it goes in is not known by this one."


@dataclass(frozen=True, slots=True)
class Fact:
    name: str
    value: str


@dataclass(frozen=True, slots=True)
class PlanView:
    """`headline`: that it fits, or by how much it doesn't; `said`: the sentence of either; `spoken`: all of it."""

    fits: bool
    headline: str
    said: str
    facts: tuple[Fact, ...]
    cautions: tuple[str, ...]
    drawing: PlanDrawing
    spoken: str


@dataclass(frozen=True, slots=True)
class Came:
    """What came of an asked plan; `plan` None with the `refused` field where it can't be wound."""

    view: PlanView
    plan: CoilPlan | None
    refused: str = ""


class PlanDesk:
    """Keeps what was asked of each winding while the desk is open; what came of it is dropped where something else
    was asked meanwhile.
    """

    def __init__(self, rewinding: Rewinding) -> None:
        self._r = rewinding
        self._asked: dict[UUID, Asked] = {}
        self._came: dict[UUID, tuple[Asked, Came]] = {}
        self._noting: Asked | None = None

    @property
    def form(self) -> PlanForm:
        """As it was last asked; else as it begins."""
        asked = self._asked.get(self._r.record.id)
        return asked.form if asked is not None else begun(self._r.pattern, self._r.winding, self._r.body)

    @property
    def view(self) -> PlanView | None:
        """None before anything is asked, and while it is reckoned. What was noted is reckoned by itself."""
        rewind = self._r.record.id
        if rewind not in self._asked and self._r.body.plan is not None:
            try:
                self._reckon(plan_asked(self.form), quietly=True)
            except FormError:
                return None
        known = self._came.get(rewind)
        return known[1].view if known is not None and known[0] == self._asked.get(rewind) else None

    @property
    def reckoning(self) -> bool:
        return self._r.record.id in self._asked and self.view is None

    @property
    def noted(self) -> str:
        """What stands noted; nothing before."""
        work = self._r.body.plan
        if work is None:
            return ""
        n = work.coils / work.paths / work.paths
        return (
            f"Noted: {wire_words(work.order.wire)}, {_turns(work.order.turns)} a coil, {dealt_words(work)}: "
            f"{ohms_words(n * work.ohms_20)} at 20 °C.{self._taken_other(work)}"
        )

    # ---- acts

    def plan(self, form: PlanForm) -> None:
        """Whether it goes in, and what comes of it; refused with its reason."""
        self._noting = None
        self._ask(form)

    def note(self, form: PlanForm) -> None:
        """Keeps the plan of this form, once it is known to fit."""
        self._noting = self._ask(form)
        self._note_if_known()

    # ---- inside

    def _taken_other(self, work: PlanWork) -> str:
        """That the wire taken is not the one that was planned with, which then says nothing of whether it goes in."""
        wire = self._r.body.wire
        taken = wire.chosen if wire is not None else None
        if taken is None or (taken.wire, taken.turns) == (work.order.wire, work.order.turns):
            return ""
        return f" {TAKEN_OTHER.format(wire_words(taken.wire), _turns(taken.turns))}"

    def _ask(self, form: PlanForm) -> Asked | None:
        try:
            asked = plan_asked(form)
        except FormError as e:
            self._r.refuse(e.sentence, e.field)
            return None
        rewind = self._r.record.id
        known = self._came.get(rewind)
        if known is not None and known[0] == asked == self._asked.get(rewind):
            self._tell(known[1])
        else:
            self._reckon(asked, quietly=False)
        return asked

    def _reckon(self, asked: Asked, *, quietly: bool) -> None:
        rewind, phases = self._r.record.id, len(names_of(self._r.pattern, self._r.winding))
        self._asked[rewind] = asked
        self._r.reckon(partial(came_of, asked, phases), partial(self._know, rewind, asked, quietly))

    def _know(self, rewind: UUID, asked: Asked, quietly: bool, came: Came) -> None:
        if self._asked.get(rewind) != asked:
            return
        self._came[rewind] = (asked, came)
        if rewind != self._r.record.id:
            return
        if quietly:
            self._r.on_change()
            return
        self._tell(came)
        self._note_if_known()

    def _tell(self, came: Came) -> None:
        if came.plan is None:
            self._r.refuse(f"{came.view.headline}.", came.refused)
        else:
            self._r.tell("The coil is planned, and goes in.")

    def _note_if_known(self) -> None:
        rewind, asked = self._r.record.id, self._noting
        known = self._came.get(rewind)
        if asked is None or known is None or known[0] != asked or asked != self._asked.get(rewind):
            return
        self._noting = None
        plan = known[1].plan
        if plan is not None:
            work = PlanWork.of(plan, asked.coils, asked.paths)
            self._r.change(replace(self._r.body, plan=work), Said(Tone.TELLS, "The plan is noted for this rewind."))


def plan_done(r: Rewinding) -> str:
    """How far the plan is."""
    work = r.body.plan
    return "not planned" if work is None else f"{wire_words(work.order.wire)}, {_turns(work.order.turns)}"


def came_of(asked: Asked, phases: int) -> Came:
    """`phases`: how many such windings are wound."""
    order = asked.order
    try:
        plan = plan_coil(order)
    except RewindError as e:
        window, section = as_far(order) if isinstance(e, MisfitError) else (None, None)
        drawing, said = plan_drawing(order, window, section), sentence(e.sentence)
        headline = f"It does not go in: {_missing(e)}"
        goes_in = sum(r.wires for r in section.rows) // order.wire.strands if section is not None else 0
        all_of = goes_in == order.turns
        go = "goes" if goes_in == 1 else "go"
        drawn = f"{'all' if all_of else 'the'} {_turns(goes_in)}{'' if all_of else f' that {go} in'}"
        fact = Fact("Drawn", drawn if goes_in else "the window, with nothing in it")
        facts = (fact, *_lacking(e))
        spoken = " ".join([f"{headline}. {said}", *(f"{f.name}: {f.value}." for f in facts)])
        view = PlanView(False, headline, said, facts, (), drawing, spoken)
        return Came(view, None, field_at_fault(e))
    drawing = plan_drawing(order, plan.window, plan.section)
    facts = tuple(Fact(name, value) for name, value in _facts(plan, asked, phases))
    cautions = tuple(PLAN_CAUTIONS[c] for c in plan.cautions)
    headline = f"It goes in: {_turns(order.turns)}, of {_range(plan.fits_low, plan.fits_high)} that would."
    spoken = " ".join([headline, *(f"{f.name}: {f.value}." for f in facts), *cautions])
    return Came(PlanView(True, headline, FIT_WORDS[plan.fit], facts, cautions, drawing, spoken), plan)


def _missing(e: RewindError) -> str:
    """By how much, in a few words."""
    if not isinstance(e, MisfitError):
        return "the window is none that wire can be laid in"
    if e.field == "turns" and e.turns is not None:
        return f"{_turns(e.turns)} too many"
    if e.mm is None:
        return "no room is left"
    return f"{e.mm:.2f} mm {'too thick' if e.field == 'wire' else 'too close'}"


def _lacking(e: RewindError) -> Iterator[Fact]:
    if isinstance(e, MisfitError) and e.field == "turns" and e.mm is not None:
        yield Fact("Lacking", f"{math.ceil(100 * e.mm) / 100:.2f} mm of depth")


def _facts(plan: CoilPlan, asked: Asked, phases: int) -> Iterator[tuple[str, str]]:
    order, strands = plan.order, plan.order.wire.strands
    drawn = {Fit.NESTED: "nested", Fit.FILL: "spread evenly: where each falls can't be known"}
    yield "Drawn", drawn.get(plan.fit, "square-stacked")
    if order.manner is Manner.LAYERED:
        yield "Layers", layer_words(plan.turns_per_layer)
        yield "Would go in", _by_each_bound(plan)
    yield "Build", f"{plan.build_mm:.2f} mm of {plan.window.depth_mm:.2f} mm"
    yield "Fill over enamel", f"{100 * plan.fill:.0f} % of the window"
    yield "Mean turn", f"{plan.mean_turn_mm:.1f} ± {2 * plan.mean_turn_u_mm:.1f} mm"
    yield (
        "Wire of a coil",
        f"{plan.metres:.2f} m{f' of each of {strands} strands' if strands > 1 else ''}, leads and all",
    )
    for celsius in dict.fromkeys((20.0, asked.celsius)):
        yield f"A coil at {celsius:g} °C", _band(plan, celsius, 1.0)
    per = asked.coils / asked.paths / asked.paths
    whole = "A phase" if phases > 1 else "The winding"
    if asked.coils > 1:
        for celsius in dict.fromkeys((20.0, asked.celsius)):
            yield f"{whole} at {celsius:g} °C", _band(plan, celsius, per)
    n = asked.coils * phases
    buys = f"{n * plan.buy_grams:.0f} g, {n * plan.buy_enamelled_grams:.0f} g with its enamel"
    yield "Copper to buy", f"{buys}, for {n} coils" if n > 1 else buys
    yield "To the flywheel", _clear(plan.flywheel_mm, order.room.least_mm)
    yield "Over the stack", _clear(plan.end_mm, order.room.least_mm)


def _by_each_bound(plan: CoilPlan) -> str:
    wire, between = plan.order.wire, plan.order.between_mm
    square, nested = (
        counted(rows(plan.window, wire.placing_mm, lay, between_mm=between)) // wire.strands for lay in Lay
    )
    # on a sheet nothing nests
    return _turns(square) if between else f"{_turns(square)} square-stacked, {nested:,} nested"


def _band(plan: CoilPlan, celsius: float, times: float) -> str:
    """Nominal and limits, to the tenth of how far these are from it."""
    o = plan.ohms_at(celsius)
    step = 10.0 ** (math.floor(math.log10(max(times * (o.high - o.nominal), 1e-9))) - 1)
    nominal, low, high = (ohms_words(times * x, step) for x in (o.nominal, o.low, o.high))
    return f"{nominal} ({low} to {high})"


def _clear(mm: float | None, least: float) -> str:
    return "not measured" if mm is None else f"{mm:.2f} mm clear, {least:g} mm must be"


def layer_words(turns: tuple[float, ...]) -> str:
    """Turns from the tooth out, like ones together: `2 × 13, 10, 1`."""
    runs = [(n, len(tuple(same))) for n, same in groupby(turns)]
    said = [f"{many} × {n:g}" if many > 1 else f"{n:g}" for n, many in runs]
    if len(said) > MOST_LAYERS:
        said = [*said[: MOST_LAYERS - 2], "…", said[-1]]
    return f"{len(turns)}: {', '.join(said)} turns from the tooth out"


def dealt_words(work: PlanWork) -> str:
    """`6 coils in series`, `6 coils in 2 groups side by side`."""
    if work.coils == 1:
        return "1 coil"
    return f"{work.coils} coils in {'series' if work.paths == 1 else f'{work.paths} groups side by side'}"


def _range(low: int, high: int) -> str:
    return f"{low:,}" if low == high else f"{low:,} to {high:,}"


def _turns(n: int) -> str:
    return f"{n:,} turn{'' if n == 1 else 's'}"
