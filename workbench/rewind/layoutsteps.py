"""A layout as numbered steps, to be ticked at the bench: tooth after tooth, sense, and where each end goes."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum

from workbench.rewind.layout import Connection, Scheme, ToothCoil, of_phase, paths_of


class EndAt(StrEnum):
    """LEAD: led out, `number` being the lead's. STAR: the star point of a wye. TOOTH: the crossover from or to the
    coil on tooth `number`.
    """

    LEAD = "lead"
    STAR = "star"
    TOOTH = "tooth"


@dataclass(frozen=True, slots=True)
class End:
    at: EndAt
    number: int | None = None


@dataclass(frozen=True, slots=True)
class Step:
    """One coil. Its sense is as seen from the tooth's tip towards its root. `start`: where the wire comes from;
    `finish`: where it goes.
    """

    number: int
    coil: ToothCoil
    start: End
    finish: End

    @property
    def clockwise(self) -> bool:
        return self.coil.sense > 0


def steps(scheme: Scheme, coils: Sequence[ToothCoil]) -> tuple[Step, ...]:
    """Phase by phase, group by group, in the coils' own order. Leads: 1 to 3 of three phases, 1 and 2 of one. In a
    delta the finish of a phase is led out with the start of the next.
    """
    return tuple(Step(n, *step) for n, step in enumerate(_steps(scheme, coils), 1))


def _steps(scheme: Scheme, coils: Sequence[ToothCoil]) -> Iterator[tuple[ToothCoil, End, End]]:
    for phase in range(1, scheme.phases + 1):
        for group in paths_of(of_phase(coils, phase)):
            for i, c in enumerate(group):
                start = _crossover(group[i - 1]) if i else End(EndAt.LEAD, phase)
                last = i + 1 == len(group)
                yield c, start, _finish(scheme, phase) if last else _crossover(group[i + 1])


def _crossover(c: ToothCoil) -> End:
    return End(EndAt.TOOTH, c.tooth)


def _finish(scheme: Scheme, phase: int) -> End:
    if scheme.connection is Connection.WYE:
        return End(EndAt.STAR)
    return End(EndAt.LEAD, phase % 3 + 1 if scheme.connection is Connection.DELTA else 2)
