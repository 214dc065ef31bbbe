"""The units that the demo is told by: those on the bench, in the pictures and in the first words about the program."""

from demo_shop.faults import Open, Shorted
from demo_shop.story import BENCH_TAG, FOUR_WIRES, Decision, Sitting, Story, Struck, Tale, Visit
from workbench.records import Outcome

TWO_COILS = "two ignition coils on a common pin"
TAPPED = "lighting grounded with a tap"
WYE = "three-phase wye"
RETURNED_TAG = "SL-0139"
BENCH_FAULT = ("low-speed coil", 0.74)  # what is left of its ohms


def _passed(note: str = "") -> Decision:
    return Decision(Outcome.PASS, note)


NAMED = (
    Story(
        RETURNED_TAG, "Dune 250 sled, blue cowl", TWO_COILS, "sound, back again", 128,
        Tale((
            Visit("spark comes and goes",
                  (Sitting(celsius=18.0, decision=_passed("Plug cleaned, sockets tightened.")),),
                  found="nothing on the bench", done="plug cleaned"),
            Visit("in again for a look before the season", (Sitting(celsius=16.5, decision=_passed()),), after=91),
        )),
    ),
    Story(
        "SL-0140", "Shingle 400 quad, winter road crew", "exciter with a stop loop", "sound", 121,
        Tale((Visit("no spark after the wash", (Sitting(celsius=19.0, struck=(Struck(0, "undone"),),
              decision=_passed("Good. The kill switch was full of salt.")),), found="nothing"),)),
    ),
    Story(
        "SL-0141", "Tideline 90 quad, youth size", TAPPED, "sound", 109,
        Tale((Visit("lights dim at idle", (Sitting(FOUR_WIRES, celsius=21.0,
              decision=_passed("Stator good. Regulator ground was loose on the frame.")),), found="nothing"),)),
    ),
    Story(
        "SL-0142", "Breakwater 500 outboard, ferry spare", WYE, "open winding", 75,
        Tale((Visit("battery flat after every trip", (Sitting(FOUR_WIRES, (Open("phase 2"),), celsius=19.5,
              decision=Decision(Outcome.REWIND, "Phase 2 open inside the winding.")),),
              found="phase 2 open", approved="by phone"),), watch="phase 2"),
    ),
    Story(
        "SL-0143", "Lowtide 50 moped, school yard", "lighting half-wave on a lone lead", "sound", 52,
        Tale((Visit("bulbs burn out",
              (Sitting(celsius=18.5, decision=_passed("Coil good. The regulator is missing.")),),
              found="nothing"),)),
    ),
    Story(
        "SL-0144", "Dune 250 sled, rental no. 7", TWO_COILS, "sound", 20,
        Tale((Visit("no lights", (Sitting(celsius=20.0, struck=(Struck(4, "probe moved", "4.6"),),
              decision=_passed("Bulb socket green, stator good.")),), found="nothing"),)),
    ),
    Story(
        "SL-0145", "Breakwater 500 outboard, club launch", WYE, "shorted turns", 8,
        Tale((Visit("weak charge at any speed", (Sitting(FOUR_WIRES, (Shorted("phase 3", 0.22),), celsius=17.0,
              decision=Decision(Outcome.REWIND, "Phase 3 reads low against its twins: shorted turns.")),),
              found="phase 3 low", approved="by the harbour office"),), watch="phase 3"),
    ),
    Story(
        "SL-0146", "Bracken 125 dirt cycle, Jorun's", "pulser, exciter and charging", "unfinished", 3,
        Tale((Visit("misfires, timing jumps", (Sitting(celsius=17.5, read=3, note="Waits for the flywheel."),)),)),
    ),
    Story(
        BENCH_TAG, "Gullwater 340 sled, owner's tag 12", TWO_COILS, "on the bench", 1,
        Tale((Visit("no spark when warm", (Sitting(celsius=21.5, read=0),)),), watch="low-speed coil"),
    ),
)  # fmt: skip
