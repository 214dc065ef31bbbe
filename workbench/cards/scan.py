"""What a card's square code holds, written and read again: from a scanner, or typed by hand."""

from dataclasses import dataclass
from uuid import UUID

from workbench.cards.check import ALPHABET, DIGITS, base32

NAME, FORMAT = "PLUGFACE", "2"
SHEET_DIGITS = 26  # 128 bits, five at a time

_MISREAD = {"O": "0", "I": "1", "L": "1"}


@dataclass(frozen=True, slots=True)
class Scanned:
    """A card's tag and sheet, and the code of what it asserts."""

    tag: str
    sheet_id: UUID
    check: str


class NoCardError(ValueError):
    """The text begins as a card's and is none. `newer`: of a format that this program doesn't know yet."""

    def __init__(self, *, newer: bool = False) -> None:
        super().__init__("not a card's text")
        self.newer = newer


def card_text(tag: str, sheet_id: UUID, check: str) -> str:
    """`PLUGFACE 2`, the tag, the sheet's id and the check code in Crockford's base 32: capitals make a smaller code."""
    return f"{NAME} {FORMAT} {tag} {base32(sheet_id.int, SHEET_DIGITS)} {check}"


def read_card(text: str) -> Scanned | None:
    """None where the text is no card's, in any case of its letters. Raises NoCardError."""
    words = text.strip().split(" ")
    if words[0].upper() != NAME or len(words) < 2:
        return None
    if words[1] != FORMAT:
        raise NoCardError(newer=words[1].isdecimal() and words[1].isascii() and len(words[1]) < 4)
    if len(words) < 5:
        raise NoCardError
    sheet, check = _digits(words[-2], SHEET_DIGITS), _digits(words[-1], DIGITS)
    tag = " ".join(words[2:-2]).strip()
    number = _number(sheet)
    if not tag or number >> 128:
        raise NoCardError
    return Scanned(tag, UUID(int=number), check)


def _digits(word: str, count: int) -> str:
    """As they are written, after what is easily misread was put right; hyphens may part them."""
    plain = "".join(_MISREAD.get(c, c) for c in word.upper().replace("-", ""))
    if len(plain) != count or any(c not in ALPHABET for c in plain):
        raise NoCardError
    return plain


def _number(digits: str) -> int:
    out = 0
    for d in digits:
        out = out << 5 | ALPHABET.index(d)
    return out
