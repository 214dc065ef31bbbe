"""How a part's windings are wound: confidential, and on the shop's copy alone."""

import re
from dataclasses import dataclass

from workbench.cards.wrap import TIE
from workbench.stator.layout import Wire, usual_wire
from workbench.stator.pattern import Pattern

KEPT_BACK = "Winding data stays with the shop."


@dataclass(frozen=True, slots=True)
class WindingData:
    """One winding. `teeth` count from 1 as its pattern's layout does; `beside`: coils on brackets beside the core.

    `turns` of each coil, or once for all of them, and the wire's `gauge` as the shop writes it: empty until the
    shop has noted them. `more`: what else was noted of how it was wound.
    """

    winding: str
    teeth: tuple[int, ...] = ()
    beside: int = 0
    wires: tuple[Wire, ...] = ()
    turns: tuple[int, ...] = ()
    gauge: str = ""
    more: str = ""


def winding_data(pattern: Pattern) -> tuple[WindingData, ...]:
    """What the pattern's layout tells of each winding that it has coils of."""
    if pattern.layout is None:
        return ()
    out = []
    for w in pattern.windings:
        coils = pattern.layout.of(w.name)
        if coils:
            teeth = tuple(sorted(c.tooth for c in coils if c.tooth is not None))
            wires = tuple(dict.fromkeys(c.wire or usual_wire(w.kind) for c in coils))
            out.append(WindingData(w.name, teeth, sum(c.tooth is None for c in coils), wires))
    return tuple(out)


def winding_sayings(data: tuple[WindingData, ...]) -> list[tuple[str, str]]:
    return [(f"{d.winding}:", _told(d)) for d in data]


def _told(d: WindingData) -> str:
    places = []
    if d.teeth:
        places.append(f"{'tooth' if len(d.teeth) == 1 else 'teeth'} {', '.join(map(str, d.teeth))}")
    if d.beside:
        places.append(f"{d.beside} beside the core")
    wires = " and ".join(str(w) for w in d.wires)
    turns = f"{' / '.join(map(str, d.turns))} turns" if d.turns else "turns not noted"
    gauge = f"gauge {d.gauge}".replace(" ", TIE) if d.gauge else "gauge not noted"
    told = ", ".join(places), f"{wires} wire" if wires else "", turns, gauge, d.more
    return "; ".join(p for p in told if p) + "."


# a count of turns or a wire's size, however it is written: `120 turns`, `turns: 120`, `AWG 21`, `0.71 mm wire`
_TELLS = re.compile(
    r"\d[\d.,]*\s*-?(?:turns?\b|t\b|trns?\b|a\.?w\.?g\b|s\.?w\.?g\b|ga\.?(?:\b|$)|gauge)"
    r"|\b(?:turns?|trns?|a\.?w\.?g|s\.?w\.?g|gauge|ga\.)\W{0,3}(?:of\s+|is\s+|no\.?\s*)?\W{0,2}\d"
    r"|\b(?:re)?wound\s+(?:with\s+|of\s+|in\s+|to\s+)?\d"
    r"|(?:\b(?:wires?|copper|enamel\w*|dia\w*)\W{1,3}(?:of\s+|is\s+)?|[Ø⌀]\s*)\d+(?:[.,]\d+|\s*(?:mm|mil)\b)"
    r"|\d[\d.,]*\s*(?:mm|inch|mils?)\b[^.;\n]{0,16}\b(?:wires?|copper|enamel\w*)",
    re.IGNORECASE,
)
_CLAUSES = re.compile(r"(?<=[;\n])|(?<=[.!?])(?=\s)")


def without_winding_data(text: str) -> str:
    """The text for the customer: clauses that tell turns or gauge left out, and that said in their place."""
    if not _TELLS.search(text):
        return text
    left = [c for c in _CLAUSES.split(text) if not _TELLS.search(c)]
    told = "".join(left).strip()
    if not left or _TELLS.search(told):
        return KEPT_BACK
    return f"{told.rstrip(';, ')}{'' if told[-1:] in '.!?' else '.'} {KEPT_BACK}" if told else KEPT_BACK
