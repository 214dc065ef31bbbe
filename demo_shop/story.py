"""The units of the demo shop, and what happened to each: days before the given date, all invented."""

from dataclasses import dataclass, field

from demo_shop.part import Shares
from workbench.records import Outcome

SHOP_NAME = "Sandpiper Lane Cycle & Sled"
BENCH_TAG = "SL-0147"


@dataclass(frozen=True, slots=True)
class Visit:
    """One visit: how many of the planned checks were read (None: all), on which meter, and what was decided."""

    days_ago: int
    complaint: str
    shares: Shares
    celsius: float
    meter: str = "Counter handheld"
    read: int | None = None
    outcome: Outcome | None = None
    note: str = ""
    struck: tuple[tuple[int, str, str], ...] = ()  # (check, as typed, reason), each before the good reading


@dataclass(frozen=True, slots=True)
class Story:
    tag: str
    label: str
    pattern: str
    visits: tuple[Visit, ...] = field(default=())


TWO_COILS = "two ignition coils on a common pin"
TAPPED = "lighting grounded with a tap"
WYE = "three-phase wye"

STORIES = (
    Story(
        "SL-0139", "Dune 250 sled, blue cowl", TWO_COILS,
        (Visit(402, "spark comes and goes", {}, 18.0, outcome=Outcome.PASS, note="Plug cleaned, sockets tightened."),
         Visit(37, "in again for a look before the season", {}, 16.5, outcome=Outcome.PASS)),
    ),
    Story(
        "SL-0141", "Tideline 90 quad, youth size", TAPPED,
        (Visit(120, "lights dim at idle", {}, 21.0, "Bench, four wires", outcome=Outcome.PASS,
               note="Stator good. Regulator ground was loose on the frame."),),
    ),
    Story(
        "SL-0142", "Breakwater 500 outboard, ferry spare", WYE,
        (Visit(75, "battery flat after every trip", {"phase 2": None}, 19.5, "Bench, four wires",
               outcome=Outcome.REWIND, note="Phase 2 open inside the winding."),),
    ),
    Story(
        "SL-0144", "Dune 250 sled, rental no. 7", TWO_COILS,
        (Visit(20, "no lights", {"lighting": 1.0}, 20.0, outcome=Outcome.PASS, note="Bulb socket green, stator good.",
               struck=((4, "4.6", "probe moved"),)),),
    ),
    Story(
        "SL-0145", "Breakwater 500 outboard, club launch", WYE,
        (Visit(6, "weak charge at any speed", {"phase 3": 0.78}, 17.0, "Bench, four wires",
               outcome=Outcome.REWIND, note="Phase 3 reads low against its twins: shorted turns."),),
    ),
    Story(
        BENCH_TAG, "Gullwater 340 sled, owner's tag 12", TWO_COILS,
        (Visit(0, "no spark when warm", {"low-speed coil": 0.74}, 21.5, read=0),),
    ),
)  # fmt: skip
