"""The demo's shelf of wire, all of it invented, and a rewind that was begun and lies waiting."""

from dataclasses import replace
from datetime import datetime, timedelta
from uuid import UUID, uuid5

from workbench.exchange.rewindbody import body_to_text
from workbench.exchange.starters import starter_meters, starter_pattern
from workbench.records import KeptRewind, Spool
from workbench.rewind.coil import CoilOrder, Room, plan_coil
from workbench.rewind.found import AsFound
from workbench.rewind.layout import Connection, Scheme, coils_of
from workbench.rewind.ofpattern import names_of
from workbench.rewind.record import WHOLE, Body, Laid, PlanWork, WireWork
from workbench.rewind.shelf import AsWas, Duty
from workbench.rewind.strip import StripRecord
from workbench.rewind.window import Core, Lining
from workbench.rewind.wire import Build, Wire, awg
from workbench.rewind.woundrecord import (
    CoilReading,
    CoilWound,
    Done,
    SenseSeen,
    Spot,
    UsedMeter,
    Way,
    WoundStep,
    WoundWire,
    WoundWork,
)
from workbench.sitting.rewindsteps import in_order
from workbench.stator.layout import Facing

REWOUND_TAG = "SL-0142"
_PATTERN = "three-phase wye"
_NAMES = UUID("7b1f6d02-58c4-4f4e-9a83-2b64c9f2d3a8")
_SPOOLS = (
    ("door, heavy 16", "AWG 16", Build.HEAVY, 1840.0, ""),
    ("door, heavy 17", "AWG 17", Build.HEAVY, 62.0, "last of the old lot"),
    ("door, heavy 18", "AWG 18", Build.HEAVY, 910.0, ""),
    ("window, heavy 20", "AWG 20", Build.HEAVY, 1265.0, ""),
    ("window, single 24", "AWG 24", Build.SINGLE, 430.0, "for pulsers"),
    ("window, single 34", "AWG 34", Build.SINGLE, 185.0, "for exciters"),
    ("drawer, 1.0", "1.000 mm", Build.GRADE_2, 540.0, "from the harbour's winder"),
    ("drawer, 0.8", "0.800 mm", Build.GRADE_2, 95.0, ""),
)
# one phase of it: the burnt coils of phase 2 were too far gone to be counted
_FOUND = AsFound(
    StripRecord(
        coils=4,
        turns=(34, 34),
        bare_mm=(1.148, 1.152, 1.150),
        overall_mm=(1.238, 1.232, 1.236),
        strands=1,
        mean_turn_mm=86.0,
        width_mm=10.0,
        height_mm=25.0,
        build_mm=4.9,
        ohms=0.193,
        celsius=18.0,
        grams=110.5,
        enamelled=True,
    ),
    "drawer 3, film tin 7",
    "by tooth 1, its yellow lead next to the key",
    "over the back to the star point",
    crossovers="on the flywheel's side, under the tie",
    liner="white paper, 0.3 mm, two turns",
)
_WOUND = frozenset((1, 2, 3, 4, 5))
_FOUR_WIRES = "Bench, four wires"
# ohm, of the coils that are wound
_SHOWN = (0.0506, 0.0508, 0.0505, 0.0509, 0.0507)


def spools() -> tuple[Spool, ...]:
    return tuple(Spool(uuid5(_NAMES, name), name, gauge, str(b), g, note) for name, gauge, b, g, note in _SPOOLS)


def begun(job_id: UUID, opened_at: datetime) -> KeptRewind:
    """The coil is planned, the first phase wound and the second begun; what wire to take is asked, none taken yet."""
    pattern = starter_pattern(_PATTERN)
    assert pattern is not None
    assert pattern.layout is not None
    coils = in_order(coils_of(pattern.layout, names_of(pattern, WHOLE)))
    laid = Laid(Scheme(12, 8, 3, Connection.WYE), pattern.layout.facing, coils, True, _WOUND)
    was = AsWas(Wire.of(awg(17), Build.HEAVY), 34, 86.0, 4, 1, 105.0)
    wire = WireWork(was, Duty(1200.0, 5500.0, 8, 0.0009, 5.0, 1.2, 60.0))
    seen = tuple(sorted((c.tooth, c.sense) for c in coils))
    day = opened_at + timedelta(days=1)
    body = body_to_text(
        Body(laid, wire, plan=_plan(was.wire), found=replace(_FOUND, senses=seen), wound=_wound(laid, was.wire, day))
    )
    return KeptRewind(uuid5(_NAMES, REWOUND_TAG), job_id, WHOLE, body, day)


def _plan(wire: Wire) -> PlanWork:
    """A coil that fits, though not by much."""
    core = Core(Facing.OUTWARD, tooth_mm=9.0, stack_mm=24.0, root_mm=25.0, tip_mm=44.0, teeth=12)
    lining = Lining(flank_mm=0.5, end_mm=0.6, root_mm=0.6, tip_mm=1.0, neighbour_mm=0.3)
    order = CoilOrder(wire, 34, core, lining, room=Room(flywheel_mm=47.5, end_mm=9.0))
    return PlanWork.of(plan_coil(order), coils=4, paths=1)


def _wound(laid: Laid, wire: Wire, at: datetime) -> WoundWork:
    """Of the old lot, as long as it lasted."""
    four = UsedMeter(_FOUR_WIRES, dict(starter_meters())[_FOUR_WIRES])
    of = WoundWire(wire, "door, heavy 17", True)
    spots = [Spot(c.tooth, c.place) for c in laid.coils[: len(_SHOWN)]]
    coils = [CoilWound(s, 34, of, CoilReading(ohms, 19.0, 1.0, four)) for s, ohms in zip(spots, _SHOWN, strict=True)]
    sense = tuple(SenseSeen(s, Way.SOUTH) for s in spots[:-1])
    return WoundWork((Done(WoundStep.LINER, at, "glass cloth, 0.3 mm"),), tuple(coils), sense)
