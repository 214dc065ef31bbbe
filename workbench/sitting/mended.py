"""A part that was mended is read anew: what a sheet said of it before holds no more."""

from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime

from workbench.exchange.finished import Finished
from workbench.records import Repair, RepairKind
from workbench.rewind.finished import Lack
from workbench.stator.judge import JudgedSheet, SheetVerdict

REPAIR_WORDS = {
    RepairKind.TERMINAL: "Terminal",
    RepairKind.SPLICE: "Splice",
    RepairKind.GROUND: "Ground",
    RepairKind.OTHER: "Other",
}


def mended_at(repairs: Iterable[Repair], rewound_at: datetime | None) -> datetime | None:
    """When the part was last mended within the job; None where it was not."""
    moments = [r.repaired_at for r in repairs] + ([rewound_at] if rewound_at is not None else [])
    return max(moments, default=None)


def retested(judged: JudgedSheet, begun: datetime, mended: datetime | None) -> JudgedSheet:
    """A good sheet that was begun before the part was mended is not proved."""
    if mended is None or begun >= mended or judged.verdict is not SheetVerdict.GOOD:
        return judged
    return replace(judged, verdict=SheetVerdict.NOT_PROVED, overtaken=True)


def wound_anew(judged: JudgedSheet, finished: Finished, *, ran_well: bool = False) -> JudgedSheet:
    """A sheet of a part that was wound anew: a coil that is reversed ohms perfectly, so that the rewind's own record
    counts beside the readings. What came out bad there fails the part; without senses and insulation it is not
    proved; without a run it may be good, and that it was not run is said (`lacks`).

    `ran_well`: it was seen to since, and that was written down with what was decided.
    """
    run = {Lack.RUN} if ran_well else set()
    lacks, bad = (tuple(x for x in some if x not in run) for some in (finished.lacks, finished.failed))
    verdict = judged.verdict
    if bad:
        verdict = SheetVerdict.FAIL
    elif set(lacks) - {Lack.RUN} and verdict is SheetVerdict.GOOD:
        verdict = SheetVerdict.NOT_PROVED
    return replace(judged, verdict=verdict, lacks=lacks, bad=bad)


def repair_line(repair: Repair, when: str) -> str:
    return ", ".join(x for x in (f"{REPAIR_WORDS[repair.kind]} {repair.where}".strip(), repair.note, when) if x)
