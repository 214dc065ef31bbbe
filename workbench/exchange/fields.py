"""Reads JSON objects field by field, naming the field of whatever can't be used."""

import json
import math
from collections.abc import Callable, Iterator
from enum import StrEnum
from typing import Any, TypeVar

from workbench.stator.errors import FieldError

DEEPEST = 32
# far beyond any ohms or degrees; below it no sum or square of a sheet can overflow
LARGEST = 1e18

T = TypeVar("T")
E = TypeVar("E", bound=StrEnum)


def parse(text: str) -> Any:
    """JSON text to Python values. Raises FieldError for what JSON readers commonly let through.

    A number that isn't finite is let through here, so that its field can be named where it is taken.
    """
    try:
        value = json.loads(text, parse_int=_whole, object_pairs_hook=_no_twins)
    except RecursionError:
        raise FieldError("", f"nested deeper than {DEEPEST}") from None
    except FieldError:
        raise
    except ValueError as e:
        raise FieldError("", f"not JSON ({e})") from None
    if _depth(value) > DEEPEST:
        raise FieldError("", f"nested deeper than {DEEPEST}")
    return value


def _whole(digits: str) -> float:
    """Python refuses to read very long integers; as an infinite one it meets `as_number` like 1e999."""
    return int(digits) if len(digits) < 400 else math.inf


def _no_twins(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    out = dict(pairs)
    if len(out) < len(pairs):
        seen: set[str] = set()
        for key, _ in pairs:
            if key in seen:
                raise FieldError(key, "stands twice in one object")
            seen.add(key)
    return out


def _depth(value: Any) -> int:
    deepest, level = 0, [value]
    while level and deepest <= DEEPEST:
        inner = [x for v in level if isinstance(v, dict) for x in v.values()]
        inner += [x for v in level if isinstance(v, list) for x in v]
        deepest += any(isinstance(v, (dict, list)) for v in level)
        level = inner
    return deepest


class Fields:
    """One JSON object. Every field is taken by name; `done` refuses what was not asked for."""

    def __init__(self, value: Any, path: str, what: str) -> None:
        if not isinstance(value, dict):
            raise FieldError(path, f"{what} must be an object, not {_kind(value)}")
        self._rest: dict[str, Any] = dict(value)
        self.path = path

    def place(self, name: str) -> str:
        return f"{self.path}.{name}" if self.path else name

    def has(self, name: str) -> bool:
        return name in self._rest

    def take(self, name: str) -> Any:
        if name not in self._rest:
            raise FieldError(self.place(name), "is missing")
        return self._rest.pop(name)

    def text(self, name: str) -> str:
        value = self.take(name)
        if not isinstance(value, str):
            raise FieldError(self.place(name), f"must be text, not {_kind(value)}")
        return value

    def number(self, name: str) -> float:
        return as_number(self.take(name), self.place(name))

    def optional_number(self, name: str) -> float | None:
        return self.number(name) if name in self._rest else None

    def flag(self, name: str) -> bool:
        value = self.take(name)
        if not isinstance(value, bool):
            raise FieldError(self.place(name), f"must be true or false, not {_kind(value)}")
        return value

    def code(self, name: str, codes: type[E], what: str) -> E:
        value = self.take(name)
        if not isinstance(value, str) or value not in set(codes):
            known = ", ".join(codes)
            raise FieldError(self.place(name), f"{_shown(value)} is no {what}; known are {known}")
        return codes(value)

    def optional_code(self, name: str, codes: type[E], what: str, absent: E) -> E | None:
        """A code, or null; `absent` where the field isn't there."""
        if name not in self._rest:
            return absent
        if self._rest[name] is None:
            return self._rest.pop(name)  # type: ignore[no-any-return]  # just seen to be None
        return self.code(name, codes, what)

    def items(self, name: str) -> Iterator[tuple[Any, str]]:
        """Each element of a list, with its place."""
        value = self.take(name)
        if not isinstance(value, list):
            raise FieldError(self.place(name), f"must be a list, not {_kind(value)}")
        return ((v, f"{self.place(name)}[{i}]") for i, v in enumerate(value))

    def done(self) -> None:
        for name in self._rest:
            raise FieldError(self.place(name), "is not a field that stands here")


def as_number(value: Any, place: str) -> float:
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        raise FieldError(place, f"must be a number, not {_kind(value)}")
    # compared before it becomes a float: a whole number may be too large to be one
    if not abs(value) <= LARGEST:
        raise FieldError(place, f"must be a finite number, at most {LARGEST:g} either way")
    return float(value)


def under(place: str, make: Callable[[], T]) -> T:
    """Builds a record; what it refuses is named from the file's top."""
    try:
        return make()
    except FieldError as e:
        raise (e.within(place) if place else e) from None


def _kind(value: Any) -> str:
    names = {dict: "an object", list: "a list", str: "text", bool: "true or false", type(None): "null"}
    return names.get(type(value), "a number")


def _shown(value: Any) -> str:
    text = json.dumps(value)
    return text if len(text) <= 40 else text[:37] + "..."
