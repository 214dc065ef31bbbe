"""The patterns and meters that ship with the program: generic and invented, none from a maker's data.

A pattern that ships in one revision is `name.json`; one that ships in several is `name.1.json`, `name.2.json` and on,
oldest first, all under one name.
"""

import json
from functools import cache
from importlib.resources import files
from typing import Any

from workbench.exchange.meters import meter_from_json
from workbench.exchange.patterns import pattern_from_json
from workbench.stator.meter import Meter
from workbench.stator.pattern import Pattern


def _documents(folder: str) -> list[Any]:
    found = [f for f in files("resources").joinpath(folder).iterdir() if f.name.endswith(".json")]
    return [json.loads(f.read_text(encoding="utf-8")) for f in sorted(found, key=lambda f: _place(f.name))]


def _place(file: str) -> tuple[str, int]:
    name, _, number = file.removesuffix(".json").partition(".")
    return name, int(number or 1)


@cache
def starter_revisions() -> tuple[Pattern, ...]:
    """Every revision of every pattern; those of one name are its revisions, oldest first."""
    return tuple(pattern_from_json(d) for d in _documents("patterns"))


@cache
def starter_patterns() -> tuple[Pattern, ...]:
    """The newest revision of each."""
    return tuple({p.name: p for p in starter_revisions()}.values())


@cache
def starter_meters() -> tuple[tuple[str, Meter], ...]:
    """Name and meter, the everyday one first."""
    named = [(str(d.pop("name")), meter_from_json(d)) for d in _documents("meters")]
    return tuple(sorted(named, key=lambda n: n[0] != "Counter handheld"))


def starter_pattern(name: str) -> Pattern | None:
    return next((p for p in starter_patterns() if p.name == name), None)
