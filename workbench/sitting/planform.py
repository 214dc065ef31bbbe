"""What is typed of a coil that is to be planned, and what it begins from: the wire taken, or the one it had."""

import math
import re
from dataclasses import dataclass, replace

from workbench.rewind.coil import Allowances, CoilOrder, Fills, Manner, Room
from workbench.rewind.ofpattern import alike
from workbench.rewind.record import Body, PlanWork, dealt
from workbench.rewind.strip import Figure
from workbench.rewind.tables import Span
from workbench.rewind.window import Core, Lining
from workbench.rewind.wire import TABLED, Build, Gauge, Scale, Wire, measured, nearest
from workbench.sitting.conditions import FormError
from workbench.sitting.rewindforms import formed, gauge_of, maybe_of, maybe_whole_of, number_of, text_of, whole_of
from workbench.stator.errors import FieldError
from workbench.stator.layout import Facing
from workbench.stator.pattern import Pattern

_FILLS, _ALLOWANCES, _ROOM = Fills(), Allowances(), Room()


@dataclass(frozen=True, slots=True)
class PlanForm:
    """Lengths mm; shares as percent. `root` and `tip` from the middle of the ring, on a straight core from the root.

    `over`: over the enamel, as measured; nothing: by the build's table.
    """

    gauge: str = ""
    build: Build = Build.HEAVY
    over: str = ""
    strands: str = "1"
    turns: str = ""
    manner: Manner = Manner.LAYERED
    sheet: str = ""
    facing: Facing = Facing.OUTWARD
    teeth: str = ""
    tooth: str = ""
    stack: str = ""
    root: str = ""
    tip: str = ""
    gap: str = ""
    neighbour: bool = True
    flank: str = ""
    ends: str = ""
    root_lining: str = ""
    tip_lining: str = ""
    clear: str = ""
    flange: str = ""
    flywheel: str = ""
    above: str = ""
    least: str = f"{_ROOM.least_mm:g}"
    coils: str = "1"
    paths: str = "1"
    celsius: str = "20"
    scramble: str = f"{100 * _FILLS.scramble:g}"
    warns: str = f"{100 * _FILLS.layered_warns:g}"
    bulge: str = f"{100 * _ALLOWANCES.bulge:g}"
    stretch: str = f"{100 * _ALLOWANCES.stretch:g}"
    tails: str = f"{_ALLOWANCES.tails_mm:g}"
    spare: str = f"{100 * _ALLOWANCES.spare:g}"
    core_u: str = f"{_ALLOWANCES.core_u_mm:g}"


@dataclass(frozen=True, slots=True)
class Asked:
    """A form that could be read. `coils` of the winding (of three, of a phase) in `paths` groups side by side."""

    form: PlanForm
    order: CoilOrder
    coils: int
    paths: int
    celsius: float


# fields of the form by those of the records
_CORE = {"tooth_mm": "tooth", "stack_mm": "stack", "root_mm": "root", "tip_mm": "tip", "gap_mm": "gap"}
_LINING = {
    "flank_mm": "flank", "end_mm": "ends", "root_mm": "root_lining", "tip_mm": "tip_lining", "neighbour_mm": "clear",
    "flange_mm": "flange",
}  # fmt: skip
_ROOMS = {"flywheel_mm": "flywheel", "end_mm": "above", "least_mm": "least"}
_SHARES = {"layered_warns": "warns", "tails_mm": "tails", "core_u_mm": "core_u"}
_ORDER = {"between_mm": "sheet"}
_WIRE = {"overall": "over"}
# of what doesn't go in
_MISFIT = {"wire": "gauge", "lining": "flank", "corners": "tip", "room.flywheel_mm": "flywheel", "room.end_mm": "above"}


def field_at_fault(error: FieldError) -> str:
    """The form's field by what a plan that can't be wound is refused for."""
    return _MISFIT.get(error.field, error.field)


# ---- begun


def begun(pattern: Pattern, winding: str, body: Body) -> PlanForm:
    """As it was noted; else from what is known of the core and its wire."""
    celsius = body.wire.duty.celsius if body.wire is not None and body.wire.duty is not None else 20.0
    if body.plan is not None:
        return replace(_of_work(body.plan), celsius=f"{celsius:g}")
    form = _of_found(_of_core(pattern, winding, body), body)
    wire = body.wire
    if wire is not None:
        taken = wire.chosen if wire.chosen is not None else wire.as_was
        was = wire.as_was
        form = replace(
            _of_wire(form, taken.wire), turns=str(taken.turns), coils=str(was.coils), paths=str(was.paths)
        )  # fmt: skip
    return replace(form, celsius=f"{celsius:g}")


def _of_core(pattern: Pattern, winding: str, body: Body) -> PlanForm:
    try:
        coils = alike(pattern, winding) or 1
    except FieldError:
        coils = 1
    layout, laid = pattern.layout, body.laid
    facing = laid.facing if laid is not None else layout.facing if layout is not None else Facing.OUTWARD
    teeth = laid.scheme.teeth if laid is not None else layout.teeth if layout is not None else None
    return PlanForm(facing=facing, teeth="" if facing is Facing.STRAIGHT else text_of(teeth), coils=str(coils))


def _of_found(form: PlanForm, body: Body) -> PlanForm:
    """By what was counted and measured of the old coil, as far as it goes."""
    if body.found is None:
        return form
    record = body.found.record
    turns, bare, over = (record.figure(f) for f in (Figure.TURNS, Figure.BARE, Figure.OVERALL))
    if record.gauge is not None:
        form = replace(form, gauge=record.gauge.name, build=_usual(record.gauge, form.build))
    elif bare is not None and over is not None:
        form = replace(form, gauge=f"{bare[0]:.3f} mm", over=f"{over[0]:.3f}")
    elif bare is not None:  # how thick its enamel was isn't known, so that it is taken for a size that is sold
        size = min((nearest(bare[0], scale) for scale in TABLED), key=lambda g: abs(math.log(g.mm / bare[0])))
        form = replace(form, gauge=size.name, build=_usual(size, form.build))
    return replace(
        form,
        strands=str(record.strands or 1),
        turns="" if turns is None else f"{turns[0]:.0f}",
        coils=str(record.coils) if record.coils > 1 else form.coils,
    )


def _usual(size: Gauge, build: Build) -> Build:
    """The usual build of a table that hasn't this one."""
    return build if size.scale is Scale.AWG else Build.GRADE_2


def _of_wire(form: PlanForm, wire: Wire) -> PlanForm:
    name = f"{wire.gauge.mm:g} mm" if wire.gauge.scale is Scale.MEASURED else wire.gauge.name
    over = f"{wire.nominal_mm:g}" if wire.build is None else ""
    return replace(form, gauge=name, build=wire.build or Build.HEAVY, over=over, strands=str(wire.strands))


def _of_work(work: PlanWork) -> PlanForm:
    o = work.order
    core, lining, room, fills, allow = o.core, o.lining, o.room, o.fills, o.allowances
    form = PlanForm(
        turns=str(o.turns), manner=o.manner, sheet=text_of(o.between_mm or None),
        facing=core.facing, teeth=text_of(core.teeth), tooth=text_of(core.tooth_mm), stack=text_of(core.stack_mm),
        root=text_of(core.root_mm), tip=text_of(core.tip_mm), gap=text_of(core.gap_mm), neighbour=core.neighbour_wound,
        flank=text_of(lining.flank_mm or None), ends=text_of(lining.end_mm or None),
        root_lining=text_of(lining.root_mm or None), tip_lining=text_of(lining.tip_mm or None),
        clear=text_of(lining.neighbour_mm or None), flange=text_of(lining.flange_mm),
        flywheel=text_of(room.flywheel_mm), above=text_of(room.end_mm), least=text_of(room.least_mm),
        coils=str(work.coils), paths=str(work.paths),
        scramble=text_of(100 * fills.scramble), warns=text_of(100 * fills.layered_warns),
        bulge=text_of(100 * allow.bulge), stretch=text_of(100 * allow.stretch), tails=text_of(allow.tails_mm),
        spare=text_of(100 * allow.spare), core_u=text_of(allow.core_u_mm),
    )  # fmt: skip
    return _of_wire(form, o.wire)


# ---- read


def plan_asked(form: PlanForm) -> Asked:
    """What was typed, as an order. Raises FormError."""
    wire, core, lining = _wire(form), _core(form), _lining(form)
    flywheel, above, least = (_maybe(form, n) for n in ("flywheel", "above", "least"))
    room = formed(lambda: Room(flywheel, above, _ROOM.least_mm if least is None else least), _ROOMS)
    scramble, warns, bulge, stretch, spare = (
        _share(form, name, usual)
        for name, usual in (
            ("scramble", _FILLS.scramble), ("warns", _FILLS.layered_warns), ("bulge", _ALLOWANCES.bulge),
            ("stretch", _ALLOWANCES.stretch), ("spare", _ALLOWANCES.spare),
        )
    )  # fmt: skip
    tails, core_u = _maybe(form, "tails"), _maybe(form, "core_u")
    fills = formed(lambda: Fills(scramble, warns), _SHARES)
    allowances = formed(
        lambda: Allowances(
            bulge, stretch, _ALLOWANCES.tails_mm if tails is None else tails, spare,
            _ALLOWANCES.core_u_mm if core_u is None else core_u,
        ),
        _SHARES,
    )  # fmt: skip
    turns, sheet = whole_of(form.turns, "turns"), _maybe(form, "sheet") or 0.0
    order = formed(
        lambda: CoilOrder(wire, turns, core, lining, form.manner, None, sheet, room, fills, allowances), _ORDER
    )
    coils, paths = whole_of(form.coils, "coils"), whole_of(form.paths, "paths")
    formed(lambda: dealt(coils, paths), {})
    celsius = 20.0 if not form.celsius.strip() else number_of(form.celsius, "celsius")
    if not -60 <= celsius <= 300:
        raise FormError("celsius", f"The copper's temperature must lie from -60 to 300 °C, not at {celsius:g}.")
    return Asked(form, order, coils, paths, celsius)


def _wire(form: PlanForm) -> Wire:
    over, strands = _maybe(form, "over"), whole_of(form.strands, "strands")
    if over is None:
        size = gauge_of(form.gauge)
        return formed(lambda: Wire.of(size, form.build, strands), {"overall": "build"})
    bare = _gauge_or_measured(form.gauge)
    return formed(lambda: Wire(bare, Span(nominal=over), None, strands), _WIRE)


def _gauge_or_measured(text: str) -> Gauge:
    """Measured over the enamel, a wire need be on no table."""
    try:
        return gauge_of(text)
    except FormError:
        found = re.fullmatch(r"(?ai)\s*(\d{0,2}[.,]\d+|\d{1,2}(?=\s*mm))\s*(?:mm)?\s*", text)
        if found is None:
            raise
    return formed(lambda: measured(number_of(found[1], "gauge")), {})


def _core(form: PlanForm) -> Core:
    straight = form.facing is Facing.STRAIGHT
    teeth = None if straight else maybe_whole_of(form.teeth, "teeth")
    tooth, stack = number_of(form.tooth, "tooth"), number_of(form.stack, "stack")
    root = (_maybe(form, "root") or 0.0) if straight else number_of(form.root, "root")
    tip, gap = number_of(form.tip, "tip"), _maybe(form, "gap") if straight else None
    return formed(lambda: Core(form.facing, tooth, stack, root, tip, teeth, gap, form.neighbour), _CORE)


def _lining(form: PlanForm) -> Lining:
    flank, ends, root, tip, clear = (
        _maybe(form, n) or 0.0 for n in ("flank", "ends", "root_lining", "tip_lining", "clear")
    )
    flange = _maybe(form, "flange")
    return formed(lambda: Lining(flank, ends, root, tip, clear, flange), _LINING)


def _maybe(form: PlanForm, name: str) -> float | None:
    return maybe_of(getattr(form, name), name)


def _share(form: PlanForm, name: str, usual: float) -> float:
    percent = _maybe(form, name)
    return usual if percent is None else percent / 100
