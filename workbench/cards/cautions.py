"""The cautions that travel with every card, as they stand in resources/cautions.json."""

import json
from dataclasses import dataclass
from functools import cache

from resources.files import read_text


@dataclass(frozen=True, slots=True)
class Cautions:
    """`before_fitting` in one sentence; each caution as what it is about, and what to do or know."""

    before_fitting: str
    cautions: tuple[tuple[str, str], ...]


@cache
def shipped_cautions() -> Cautions:
    value = json.loads(read_text("cautions.json"))
    return Cautions(value["before_fitting"], tuple((c["about"], c["text"]) for c in value["cautions"]))
