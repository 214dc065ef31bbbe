"""The shelf of wire: its spools as they are listed, and what is typed of one, or a sentence."""

from collections.abc import Iterable
from dataclasses import dataclass

from workbench.records import Spool, new_id
from workbench.rewind.shelf import Spool as OnShelf
from workbench.rewind.wire import Build, Wire, gauge
from workbench.rewindwords import BUILD_WORDS
from workbench.sitting.conditions import FormError
from workbench.sitting.rewindforms import number_of, refused, wire_named
from workbench.stator.errors import FieldError

# less than this is hardly a coil; common practice, no source
LOW_GRAMS = 100.0
LONGEST_NAME = 60


@dataclass(frozen=True, slots=True)
class SpoolView:
    """`metres`: about how much wire that is; None of a gauge that the tables don't know."""

    spool: Spool
    wire: str
    grams: str
    metres: str
    low: bool
    spoken: str


def on_shelf(spool: Spool) -> OnShelf | None:
    """As the rewind reckons with it; None for a wire that the tables don't know."""
    try:
        return OnShelf(spool.name, Wire.of(gauge(spool.gauge), Build(spool.build)), spool.grams)
    except (FieldError, ValueError):
        return None


def spool_views(spools: Iterable[Spool]) -> tuple[SpoolView, ...]:
    return tuple(_view(s) for s in spools)


def low_words(spools: Iterable[Spool]) -> str:
    """Which spools are nearly used up; nothing where none is."""
    low = [s.name for s in spools if s.grams < LOW_GRAMS]
    if not low:
        return ""
    return f"Below {LOW_GRAMS:.0f} g: {', '.join(low)}."


def spool_of(name: str, gauge_text: str, build: Build, grams: str, note: str, before: Spool | None) -> Spool:
    """What was typed; an edited spool keeps its id and version. Raises FormError."""
    name = name.strip()
    if not name:
        raise FormError("name", "Give the spool a name: where it stands, or what is written on it.")
    if len(name) > LONGEST_NAME:
        raise FormError("name", f"A spool's name has at most {LONGEST_NAME} characters.")
    wire = wire_named(gauge_text, build)
    try:
        left = number_of(grams, "grams")
        OnShelf(name, wire, left)
    except FieldError as e:
        raise refused(e.field, e.sentence) from None
    if before is None:
        return Spool(new_id(), name, wire.gauge.name, str(build), left, note.strip())
    return Spool(before.id, name, wire.gauge.name, str(build), left, note.strip(), before.version)


def _view(s: Spool) -> SpoolView:
    known = on_shelf(s)
    build = BUILD_WORDS[Build(s.build)] if s.build in set(Build) else s.build
    wire = f"{s.gauge}, {build}"
    metres = ""
    if known is not None:
        metres = f"about {s.grams / (known.wire.grams_per_metre + known.wire.enamel_grams_per_metre):,.0f} m"
    low = s.grams < LOW_GRAMS
    said = ", ".join(x for x in (s.name, wire, f"{s.grams:,.0f} g left", metres, "low" if low else "", s.note) if x)
    return SpoolView(s, wire, f"{s.grams:,.0f} g", metres or "gauge unknown", low, said)
