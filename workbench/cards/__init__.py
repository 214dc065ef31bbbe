"""The card: the printed tag that travels with the part."""

from workbench.cards.cautions import shipped_cautions
from workbench.cards.content import card_content
from workbench.cards.facts import CardFacts


def make_card(facts: CardFacts) -> bytes:
    """The card as a PDF of 100 x 150 mm pages: the same bytes for the same facts."""
    from workbench.cards.paper import card_pdf  # reportlab loads only when a card is made

    return card_pdf(card_content(facts, shipped_cautions()))
