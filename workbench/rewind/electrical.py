"""What a layout's coils do together: each phase's volts and ohms, and whether three phases balance."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from workbench.rewind.layout import Connection, Scheme, ToothCoil, of_phase, paths_of
from workbench.rewind.star import NOUGHT, Balance, balance, phasor, winding_factor

# of lengths and ohms as a share of their mean, and of angles in degrees; common practice, no source
EMF_SHARE = 0.01
EMF_DEGREES = 1.0
# largest departure of a phase's ohms from the mean, random-wound: ANSI/EASA AR100-2020, by secondary write-up
OHMS_SHARE = 0.02
# a turn in a thousand: groups side by side that differ by less are taken as equal
PATH_SHARE = 0.001


@dataclass(frozen=True, slots=True)
class Phase:
    """`emf`: its volts from start to finish, in turns of full pitch. `factor`: its winding factor, pitch times
    distribution. `third`: the same of the third harmonic. `ohms`: in turns of one coil's wire, its groups side by side.
    `spread`: the largest difference of a group's volts from the phase's, as a share of them; 0 of one group.
    """

    phase: int
    coils: int
    emf: complex
    factor: float
    third: float
    ohms: float
    spread: float


@dataclass(frozen=True, slots=True)
class Electrical:
    """`balance` is of three phases, None of one. `ohms_departure`: the largest difference of a phase's ohms from their
    mean, as a share of it, wire and mean turn being alike.
    """

    phases: tuple[Phase, ...]
    balance: Balance | None
    ohms_departure: float

    @property
    def balanced(self) -> bool:
        """Within `EMF_SHARE`, `EMF_DEGREES` and `OHMS_SHARE`; of one phase always."""
        return (
            self.balance is None or self.balance.within(EMF_SHARE, EMF_DEGREES)
        ) and self.ohms_departure <= OHMS_SHARE + 1e-9


class Note(StrEnum):
    """What had better be said of a layout, though it can be wound.

    CIRCULATES: a phase's groups side by side have unlike volts (`share`: `Phase.spread`), and current goes round in
    them with nothing connected. THIRD_CIRCULATES: in a delta the third harmonic goes round (`share`: its winding factor
    to the fundamental's). NO_VOLTS: a phase's coils cancel. POLES_ASSUMED: one pole a tooth was taken, since nobody
    could count them.
    """

    CIRCULATES = "circulates"
    THIRD_CIRCULATES = "third-circulates"
    NO_VOLTS = "no-volts"
    POLES_ASSUMED = "poles-assumed"


@dataclass(frozen=True, slots=True)
class Remark:
    note: Note
    phase: int | None = None
    share: float | None = None


def electrical(scheme: Scheme, coils: Sequence[ToothCoil], poles: int) -> Electrical:
    """Of coils that `hold` together."""
    phases = tuple(_phase(scheme.teeth, poles, p, of_phase(coils, p)) for p in range(1, scheme.phases + 1))
    ohms = [p.ohms for p in phases]
    mean = sum(ohms) / len(ohms)
    off = max(abs(r - mean) for r in ohms) / mean
    return Electrical(phases, balance([p.emf for p in phases]) if len(phases) == 3 else None, off)


def _phase(teeth: int, poles: int, phase: int, coils: Sequence[ToothCoil]) -> Phase:
    groups = paths_of(coils)
    emfs = [phasor((c.around for c in g), teeth, poles) for g in groups]
    # each group's ohms go with its turns; side by side their volts meet as their conductances weigh them
    mhos = [1 / sum(c.turns for c in g) for g in groups]
    emf = sum((e * g for e, g in zip(emfs, mhos, strict=True)), 0j) / sum(mhos)
    around = [c.around for c in coils]
    return Phase(
        phase,
        len(coils),
        emf,
        winding_factor(around, teeth, poles),
        winding_factor(around, teeth, poles, 3),
        1 / sum(mhos),
        _spread(emfs, emf),
    )


def _spread(emfs: Sequence[complex], emf: complex) -> float:
    off = max(abs(e - emf) for e in emfs)
    if off <= NOUGHT:
        return 0.0
    return off / abs(emf) if abs(emf) > NOUGHT else math.inf


def remarks(scheme: Scheme, found: Electrical) -> tuple[Remark, ...]:
    out: list[Remark] = []
    for p in found.phases:
        if p.factor <= NOUGHT:
            out.append(Remark(Note.NO_VOLTS, p.phase))
        if p.spread > PATH_SHARE:
            out.append(Remark(Note.CIRCULATES, p.phase, p.spread))
    first = found.phases[0]
    if scheme.connection is Connection.DELTA and first.third > 1e-6 and first.factor > NOUGHT:
        out.append(Remark(Note.THIRD_CIRCULATES, None, first.third / first.factor))
    return tuple(out)


def pair_ohms(scheme: Scheme, coils: Sequence[ToothCoil], ohms_per_turn: float) -> tuple[float, ...]:
    """What each pair of leads reads, ohm: 1-2, 2-3, 3-1 of three phases (a wye's star point not led out), else 1-2.

    `ohms_per_turn`: of the wire, at any one temperature; tooth to tooth leads not counted.
    """
    r = [ohms_per_turn / sum(1 / sum(c.turns for c in g) for g in paths_of(of_phase(coils, p)))
         for p in range(1, scheme.phases + 1)]  # fmt: skip
    if scheme.phases == 1:
        return (r[0],)
    if scheme.connection is Connection.WYE:
        return (r[0] + r[1], r[1] + r[2], r[2] + r[0])
    around = sum(r)
    # phase 1 lies from lead 1 to lead 2, and so on round
    return tuple(x * (around - x) / around for x in r)
