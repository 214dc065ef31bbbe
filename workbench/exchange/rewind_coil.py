"""`plugface rewind`, "coil": a coil planned in its window, as JSON."""

from collections.abc import Callable
from dataclasses import asdict
from typing import Any

from workbench.exchange.fields import Fields, as_number, under
from workbench.exchange.rewind_parts import number_or, optional_whole, whole, wire_from_json, wire_to_json
from workbench.rewind.coil import Allowances, CoilOrder, CoilPlan, Fills, Manner, Room, plan_coil
from workbench.rewind.errors import RewindError
from workbench.rewind.section import Section
from workbench.rewind.window import MOST_CORNERS, Core, Lining, Window
from workbench.stator.errors import FieldError
from workbench.stator.layout import Facing


def coil_answer(f: Fields) -> dict[str, Any]:
    """The answer, but for its id, to an ask whose `id` and `ask` are taken already. Raises FieldError."""
    order = coil_order(f)
    celsius = number_or(f, "celsius", 20.0)
    drawn = f.flag("draw") if f.has("draw") else True
    f.done()
    if not -60 <= celsius <= 300:
        raise RewindError("celsius", f"must lie from -60 to 300 degrees Celsius, not at {celsius:g}")
    return plan_to_json(plan_coil(order()), celsius, drawn)


def coil_order(f: Fields) -> Callable[[], CoilOrder]:
    """Takes an order's fields; the order itself is made, or refused, once all that stands there is known."""
    wire = wire_from_json(f.take("wire"), "wire")
    turns = whole(f, "turns")
    core = _core(f.take("core"))
    lining = _lining(f.take("lining")) if f.has("lining") else Lining()
    manner = f.code("manner", Manner, "manner of winding") if f.has("manner") else Manner.LAYERED
    window = _window(f.take("window")) if f.has("window") else None
    between = number_or(f, "between_mm", 0.0)
    room = _room(f.take("room")) if f.has("room") else Room()
    fills = _fills(f.take("fills")) if f.has("fills") else Fills()
    allowances = _allowances(f.take("allowances")) if f.has("allowances") else Allowances()

    return lambda: CoilOrder(wire, turns, core, lining, manner, window, between, room, fills, allowances)


def order_to_json(order: CoilOrder) -> dict[str, Any]:
    """What `coil_order` reads back as an equal order; what is None isn't written."""
    parts: dict[str, Any] = {
        "wire": wire_to_json(order.wire),
        "turns": order.turns,
        "core": _known(asdict(order.core)),
        "lining": _known(asdict(order.lining)),
        "manner": str(order.manner),
    }
    if order.window is not None:
        parts["window"] = {"corners": [list(c) for c in order.window.corners]}
    return parts | {
        "between_mm": order.between_mm,
        "room": _known(asdict(order.room)),
        "fills": asdict(order.fills),
        "allowances": asdict(order.allowances),
    }


def _known(fields: dict[str, Any]) -> dict[str, Any]:
    return {name: value for name, value in fields.items() if value is not None}


def _core(value: Any) -> Core:
    f = Fields(value, "core", "a core")
    facing = f.code("facing", Facing, "facing")
    tooth, stack = f.number("tooth_mm"), f.number("stack_mm")
    root = number_or(f, "root_mm", 0.0) if facing is Facing.STRAIGHT else f.number("root_mm")
    tip, teeth, gap = f.number("tip_mm"), optional_whole(f, "teeth"), f.optional_number("gap_mm")
    wound = f.flag("neighbour_wound") if f.has("neighbour_wound") else True
    f.done()
    return under("core", lambda: Core(facing, tooth, stack, root, tip, teeth, gap, wound))


def _lining(value: Any) -> Lining:
    f = Fields(value, "lining", "a lining")
    flank, end, root, tip = (number_or(f, n, 0.0) for n in ("flank_mm", "end_mm", "root_mm", "tip_mm"))
    neighbour, flange = number_or(f, "neighbour_mm", 0.0), f.optional_number("flange_mm")
    f.done()
    return under("lining", lambda: Lining(flank, end, root, tip, neighbour, flange))


def _window(value: Any) -> Window:
    f = Fields(value, "window", "a window")
    corners: list[tuple[float, float]] = []
    for corner, at in f.items("corners"):
        if not isinstance(corner, list) or len(corner) != 2:
            raise FieldError(at, "a corner is its x and y, [x, y] in mm")
        if len(corners) == MOST_CORNERS:
            raise FieldError("window.corners", f"at most {MOST_CORNERS} of them")
        x, y = corner
        corners.append((as_number(x, f"{at}[0]"), as_number(y, f"{at}[1]")))
    f.done()
    return under("window", lambda: Window(tuple(corners)))


def _room(value: Any) -> Room:
    f = Fields(value, "room", "the room around it")
    flywheel, end, least = f.optional_number("flywheel_mm"), f.optional_number("end_mm"), number_or(f, "least_mm", 0.5)
    f.done()
    return under("room", lambda: Room(flywheel, end, least))


def _fills(value: Any) -> Fills:
    f, usual = Fields(value, "fills", "a shop's fills"), Fills()
    scramble, layered = (number_or(f, n, getattr(usual, n)) for n in ("scramble", "layered_warns"))
    f.done()
    return under("fills", lambda: Fills(scramble, layered))


def _allowances(value: Any) -> Allowances:
    f, usual = Fields(value, "allowances", "a shop's allowances"), Allowances()
    names = ("bulge", "stretch", "tails_mm", "spare", "core_u_mm")
    given = [number_or(f, n, getattr(usual, n)) for n in names]
    f.done()
    return under("allowances", lambda: Allowances(*given))


def plan_to_json(plan: CoilPlan, celsius: float, drawn: bool) -> dict[str, Any]:
    ohms = plan.ohms_at(celsius)
    return {
        "fit": str(plan.fit),
        "turns_fitting": {"low": plan.fits_low, "high": plan.fits_high},
        "layers": len(plan.section.rows),
        "turns_per_layer": list(plan.turns_per_layer),
        "wire_mm": plan.section.wire_mm,
        "fill": plan.fill,
        "build_mm": plan.build_mm,
        "mean_turn_mm": plan.mean_turn_mm,
        "mean_turn_u_mm": plan.mean_turn_u_mm,
        "metres": plan.metres,
        "ohms": {"celsius": celsius, "nominal": ohms.nominal, "low": ohms.low, "high": ohms.high},
        "copper_grams": plan.copper_grams,
        "buy_grams": plan.buy_grams,
        "buy_enamelled_grams": plan.buy_enamelled_grams,
        "clearance": {"flywheel_mm": plan.flywheel_mm, "end_mm": plan.end_mm},
        "cautions": [str(c) for c in plan.cautions],
        "window": {"corners": [list(c) for c in plan.window.corners], "area_mm2": plan.window.area_mm2},
        "drawing": _drawing(plan.section) if drawn else None,
    }


def _drawing(section: Section) -> list[dict[str, Any]]:
    return [{"y_mm": r.y_mm, "x_mm": list(r.x_mm)} for r in section.rows]
