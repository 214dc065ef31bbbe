"""Which explanation leads, and what that does to a sheet's verdict."""

from dataclasses import replace

from workbench.findings.explain import Explained
from workbench.findings.faults import Fault
from workbench.stator.judge import JudgedSheet, SheetVerdict


def sound_leads(explained: Explained) -> bool:
    """Whether no explanation is likelier than a sound part."""
    sound = next((f.probability for f in explained.findings if f.fault is Fault.SOUND), 0.0)
    return all(f.probability <= sound for f in explained.findings)


def weighed(judged: JudgedSheet, explained: Explained) -> JudgedSheet:
    """A sheet that would be good is not proved while something else is likelier than a sound part."""
    if judged.verdict is not SheetVerdict.GOOD or sound_leads(explained):
        return judged
    return replace(judged, verdict=SheetVerdict.NOT_PROVED, outweighed=True)
