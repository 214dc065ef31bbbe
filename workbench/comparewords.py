"""The shop's words for what two revisions of a pattern differ in."""

from workbench.drafting.compare import Difference, Noun
from workbench.stator.layout import Coil
from workbench.stator.pattern import CORE, Connector, Link, Pair, Winding
from workbench.words import GROUND, ohms_words, winding_band_words

_FIELDS = {
    "reference_celsius": "ohms stand at °C", "open_limit_ohms": "open limit", "key_shape": "key is",
    "x": "place, across", "y": "place, up", "colour": "wire as found", "start": "from", "finish": "to",
    "ohms": "ohms",
    "tolerance_percent": "tolerance, %", "low_ohms": "low", "high_ohms": "high", "limit_ohms": "limit",
    "band_from": "band from",
}  # fmt: skip


def difference_words(d: Difference) -> tuple[str, str, str]:
    """What it is of, how it was, how it is; a dash where there was or is none."""
    name = f" {_node(d.name)}" if d.name else ""
    field = f", {_FIELDS.get(d.field, d.field)}" if d.field else ""
    title = f"{str(d.noun).capitalize()}{name}{field}"
    return title, _value(d.before, d), _value(d.after, d)


def _value(value: object, d: Difference) -> str:
    match value:
        case None | "":
            return "—"
        case Winding():
            told = value.element is None and (value.ohms is not None or value.low_ohms is not None)
            if d.field == "band":
                return winding_band_words(value) if told else "—"
            ohms = winding_band_words(value) if value.is_under else ohms_words(value.nominal) if told else ""
            return ", ".join(x for x in (f"{_node(value.start)} – {_node(value.finish)}", ohms) if x)
        case Link():
            return f"{_node(value.start)} – {_node(value.finish)}"
        case Connector():
            return f"{len(value.cavities)} cavities"
        case Coil():
            where = f"tooth {value.tooth}" if value.tooth is not None else f"beside, at {value.beside_degrees:g}°"
            sense = {None: "sense not noted", 1: "clockwise", -1: "anticlockwise"}[value.sense]
            return f"{where}, {sense}"
        case Pair():
            return f"{_node(value.positive)} – {_node(value.negative)}"
        case tuple():
            return ", ".join(_value(v, d) for v in value)
        case float() if d.field.endswith("ohms"):
            return ohms_words(value)
        case float():
            return f"{value:g}"
        case _ if d.noun is Noun.PIN and d.field == "":
            return "a cavity"
        case _:
            return _node(str(value))


def _node(node: str) -> str:
    return GROUND if node == CORE else node.replace(".", " ", 1) if node.count(".") == 1 else node
