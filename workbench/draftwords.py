"""The shop's words for what the proof of a pattern says."""

from workbench.drafting.prove import Remark, Said
from workbench.drafting.seeing import What
from workbench.stator.pattern import Kind, Pattern
from workbench.stator.reach import Reach
from workbench.words import node_words, pair_words, winding_band_words

KIND_WORDS = {
    Kind.LIGHTING: "lighting",
    Kind.CHARGING: "charging",
    Kind.EXCITER: "exciter: feeds the ignition box",
    Kind.IGNITION: "ignition",
    Kind.PULSER: "pulser",
    Kind.FIELD: "field",
    Kind.PRIMARY: "primary",
    Kind.SECONDARY: "secondary",
    Kind.OTHER: "other",
}

_REACH_WORDS = {
    Reach.CONTINUITY: "only that it conducts",
    Reach.ABOVE_RANGES: "nothing: it lies above their ranges",
    Reach.NO_OPEN: "nothing: no range reaches the open limit",
}


def remark_words(said: Said, pattern: Pattern | None) -> str:
    """One remark as a sentence. `pattern`: the one that was proved, None where it is none yet."""
    if said.remark is Remark.NOT_YET or pattern is None:
        return f"{said.sentence[0].upper()}{said.sentence[1:]}." if said.sentence else "It is no pattern yet."
    names = [_node(n, pattern) for n in said.about]
    match said.remark:
        case Remark.BRIDGED:
            return f"The ends of the {names[0]} are joined by plain wire: ohms can't see it."
        case Remark.INVISIBLE:
            return f"No pair of pins can show {_thing(said, names[0])}."
        case Remark.UNCHECKED:
            return f"No planned check would show {_thing(said, names[0])}."
        case Remark.SWAP_UNSEEN:
            return f"With {names[0]} and {names[1]} in each other's cavities every planned check would still fit."
        case Remark.SWAP_INVISIBLE:
            return f"With {names[0]} and {names[1]} in each other's cavities no reading would leave its band."
        case Remark.NO_LOW:
            band = winding_band_words(pattern.winding(said.about[0]))
            return f"The {names[0]} is {band}, and no low limit is known: ohms can't see shorted turns in it."
        case Remark.BEYOND_METERS:
            assert said.pair is not None
            can = _REACH_WORDS.get(said.reach or Reach.CONTINUITY, "less than its band")
            return f"{pair_words(said.pair, pattern)}: the shop's meters can tell {can}."
        case Remark.BY_NO_OHMS:
            assert said.pair is not None
            return f"{pair_words(said.pair, pattern)} goes through a diode or electronics: not to be judged by ohms."
        case Remark.TWICE:
            assert said.pair is not None
            return f"{pair_words(said.pair, pattern)} is planned twice."
        case Remark.TOOTH_TWICE:
            return f"The {names[0]} has two coils in one place of the layout."
        case Remark.SPARE_PIN:
            return f"Nothing is joined to {names[0]}."
        case Remark.NO_COIL:
            return f"The {names[0]} has no coil in the layout."


def remark_short(said: Said, pattern: Pattern | None) -> tuple[str, str]:
    """Whom it is about, and in a few words what: for a list whose sentence stands beside it."""
    if said.remark is Remark.NOT_YET or pattern is None:
        return "Not a pattern yet", said.sentence
    names = [_node(n, pattern) for n in said.about]
    who = pair_words(said.pair, pattern) if said.pair is not None else " and ".join(names)
    thing = _FEW_WORDS.get(said.what, "") if said.what is not None else ""
    what = {
        Remark.BRIDGED: "bridged by plain wire",
        Remark.INVISIBLE: f"{thing}: seen by no pair",
        Remark.UNCHECKED: f"{thing}: seen by no check",
        Remark.SWAP_UNSEEN: "exchanged, no check shows it",
        Remark.SWAP_INVISIBLE: "exchanged, no pair shows it",
        Remark.NO_LOW: "no low limit is known",
        Remark.BEYOND_METERS: "beyond the shop's meters",
        Remark.BY_NO_OHMS: "not to be judged by ohms",
        Remark.TWICE: "planned twice",
        Remark.TOOTH_TWICE: "two coils in one place",
        Remark.SPARE_PIN: "joined to nothing",
        Remark.NO_COIL: "no coil in the layout",
    }[said.remark]
    return who, what


_FEW_WORDS = {
    What.WINDING: "shorted turns",
    What.BREAK: "a break",
    What.LINK: "a break",
    What.LEAD: "a broken wire",
    What.GROUND: "its ground",
    What.SHORT: "a short to the iron",
}


def _node(name: str, pattern: Pattern) -> str:
    return node_words(name, pattern) if pattern.can_touch(name) else name


def _thing(said: Said, name: str) -> str:
    match said.what:
        case What.LEAD:
            return f"a break in the wire at {name}"
        case What.GROUND:
            return f"whether what hangs on {name} is joined to the iron"
        case What.SHORT:
            return f"a short from {name} to the iron"
        case What.LINK | What.BREAK:
            return f"a break in the {name}"
        case _:
            return f"shorted turns in the {name}"
