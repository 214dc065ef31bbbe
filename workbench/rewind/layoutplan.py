"""Chooses which tooth belongs to which phase and in what sense, or refuses with the reason."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from workbench.rewind.electrical import PATH_SHARE, Electrical, Note, Remark, electrical, remarks
from workbench.rewind.errors import RewindError
from workbench.rewind.layout import Scheme, ToothCoil, of_phase
from workbench.rewind.layoutsteps import Step, steps
from workbench.rewind.star import NOUGHT, arrow, best_senses, directions, pitch_factor, symmetric

PLAN_DEGREES = 1e-6
# of pole counts that are offered instead: less would waste its copper; common practice, no source
WORTH_OFFERING = 0.85


@dataclass(frozen=True, slots=True)
class Plan:
    """`coils` in the order they are wound. `electrical` is None where the poles are unknown."""

    scheme: Scheme
    coils: tuple[ToothCoil, ...]
    electrical: Electrical | None
    remarks: tuple[Remark, ...]

    @property
    def steps(self) -> tuple[Step, ...]:
        return steps(self.scheme, self.coils)

    @property
    def unwound(self) -> tuple[int, ...]:
        """Teeth that it leaves empty, those kept free among them."""
        wound = {c.tooth for c in self.coils}
        return tuple(t for t in range(1, self.scheme.teeth + 1) if t not in wound)


def plan(scheme: Scheme) -> Plan:
    """Raises RewindError where it can't be wound, or three phases can't balance, with the reason."""
    if not scheme.room:
        raise RewindError("free", "no tooth is left to wind; free one")
    coils = _three(scheme) if scheme.phases == 3 else _one(scheme)
    if scheme.poles is None:
        return Plan(scheme, coils, None, (Remark(Note.POLES_ASSUMED),))
    found = electrical(scheme, coils, scheme.poles)
    if found.balance is not None:
        _hold(scheme, found)
    return Plan(scheme, coils, found, remarks(scheme, found))


def poles_that_balance(teeth: int) -> tuple[int, ...]:
    """Pole counts under which three phases on all of these teeth balance with a winding factor worth its copper."""
    if teeth % 3:
        return ()
    able = (poles for poles in range(2, 2 * teeth, 2) if symmetric(teeth, poles))
    return tuple(poles for poles in able if abs(pitch_factor(teeth, poles)) >= WORTH_OFFERING)


# ---- three phases


def _three(s: Scheme) -> tuple[ToothCoil, ...]:
    poles = _able(s)
    per_phase = _most_coils(s)
    laid = [_belt(t, s, poles) for t in s.room]
    chosen: list[ToothCoil] = []
    for phase in _by_first_tooth(laid):
        own = [c for c in laid if c[1] == phase]
        if len(own) < per_phase:
            raise RewindError("free", _uneven(s, laid))
        # the same places of every phase are left out, the furthest from its axis first: what stays balances
        kept = sorted(own, key=lambda c: (abs(c[3]), c[3], c[0]))[:per_phase]
        number = len(chosen) // per_phase + 1
        chosen += [ToothCoil(tooth, number, sense, s.turns) for tooth, _, sense, _ in sorted(kept)]
    if chosen[0].sense < 0:
        chosen = [_turned(c) for c in chosen]
    return _grouped(s, poles, chosen)


def _able(s: Scheme) -> int:
    offered = poles_that_balance(s.teeth)
    if s.teeth % 3:
        raise RewindError(
            "teeth", f"{s.teeth} teeth can't be shared alike by three phases; their number must be a multiple of 3"
        )
    instead = f"{s.teeth} teeth balance under {_listed(offered)} poles"
    if s.poles is None:
        raise RewindError(
            "poles", f"three phases can't be laid without the poles ({instead}); count them, or lay it as it was found"
        )
    if not symmetric(s.teeth, s.poles):
        ways = directions(s.teeth, s.poles)
        raise RewindError(
            "poles",
            f"three phases can't balance on {s.teeth} teeth under {s.poles} poles: their volts have {ways} "
            f"direction{'' if ways == 1 else 's'}, and that must be a multiple of 3 ({instead}); count both again",
        )
    return s.poles


def _most_coils(s: Scheme) -> int:
    most = len(s.room) // 3
    asked = s.coils_per_phase
    if asked is not None and asked > most:
        raise RewindError(
            "coils_per_phase", f"three phases of {asked} coils want {3 * asked} teeth; {len(s.room)} can be wound"
        )
    if asked is None and len(s.room) % 3:
        raise RewindError("free", f"the {len(s.room)} teeth that can be wound are not a multiple of 3; free other ones")
    return asked or most


def _belt(tooth: int, s: Scheme, poles: int) -> tuple[int, int, int, int]:
    """Tooth, belt's phase, sense and place from the belt's axis, in parts of 1/(12 teeth) of a turn: six belts of 60
    degrees, the first from -30 to below 30, are 1+ 3- 2+ 1- 3+ 2-.
    """
    q = s.teeth
    at = 12 * (poles // 2 * (tooth - 1) % q)
    belt = (at + q) // (2 * q) % 6
    off = (at - 2 * q * belt + q) % (12 * q) - q
    return tooth, (0, 2, 1, 0, 2, 1)[belt], (1, -1, 1, -1, 1, -1)[belt], off


def _by_first_tooth(laid: Sequence[tuple[int, int, int, int]]) -> list[int]:
    return list(dict.fromkeys(phase for _, phase, _, _ in laid))


def _uneven(s: Scheme, laid: Sequence[tuple[int, int, int, int]]) -> str:
    counts = sorted(sum(c[1] == phase for c in laid) for phase in range(3))
    free = f"with {'tooth' if len(s.free) == 1 else 'teeth'} {_listed(sorted(s.free))} free " if s.free else ""
    return (
        f"{free}the phases have {_listed(counts)} teeth to wind, and three phases want as many each; "
        "free other ones, or ask for fewer coils"
    )


def _hold(s: Scheme, found: Electrical) -> None:
    assert found.balance is not None
    if not found.balance.within(1e-9, PLAN_DEGREES):
        raise RewindError(
            "free",
            f"with these teeth the phases' volts differ by {100 * found.balance.departure:.1f} % and are "
            f"{found.balance.degrees_off:.0f} degrees off 120; free teeth that lie alike in each phase",
        )
    for p in found.phases:
        if p.spread > PATH_SHARE:
            raise RewindError(
                "paths",
                f"the groups side by side in phase {p.phase} differ by {100 * p.spread:.0f} % of its volts, and "
                "current would go round in them; take fewer groups, or one",
            )


# ---- one phase


def _one(s: Scheme) -> tuple[ToothCoil, ...]:
    teeth = s.room
    if s.poles is None and s.teeth % 2:
        raise RewindError("poles", f"{s.teeth} teeth can't take turns around the ring; count the flywheel's poles")
    poles = s.poles or s.teeth
    if abs(pitch_factor(s.teeth, poles)) <= NOUGHT:
        raise RewindError(
            "poles", f"under {poles} poles each of {s.teeth} teeth sees as much north as south: no volts; count again"
        )
    asked = s.coils_per_phase or len(teeth)
    if asked > len(teeth):
        raise RewindError("coils_per_phase", f"{asked} coils want as many teeth; {len(teeth)} can be wound")
    arrows = [arrow(t, s.teeth, poles) for t in teeth]
    senses = best_senses(arrows)[0]
    total = sum(a * sense for a, sense in zip(arrows, senses, strict=True))
    # what lies most along the sum is kept
    along = {t: (a * sense * total.conjugate()).real for t, a, sense in zip(teeth, arrows, senses, strict=True)}
    kept = set(sorted(teeth, key=lambda t: (-round(along[t], 6), t))[:asked])
    coils = [ToothCoil(t, 1, sense, s.turns) for t, sense in zip(teeth, senses, strict=True) if t in kept]
    if coils[0].sense < 0:
        coils = [_turned(c) for c in coils]
    return _grouped(s, poles, coils)


# ---- groups side by side


def _grouped(s: Scheme, poles: int, coils: Sequence[ToothCoil]) -> tuple[ToothCoil, ...]:
    out: list[ToothCoil] = []
    for phase in range(1, s.phases + 1):
        own = of_phase(coils, phase)
        if len(own) % s.paths:
            raise RewindError(
                "paths", f"{len(own)} coils a phase can't be dealt into {s.paths} groups alike; take another number"
            )
        out += _dealt(s, poles, own)
    return tuple(out)


def _dealt(s: Scheme, poles: int, own: Sequence[ToothCoil]) -> list[ToothCoil]:
    """Coils in step with each other are dealt alike, neighbours to one group; what is left over, in turn."""
    in_step: dict[int, list[ToothCoil]] = {}
    for c in own:
        in_step.setdefault(_heading(s.teeth, poles, c), []).append(c)
    groups: list[list[ToothCoil]] = [[] for _ in range(s.paths)]
    over: list[ToothCoil] = []
    for heading in sorted(in_step):
        alike = in_step[heading]
        each = len(alike) // s.paths
        for i, group in enumerate(groups):
            group += alike[i * each : (i + 1) * each]
        over += alike[each * s.paths :]
    for i, c in enumerate(over):
        groups[i % s.paths].append(c)
    return [replace(c, path=n) for n, group in enumerate(groups, 1) for c in _around(group, s.teeth)]


def _around(group: Sequence[ToothCoil], teeth: int) -> list[ToothCoil]:
    """Once around, from the tooth after the longest stretch without one, so that no crossover spans it."""
    order = sorted(group, key=lambda c: c.tooth)
    gaps = [(c.tooth - order[i - 1].tooth) % teeth or teeth for i, c in enumerate(order)]
    first = gaps.index(max(gaps))
    return order[first:] + order[:first]


def _heading(teeth: int, poles: int, c: ToothCoil) -> int:
    """Direction of its volts, sense and all, in halves of 1/teeth of a turn."""
    return (2 * (poles // 2 * (c.tooth - 1)) + (0 if c.sense > 0 else teeth)) % (2 * teeth)


def _turned(c: ToothCoil) -> ToothCoil:
    return replace(c, sense=-c.sense)


def _listed(numbers: Sequence[int]) -> str:
    words = [str(n) for n in numbers]
    return " and ".join(filter(None, [", ".join(words[:-1]), *words[-1:]]))
