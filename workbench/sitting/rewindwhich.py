"""Which winding of the part on the bench most probably wants to be wound anew."""

from workbench.rewind.ofpattern import phases_of
from workbench.rewind.record import WHOLE
from workbench.sitting.bench import Bench
from workbench.stator.crossing import windings_of


def likely_winding(bench: Bench) -> str:
    """Where a fault was found when it was decided, else what failed; a phase means all three. Empty: no hint."""
    pattern = bench.pattern
    names = [w.name for w in pattern.windings]
    found = bench.decided.found_where if bench.decided is not None else ""
    failed = [w for pair in bench.judged.failed for w in sorted(windings_of(pattern, pair), key=names.index)]
    likely = next((w for w in (found, *failed) if w in names), "")
    phases = phases_of(pattern)
    return WHOLE if phases is not None and likely in phases[0] else likely
