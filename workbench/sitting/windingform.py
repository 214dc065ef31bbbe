"""A winding or link as a form has it, typed as at the bench; or a sentence for the field that can't be used."""

from dataclasses import dataclass, replace
from enum import Enum

from workbench.drafting import windings
from workbench.drafting.draft import Draft
from workbench.drafting.edits import EditError
from workbench.sitting.conditions import FormError
from workbench.sitting.meterform import ohms_text
from workbench.stator.entry import EntryError, LoneOne, Shown, read_value
from workbench.stator.pattern import Element, Kind, Link, Winding


class Band(Enum):
    """How a winding's band is told."""

    PERCENT = "per cent about its ohms"
    LIMITS = "from low to high"
    UNDER = "under"


@dataclass(frozen=True, slots=True)
class WindingForm:
    """`element` None: a winding. A link has its ends and `high` alone, its limit.

    `start`, `finish`: nodes; one that is empty stays as it is.
    """

    name: str
    kind: Kind = Kind.OTHER
    word: str = ""
    element: Element | None = None
    band: Band = Band.PERCENT
    ohms: str = ""
    percent: str = "10"
    low: str = ""
    high: str = ""
    wire: str = ""
    start: str = ""
    finish: str = ""


def form_of(edge: Winding | Link) -> WindingForm:
    return replace(_told(edge), start=edge.start, finish=edge.finish)


def _told(edge: Winding | Link) -> WindingForm:
    if isinstance(edge, Link):
        return WindingForm(edge.name, high=ohms_text(edge.limit_ohms))
    w = edge
    plain = WindingForm(w.name, w.kind, w.word, w.element, wire=w.wire)
    if w.element is not None or (w.ohms is None and w.low_ohms is None):
        return plain
    ohms = ohms_text(w.ohms) if w.ohms is not None else ""
    if w.is_under:
        return WindingForm(w.name, w.kind, w.word, band=Band.UNDER, high=ohms_text(w.high), wire=w.wire)
    if w.low_ohms is not None:
        low, high = ohms_text(w.low), ohms_text(w.high)
        return WindingForm(w.name, w.kind, w.word, band=Band.LIMITS, low=low, high=high, wire=w.wire, ohms=ohms)
    percent = f"{w.tolerance_percent:g}" if w.tolerance_percent is not None else ""
    return WindingForm(w.name, w.kind, w.word, percent=percent, wire=w.wire, ohms=ohms)


def applied(draft: Draft, edge: str, form: WindingForm) -> Draft:
    """What the form says, on that winding or link. Raises FormError naming the field."""
    old = draft.edge(edge)
    try:
        out = windings.rename_edge(draft, edge, form.name)
    except EditError as e:
        raise FormError("name", e.sentence) from None
    name = " ".join(form.name.split())
    try:
        out = windings.move_end(out, name, start=form.start or None, finish=form.finish or None)
    except EditError as e:
        raise FormError("finish", e.sentence) from None
    if isinstance(old, Link):
        return windings.set_link_limit(out, name, _ohms("high", form.high))
    out = windings.set_wire(windings.set_kind(out, name, form.kind, form.word), name, form.wire)
    if form.element is not None or old.element is not None:
        out = windings.set_element(out, name, form.element)
    if form.element is not None or _band_typed(form) == _band_typed(form_of(old)):
        return out
    try:
        return _banded(out, name, form)
    except EditError as e:
        field = {Band.PERCENT: "percent", Band.LIMITS: "high", Band.UNDER: "high"}[form.band]
        raise FormError(field, e.sentence) from None


def _band_typed(form: WindingForm) -> tuple[object, ...]:
    """What says the band: while it stays, where the band came from does too."""
    return form.element, form.band, form.ohms, form.percent, form.low, form.high


def _banded(draft: Draft, name: str, form: WindingForm) -> Draft:
    match form.band:
        case Band.PERCENT:
            return windings.set_percent(draft, name, _ohms("ohms", form.ohms), _number("percent", form.percent))
        case Band.LIMITS:
            ohms = _ohms("ohms", form.ohms) if form.ohms.strip() else None
            return windings.set_limits(draft, name, _ohms("low", form.low), _ohms("high", form.high), ohms)
        case Band.UNDER:
            return windings.set_under(draft, name, _ohms("high", form.high))


def _ohms(field: str, text: str) -> float:
    """As a meter's display is typed: 1k2, 0,4, 155."""
    try:
        value = read_value(text)
    except EntryError as e:
        empty = "Type its ohms: 155, 0.4, 1k2."
        raise FormError(field, e.sentence if text.strip() else empty) from None
    if isinstance(value, LoneOne):
        return 1.0
    if not isinstance(value, Shown) or not value.ohms > 0:
        raise FormError(field, "A winding has ohms above 0: type them as 155, 0.4, 1k2.")
    return value.ohms


def _number(field: str, text: str) -> float:
    try:
        return float(text.strip().removesuffix("%").strip().replace(",", "."))
    except ValueError:
        raise FormError(field, "Type the tolerance in per cent: 10.") from None
