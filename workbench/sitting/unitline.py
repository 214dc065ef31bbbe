"""A unit in the counter's list: what it is, why it came last, and how that ended."""

from dataclasses import dataclass

from workbench.records import UnitListed
from workbench.stator.judge import SheetVerdict
from workbench.words import OUTCOME_WORDS, SHEET_WORDS

UNDECIDED = "In the shop"


@dataclass(frozen=True, slots=True)
class UnitLine:
    """`standing`: what was decided of its latest job, or that nothing is yet; `verdict`: of the sheet that was on."""

    tag: str
    about: str
    standing: str
    verdict: str

    @property
    def spoken(self) -> str:
        ended = ", ".join(x for x in (self.standing, self.verdict) if x)
        return f"{self.tag}: {self.about}" + (f". {ended}" if ended else "")


def unit_line(listed: UnitListed) -> UnitLine:
    job, decided = listed.job, listed.decided
    complaint = " ".join(job.complaint.split()) if job is not None else ""
    about = " · ".join(x for x in (listed.unit.label, complaint) if x)
    if decided is None:
        return UnitLine(listed.tag, about, UNDECIDED if job is not None else "", "")
    verdict = SHEET_WORDS[SheetVerdict(decided.verdict)].lower()
    return UnitLine(listed.tag, about, OUTCOME_WORDS[decided.outcome], verdict)
