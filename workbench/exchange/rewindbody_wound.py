"""A rewind as wound, as JSON: steps, coils, senses, insulation, varnish, bake, run. Meters and wire stand once each."""

from collections.abc import Sequence
from datetime import datetime
from typing import Any, TypeVar

from workbench.exchange.fields import Fields, as_number, under
from workbench.exchange.meters import meter_from_json, meter_to_json
from workbench.exchange.rewind_parts import as_whole, optional_whole, whole, wire_from_json, wire_to_json
from workbench.rewind.woundrecord import (
    Bake,
    CoilReading,
    CoilWound,
    Done,
    Insulation,
    Run,
    SenseSeen,
    Spot,
    UsedMeter,
    Way,
    WoundStep,
    WoundWire,
    WoundWork,
)
from workbench.stator.errors import FieldError

T = TypeVar("T")


def wound_to_json(w: WoundWork) -> dict[str, Any]:
    meters = list(dict.fromkeys(c.reading.on for c in w.coils if c.reading is not None))
    wires = list(dict.fromkeys(c.wire for c in w.coils if c.wire is not None))
    ins, bake, run = w.insulation, w.bake, w.run
    return {
        "done": [{"step": str(d.step), "at": d.at.isoformat(), "note": d.note} for d in w.done],
        "meters": [
            {"name": m.name, "meter": meter_to_json(m.meter), "lead_ohms": m.lead_ohms, "lead_u_ohms": m.lead_u_ohms}
            for m in meters
        ],
        "wires": [{"wire": wire_to_json(x.wire), "spool": x.spool, "typed": x.typed} for x in wires],
        "coils": [
            {
                **_spot_to_json(c.spot),
                "turns": c.turns,
                "wire": None if c.wire is None else wires.index(c.wire),
                "reading": None if c.reading is None else _reading_to_json(c.reading, meters),
            }
            for c in w.coils
        ],
        "sense": [{**_spot_to_json(s.spot), "way": str(s.way)} for s in w.sense],
        "insulation": None if ins is None else {n: getattr(ins, n) for n in (*_INSULATION, "above")},
        "varnish_lot": w.varnish_lot,
        "bake": None if bake is None else {"celsius": bake.celsius, "minutes": bake.minutes},
        "run": None if run is None else {"well": run.well, "seen": run.seen, "at": run.at.isoformat()},
    }


_INSULATION = ("volts", "megohms", "celsius")


def wound_from_json(value: Any, path: str = "wound") -> WoundWork:
    """Raises FieldError for what `wound_to_json` never writes."""
    f = Fields(value, path, "the rewind as wound")
    done = tuple(_done(v, at) for v, at in f.items("done"))
    meters = [_meter(v, at) for v, at in f.items("meters")]
    wires = [_wire(v, at) for v, at in f.items("wires")]
    coils = tuple(_coil(v, at, meters, wires) for v, at in f.items("coils"))
    sense = tuple(_sense(v, at) for v, at in f.items("sense"))
    insulation, lot = f.take("insulation"), f.text("varnish_lot")
    bake, run = f.take("bake"), f.take("run")
    f.done()
    parts = (
        None if insulation is None else _insulation(insulation, f.place("insulation")),
        lot,
        None if bake is None else _bake(bake, f.place("bake")),
        None if run is None else _run(run, f.place("run")),
    )
    return under(path, lambda: WoundWork(done, coils, sense, *parts))


# ---- parts


def _spot_to_json(spot: Spot) -> dict[str, Any]:
    return {"tooth": spot.tooth, "place": spot.place}


def _spot(f: Fields) -> Spot:
    tooth, place = whole(f, "tooth"), whole(f, "place")
    return under(f.path, lambda: Spot(tooth, place))


def _reading_to_json(r: CoilReading, meters: Sequence[UsedMeter]) -> dict[str, Any]:
    return {"ohms": r.ohms, "celsius": r.celsius, "celsius_u": r.celsius_u, "meter": meters.index(r.on)}


def _done(value: Any, path: str) -> Done:
    f = Fields(value, path, "a step that is done")
    step, at, note = f.code("step", WoundStep, "step"), _moment(f, "at"), f.text("note")
    f.done()
    return under(path, lambda: Done(step, at, note))


def _meter(value: Any, path: str) -> UsedMeter:
    f = Fields(value, path, "a meter with its leads")
    name, meter = f.text("name"), f.take("meter")
    leads, u = f.number("lead_ohms"), f.number("lead_u_ohms")
    f.done()
    return under(path, lambda: UsedMeter(name, meter_from_json(meter), leads, u))


def _wire(value: Any, path: str) -> WoundWire:
    f = Fields(value, path, "a wire with its spool")
    wire, spool, typed = wire_from_json(f.take("wire"), f.place("wire")), f.text("spool"), f.flag("typed")
    f.done()
    return under(path, lambda: WoundWire(wire, spool, typed))


def _coil(value: Any, path: str, meters: Sequence[UsedMeter], wires: Sequence[WoundWire]) -> CoilWound:
    f = Fields(value, path, "a coil")
    spot, turns = _spot(f), optional_whole(f, "turns")
    wire, reading = _one_of(f, "wire", wires), f.take("reading")
    f.done()
    read = None if reading is None else _reading(reading, f.place("reading"), meters)
    return under(path, lambda: CoilWound(spot, turns, wire, read))


def _reading(value: Any, path: str, meters: Sequence[UsedMeter]) -> CoilReading:
    f = Fields(value, path, "a coil's reading")
    shown = f.take("ohms")
    ohms = None if shown is None else as_number(shown, f.place("ohms"))
    celsius, u, on = f.number("celsius"), f.number("celsius_u"), _one_of(f, "meter", meters)
    f.done()
    if on is None:
        raise FieldError(f.place("meter"), "a reading names its meter")
    return under(path, lambda: CoilReading(ohms, celsius, u, on))


def _sense(value: Any, path: str) -> SenseSeen:
    f = Fields(value, path, "a sense")
    spot, way = _spot(f), f.code("way", Way, "way")
    f.done()
    return SenseSeen(spot, way)


def _insulation(value: Any, path: str) -> Insulation:
    f = Fields(value, path, "the insulation test")
    volts, megohms, celsius = (f.number(n) for n in _INSULATION)
    above = f.flag("above")
    f.done()
    return under(path, lambda: Insulation(volts, megohms, celsius, above))


def _bake(value: Any, path: str) -> Bake:
    f = Fields(value, path, "the bake")
    celsius, minutes = f.number("celsius"), f.number("minutes")
    f.done()
    return under(path, lambda: Bake(celsius, minutes))


def _run(value: Any, path: str) -> Run:
    f = Fields(value, path, "the run")
    well, seen, at = f.flag("well"), f.text("seen"), _moment(f, "at")
    f.done()
    return under(path, lambda: Run(well, seen, at))


def _one_of(f: Fields, name: str, known: Sequence[T]) -> T | None:
    """By its place in the list; None for null."""
    value = f.take(name)
    if value is None:
        return None
    at = as_whole(value, f.place(name))
    if not 0 <= at < len(known):
        raise FieldError(f.place(name), f"there is none of the number {at}")
    return known[at]


def _moment(f: Fields, name: str) -> datetime:
    text = f.text(name)
    try:
        at = datetime.fromisoformat(text)
    except ValueError:
        at = None
    if at is None or at.isoformat() != text:
        raise FieldError(f.place(name), "is no moment as it is written here: 2026-03-04T09:30:00+00:00")
    return at
