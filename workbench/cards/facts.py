"""What a card is made from: everything it says, and nothing it would have to look up."""

from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from workbench.cards.check import check_code
from workbench.cards.winding import WindingData
from workbench.records import Outcome, TemperatureSource, Whose
from workbench.stator.errors import FieldError
from workbench.stator.judge import JudgedSheet
from workbench.stator.pattern import Pair

LONGEST_TAG = 60  # characters; the square code still prints in dots a scanner can tell apart

Struck = tuple[Pair, str, str]


@dataclass(frozen=True, slots=True)
class CardFacts:
    """`judged` holds the readings that count; `struck` the others, each as pair, number as typed, reason.

    `iron_ohms`: shown between two bare spots of the iron (None: not done). `celsius_assumed`, `leads_assumed`:
    nobody measured it. `made_at` is printed in the zone it comes in. `copy` counts this sheet's copies for the same
    reader from 1; from 2 on the card says so, and when the first one left (`first_made_at`). `asserts` is what
    `cards.check` makes the check code of. `windings`, with turns and gauge where they are noted, can be on the shop's
    copy alone. `rewound`: what was wound anew within the job.

    Raises FieldError for a tag that no code could carry, a date without a zone, a copy below 1, a reprint that
    doesn't know its first, or winding data for the customer.
    """

    tag: str
    label: str
    job_number: int
    complaint: str
    pattern_name: str
    pattern_revision: int
    sheet_id: UUID
    judged: JudgedSheet
    struck: tuple[Struck, ...]
    meter_name: str
    source: TemperatureSource
    meter_zeroed: bool
    iron_ohms: float | None
    outcome: Outcome | None
    note: str
    found_to_be: str  # what the part was put down to have when it was decided on, in words; or empty
    found: str
    done: str
    made_at: datetime
    asserts: str
    whose: Whose = Whose.CUSTOMER
    copy: int = 1
    first_made_at: datetime | None = None
    windings: tuple[WindingData, ...] = ()
    celsius_assumed: bool = False
    leads_assumed: bool = False
    rewound: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        if not 0 < len(self.tag) <= LONGEST_TAG:
            raise FieldError("tag", f"a tag has 1 to {LONGEST_TAG} characters, not {len(self.tag)}")
        if self.made_at.utcoffset() is None:
            raise FieldError("made_at", "a card's date needs its time zone")
        if self.copy < 1:
            raise FieldError("copy", f"copies count from 1, not {self.copy}")
        if self.copy > 1 and (self.first_made_at is None or self.first_made_at.utcoffset() is None):
            raise FieldError("first_made_at", "a reprint needs the date of its first, with its time zone")
        if self.windings and self.whose is not Whose.SHOP:
            raise FieldError("windings", "winding data is on the shop's copy alone")

    @property
    def check(self) -> str:
        return check_code(self.asserts)
