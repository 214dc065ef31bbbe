"""What can be put on paper from the bench."""

from enum import StrEnum

from workbench.records import Whose


class Kind(StrEnum):
    CUSTOMER = "Customer's copy"
    SHOP = "Shop's copy"
    INTAKE = "Intake tag"

    @property
    def whose(self) -> Whose:
        return Whose.SHOP if self is Kind.SHOP else Whose.CUSTOMER
