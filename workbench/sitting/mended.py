"""A part that was mended is read anew: what a sheet said of it before holds no more."""

from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime

from workbench.records import Repair, RepairKind
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


def repair_line(repair: Repair, when: str) -> str:
    return ", ".join(x for x in (f"{REPAIR_WORDS[repair.kind]} {repair.where}".strip(), repair.note, when) if x)
