"""What a rewound part still lacks before it may be called good: a reversed coil ohms perfectly and kills the output."""

from enum import StrEnum

from workbench.rewind.record import Body
from workbench.rewind.wound import Compared, asked_coils, compared, held, judge_coil, mean_turn
from workbench.rewind.woundrecord import WoundWork
from workbench.stator.pattern import Pattern
from workbench.stator.verdict import Verdict


class Lack(StrEnum):
    """SENSE: not tested at every tooth, or it differs from what was laid. INSULATION: the test before the dip, or its
    result, isn't recorded, or it failed or came out undecided. RUN: not run on the machine, or it ran badly. OHMS: a
    coil reads outside what its wire and turns should, or is open.
    """

    SENSE = "sense"
    INSULATION = "insulation"
    RUN = "run"
    OHMS = "ohms"


def lacking(pattern: Pattern, winding: str, body: Body) -> tuple[Lack, ...]:
    """In the order of `Lack`; empty where nothing stands in the way. `winding` as a rewind names it, WHOLE too."""
    work = body.wound or WoundWork()
    bad = set(failed(pattern, winding, body))
    coils = asked_coils(pattern, winding, body)
    ways = {s.spot: s.way for s in work.sense}
    seen = [compared(c, ways.get(c.spot)) for c in coils]
    # of several coils that nobody knows the senses of, one may stand against the others
    if Compared.UNTESTED in seen or (len(seen) > 1 and Compared.NOTHING in seen):
        bad.add(Lack.SENSE)
    if work.insulation is None or held(work.insulation) is not True:
        bad.add(Lack.INSULATION)
    if work.run is None:
        bad.add(Lack.RUN)
    return tuple(x for x in Lack if x in bad)


def failed(pattern: Pattern, winding: str, body: Body) -> tuple[Lack, ...]:
    """Those of `lacking` that were tested and came out bad, rather than not tested yet."""
    work, turn = body.wound or WoundWork(), mean_turn(body)
    bad: set[Lack] = set()
    ways = {s.spot: s.way for s in work.sense}
    if any(compared(c, ways.get(c.spot)) is Compared.DIFFERS for c in asked_coils(pattern, winding, body)):
        bad.add(Lack.SENSE)
    if work.insulation is not None and held(work.insulation) is False:
        bad.add(Lack.INSULATION)
    if work.run is not None and not work.run.well:
        bad.add(Lack.RUN)
    judged = [judge_coil(c, turn) for c in work.coils]
    if any(j.decision is not None and j.decision.verdict is Verdict.OUTSIDE for j in judged):
        bad.add(Lack.OHMS)
    return tuple(x for x in Lack if x in bad)
