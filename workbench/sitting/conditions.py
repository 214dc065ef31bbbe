"""How warm the part is, on which meter, with which leads: typed text into a sheet's head, or a sentence."""

from dataclasses import dataclass, replace

from workbench.records import USUAL_CELSIUS_UNCERTAINTY, NamedMeter, SheetHead, TemperatureSource
from workbench.stator.entry import EntryError, LoneOne, Shown, read_value
from workbench.stator.errors import FieldError
from workbench.stator.meter import Meter
from workbench.stator.sheet import COLDEST, HOTTEST, Conditions

LEADS_WHAT = "what the meter shows with its leads shorted"
IRON_WHAT = "what the meter shows between two bare spots of the iron"


@dataclass(frozen=True, slots=True)
class Form:
    """What stands in the fields. Temperatures in degrees Celsius, or Fahrenheit where `fahrenheit`."""

    celsius: str
    uncertainty: str
    source: TemperatureSource
    meter: NamedMeter
    zeroed: bool
    leads: str
    iron: str
    fahrenheit: bool = False


class FormError(ValueError):
    """`field` is the Form's field that can't be used."""

    def __init__(self, field: str, sentence: str) -> None:
        super().__init__(sentence)
        self.field = field
        self.sentence = sentence


def form_of(head: SheetHead) -> Form:
    c = head.conditions
    return Form(
        celsius=f"{c.celsius:g}",
        uncertainty=f"{c.celsius_uncertainty:g}",
        source=head.source,
        meter=NamedMeter(head.meter_id, head.meter_name, head.meter),
        zeroed=head.meter_zeroed,
        leads="" if head.meter_zeroed else f"{c.lead_ohms:g}",
        iron="" if head.iron_ohms is None else f"{head.iron_ohms:g}",
    )


def usual_uncertainty(source: TemperatureSource, *, fahrenheit: bool = False) -> str:
    """The u that goes with a source, in the unit of the field."""
    return f"{USUAL_CELSIUS_UNCERTAINTY[source] * (1.8 if fahrenheit else 1):g}"


def other_unit(text: str, *, to_fahrenheit: bool, difference: bool = False) -> str:
    """A temperature (or a difference of two) typed in one unit, in the other; text that is no number stays."""
    try:
        value = float(text.strip().replace(",", "."))
    except ValueError:
        return text
    zero = 0.0 if difference else 32.0
    return f"{value * 1.8 + zero if to_fahrenheit else (value - zero) / 1.8:.4g}"


def lead_uncertainty(meter: Meter) -> float:
    """What is left (ohm) after taking the leads off: the lowest range's digit step, rectangular (JCGM 100, 4.3.7)."""
    return meter.ranges[0].resolution_ohms / 3**0.5


def head_with_leads(text: str, before: SheetHead) -> SheetHead:
    """The leads as just shorted and read. Raises FormError."""
    ohms = _ohms(text, "leads", LEADS_WHAT)
    conditions = replace(before.conditions, lead_ohms=ohms, lead_uncertainty_ohms=lead_uncertainty(before.meter))
    return replace(before, conditions=conditions, meter_zeroed=False, leads_assumed=False)


def head_with_iron(text: str, before: SheetHead) -> SheetHead:
    """The iron as just read between two bare spots. Raises FormError."""
    return replace(before, iron_ohms=_ohms(text, "iron", IRON_WHAT))


def head_from(form: Form, before: SheetHead) -> SheetHead:
    """The sheet's head as the fields say. Raises FormError with the sentence to show.

    What stands in the fields is taken as seen to, but for leads that were left as they were assumed.
    """
    celsius = _number(form.celsius, "celsius", "how warm the part is, in degrees")
    u = _number(form.uncertainty, "uncertainty", "how well that is known, in degrees")
    if form.fahrenheit:
        celsius, u = (celsius - 32) / 1.8, u / 1.8
    if not COLDEST <= celsius <= HOTTEST:
        unit, low, high = (
            ("°F", COLDEST * 1.8 + 32, HOTTEST * 1.8 + 32) if form.fahrenheit else ("°C", COLDEST, HOTTEST)
        )
        raise FormError("celsius", f"A part at {form.celsius.strip()} {unit} can't be: {low:g} to {high:g} {unit}.")
    leads = 0.0 if form.zeroed else _ohms(form.leads, "leads", LEADS_WHAT)
    iron = _ohms(form.iron, "iron", IRON_WHAT) if form.iron.strip() else None
    lead_u = lead_uncertainty(form.meter.meter)
    was = form_of(before)
    same_meter = (form.meter.id, form.meter.meter) == (before.meter_id, before.meter)
    as_they_were = same_meter and (form.zeroed, form.leads) == (was.zeroed, was.leads)
    if as_they_were:
        leads, lead_u = before.conditions.lead_ohms, before.conditions.lead_uncertainty_ohms  # left as they were
    try:
        conditions = Conditions(celsius, u, leads, lead_u)
    except FieldError:
        raise FormError("uncertainty", "How well the temperature is known must be a number from 0 up.") from None
    return replace(
        before,
        conditions=conditions,
        source=form.source,
        meter_id=form.meter.id,
        meter_name=form.meter.name,
        meter=form.meter.meter,
        meter_zeroed=form.zeroed,
        iron_ohms=iron,
        celsius_assumed=False,
        leads_assumed=before.leads_assumed and as_they_were,
    )


def _number(text: str, field: str, what: str) -> float:
    try:
        return float(text.strip().replace(",", ".").replace("−", "-"))
    except ValueError:
        raise FormError(field, f"Type {what}: a number such as 21.5.") from None


def _ohms(text: str, field: str, what: str) -> float:
    try:
        value = read_value(text)
    except EntryError as e:
        raise FormError(field, f"Type {what}. {e.sentence}") from None
    if isinstance(value, LoneOne):  # here it can only be one ohm
        value = Shown(1.0, 1.0, value.text)
    if not isinstance(value, Shown):
        raise FormError(field, f"Type {what}: an overload there means no contact.")
    if field == "leads" and not 0 <= value.ohms <= 5:
        raise FormError(field, f"Leads of {value.ohms:g} ohm can't be: short them again, they show under 5 ohm.")
    if field == "iron" and value.ohms < -1:
        raise FormError(field, f"{value.ohms:g} ohm is below nothing: zero the meter and read the iron again.")
    if field == "iron" and value.ohms > 5:
        raise FormError(
            field, f"{value.ohms:g} ohm between two bare spots is no contact yet: scrape them and read again."
        )
    return value.ohms
