"""A meter as its specification is typed: ranges with resolution, percent and digits; or a sentence."""

from dataclasses import dataclass

from workbench.records import NamedMeter, new_id
from workbench.sitting.conditions import FormError
from workbench.stator.entry import EntryError, LoneOne, Shown, read_value
from workbench.stator.errors import FieldError
from workbench.stator.meter import Meter, Range

COLUMNS = ("Up to", "Resolution", "± % of reading", "± digits")
LONGEST_NAME = 60


@dataclass(frozen=True, slots=True)
class RangeText:
    """One range as typed: `200`, `0.1`, `0.8`, `3`; ohms may be `2k` or `20M`."""

    upto: str = ""
    resolution: str = ""
    percent: str = ""
    digits: str = ""

    @property
    def empty(self) -> bool:
        return not any(t.strip() for t in (self.upto, self.resolution, self.percent, self.digits))


def ohms_text(ohms: float) -> str:
    """The shortest that reads back to the same: 200, 2k, 20M."""
    for unit, scale in (("M", 1e6), ("k", 1e3)):
        if ohms >= scale:
            return f"{ohms / scale:.10g}{unit}"
    return f"{ohms:.10g}"


def rows_of(meter: Meter) -> tuple[RangeText, ...]:
    return tuple(
        RangeText(ohms_text(r.upto_ohms), ohms_text(r.resolution_ohms), f"{r.percent:g}", f"{r.digits:g}")
        for r in meter.ranges
    )


def named_meter(name: str, rows: tuple[RangeText, ...], before: NamedMeter | None) -> NamedMeter:
    """What was typed, as a meter; an edited one keeps its id and version. Raises FormError: field "name" or "row N"."""
    name = name.strip()
    if not name:
        raise FormError("name", "Give the meter the name the shop calls it by.")
    if len(name) > LONGEST_NAME:
        raise FormError("name", f"A meter's name has at most {LONGEST_NAME} characters.")
    ranges = [_range(row, i) for i, row in enumerate(rows, 1) if not row.empty]
    if not ranges:
        raise FormError("row 1", "A meter needs at least one range: type its top, resolution, percent and digits.")
    try:
        meter = Meter(tuple(ranges), max(r.upto_ohms for r in ranges))
    except FieldError as e:
        raise FormError("row 1", f"{e.sentence[0].upper()}{e.sentence[1:]}.") from None
    if before is None:
        return NamedMeter(new_id(), name, meter)
    return NamedMeter(before.id, name, meter, before.version)


def _said(place: str) -> str:
    return place.replace("row", "Range")


def _range(row: RangeText, at: int) -> Range:
    place = f"row {at}"
    upto, resolution = (_ohms(text, place, what) for text, what in ((row.upto, "top"), (row.resolution, "resolution")))
    percent, digits = (_count(text, place, what) for text, what in ((row.percent, "percent"), (row.digits, "digits")))
    if resolution >= upto:
        raise FormError(place, f"Range {at}: a resolution of {row.resolution} is no finer than its top of {row.upto}.")
    return Range(upto, resolution, percent, digits)


def _ohms(text: str, place: str, what: str) -> float:
    try:
        value = read_value(text)
    except EntryError as e:
        raise FormError(place, f"{_said(place)}: its {what} in ohm. {e.sentence}") from None
    ohms = 1.0 if isinstance(value, LoneOne) else value.ohms if isinstance(value, Shown) else 0.0
    if ohms <= 0:
        raise FormError(place, f"{_said(place)}: its {what} must be above 0 ohm.")
    return ohms


def _count(text: str, place: str, what: str) -> float:
    try:
        value = float(text.strip().removesuffix("%").replace(",", "."))
    except ValueError:
        value = -1.0
    if not 0 <= value < 100:
        raise FormError(place, f"{_said(place)}: its {what} is a number from 0 to 100, as in ±(0.8 % + 3).")
    return value
