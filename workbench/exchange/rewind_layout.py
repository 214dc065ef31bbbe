"""`plugface rewind`, "layout": a layout planned, or one given by hand checked, as JSON."""

import cmath
import math
from collections.abc import Sequence
from typing import Any

from workbench.exchange.fields import Fields
from workbench.exchange.rewind_parts import optional_whole, whole, wholes
from workbench.rewind.electrical import Electrical, Phase, Remark, pair_ohms
from workbench.rewind.errors import RewindError
from workbench.rewind.layout import Connection, Scheme, ToothCoil, of_phase
from workbench.rewind.layoutcheck import Checked, check
from workbench.rewind.layoutplan import plan
from workbench.rewind.layoutsteps import End, Step, steps
from workbench.rewind.star import winding_factor

MOST_HARMONICS = 16
HIGHEST_HARMONIC = 199


def layout_answer(f: Fields) -> dict[str, Any]:
    """The answer, but for its id, to an ask whose `id` and `ask` are taken already. Raises FieldError."""
    scheme = _scheme(f)
    harmonics = wholes(f, "harmonics")
    if len(harmonics) > MOST_HARMONICS or not all(1 <= n <= HIGHEST_HARMONIC for n in harmonics):
        raise RewindError("harmonics", f"at most {MOST_HARMONICS} of them, each from 1 to {HIGHEST_HARMONIC}")
    per_turn = f.optional_number("ohms_per_turn")
    if per_turn is not None and not 0 < per_turn <= 1e6:
        raise RewindError("ohms_per_turn", f"must lie above 0 and at most 1e6 ohm, not at {per_turn:g}")
    coils = tuple(_coil(value, at) for value, at in f.items("coils")) if f.has("coils") else None
    f.done()
    if coils is None:
        planned = plan(scheme)
        coils = planned.coils
        told: dict[str, Any] = {"plan": None, "remarks": _remarks(planned.remarks)}
        if scheme.poles is not None and planned.electrical is not None:
            told["plan"] = _electrical(scheme, coils, scheme.poles, planned.electrical, harmonics)
        told["unwound"] = list(planned.unwound)
    else:
        told = {"checked": [_checked(c, harmonics) for c in check(scheme, coils)]}
    told["steps"] = [_step(s) for s in steps(scheme, coils)]
    if per_turn is not None:
        told["pair_ohms"] = list(pair_ohms(scheme, coils, per_turn))
    return told


def _scheme(f: Fields) -> Scheme:
    return Scheme(
        teeth=whole(f, "teeth"),
        poles=optional_whole(f, "poles"),
        phases=whole(f, "phases"),
        connection=f.code("connection", Connection, "connection"),
        coils_per_phase=optional_whole(f, "coils_per_phase"),
        layers=whole(f, "layers", 2),
        paths=whole(f, "paths", 1),
        free=frozenset(wholes(f, "free")),
        turns=whole(f, "turns", 1),
    )


def _coil(value: Any, path: str) -> ToothCoil:
    f = Fields(value, path, "a coil")
    coil = ToothCoil(
        tooth=whole(f, "tooth"),
        phase=whole(f, "phase"),
        sense=whole(f, "sense"),
        turns=whole(f, "turns", 1),
        path=whole(f, "path", 1),
        place=whole(f, "place", 0),
    )
    f.done()
    return coil


def _checked(c: Checked, harmonics: Sequence[int]) -> dict[str, Any]:
    return {
        "poles": c.poles,
        "good": c.good,
        "faults": [str(fault) for fault in c.faults],
        "reversed": [[{"tooth": x.tooth, "place": x.place} for x in way] for way in c.reversed_coils],
        "remarks": _remarks(c.remarks),
        **_electrical(c.scheme, c.coils, c.poles, c.electrical, harmonics),
    }


def _electrical(
    scheme: Scheme, coils: Sequence[ToothCoil], poles: int, found: Electrical, harmonics: Sequence[int]
) -> dict[str, Any]:
    balance = found.balance
    return {
        "phases": [_phase(scheme, of_phase(coils, p.phase), poles, p, harmonics) for p in found.phases],
        "balance": None
        if balance is None
        else {"departure": _finite(balance.departure), "degrees_off": _finite(balance.degrees_off)},
        "ohms_departure": found.ohms_departure,
    }


def _phase(scheme: Scheme, own: Sequence[ToothCoil], poles: int, p: Phase, harmonics: Sequence[int]) -> dict[str, Any]:
    around = [c.around for c in own]
    return {
        "phase": p.phase,
        "coils": p.coils,
        "effective_turns": abs(p.emf),
        "degrees": math.degrees(cmath.phase(p.emf)),
        "winding_factor": p.factor,
        "harmonics": [{"harmonic": n, "factor": winding_factor(around, scheme.teeth, poles, n)} for n in harmonics],
        "spread": _finite(p.spread),
    }


def _finite(x: float) -> float | None:
    return x if math.isfinite(x) else None


def _remarks(remarks: Sequence[Remark]) -> list[dict[str, Any]]:
    out = []
    for r in remarks:
        share = None if r.share is None else _finite(r.share)
        told = {"note": str(r.note), "phase": r.phase, "share": share}
        out.append({name: value for name, value in told.items() if value is not None})
    return out


def _step(s: Step) -> dict[str, Any]:
    c = s.coil
    return {
        "number": s.number,
        "phase": c.phase,
        "path": c.path,
        "tooth": c.tooth,
        "place": c.place,
        "sense": c.sense,
        "turns": c.turns,
        "start": _end(s.start),
        "finish": _end(s.finish),
    }


def _end(e: End) -> dict[str, Any]:
    return {"at": str(e.at)} if e.number is None else {"at": str(e.at), "number": e.number}
