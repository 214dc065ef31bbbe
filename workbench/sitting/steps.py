"""Two quick steps before a sheet: zero the leads, prove the iron. Typed in the same field as a reading."""

from enum import StrEnum

from workbench.records import SheetHead
from workbench.sitting.conditions import head_with_iron, head_with_leads


class Step(StrEnum):
    LEADS = "leads"
    IRON = "iron"


ASKS = {
    Step.LEADS: "Hold the two leads together and type what the meter shows. Enter alone passes this over.",
    Step.IRON: "Touch two bare spots of the iron and type what the meter shows. Enter alone passes this over.",
}
NAMES = {Step.LEADS: "leads", Step.IRON: "iron"}


def after(step: Step, head: SheetHead) -> Step | None:
    """The step that follows: the iron, where it isn't proved yet."""
    return Step.IRON if step is Step.LEADS and head.iron_ohms is None else None


def taken(step: Step, text: str, head: SheetHead) -> SheetHead:
    """The head with what was typed for this step. Raises FormError with the sentence to show."""
    return head_with_leads(text, head) if step is Step.LEADS else head_with_iron(text, head)
