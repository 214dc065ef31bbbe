"""What is typed while coils are wound, read into records; or a sentence and the field that is at fault."""

import math
import re
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from typing import TypeVar

from workbench.records import USUAL_CELSIUS_UNCERTAINTY, SheetHead, TemperatureSource
from workbench.rewind.record import Chosen
from workbench.rewind.wire import Build, Wire
from workbench.rewind.woundrecord import (
    LONGEST_BAKE,
    Bake,
    CoilReading,
    CoilWound,
    Insulation,
    Run,
    Spot,
    UsedMeter,
    WoundWire,
    WoundWork,
)
from workbench.sitting.conditions import FormError
from workbench.sitting.rewindforms import wire_named
from workbench.stator.entry import EntryError, LoneOne, Overload, read_value
from workbench.stator.errors import FieldError
from workbench.woundwords import hours_text

R = TypeVar("R")
NO_METER = "No meter is known here: choose one on the bench (Conditions), then read the coils."


@dataclass(frozen=True, slots=True)
class CoilForm:
    """`turns` by the counter, `ohms` as the meter shows them, at so many `celsius` of the copper; `gauge` of its wire,
    as in AWG 18, 0.8 mm, or 2 × AWG 18.
    """

    turns: str = ""
    ohms: str = ""
    celsius: str = ""
    gauge: str = ""
    build: Build = Build.HEAVY
    spool: str = ""


@dataclass(frozen=True, slots=True)
class StepForm:
    """Of the step that is seen. `ran`: `well`, `badly` or nothing; `bake_hours` as in 4, 1.5 or 1:40."""

    note: str = ""
    volts: str = ""
    megohms: str = ""
    celsius: str = ""
    lot: str = ""
    bake_celsius: str = ""
    bake_hours: str = ""
    ran: str = ""
    seen: str = ""


WHAT = {
    "turns": "the turns by the counter", "celsius": "the copper's temperature, °C",
    "volts": "the test's volts dc, 500 at most",
    "megohms": "what the tester shows after a minute, MΩ, or the end of its scale as in >200",
    "insulation_celsius": "how warm the part is, °C", "bake_celsius": "what the oven was set to, °C",
    "bake_hours": "how long it was in, hours, as in 4 or 1:40", "lot": "the varnish's lot, as it stands on the can",
    "spool": "the spool's name", "note": "a shorter note", "seen": "what was seen on the machine",
}  # fmt: skip


# ---- a coil


def used_meter(head: SheetHead | None) -> UsedMeter | None:
    if head is None:
        return None
    c = head.conditions
    return UsedMeter(head.meter_name, head.meter, c.lead_ohms, c.lead_uncertainty_ohms)


def wire_of_chosen(chosen: Chosen | None) -> WoundWire | None:
    """What was taken off the shelf, by the names of its spools."""
    if chosen is None:
        return None
    return WoundWire(chosen.wire, _fitting(" and ".join(d.name for d in chosen.draws)))


def coil_form(coil: CoilWound | None, wire: WoundWire | None, celsius: float | None) -> CoilForm:
    """As it was noted; else with the wire in hand and the temperature last used."""
    of = (coil.wire if coil is not None else None) or wire
    reading = coil.reading if coil is not None else None
    warm = reading.celsius if reading is not None else celsius
    return CoilForm(
        "" if coil is None or coil.turns is None else str(coil.turns),
        "" if reading is None else "OL" if reading.ohms is None else f"{reading.ohms:.10g}",
        "" if warm is None else f"{warm:g}",
        _gauge_text(of.wire) if of is not None else "",
        (of.wire.build if of is not None else None) or Build.HEAVY,
        of.spool if of is not None else "",
    )


def coil_of(spot: Spot, form: CoilForm, taken: WoundWire | None, head: SheetHead | None, work: WoundWork) -> CoilWound:
    """`taken`: off the shelf; a form that says the same is not typed. A reading left as it was keeps its meter and
    temperature's uncertainty. Raises FormError.
    """
    before = work.coil(spot)
    turns = _whole(form.turns, "turns") if form.turns.strip() else None
    wire = _wire(form, taken, before)
    reading = _reading(form, head, work, before) if form.ohms.strip() else None
    return _formed(lambda: CoilWound(spot, turns, wire, reading), {})


def _wire(form: CoilForm, taken: WoundWire | None, before: CoilWound | None) -> WoundWire | None:
    if not form.gauge.strip():
        return None
    for known in (before.wire if before is not None else None, taken):
        as_known = coil_form(CoilWound(Spot(0), wire=known), None, None)
        same = (form.gauge.strip(), form.build, form.spool.strip())
        if known is not None and same == (as_known.gauge, as_known.build, as_known.spool):
            return known
    found = re.fullmatch(r"(\d{1,2})\s*[x×*]\s*(.*)", form.gauge.strip())
    strands, named = (int(found[1]), found[2]) if found is not None else (1, form.gauge)
    wire, spool = wire_named(named, form.build, strands, field="gauge"), form.spool.strip()
    return _formed(lambda: WoundWire(wire, spool, True), {})


def _gauge_text(wire: Wire) -> str:
    return f"{wire.strands} × {wire.gauge.name}" if wire.strands > 1 else wire.gauge.name


def _reading(form: CoilForm, head: SheetHead | None, work: WoundWork, before: CoilWound | None) -> CoilReading:
    kept = before.reading if before is not None else None
    if kept is not None:
        was = coil_form(before, None, None)
        if (was.ohms, was.celsius) == (form.ohms.strip(), form.celsius.strip()):
            return kept
    meter = used_meter(head)
    if meter is None or head is None:
        raise FormError("ohms", NO_METER)
    try:
        value = read_value(form.ohms)
    except EntryError as e:
        raise FormError("ohms", e.sentence) from None
    if isinstance(value, LoneOne):
        raise FormError("ohms", "A lone 1 is one ohm, or a meter's sign for an overload: type 1.0, or OL.")
    celsius = _number(form.celsius, "celsius")
    # as well known as when it was last typed, else as the bench has it
    known = [c.reading.celsius_u for c in work.coils if c.reading is not None and c.reading.celsius == celsius]
    by_bench = [head.conditions.celsius_uncertainty] if celsius == head.conditions.celsius else []
    u = (known + by_bench + [USUAL_CELSIUS_UNCERTAINTY[TemperatureSource.ROOM]])[0]
    ohms = None if isinstance(value, Overload) else value.ohms
    return _formed(lambda: CoilReading(ohms, celsius, u, meter), {})


# ---- steps


def step_form(work: WoundWork, note: str, celsius: float | None) -> StepForm:
    ins, bake, run = work.insulation, work.bake, work.run
    return StepForm(
        note,
        "" if ins is None else f"{ins.volts:g}",
        "" if ins is None else f"{'>' if ins.above else ''}{ins.megohms:.10g}",
        f"{ins.celsius:g}" if ins is not None else "" if celsius is None else f"{celsius:g}",
        work.varnish_lot,
        "" if bake is None else f"{bake.celsius:g}",
        "" if bake is None else hours_text(bake.minutes),
        "" if run is None else "well" if run.well else "badly",
        "" if run is None else run.seen,
    )


def insulation_of(form: StepForm) -> Insulation:
    """Raises FormError."""
    volts = _number(form.volts, "volts")
    shown = form.megohms.strip()
    if shown.upper() in ("OL", "∞", "*"):
        raise FormError("megohms", "Type where the tester's scale ends, as in >200: only so much is known.")
    megohms = _number(shown.lstrip(">"), "megohms")
    celsius = _number(form.celsius, "insulation_celsius")
    return _formed(
        lambda: Insulation(volts, megohms, celsius, shown.startswith(">")), {"celsius": "insulation_celsius"}
    )


def bake_of(form: StepForm) -> Bake:
    """Raises FormError."""
    celsius = _number(form.bake_celsius, "bake_celsius")
    whole, colon, part = form.bake_hours.strip().partition(":")
    minutes = _number(whole, "bake_hours") * 60 + (_number(part, "bake_hours") if colon else 0.0)
    if colon and not 0 <= _number(part, "bake_hours") < 60:
        raise FormError("bake_hours", f"An hour has 60 minutes, not {part.strip()[:20]}: type {WHAT['bake_hours']}.")
    if not 1 <= minutes <= LONGEST_BAKE:
        raise FormError("bake_hours", f"How long it was in must lie from a minute to {LONGEST_BAKE / 60:g} hours.")
    return _formed(lambda: Bake(celsius, float(round(minutes))), {"celsius": "bake_celsius", "minutes": "bake_hours"})


def lot_of(form: StepForm) -> str:
    """Raises FormError."""
    lot = form.lot.strip()
    if not lot:
        raise FormError("lot", f"Type {WHAT['lot']}.")
    return _formed(lambda: WoundWork(varnish_lot=lot).varnish_lot, {"varnish_lot": "lot"})


def run_of(form: StepForm, at: datetime) -> Run | None:
    """None where it has not run. Raises FormError."""
    if not form.ran:
        return None
    if not form.seen.strip():
        raise FormError("seen", f"Type {WHAT['seen']}: volts, lights, spark, at what speed.")
    return _formed(lambda: Run(form.ran == "well", form.seen.strip(), at), {})


# ---- numbers


def _formed(make: Callable[[], R], fields: dict[str, str]) -> R:
    try:
        return make()
    except FieldError as e:
        head = e.field.partition("[")[0].rpartition(".")[2]
        field = fields.get(head, head)
        what = WHAT.get(field, field).partition(",")[0]
        said = f"{what} {e.sentence}" if e.sentence.startswith(("must ", "has ")) else e.sentence
        raise FormError(field, f"{said[:1].upper()}{said[1:]}.") from None


def _number(text: str, field: str) -> float:
    try:
        value = float(text.strip().replace(",", ".").replace("−", "-"))
    except ValueError:
        value = math.nan
    if not abs(value) < 1e9:
        typed = f"{text.strip()[:20]!r} is no number" if text.strip() else "Nothing is typed there"
        raise FormError(field, f"{typed}: type {WHAT[field]}.")
    return value


def _whole(text: str, field: str) -> int:
    value = _number(text, field)
    if not value.is_integer():
        raise FormError(field, f"{text.strip()[:20]} is no whole number: type {WHAT[field]}.")
    return int(value)


def _fitting(text: str) -> str:
    return text if len(text) <= 60 else f"{text[:59]}…"
