"""Pattern files: read with every place that can't be used, written so that they come back the same.

A file is one pattern (`.json`, by the published Schema `pattern-1.json`) or one on each line (`.jsonl`, as
`plugface which` takes them); a folder, its files in order: `name.1.json` before `name.2.json`, oldest revision first.
"""

import errno
import json
import os
import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from workbench.exchange.fieldlines import line_of
from workbench.exchange.lines import LONGEST_LINE, bounded_lines, object_in, sentence_of
from workbench.exchange.patterns import SCHEMA, pattern_from_json, pattern_to_json
from workbench.stator.errors import FieldError
from workbench.stator.pattern import Pattern

MOST_PATTERNS = 1000
LINES = ".jsonl"


@dataclass(frozen=True, slots=True)
class Place:
    """Where something stands. `line` from 1; None: the file as a whole."""

    file: Path
    line: int | None = None

    def __str__(self) -> str:
        return str(self.file) if self.line is None else f"{self.file}, line {self.line}"


@dataclass(frozen=True, slots=True)
class Found:
    """A pattern, with the place it was read from."""

    place: Place
    pattern: Pattern


@dataclass(frozen=True, slots=True)
class Bad:
    """What can't be used there, and why: a sentence that begins with the field."""

    place: Place
    sentence: str

    def __str__(self) -> str:
        return f"{self.place}: {self.sentence}"


class WriteError(Exception):
    """Nothing was written. `sentence` says why, and what to do next."""

    def __init__(self, sentence: str) -> None:
        super().__init__(sentence)
        self.sentence = sentence


# ---- read


def read_patterns(paths: Iterable[Path]) -> tuple[tuple[Found, ...], tuple[Bad, ...]]:
    """All that files and folders hold, in order, and all that can't be used of them. Raises nothing."""
    found: list[Found] = []
    bad: list[Bad] = []
    for path in paths:
        for one in _of_path(path):
            if isinstance(one, Bad):
                bad.append(one)
            elif len(found) < MOST_PATTERNS:
                found.append(one)
            else:
                return tuple(found), (*bad, Bad(one.place, f"More than {MOST_PATTERNS:,} patterns at once."))
    return tuple(found), tuple(bad)


def _of_path(path: Path) -> Iterator[Found | Bad]:
    try:
        if path.is_dir():
            files = sorted((f for f in path.iterdir() if f.suffix in (".json", LINES)), key=_file_order)
            if not files:
                yield Bad(Place(path), "It holds no pattern file (.json or .jsonl).")
            for file in files:
                yield from _of_file(file)
        else:
            yield from _of_file(path)
    except OSError as e:
        yield _unreadable(path, e)


def _of_file(file: Path) -> Iterator[Found | Bad]:
    try:
        if file.suffix == LINES:
            yield from _of_lines(file)
        else:
            with file.open("rb") as source:
                body = source.read(LONGEST_LINE + 1)
            yield _pattern(file, body if len(body) <= LONGEST_LINE else None)
    except OSError as e:
        yield _unreadable(file, e)


def _of_lines(file: Path) -> Iterator[Found | Bad]:
    none = True
    with file.open("rb") as source:
        for number, line in enumerate(bounded_lines(source), 1):
            if line is None or line.strip():
                none = False
                yield _pattern(file, line, number)
    if none:
        yield Bad(Place(file), "It holds no pattern.")


def _pattern(file: Path, body: bytes | None, line: int | None = None) -> Found | Bad:
    """`line`: the one it is, in a file of lines; otherwise the field's own is found."""
    if body is None:
        return Bad(Place(file, line), f"It is longer than {LONGEST_LINE} bytes (1 MiB).")
    body = body.removeprefix(b"\xef\xbb\xbf")  # some editors begin a file with a mark of its bytes' order
    try:
        value = object_in(body)
        _refuse_halves(value)
        pattern = pattern_from_json(value)
        if not pattern.name.strip() or not pattern.name.isprintable():
            raise FieldError("name", "a pattern needs a name of characters that can be read")
    except FieldError as e:
        if line is None and e.field:
            line = line_of(body.decode("utf-8"), e.field)
        return Bad(Place(file, line), sentence_of(e))
    return Found(Place(file, line), pattern)


def _refuse_halves(value: Any, path: str = "") -> None:
    """JSON can write half a character (a lone surrogate), which no file and no store can keep."""
    if isinstance(value, dict):
        for key, inner in value.items():
            _refuse_halves(key, path)
            _refuse_halves(inner, f"{path}.{key}" if path else key)
    elif isinstance(value, list):
        for i, inner in enumerate(value):
            _refuse_halves(inner, f"{path}[{i}]")
    elif isinstance(value, str) and any("\ud800" <= c <= "\udfff" for c in value):
        raise FieldError(path, "holds half a character")


def _unreadable(path: Path, e: OSError) -> Bad:
    return Bad(Place(path), f"It can't be read ({e.strerror or e}).")


def _file_order(file: Path) -> tuple[str, int, str]:
    name, _, number = file.stem.partition(".")
    return name, int(number) if number.isdecimal() else 0, file.name


# ---- written


def to_text(pattern: Pattern) -> str:
    """A file of its own."""
    return json.dumps({"$schema": SCHEMA, **pattern_to_json(pattern)}, indent=1, ensure_ascii=False) + "\n"


def to_line(pattern: Pattern) -> str:
    """One line of a file of lines. ASCII alone, so that it can go to any terminal."""
    return json.dumps({"$schema": SCHEMA, **pattern_to_json(pattern)}, allow_nan=False) + "\n"


def write_patterns(patterns: Sequence[Pattern], to: Path, *, replace: bool = False) -> tuple[Path, ...]:
    """A file of lines where `to` ends so, one file where it ends with .json, otherwise a folder with a file for each.

    None of them where one can't be written. What stands there and says something else is only written over where
    `replace` says so. Raises WriteError.
    """
    if to.suffix == LINES:
        texts = {to: "".join(map(to_line, patterns))}
    elif to.suffix == ".json":
        if len(patterns) != 1:
            raise WriteError(
                f"{to} would be one pattern's file, and these are {len(patterns)}. Nothing was written. "
                "Name a folder, or a file that ends with .jsonl."
            )
        texts = {to: to_text(patterns[0])}
    else:
        names = file_names([p.name for p in patterns])
        texts = {to / name: to_text(p) for name, p in zip(names, patterns, strict=True)}
    try:
        if not replace:
            _refuse_others(texts)
        _write_all(texts)
    except OSError as e:
        raise WriteError(
            f"{e.filename or to} can't be written ({e.strerror or e}). Nothing was exported. "
            "Choose another place, or see to that one, and try again."
        ) from None
    return tuple(texts)


def file_names(names: Sequence[str]) -> tuple[str, ...]:
    """A file's name for each pattern's: its letters and digits, and a number where two would be alike."""
    out: list[str] = []
    for name in names:
        plain = re.sub(r"[^\w]+", "-", name.casefold()).strip("-_")[:80] or "pattern"
        n, file = 1, f"{plain}.json"
        while file in out:
            n += 1
            file = f"{plain}-{n}.json"
        out.append(file)
    return tuple(out)


def _refuse_others(texts: dict[Path, str]) -> None:
    there = [f for f, text in texts.items() if os.path.lexists(f) and _other(f, text)]
    if there:
        more = f" and {len(there) - 1} more" if len(there) > 1 else ""
        raise WriteError(
            f"{there[0]}{more} is there already and says something else. Nothing was written. "
            "Choose another place, or say --replace to write over it."
        )


def _other(file: Path, text: str) -> bool:
    try:
        return file.read_bytes() != text.encode("utf-8")
    except OSError:
        return True


def _write_all(texts: dict[Path, str]) -> None:
    """Beside their places first, and moved there when all of them are written."""
    written: list[tuple[Path, Path]] = []
    for file in texts:
        if file.is_dir():
            raise IsADirectoryError(errno.EISDIR, os.strerror(errno.EISDIR), str(file))
    try:
        for file, text in texts.items():
            file.parent.mkdir(parents=True, exist_ok=True)
            beside = file.with_name(f".{file.name}.new")
            written.append((beside, file))
            beside.write_bytes(text.encode("utf-8"))
        for beside, file in written:
            beside.replace(file)
    finally:
        for beside, _ in written:
            beside.unlink(missing_ok=True)
