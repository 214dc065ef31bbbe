"""What is seen of a rewind as wound: its steps, its coils with ohms and sense, what is wrong before the dip."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Protocol, TypeVar

from workbench.rewind.finished import failed, lacking
from workbench.rewind.ofpattern import names_of
from workbench.rewind.record import Body
from workbench.rewind.wound import (
    AskedCoil,
    CoilJudged,
    Compared,
    asked_coils,
    compared,
    held,
    judge_coil,
    mean_turn,
    standing_out,
)
from workbench.rewind.woundrecord import ORDER, Done, Run, Spot, Way, WoundStep, WoundWork
from workbench.rewindwords import wire_words
from workbench.stator.layout import Coil, Layout, Wire
from workbench.stator.pattern import Pattern
from workbench.stator.verdict import Verdict
from workbench.words import ohms_words
from workbench.woundwords import (
    COMPARED_WORDS,
    RUN_MIND,
    RUN_WORDS,
    STEP_HINT,
    STEP_MIND,
    STEP_WORDS,
    apart_words,
    bake_words,
    coil_told,
    coil_word,
    insulation_words,
    lack_words,
    reversed_words,
    sense_seen_words,
    spot_words,
    spots_words,
)

RUN = "run"  # what follows the last step
StepKey = WoundStep | str


@dataclass(frozen=True, slots=True)
class StepLine:
    """`when`: a day and hour, nothing before it is done; `mind`: what to look out for."""

    key: StepKey
    title: str
    detail: str
    when: str
    mind: str
    done: bool
    spoken: str


@dataclass(frozen=True, slots=True)
class CoilLine:
    """`value` and `word` as its chip shows them, a reversed sense before all; `told` its ohms in sentences, `ohms_word`
    their verdict. `should`: the sense it should have; `of`: its wire.
    """

    spot: Spot
    title: str
    detail: str
    value: str
    word: str
    compared: Compared
    sense: str
    should: int | None
    told: str
    ohms_word: str
    of: str
    counted: bool
    spoken: str


@dataclass(frozen=True, slots=True)
class Seen:
    """All that is to be seen of the coils. `apart`: a sentence for each that differs from its fellows; `sense`: whether
    all is well so far, and how far it is; `lacks`: a sentence, nothing where nothing is lacking.
    """

    asked: tuple[AskedCoil, ...]
    judged: tuple[CoilJudged, ...]
    coils: tuple[CoilLine, ...]
    apart: tuple[str, ...]
    sense: tuple[bool, str]
    sketch: Layout | None
    lacks: str


def seen_of(pattern: Pattern, winding: str, body: Body) -> Seen:
    work, turn = body.wound or WoundWork(), mean_turn(body)
    asked, names = asked_coils(pattern, winding, body), names_of(pattern, winding)
    judged = tuple(judge_coil(c, turn) for c in work.coils)
    by, ways = {j.coil.spot: j for j in judged}, {s.spot: s.way for s in work.sense}
    several = len(names) > 1
    lines = (coil_line(a, ways.get(a.spot), by.get(a.spot), names[a.phase - 1] if several else "") for a in asked)
    return Seen(
        asked,
        judged,
        tuple(lines),
        tuple(apart_words(a) for a in standing_out(judged)),
        sense_told(asked, ways),
        _sketch(pattern, body, asked),
        lack_words(lacking(pattern, winding, body), failed(pattern, winding, body)),
    )


# ---- steps


def step_lines(work: WoundWork) -> tuple[StepLine, ...]:
    """All of them in order, the run last."""
    done = {d.step: d for d in work.done}
    return (*(_step_line(s, done.get(s), _result(work, s)) for s in ORDER), _run_line(work.run))


def _step_line(step: WoundStep, done: Done | None, result: str) -> StepLine:
    title = STEP_WORDS[step]
    noted = "; ".join(x for x in (result, done.note if done is not None else "") if x)
    detail = noted if noted or done is not None else STEP_HINT[step]
    when = _when(done.at) if done is not None else ""
    state = f"done {when}" if done is not None else "not done"
    spoken = "; ".join(x for x in (f"{title}: {state}", detail) if x)
    return StepLine(step, title, detail, when, STEP_MIND[step], done is not None, spoken)


def _run_line(run: Run | None) -> StepLine:
    if run is None:
        return StepLine(RUN, RUN_WORDS, "not run", "", RUN_MIND, False, f"{RUN_WORDS}: not run")
    detail = f"ran {'well' if run.well else 'BADLY'}: {run.seen}"
    return StepLine(RUN, RUN_WORDS, detail, _when(run.at), RUN_MIND, True, f"{RUN_WORDS}: {detail}")


def _result(work: WoundWork, step: WoundStep) -> str:
    if step is WoundStep.INSULATION and work.insulation is not None:
        return insulation_words(work.insulation)
    if step is WoundStep.VARNISH and work.varnish_lot:
        return f"lot {work.varnish_lot}"
    if step is WoundStep.BAKE and work.bake is not None:
        return bake_words(work.bake)
    return ""


def _when(at: datetime) -> str:
    """By the bench's own clock."""
    return f"{at.astimezone():%d %b %H:%M}".lstrip("0")


# ---- coils


def coil_line(asked: AskedCoil, way: Way | None, judged: CoilJudged | None, phase: str) -> CoilLine:
    """`phase`: its name where there are several."""
    coil = judged.coil if judged is not None else None
    how, sense = compared(asked, way), sense_seen_words(asked.sense, way)
    title = spot_words(asked.spot)
    where = ", ".join(x for x in (f"{title[:1].upper()}{title[1:]}", phase) if x)
    turns = f"{coil.turns} turns" if coil is not None and coil.turns is not None else "not counted"
    wire = coil.wire if coil is not None else None
    of = ""
    if wire is not None:
        spool = f" off {wire.spool}" if wire.spool else ""
        of = f"{wire_words(wire.wire)}{spool}, {'typed here' if wire.typed else 'as it was taken'}"
    value, word, told = "", "", ""
    counted = coil is not None and coil.turns is not None
    if judged is not None and judged.coil.reading is not None:
        shown = judged.coil.reading.ohms
        value, word, told = "OL" if shown is None else ohms_words(shown), coil_word(judged), coil_told(judged)
    ohms_word = word
    if how is Compared.DIFFERS:
        value, word = COMPARED_WORDS[how], "out"
    detail = f"{turns}; {sense}" if how is Compared.UNTESTED else f"{turns}; {sense}: {COMPARED_WORDS[how]}"
    spoken = ", ".join(x for x in (where, detail, of, value, word) if x)
    return CoilLine(
        asked.spot, where, detail, value, word, how, sense, asked.sense, told, ohms_word, of, counted, spoken
    )


def sense_told(asked: Sequence[AskedCoil], ways: Mapping[Spot, Way]) -> tuple[bool, str]:
    """Whether all is well so far, and how far the senses are."""
    by = {a.spot: compared(a, ways.get(a.spot)) for a in asked}
    wrong = [s for s, how in by.items() if how is Compared.DIFFERS]
    left = sum(how is Compared.UNTESTED for how in by.values())
    if wrong:
        return False, reversed_words(wrong, whole_phase=_whole_phase(asked, wrong))
    if left:
        return True, f"{len(by) - left} of {len(by)} tested."
    unknown = Compared.NOTHING in by.values()
    return True, "All are tested; nobody noted which way they go." if unknown else "All agree with what was laid."


def _whole_phase(asked: Sequence[AskedCoil], wrong: Sequence[Spot]) -> bool:
    """Whether all coils of a phase that has several are among them."""
    groups = [[a.spot for a in asked if a.phase == p] for p in {a.phase for a in asked}]
    return any(len(g) > 1 and set(g) <= set(wrong) for g in groups)


def before_the_dip(seen: Seen, work: WoundWork) -> str:
    """What had better be mended first; nothing where nothing had."""
    well, told = seen.sense
    said = [] if well else [told]
    left = sum(c.compared is Compared.UNTESTED for c in seen.coils)
    if left:
        said.append(f"The sense is not tested at {left} of {len(seen.coils)} coils.")
    out = [j.coil.spot for j in seen.judged if j.decision is not None and j.decision.verdict is Verdict.OUTSIDE]
    if out:
        said.append(f"Ohms are out at {spots_words(out)}.")
    if work.insulation is not None and held(work.insulation) is not True:
        said.append(f"Insulation: {insulation_words(work.insulation)}")
    return " ".join([*said, *seen.apart])


def _sketch(pattern: Pattern, body: Body, asked: Sequence[AskedCoil]) -> Layout | None:
    laid, layout = body.laid, pattern.layout
    if laid is not None:
        teeth, facing = laid.scheme.teeth, laid.facing
    elif layout is not None:
        teeth, facing = layout.teeth, layout.facing
    else:
        return None
    on_teeth = [(i, a) for i, a in enumerate(asked) if a.spot.tooth]
    coils = [Coil(str(i), a.spot.tooth, a.spot.place, a.sense, Wire.HEAVY) for i, a in on_teeth]
    return Layout(teeth, facing, tuple(coils))


class _AtSpot(Protocol):
    @property
    def spot(self) -> Spot: ...


T = TypeVar("T", bound=_AtSpot)


def in_order(asked: Sequence[AskedCoil], some: Sequence[T]) -> tuple[T, ...]:
    """As the coils are wound; what is no coil of the winding any more comes last."""
    order = {a.spot: i for i, a in enumerate(asked)}
    return tuple(sorted(some, key=lambda x: (order.get(x.spot, len(order)), x.spot)))
