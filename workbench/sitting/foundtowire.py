"""What was found of a winding as the page Wire wants it: what is known well enough is taken, the rest left and said."""

from dataclasses import dataclass
from typing import TypeGuard

from workbench.foundwords import any_of
from workbench.rewind.errors import RewindError
from workbench.rewind.inferred import GaugeFound, Inferred, Quantity, Worth
from workbench.rewind.shelf import AsWas
from workbench.rewind.strip import Figure, StripRecord
from workbench.rewind.wire import Build, Gauge, Scale, Wire
from workbench.rewindwords import BUILD_WORDS

# known well enough to be wound by: a standard uncertainty of this share; common practice, no source
WELL_ENOUGH = 0.05
# a size is taken for the wire's when it is so probable among its table's
SURE = 0.9


@dataclass(frozen=True, slots=True)
class Handed:
    """`as_was`: None while `lacking` names what is neither known nor stood there before."""

    as_was: AsWas | None
    taken: tuple[str, ...]
    left: tuple[str, ...]
    lacking: tuple[str, ...] = ()


class _Notes:
    def __init__(self) -> None:
        self.taken: list[str] = []
        self.left: list[str] = []


def handed(record: StripRecord, found: Inferred, before: AsWas | None) -> Handed:
    """`before`: what stood there, which stays where nothing better is known."""
    n = _Notes()
    gauge = _gauge(record, found, n) or (before.wire.gauge if before is not None else None)
    turns = _turns(found, n) or (before.turns if before is not None else None)
    mean = _mean_turn(found, n) or (before.mean_turn_mm if before is not None else None)
    strands = _strands(found, n, before.wire.strands if before is not None else 1)
    needed = {"the gauge": gauge, "the turns": turns, "the mean turn": mean}
    lacking = tuple(name for name, value in needed.items() if value is None)
    if gauge is None or turns is None or mean is None:
        return Handed(None, tuple(n.taken), tuple(n.left), lacking)
    if not gauge.builds:
        return Handed(None, tuple(n.taken), tuple(n.left), (f"a build of {gauge.name}, for which the table has none",))
    wire = _wire(gauge, strands, found, n, before)
    paths = before.paths if before is not None and record.coils % before.paths == 0 else 1
    n.taken.append(f"{record.coils} coil{'s' if record.coils > 1 else ''}")
    try:
        as_was = AsWas(wire, turns, mean, record.coils, paths, before.window_mm2 if before is not None else None)
    except RewindError as e:
        return Handed(None, tuple(n.taken), tuple(n.left), (f"what can be wound ({e.sentence})",))
    return Handed(as_was, tuple(n.taken), tuple(n.left))


def _gauge(record: StripRecord, found: Inferred, n: _Notes) -> Gauge | None:
    """As the tag has it where the figures bear it out; else the likeliest size of the table that fits best."""
    by_tag = record.gauge if found.liar is not Figure.GAUGE else None
    first: dict[Scale, GaugeFound] = {}
    for g in found.gauges:
        first.setdefault(g.likely.gauge.scale, g)
    sure = [g for g in first.values() if g.likely.probability >= SURE]
    if by_tag is not None and any(g.likely.gauge == by_tag for g in found.gauges):
        n.taken.append(by_tag.name)
        return by_tag
    if not sure:
        some = any_of([g.likely.gauge.name for g in found.gauges[:3]], "or")
        n.left.append(f"the gauge ({some} by now)" if some else "the gauge (not known)")
        return None
    best = min(sure, key=lambda g: (not g.builds, abs(g.likely.off_mm)))
    bare = found.worths[Quantity.BARE]
    alike = [g.likely.gauge.name for g in sure if g is not best and abs(g.likely.off_mm) <= 2 * bare.u]
    as_likely = f" ({any_of(alike, 'or')} may be meant as well)" if alike else ""
    n.taken.append(f"{best.likely.gauge.name}{as_likely}")
    return best.likely.gauge


def _wire(gauge: Gauge, strands: int, found: Inferred, n: _Notes, before: AsWas | None) -> Wire:
    over = found.worths.get(Quantity.OVERALL)
    if over is None:
        stands = before.wire.build if before is not None and before.wire.build in gauge.builds else None
        build = stands or _usual(gauge)
        n.left.append(f"the build ({BUILD_WORDS[build]} stands there)")
        return Wire.of(gauge, build, strands)
    fitting = next((g.builds for g in found.gauges if g.likely.gauge == gauge), ())
    some = fitting or gauge.builds
    build = min(some, key=lambda b: abs(Wire.of(gauge, b).nominal_mm - over.value))
    others = any_of([BUILD_WORDS[b] for b in fitting], "or") if len(fitting) != 1 else ""
    why = f" (the nearest; {others} would do)" if others else "" if fitting else " (the nearest; none fits)"
    n.taken.append(f"{BUILD_WORDS[build]} build{why}")
    return Wire.of(gauge, build, strands)


def _usual(gauge: Gauge) -> Build:
    usual = Build.HEAVY if gauge.scale is Scale.AWG else Build.GRADE_2
    return usual if usual in gauge.builds else gauge.builds[0]


def _turns(found: Inferred, n: _Notes) -> int | None:
    w = found.worths.get(Quantity.TURNS)
    if not _known(w):
        n.left.append("the turns")
        return None
    n.taken.append(f"{w.value:.0f} turns a coil")
    return round(w.value)


def _mean_turn(found: Inferred, n: _Notes) -> float | None:
    w = found.worths.get(Quantity.MEAN_TURN)
    if not _known(w):
        n.left.append("the mean turn")
        return None
    n.taken.append(f"{w.value:.1f} mm a turn")
    return round(w.value, 1)


def _strands(found: Inferred, n: _Notes, stands: int) -> int:
    w = found.worths.get(Quantity.STRANDS)
    if w is None or 2 * w.u >= 0.5 or abs(w.value - round(w.value)) > 0.25:
        n.left.append(f"the strands ({stands} in hand stands there)")
        return stands
    n.taken.append(f"{w.value:.0f} in hand")
    return round(w.value)


def _known(w: Worth | None) -> TypeGuard[Worth]:
    return w is not None and w.u <= WELL_ENOUGH * w.value
