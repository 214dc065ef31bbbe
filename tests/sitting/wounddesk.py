"""The page As wound without a window, and the acts that its tests share."""

from dataclasses import replace

from tests.rewind.wounds import COILS, MEAN, TURNS, WIRE
from tests.sitting.fakes import FOUR_WIRES, WYE, bench_file
from tests.sitting.rewinds import SPOOLS, RewindKeeperFake, rewinding
from workbench.records import SheetHead
from workbench.rewind.layout import Connection, Scheme
from workbench.rewind.record import Body, Chosen, Draw, Laid, WireWork
from workbench.rewind.shelf import AsWas
from workbench.rewind.woundrecord import Spot, Way, WoundStep, WoundWork
from workbench.sitting.rewinding import Rewinding
from workbench.sitting.rewindwound import WoundDesk
from workbench.stator.layout import Facing
from workbench.stator.sheet import Conditions

LAID = Laid(Scheme(12, 10, 3, Connection.WYE), Facing.OUTWARD, COILS)
TAKEN = Chosen(WIRE.wire, TURNS, 0.4, 20.0, 240.0, (Draw(SPOOLS[0].id, SPOOLS[0].name, 260.0),))
TYPED = {
    WoundStep.INSULATION: {"volts": "500", "megohms": ">200", "celsius": "20"},
    WoundStep.VARNISH: {"lot": "lot 7"},
    WoundStep.BAKE: {"bake_celsius": "135", "bake_hours": "4"},
}


def head(celsius: float = 20.0, leads: float = 0.0) -> SheetHead:
    found = bench_file(WYE).sheet
    four = FOUR_WIRES
    return replace(
        found, meter_id=four.id, meter_name=four.name, meter=four.meter, conditions=Conditions(celsius, 1.0, leads)
    )


def desk(
    work: WoundWork | None = None, *, taken: bool = True, sheet: SheetHead | None = None, winding: str = ""
) -> tuple[WoundDesk, Rewinding, RewindKeeperFake]:
    r, keeper = rewinding(WYE, head=sheet or head(), winding=winding)
    wire = WireWork(AsWas(WIRE.wire, TURNS, MEAN, 4), chosen=TAKEN if taken else None)
    r.change(Body(LAID, wire, wound=work))
    return WoundDesk(r), r, keeper


def said(r: Rewinding) -> str:
    return r.said.sentence if r.said is not None else ""


def tick(d: WoundDesk, **typed: str) -> None:
    d.tick(replace(d.step_form, **{**TYPED.get(d.step, {}), **typed}))  # type: ignore[call-overload,arg-type]


def enter(d: WoundDesk, **typed: object) -> None:
    d.enter(replace(d.coil_form, **typed))  # type: ignore[arg-type]  # by name


def agreeing(d: WoundDesk) -> None:
    for c in COILS:
        d.choose(Spot(c.tooth))
        d.see_sense(Way.CLOCKWISE if c.sense > 0 else Way.ANTICLOCKWISE)
