"""What is typed of a winding as it was found, read into a record; or a sentence and the field that is at fault."""

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from workbench.rewind.found import AsFound
from workbench.rewind.ofpattern import alike
from workbench.rewind.strip import StripRecord
from workbench.rewind.wire import Gauge
from workbench.rewindwords import sentence
from workbench.sitting.conditions import FormError
from workbench.sitting.rewindforms import gauge_of
from workbench.stator.entry import EntryError, Shown, read_value
from workbench.stator.errors import FieldError
from workbench.stator.layout import MOST_TEETH
from workbench.stator.pattern import Pattern


@dataclass(frozen=True, slots=True)
class FoundForm:
    """Lengths in mm, copper in g. `turns`, `bare`, `overall` hold several numbers, as in `0.80 0.81`; `clockwise` and
    `anticlockwise` teeth, as in `1 4 7-9`. Each `give_`: the ± of a figure, twice its standard uncertainty.
    """

    photos: str = ""
    start: str = ""
    finish: str = ""
    clockwise: str = ""
    anticlockwise: str = ""
    crossovers: str = ""
    liner: str = ""
    coils: str = "1"
    turns: str = ""
    strands: str = ""
    bare: str = ""
    overall: str = ""
    gauge: str = ""
    mean_turn: str = ""
    width: str = ""
    height: str = ""
    build: str = ""
    ohms: str = ""
    celsius: str = "20"
    lead_gauge: str = ""
    lead: str = ""
    grams: str = ""
    enamelled: bool = False
    tails: str = ""
    give_turns: str = ""
    give_bare: str = ""
    give_overall: str = ""
    give_mean_turn: str = ""
    give_sides: str = ""
    give_ohms: str = ""
    give_celsius: str = ""
    give_grams: str = ""


_SEVERAL = {"turns": "turns", "bare": "bare_mm", "overall": "overall_mm"}
_SINGLE = {
    "mean_turn": "mean_turn_mm", "width": "width_mm", "height": "height_mm", "build": "build_mm", "ohms": "ohms",
    "grams": "grams",
}  # fmt: skip
_UNCERTAIN = {
    "give_turns": "turns_u", "give_bare": "bare_u_mm", "give_overall": "overall_u_mm",
    "give_mean_turn": "mean_turn_u_mm", "give_sides": "sides_u_mm", "give_ohms": "ohms_u", "give_grams": "grams_u",
}  # fmt: skip
_WHOLE = {"coils": "coils", "strands": "strands"}
# what stands for nothing typed
_USUAL = {"celsius": ("celsius", 20.0), "lead": ("lead_mm", 0.0), "tails": ("tails_mm", 0.0)}
_WORDS = ("photos", "start", "finish", "crossovers", "liner")
_FIELDS = {
    record: form
    for names in (_SEVERAL, _SINGLE, _UNCERTAIN, {f: r for f, (r, _) in _USUAL.items()})
    for form, record in names.items()
} | {"celsius_u": "give_celsius"}  # fmt: skip
OPEN = "A winding that is open has no ohms to note: leave them out, and count and measure the rest."
_USUAL_CELSIUS_U = StripRecord().celsius_u
_CALLED = {
    "photos": "the photos' place", "start": "the start", "finish": "the finish", "crossovers": "the crossovers",
    "liner": "the liner", "clockwise": "teeth by their numbers, as in 1 4 7-9",
    "anticlockwise": "teeth by their numbers, as in 2 5 8", "coils": "how many coils, alike and in series",
    "turns": "the turns counted, a number for each coil, as in 34 34 35", "strands": "the number of strands in hand",
    "bare": "the bare diameter, mm, at several places, as in 0.80 0.81 0.80",
    "overall": "the diameter over enamel, mm, at several places, as in 0.87 0.88",
    "mean_turn": "the length of a mean turn, mm", "width": "the tooth's width, mm", "height": "the tooth's height, mm",
    "build": "how thick the coil lay, mm", "ohms": "the ohms of the whole winding", "celsius": "its temperature, °C",
    "lead": "the loom's length, mm, both leads together", "grams": "the copper's mass, g",
    "tails": "the length of the coils' own tails, mm, all together",
} | dict.fromkeys(("give_celsius", *_UNCERTAIN), "the ±, as in 0.01, or nothing for the usual one")  # fmt: skip


def found_form(pattern: Pattern, winding: str, found: AsFound | None) -> FoundForm:
    """As it was noted; else with the coils that the pattern tells of."""
    if found is None:
        try:
            return FoundForm(coils=str(alike(pattern, winding) or 1))
        except FieldError:
            return FoundForm()
    r = found.record
    texts: dict[str, Any] = {name: getattr(found, name) for name in _WORDS}
    texts |= {form: " ".join(map(_text, getattr(r, record))) for form, record in _SEVERAL.items()}
    texts |= {form: _text(getattr(r, record)) for form, record in (_SINGLE | _WHOLE).items()}
    texts |= {form: _text(_twice(getattr(r, record))) for form, record in _UNCERTAIN.items()}
    texts |= {form: _text(getattr(r, record) or None) for form, (record, _) in _USUAL.items()}
    return FoundForm(
        **texts | {"celsius": _text(r.celsius)},
        clockwise=_teeth(found, 1),
        anticlockwise=_teeth(found, -1),
        gauge=_name(r.gauge),
        lead_gauge=_name(r.lead_gauge),
        enamelled=r.enamelled,
        give_celsius="" if r.celsius_u == _USUAL_CELSIUS_U else _text(_twice(r.celsius_u)),
    )


def found_of(form: FoundForm, teeth: int | None = None) -> AsFound | None:
    """What was typed; None for nothing. `teeth`: of the core, where the pattern tells. Raises FormError."""
    values: dict[str, Any] = {record: _numbers(form, name) for name, record in _SEVERAL.items()}
    values |= {record: _maybe(form, name) for name, record in _SINGLE.items() if name != "ohms"}
    values |= {record: _half(_maybe(form, name)) for name, record in _UNCERTAIN.items()}
    values |= {record: usual if (v := _maybe(form, f)) is None else v for f, (record, usual) in _USUAL.items()}
    values |= {"coils": _whole(form.coils or "1", "coils"), "strands": None, "ohms": _ohms(form.ohms)}
    if form.strands.strip():
        values["strands"] = _whole(form.strands, "strands")
    given = _half(_maybe(form, "give_celsius"))
    values["celsius_u"] = _USUAL_CELSIUS_U if given is None else given
    for name in ("gauge", "lead_gauge"):
        values[name] = _gauge(form, name)
    clockwise, other = _teeth_of(form, "clockwise", teeth), _teeth_of(form, "anticlockwise", teeth)
    if clockwise & other:
        twice = min(clockwise & other)
        raise FormError("anticlockwise", f"Tooth {twice} stands there as clockwise too: take it off one of the two.")
    senses = tuple(sorted([(t, 1) for t in clockwise] + [(t, -1) for t in other]))
    words = {name: getattr(form, name).strip() for name in _WORDS}
    try:
        record = StripRecord(enamelled=form.enamelled, **values)
        found = AsFound(record, senses=senses, **words)
    except FieldError as e:
        head = e.field.partition("[")[0].rpartition(".")[2]
        raise _refused(_FIELDS.get(head, head), e.sentence) from None
    # how many coils there are says nothing of what was found by itself
    return None if found == AsFound(StripRecord(coils=record.coils, celsius=record.celsius)) else found


# ---- one field


def _gauge(form: FoundForm, field: str) -> Gauge | None:
    text: str = getattr(form, field)
    if not text.strip():
        return None
    try:
        return gauge_of(text)
    except FormError as e:
        raise FormError(field, e.sentence) from None


def _teeth_of(form: FoundForm, field: str, most: int | None) -> frozenset[int]:
    """Numbers and spans of them."""
    out: set[int] = set()
    for part in filter(None, re.split(r"[\s,;]+", getattr(form, field).strip())):
        span = re.fullmatch(r"(\d{1,3})(?:[-–](\d{1,3}))?", part)
        if span is None:
            raise FormError(field, f"{part[:20]!r} is no tooth: type {_CALLED[field]}.")
        low, high = int(span[1]), int(span[2] or span[1])
        if not 1 <= low <= high <= (most or MOST_TEETH):
            core = f"the core has teeth 1 to {most or MOST_TEETH}"
            raise FormError(field, f"There is no tooth {part}: {core}.")
        out |= set(range(low, high + 1))
    return frozenset(out)


def _numbers(form: FoundForm, field: str) -> tuple[float, ...]:
    parts = re.split(r"[\s;]+|,\s", getattr(form, field).strip())
    two = next((p for p in parts if re.fullmatch(r"\d{2,},\d{2,}", p)), None) if field == "turns" else None
    if two is not None:
        one, other = two[:40].split(",")
        raise FormError(
            field, f"{two[:20]!r} may be {one} and {other}, or {one}.{other} of one coil: a space or a point."
        )
    return tuple(_number(part, field) for part in filter(None, parts))


def _maybe(form: FoundForm, field: str) -> float | None:
    text: str = getattr(form, field)
    return _number(text, field) if text.strip() else None


def _ohms(text: str) -> float | None:
    """As a meter shows them too: 1.2k, 1k2."""
    if not text.strip():
        return None
    try:
        return _number(text, "ohms")
    except FormError:
        try:
            shown = read_value(text)
        except EntryError as e:
            raise FormError("ohms", e.sentence) from None
        if isinstance(shown, Shown):
            return shown.ohms
        raise FormError("ohms", OPEN) from None


def _whole(text: str, field: str) -> int:
    value = _number(text, field)
    if not value.is_integer():
        raise FormError(field, f"{text.strip()[:20]} is no whole number: type {_CALLED[field]}.")
    return int(value)


def _number(text: str, field: str) -> float:
    try:
        value = float(text.strip().replace(",", "."))
    except ValueError:
        value = float("nan")
    if not abs(value) < 1e9:
        raise FormError(field, f"{text.strip()[:20]!r} is no number: type {_CALLED[field]}.")
    return value


def _refused(field: str, said: str) -> FormError:
    if field.startswith("give_"):  # the record's own sentence speaks of half of it
        return FormError(field, f"That can't be how far it may be off: type {_CALLED[field]}.")
    what = _CALLED.get(field, field).partition(",")[0]
    return FormError(field, sentence(f"{what} {said}" if said.startswith("must ") else said))


def _teeth(found: AsFound, sense: int) -> str:
    """Three or more that follow each other as a span."""
    runs: list[list[int]] = []
    for tooth in (t for t, s in found.senses if s == sense):
        if runs and runs[-1][-1] == tooth - 1:
            runs[-1].append(tooth)
        else:
            runs.append([tooth])
    return " ".join(f"{r[0]}-{r[-1]}" if len(r) > 2 else " ".join(map(str, r)) for r in runs)


def _name(gauge: Gauge | None) -> str:
    return "" if gauge is None else gauge.name


def _text(value: float | None) -> str:
    return "" if value is None else f"{value:.12g}"


def _half(value: float | None) -> float | None:
    return None if value is None else value / 2


def _twice(value: float | None) -> float | None:
    return None if value is None else value * 2


# ---- what is looked for


def _sides(r: StripRecord) -> bool:
    return r.mean_turn_mm is not None or r.geometry_mm is not None


LOOKED_FOR: Mapping[str, Callable[[AsFound], bool]] = {
    "photos": lambda f: bool(f.photos),
    "the start lead": lambda f: bool(f.start),
    "the finish lead": lambda f: bool(f.finish),
    "the senses": lambda f: bool(f.senses),
    "the crossovers": lambda f: bool(f.crossovers),
    "the liner": lambda f: bool(f.liner),
    "the ohms": lambda f: f.record.ohms is not None,
    "turns": lambda f: bool(f.record.turns),
    "strands": lambda f: f.record.strands is not None,
    "the wire, bare": lambda f: bool(f.record.bare_mm),
    "the wire, over enamel": lambda f: bool(f.record.overall_mm),
    "the mean turn": lambda f: _sides(f.record),
    "the copper's mass": lambda f: f.record.grams is not None,
}
# of these the first can't be had any more once the wire is off
BEFORE_THE_KNIFE = 7


def noted(found: AsFound | None) -> tuple[Sequence[str], Sequence[str]]:
    """What is noted of all that can be, and what isn't yet: by `LOOKED_FOR`."""
    have = [name for name, has in LOOKED_FOR.items() if found is not None and has(found)]
    return have, [name for name in LOOKED_FOR if name not in have]
