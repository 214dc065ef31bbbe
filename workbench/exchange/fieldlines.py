"""On which line of a JSON text a field stands, so that whoever wrote the file finds it."""

import re
from collections.abc import Iterator

_TOKEN = re.compile(r'"(?:[^"\\]|\\.)*"|[{}\[\]:,]|[^\s{}\[\]:,"]+')


def line_of(text: str, field: str) -> int:
    """From 1. `field` as a FieldError names it (`windings[0].ohms`); of one that is missing, where its holder begins.

    A name that stands twice in one object is found where it stands for the second time.
    """
    seen: set[str] = set()
    best, line = -1, 1
    for path, at in _fields(text):
        if path in seen and field == path[-len(field) :]:
            return at
        seen.add(path)
        holds = field == path or (field.startswith(path) and field[len(path)] in ".[")
        if (holds or not path) and len(path) > best:
            best, line = len(path), at
    return line


def _fields(text: str) -> Iterator[tuple[str, int]]:
    """Every value's path and line, in the order they stand. Takes what is no JSON as far as it goes."""
    line, at = 1, 0
    # of each object or list that is open: its path, and its next index (None: an object)
    held: list[tuple[str, int | None]] = []
    key: str | None = None
    for token in _TOKEN.finditer(text):
        line += text.count("\n", at, token.start())
        at = token.start()
        word = token.group()
        if word in "}]":
            if held:
                held.pop()
            key = None
            continue
        if word in ":,":
            continue
        inside, index = held[-1] if held else ("", None)
        if held and index is None and key is None and word.startswith('"'):
            key = word[1:-1]
            path = f"{inside}.{key}" if inside else key
            yield path, line
            continue
        if index is not None:
            path = f"{inside}[{index}]"
            held[-1] = (inside, index + 1)
            yield path, line
        elif held:
            path = f"{inside}.{key}" if inside else key or ""
            key = None
        else:
            path = ""
            yield path, line
        if word in "{[":
            held.append((path, None if word == "{" else 0))
