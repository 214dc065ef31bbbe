"""What was typed at the bench: a pair, a value, or both, and a sentence where it can't be read."""

import re
from dataclasses import dataclass
from decimal import Decimal

from workbench.stator.pattern import CORE, Pair, Pattern

LONGEST = 60


class EntryError(ValueError):
    """The text can't be used; `sentence` says why and what to type instead."""

    def __init__(self, sentence: str) -> None:
        super().__init__(sentence)
        self.sentence = sentence


@dataclass(frozen=True, slots=True)
class Shown:
    """A number on the meter's display: `ohms`, known to `step` (ohm) by the digits typed."""

    ohms: float
    step: float
    text: str


@dataclass(frozen=True, slots=True)
class Overload:
    """The display's sign for "above this range"."""

    text: str


@dataclass(frozen=True, slots=True)
class LoneOne:
    """A single 1: one ohm, or a cheap meter's sign for an overload. Only the technician can say."""

    text: str


Value = Shown | Overload | LoneOne


@dataclass(frozen=True, slots=True)
class Entry:
    """One line of typing: the pair if one was named, the value if one was given."""

    pair: Pair | None
    value: Value | None


_OVERLOADS = {"ol", "o.l", ".ol", "ol.", "o.l.", "0l", "0.l", ".0l", "0l.", "open", "*", "inf", "∞", "oo"}
_GROUNDS = {"core", "ground", "gnd", "iron", "earth"}
_SCALES = {"": Decimal(1), "k": Decimal(1000), "K": Decimal(1000), "M": Decimal(1_000_000)}
_UNIT = r"(?:ohms?|[ΩΩ])?"
_PLAIN = re.compile(rf"([+-]?)(\d*)(?:([.,])(\d*))?\s*([kKmM]?)(?i:{_UNIT})")
_INFIX = re.compile(rf"([+-]?)(\d+)([kKMRr])(\d+)(?i:{_UNIT})")
_UNIT_WORD = re.compile(rf"[kKmM]?(?i:{_UNIT})")
# what a meter shows on its other ranges: no ohms, and no pin's name
_FOREIGN = re.compile(r"[+-]?\d+(?:[.,]\d+)?\s*[munpµμkM]?(V(?:AC|DC)?|A|F|Hz|H|°?C|°F|W|%)", re.IGNORECASE)
_DASHES = "-–\u2212"


def read_value(text: str) -> Value:
    """`184.3`, `184,3`, `.5`, `1.2k`, `1k2`, `4R7`, `2M`, `OL`, `open`, `*`. Raises EntryError."""
    word = text.strip().replace("−", "-")
    if not word:
        raise EntryError("Type what the meter shows, or OL if it shows an overload.")
    if len(word) > LONGEST:
        raise EntryError("That is too long for a meter's display: type the number it shows.")
    if word.lower().removesuffix("ω").removesuffix("ohm").strip() in _OVERLOADS:
        return Overload(text.strip())
    if word in ("1", "1."):
        return LoneOne(text.strip())
    infix = _INFIX.fullmatch(word)
    if infix:
        sign, whole, unit, part = infix.groups()
        return _shown(sign, whole, part, "" if unit in "Rr" else unit, text)
    plain = _PLAIN.fullmatch(word)
    if plain is None or not (plain[2] or plain[4]):
        raise EntryError(_why_unreadable(word))
    sign, whole, mark, part, unit = plain.groups()
    if unit == "m":
        raise EntryError(f"In “{word}” the m could be milli or mega: type 0.002 for 2 milliohm, 2M for 2 megohm.")
    if mark == "," and part is not None and len(part) == 3 and not unit and whole not in ("", "0"):
        raise EntryError(f"“{word}” could be {whole}.{part} or {whole}{part}: type it with a point, or without a mark.")
    return _shown(sign, whole, part or "", unit, text)


def _shown(sign: str, whole: str, part: str, unit: str, text: str) -> Shown:
    scale = _SCALES[unit]
    ohms = Decimal(f"{sign}{whole or '0'}.{part or '0'}") * scale
    if not float(ohms) < 1e12:
        raise EntryError(f"“{text.strip()}” is more than any ohmmeter shows.")
    return Shown(float(ohms), float(Decimal(1).scaleb(-len(part)) * scale), text.strip())


def _why_unreadable(word: str) -> str:
    if (foreign := _FOREIGN.fullmatch(word)) is not None:
        return _not_ohms(word, foreign[1])
    if "," in word and "." in word:
        return f"“{word}” has both a comma and a point: type it with one of them."
    if len(re.findall(r"[.,]", word)) > 1:
        return f"“{word}” has more than one decimal mark: type the number with one."
    return f"“{word}” is not a reading: type a number such as 184.3, 1.2k or 1k2, or OL for an overload."


def _not_ohms(word: str, unit: str) -> str:
    return f"“{word}” is no number of ohms ({unit}): set the meter to ohms, and type what it shows then."


def read_entry(text: str, pattern: Pattern, plug: str | None = None) -> Entry:
    """A whole line: `184.3`, `1 3`, `A1 B3`, `1 core`, `1 3 184.3`. `plug` is the one in sight.

    Raises EntryError.
    """
    words = text.split()
    if len(text) > LONGEST:
        raise EntryError("That is too long: type two pins, or what the meter shows.")
    words = _undashed(words, pattern, plug)
    if len(words) < 2:
        return _one_word(words[0] if words else "", pattern, plug)
    if len(words) == 2 and _UNIT_WORD.fullmatch(words[1]) and _node(words[1], pattern, plug) is None:
        return Entry(None, read_value(" ".join(words)))
    if len(words) == 2 and _FOREIGN.fullmatch(line := " ".join(words)) and _node(words[1], pattern, plug) is None:
        raise EntryError(_why_unreadable(line))
    pair = read_pair(words[0], words[1], pattern, plug)
    return Entry(pair, read_value(" ".join(words[2:])) if len(words) > 2 else None)


def _undashed(words: list[str], pattern: Pattern, plug: str | None) -> list[str]:
    """`1 - 3` and `1-3 184.3`, as the screen writes a pair, are `1 3` and `1 3 184.3`."""
    if len(words) > 2 and words[1] in tuple(_DASHES):
        return [words[0], *words[2:]]
    if len(words) > 1 and _node(words[0], pattern, plug) is None:
        return [*(_two_ends(words[0]) or words[:1]), *words[1:]]
    return words


def _two_ends(word: str) -> list[str] | None:
    ends = re.split(f"[{_DASHES}]", word)
    return ends if len(ends) == 2 and all(ends) else None


def _one_word(word: str, pattern: Pattern, plug: str | None) -> Entry:
    try:
        return Entry(None, read_value(word))
    except EntryError:
        node = _node(word, pattern, plug)
        if node:
            other = next((n for n in pattern.pins if n != node), CORE) if node == CORE else "ground"
            raise EntryError(f"“{word}” is one pin: name the other too, as in “{word} {other}”.") from None
        ends = _two_ends(word)
        if ends:
            return Entry(read_pair(ends[0], ends[1], pattern, plug), None)
        raise


def read_pair(one: str, other: str, pattern: Pattern, plug: str | None = None) -> Pair:
    """Two words for two nodes; the first takes the positive lead. Raises EntryError."""
    nodes = []
    for word in (one, other):
        node = _node(word, pattern, plug)
        if node is None:
            raise EntryError(f"There is no pin “{word}” here. {_what_is_here(pattern, plug)}")
        nodes.append(node)
    if nodes[0] == nodes[1]:
        raise EntryError(f"Both leads would lie on “{one}”: name two different pins.")
    return Pair(*nodes)


def _node(word: str, pattern: Pattern, plug: str | None) -> str | None:
    """The pin in sight is meant first, then a plug with a pin, then the only pin of that name anywhere."""
    here = [c for c in pattern.connectors if c.name == plug]
    tiers: list[list[tuple[str, str]]] = [
        [(c.pin, f"{h.name}.{c.pin}") for h in here for c in h.cavities],
        [(name, f"{c.name}.{cav.pin}") for c in pattern.connectors for cav in c.cavities
         for name in (f"{c.name}.{cav.pin}", f"{c.name}{cav.pin}")],
        [(g, CORE) for g in _GROUNDS],
        [(cav.pin, f"{c.name}.{cav.pin}") for c in pattern.connectors for cav in c.cavities],
    ]  # fmt: skip
    for tier in tiers:
        for fold in (str, str.casefold):
            nodes = {node for name, node in tier if fold(name) == fold(word)}
            if len(nodes) > 1:
                names = " or ".join(sorted(nodes))
                raise EntryError(f"“{word}” could be {names}: name the plug too.")
            if nodes:
                return nodes.pop()
    return None


def _what_is_here(pattern: Pattern, plug: str | None) -> str:
    shown = next((c for c in pattern.connectors if c.name == plug), None)
    if shown is None or len(shown.cavities) > 12:
        return "Name a pin as it stands on the face, or “ground”."
    pins = ", ".join(c.pin for c in shown.cavities)
    return f"Plug {shown.name} has {pins}; the iron is “ground”."
