"""The tag that is tied on when a part is booked in: whose it is and why it came, before anything is read."""

from dataclasses import dataclass, fields
from datetime import datetime

from workbench.cards.content import Line, date_words
from workbench.cards.facts import LONGEST_TAG
from workbench.records import Job, Unit
from workbench.stator.errors import FieldError


@dataclass(frozen=True, slots=True)
class IntakeFacts:
    """`booked_at` is printed in the zone it comes in.

    Raises FieldError for a tag that no code could carry, or a date without a zone.
    """

    tag: str
    label: str
    job_number: int
    complaint: str
    seen: str
    pattern_name: str
    booked_at: datetime

    def __post_init__(self) -> None:
        if not 0 < len(self.tag) <= LONGEST_TAG:
            raise FieldError("tag", f"a tag has 1 to {LONGEST_TAG} characters, not {len(self.tag)}")
        if self.booked_at.utcoffset() is None:
            raise FieldError("booked_at", "a tag's date needs its time zone")


@dataclass(frozen=True, slots=True)
class IntakeContent:
    """In the order of the tag. `seen`: whether anything was typed of that; else there are lines to write on.

    `code`: the unit's tag alone, which a scanner types where a tag is looked for.
    """

    tag: str
    label: str
    facts: tuple[Line, ...]
    lines: tuple[Line, ...]
    seen: bool
    foot: str
    code: str

    @property
    def texts(self) -> tuple[str, ...]:
        """Every text that is to be read, in order; not the square code's."""
        plain = [getattr(self, f.name) for f in fields(self) if f.name in ("tag", "label")]
        said = [t for line in (*self.facts, *self.lines) for t in line if t]
        return (*(t for t in plain if t), *said, self.foot)


def intake_facts(unit: Unit, job: Job, pattern_name: str, zone_of: datetime) -> IntakeFacts:
    """`zone_of`: any moment in the zone to print in."""
    booked = job.opened_at.astimezone(zone_of.tzinfo)
    return IntakeFacts(unit.tag, unit.label, job.number, job.complaint, job.seen, pattern_name, booked)


def intake_content(facts: IntakeFacts) -> IntakeContent:
    seen = facts.seen.strip()
    return IntakeContent(
        tag=facts.tag,
        label=facts.label.strip(),
        facts=(Line("Job:", str(facts.job_number)), Line("Booked in:", date_words(facts.booked_at))),
        lines=(
            Line("Complaint:", facts.complaint.strip() or "none said"),
            Line("Pattern:", facts.pattern_name),
            Line("Seen:", seen),
        ),
        seen=bool(seen),
        foot="Not read yet: this tag says nothing of what is right or wrong with the part.",
        code=facts.tag,
    )
