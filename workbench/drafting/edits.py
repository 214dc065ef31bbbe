"""What keeps an edit from being made, and how names go on."""

from collections.abc import Collection


class EditError(Exception):
    """`sentence`: why nothing was changed, for whoever draws."""

    def __init__(self, sentence: str) -> None:
        super().__init__(sentence)
        self.sentence = sentence


def free_name(word: str, taken: Collection[str]) -> str:
    """`word 1`, or with the next number that is free; a bare number for no word."""
    n = 1
    while (name := f"{word} {n}".strip()) in taken:
        n += 1
    return name


def new_name(name: str, taken: Collection[str], what: str) -> str:
    """A name as it was typed, its spaces tidied. Raises EditError where it is blank or taken."""
    tidy = " ".join(name.split())
    if not tidy:
        raise EditError(f"{what} needs a name.")
    if tidy in taken:
        raise EditError(f"{what} named {tidy} is there already: choose another name.")
    return tidy
