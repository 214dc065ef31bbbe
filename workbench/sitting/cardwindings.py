"""How the windings of a part were wound anew, for the shop's copy of its card."""

from collections.abc import Sequence
from dataclasses import replace

from workbench.cards.winding import WindingData
from workbench.exchange.finished import holding
from workbench.records import KeptRewind
from workbench.rewind.ofpattern import names_of
from workbench.rewind.predict import meant_turns
from workbench.rewind.record import Body
from workbench.rewind.wire import Wire
from workbench.rewind.wound import asked_coils
from workbench.rewind.woundrecord import CoilWound
from workbench.rewindwords import wire_words
from workbench.stator.pattern import Pattern


def as_wound(data: Sequence[WindingData], pattern: Pattern, rewinds: Sequence[KeptRewind]) -> tuple[WindingData, ...]:
    """What the pattern tells, with what the rewinds that hold tell in its place."""
    out = {d.winding: d for d in data}
    for names, winding, body in holding(pattern, rewinds):
        if body is not None:
            for phase, name in enumerate(names_of(pattern, winding), 1):
                if name in names:
                    out[name] = _of(out.get(name, WindingData(name)), pattern, winding, body, phase)
    order = [w.name for w in pattern.windings]
    return tuple(sorted(out.values(), key=lambda d: order.index(d.winding)))


def _of(before: WindingData, pattern: Pattern, winding: str, body: Body, phase: int) -> WindingData:
    asked = [a for a in asked_coils(pattern, winding, body) if a.phase == phase]
    wound = [c for a in asked if body.wound is not None and (c := body.wound.coil(a.spot)) is not None]
    teeth = tuple(sorted({a.spot.tooth for a in asked if a.spot.tooth}))
    return replace(
        before,
        teeth=teeth or before.teeth,
        turns=_turns(body, wound, len(asked)),
        gauge=" and ".join(dict.fromkeys(wire_words(w) for w in _wires(body, wound))),
        more="; ".join(_more(body, wound)),
    )


def _turns(body: Body, wound: Sequence[CoilWound], coils: int) -> tuple[int, ...]:
    """As counted, once where all are alike; else as meant."""
    counted = tuple(c.turns for c in wound if c.turns is not None)
    if counted:
        return counted[:1] if len(set(counted)) == 1 and len(counted) == coils else counted
    chosen = body.wire.chosen if body.wire is not None else None
    meant = meant_turns(body) if body.plan is not None or chosen is not None else None  # not those that it had
    return (meant,) if meant is not None else ()


def _wires(body: Body, wound: Sequence[CoilWound]) -> Sequence[Wire]:
    noted = [c.wire.wire for c in wound if c.wire is not None]
    if noted:
        return noted
    chosen = body.wire.chosen if body.wire is not None else None
    return [chosen.wire] if chosen is not None else []


def _more(body: Body, wound: Sequence[CoilWound]) -> list[str]:
    """Its spools as the coils' wire names them; else those of the wire that was taken."""
    said = []
    chosen = body.wire.chosen if body.wire is not None else None
    noted = [c.wire.spool for c in wound if c.wire is not None]
    spools = noted or ([d.name for d in chosen.draws] if chosen is not None else [])
    if any(spools):
        said.append(f"off {' and '.join(filter(None, dict.fromkeys(spools)))}")
    if body.wound is not None and body.wound.varnish_lot:
        said.append(f"varnish {body.wound.varnish_lot}")
    if body.wound is not None and body.wound.bake is not None:
        bake = body.wound.bake
        said.append(f"baked {bake.minutes:g} min at {bake.celsius:g} °C")
    return said
