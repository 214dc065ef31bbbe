"""What is typed on the rewind desk's forms, read; or a sentence and the field that is at fault."""

import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import TypeVar

from workbench.rewind.layout import OF_PHASES, Connection, Scheme
from workbench.rewind.ofpattern import alike, coils_of_winding, names_of, phases_of
from workbench.rewind.record import WHOLE, Laid, WireWork
from workbench.rewind.shelf import AsWas, Duty
from workbench.rewind.wire import Build, Gauge, Scale, Wire, gauge
from workbench.rewindwords import BUILD_WORDS, sentence
from workbench.sitting.conditions import FormError
from workbench.stator.errors import FieldError
from workbench.stator.layout import Facing
from workbench.stator.pattern import Pattern

NO_BUILDS = "How thick {} is over its enamel stands in no table here, so that nothing is worked out with it."
R = TypeVar("R")


@dataclass(frozen=True, slots=True)
class LayoutForm:
    """`as_found`: by the pattern's own senses. `free`: teeth for other windings, as in `6, 7, 8`."""

    teeth: str = ""
    facing: Facing = Facing.OUTWARD
    poles: str = ""
    phases: int = 1
    connection: Connection = Connection.SERIES
    coils_per_phase: str = ""
    layers: int = 2
    paths: str = "1"
    free: str = ""
    as_found: bool = False


@dataclass(frozen=True, slots=True)
class WireForm:
    """Lengths in mm, area in mm2, inductance in mH, the volts rms with nothing connected."""

    gauge: str = ""
    build: Build = Build.HEAVY
    strands: str = "1"
    turns: str = ""
    mean_turn: str = ""
    coils: str = "1"
    paths: str = "1"
    window: str = ""
    idle: str = ""
    working: str = ""
    poles: str = ""
    henries: str = ""
    volts: str = ""
    load: str = ""
    celsius: str = "20"
    tried: str = ""


# fields of the records by the fields of the form
_WIRE_FIELDS = {
    "mean_turn_mm": "mean_turn", "window_mm2": "window", "idle_rpm": "idle", "working_rpm": "working",
    "volts_per_krpm": "volts", "load_ohms": "load", "overall": "build",
}  # fmt: skip


# ---- layout


def layout_form(pattern: Pattern, winding: str, laid: Laid | None) -> LayoutForm:
    """As it was laid out; else as far as the pattern tells."""
    if laid is not None:
        s = laid.scheme
        return LayoutForm(
            str(s.teeth), laid.facing, "" if s.poles is None else str(s.poles), s.phases, s.connection,
            "" if s.coils_per_phase is None else str(s.coils_per_phase), s.layers, str(s.paths),
            ", ".join(map(str, sorted(s.free))), laid.as_found,
        )  # fmt: skip
    phases = phases_of(pattern) if winding == WHOLE else None
    connection = phases[1] if phases is not None else Connection.SERIES
    coils, layout = coils_of_winding(pattern, winding), pattern.layout
    if layout is None:
        return LayoutForm(phases=3 if phases else 1, connection=connection)
    wound = {c.tooth for c in coils}
    free = [str(t) for t in range(1, layout.teeth + 1) if t not in wound] if wound else []
    noted = bool(coils) and all(c.sense is not None for c in coils)
    return LayoutForm(
        str(layout.teeth), layout.facing, "", 3 if phases else 1, connection, free=", ".join(free), as_found=noted
    )


def scheme_of(form: LayoutForm) -> Scheme:
    """Raises FormError."""
    connection = form.connection
    if connection not in OF_PHASES.get(form.phases, ()):
        raise FormError(
            "connection", "One phase's groups are in series or side by side; three phases are wye or delta."
        )
    fields = {name: whole_of(getattr(form, name), name) for name in ("teeth", "paths")}
    poles, each = (maybe_whole_of(getattr(form, name), name) for name in ("poles", "coils_per_phase"))
    free = frozenset(_numbers(form.free, "free"))
    return formed(
        lambda: Scheme(fields["teeth"], poles, form.phases, connection, each, form.layers, fields["paths"], free), {}
    )


# ---- wire


def wire_form(pattern: Pattern, winding: str, work: WireWork | None, left: AsWas | None = None) -> WireForm:
    """As it was asked; else as the shop's own last rewind `left` it; else with the coils that the pattern tells of."""
    if work is None and left is not None:
        return wire_form(pattern, winding, WireWork(left))
    if work is None:
        try:
            coils = alike(pattern, winding) or 1
        except FieldError:
            coils = 1
        return WireForm(coils=str(coils))
    was, duty = work.as_was, work.duty
    form = {
        "gauge": was.wire.gauge.name, "build": was.wire.build or Build.HEAVY, "strands": str(was.wire.strands),
        "turns": str(was.turns), "mean_turn": f"{was.mean_turn_mm:g}", "coils": str(was.coils),
        "paths": str(was.paths), "window": text_of(was.window_mm2), "tried": " ".join(map(str, work.turns)),
    }  # fmt: skip
    if duty is not None:
        form |= {
            "idle": f"{duty.idle_rpm:g}", "working": f"{duty.working_rpm:g}", "poles": text_of(duty.poles),
            "henries": text_of(None if duty.henries is None else duty.henries * 1000),
            "volts": text_of(duty.volts_per_krpm), "load": text_of(duty.load_ohms or None),
            "celsius": f"{duty.celsius:g}",
        }  # fmt: skip
    return WireForm(**form)  # type: ignore[arg-type]  # by name


def wire_asked(form: WireForm) -> WireWork:
    """What was typed, with no wire taken yet. Raises FormError."""
    wire = wire_named(form.gauge, form.build, whole_of(form.strands, "strands"))
    turns, mean = whole_of(form.turns, "turns"), number_of(form.mean_turn, "mean_turn")
    coils, paths, window = whole_of(form.coils, "coils"), whole_of(form.paths, "paths"), maybe_of(form.window, "window")
    as_was = formed(lambda: AsWas(wire, turns, mean, coils, paths, window), _WIRE_FIELDS)
    tried = tuple(_numbers(form.tried, "tried"))
    return WireWork(as_was, _duty(form), tried)


def gauge_of(text: str) -> Gauge:
    """By name, or by its bare number: a whole one is AWG's, one with a point is millimetres. Raises FormError."""
    said = text.strip().replace(",", ".")
    if re.fullmatch(r"\d{1,2}", said):
        said = f"AWG {said}"
    elif re.fullmatch(r"\d{0,2}\.\d+", said):
        said = f"{said if said[0] != '.' else '0' + said} mm"
    return formed(lambda: gauge(said), {})


def wire_named(text: str, build: Build, strands: int = 1, *, field: str = "strands") -> Wire:
    """Wire of a table, where there is no field for what a caliper says. `field`: of the strands. Raises FormError."""
    size = gauge_of(text)
    if not size.builds:
        raise FormError("gauge", NO_BUILDS.format(size.name))
    if build not in size.builds:
        sold = [BUILD_WORDS[b] for b in size.builds]
        some = " or ".join(filter(None, [", ".join(sold[:-1]), sold[-1]]))
        raise FormError("build", f"There is no {BUILD_WORDS[build]} build of {size.name}: it is {some}.")
    return formed(lambda: Wire.of(size, build, strands), {"strands": field})


def scale_builds(scale: Scale) -> tuple[Build, ...]:
    """The builds that wire of a table is sold in."""
    awg = (Build.SINGLE, Build.HEAVY, Build.TRIPLE)
    return awg if scale is Scale.AWG else tuple(b for b in Build if b not in awg)


def _duty(form: WireForm) -> Duty | None:
    """None where nothing is told of the speeds."""
    if not any(x.strip() for x in (form.idle, form.working, form.poles, form.henries, form.volts, form.load)):
        return None
    idle, working = number_of(form.idle, "idle"), number_of(form.working, "working")
    poles, henries = maybe_whole_of(form.poles, "poles"), maybe_of(form.henries, "henries")
    volts, load = maybe_of(form.volts, "volts"), maybe_of(form.load, "load") or 0.0
    celsius = 20.0 if not form.celsius.strip() else number_of(form.celsius, "celsius")
    milli = None if henries is None else henries / 1000
    return formed(lambda: Duty(idle, working, poles, milli, volts, load, celsius), _WIRE_FIELDS)


# ---- numbers

WHAT = {
    "teeth": "the number of the core's teeth", "paths": "the number of groups side by side (1 if there are none)",
    "poles": "the flywheel's poles, or nothing where nobody could count them",
    "coils_per_phase": "coils a phase, or nothing for as many as there is room for",
    "free": "teeth by their numbers, as in 6, 7, 8", "strands": "the number of strands it had in hand",
    "turns": "the turns of a coil", "mean_turn": "the length of a mean turn, mm", "coils": "the number of its coils",
    "window": "the room of one side of a coil, mm²", "idle": "the idle speed, rpm",
    "working": "the working speed, rpm", "henries": "the inductance, mH", "volts": "volts at 1000 rpm, unloaded",
    "load": "the load, ohm", "celsius": "the copper's temperature, °C", "tried": "turns to try, as in 110 120",
    "grams": "what is left, g, without the reel",
    "tooth": "the tooth's width, mm", "stack": "the height of the stack, mm",
    "root": "how far the tooth's root is from the middle of the ring, mm",
    "tip": "how far the tooth's tip is from the middle of the ring, mm", "gap": "the gap between the legs, mm",
    "flank": "the lining on the tooth's sides, mm", "ends": "the lining on the ends of the stack, mm",
    "root_lining": "the lining at the root, mm", "tip_lining": "the lining at the tip, mm",
    "clear": "the distance kept from the neighbour, mm", "flange": "how far the flanges stand out, mm, or nothing",
    "over": "the diameter over the enamel, mm, or nothing", "sheet": "the thickness of a sheet between layers, mm",
    "flywheel": "the radius of the flywheel's inside, mm, or nothing",
    "above": "the room over the stack, mm, or nothing",
    "least": "what must stay clear, mm", "scramble": "the fill of a coil wound as it falls, %",
    "warns": "the fill from which a layered coil is warned of, %", "bulge": "how much the coil bulges at the ends, %",
    "stretch": "how much the wire stretches, %", "tails": "both leads of a coil, mm",
    "spare": "what is bought on top, %",
    "core_u": "how well the core was measured, mm",
}  # fmt: skip


def refused(field: str, said: str) -> FormError:
    """What a record refused, as it is said of the form's field."""
    what = WHAT.get(field, field).partition(",")[0].partition(" (")[0]
    return FormError(field, sentence(f"{what} {said}" if said.startswith("must ") else said))


def text_of(value: float | None) -> str:
    return "" if value is None else f"{value:g}"


def number_of(text: str, field: str) -> float:
    """`field`: one of `WHAT`. Raises FormError, as all of these."""
    try:
        value = float(text.strip().replace(",", "."))
    except ValueError:
        value = float("nan")
    if not abs(value) < 1e9:
        typed = f"{text.strip()[:20]!r} is no number" if text.strip() else "Nothing is typed there"
        raise FormError(field, f"{typed}: type {WHAT[field]}.")
    return value


def maybe_of(text: str, field: str) -> float | None:
    return number_of(text, field) if text.strip() else None


def whole_of(text: str, field: str) -> int:
    value = number_of(text, field)
    if not value.is_integer():
        raise FormError(field, f"{text.strip()[:20]} is no whole number: type {WHAT[field]}.")
    return int(value)


def maybe_whole_of(text: str, field: str) -> int | None:
    return whole_of(text, field) if text.strip() else None


def _numbers(text: str, field: str) -> list[int]:
    return [whole_of(part, field) for part in re.split(r"[\s,;]+", text.strip()) if part]


def formed(make: Callable[[], R], fields: dict[str, str]) -> R:
    """A record; what it refuses is said of the form's field. `fields`: the form's by the record's."""
    try:
        return make()
    except FieldError as e:
        head = e.field.partition("[")[0].rpartition(".")[2]
        raise refused(fields.get(head, head), e.sentence) from None


def phase_names(pattern: Pattern, laid: Laid, winding: str) -> tuple[str, ...]:
    """What each phase is called: by the pattern's windings where they are as many."""
    names = names_of(pattern, winding)
    return names if len(names) == laid.scheme.phases else tuple(f"phase {n + 1}" for n in range(laid.scheme.phases))
