"""Writes the reference cards anew: `python -m tests.cards.make_reference`. Look at each one before it is committed."""

from pathlib import Path

from tests.cards.test_intake import booked
from tests.cards.test_paper import CASES
from workbench.cards import make_card, make_intake
from workbench.records import CardSize

HERE = Path(__file__).parent / "reference"
SHOWN = ("good", "fail", "unfinished")


def made() -> dict[str, bytes]:
    """Each reference by its file's name, as it is made now; their dates are passed in."""
    cards = {f"{case}-{size}.pdf": make_card(CASES[case], size) for case in SHOWN for size in CardSize}
    return cards | {f"intake-{size}.pdf": make_intake(booked(), size) for size in CardSize}


if __name__ == "__main__":
    HERE.mkdir(exist_ok=True)
    for name, pdf in made().items():
        (HERE / name).write_bytes(pdf)
