"""The card: the printed tag that travels with the part; and the tag that is tied on when it comes in."""

from workbench.cards.cautions import shipped_cautions
from workbench.cards.content import card_content
from workbench.cards.facts import CardFacts
from workbench.cards.intake import IntakeFacts, intake_content
from workbench.records import CardSize


def make_card(facts: CardFacts, size: CardSize = CardSize.STAND) -> bytes:
    """The card as a PDF, its pages of the given size: the same bytes for the same facts."""
    from workbench.cards.paper import card_pdf  # reportlab loads only when a card is made

    return card_pdf(card_content(facts, shipped_cautions()), size)


def make_intake(facts: IntakeFacts, size: CardSize = CardSize.STAND) -> bytes:
    """The intake tag as a PDF: the same bytes for the same facts."""
    from workbench.cards.paper import intake_pdf

    return intake_pdf(intake_content(facts), size)
