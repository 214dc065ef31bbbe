"""The worked examples in DEVELOPERS.md are what the program answers."""

import json
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

from tests.exchange.rewind.asks import answer
from workbench.exchange.rewind import ASKS

LINES = (Path(__file__).parents[2] / "DEVELOPERS.md").read_text(encoding="utf-8").splitlines()
EXAMPLES = [
    (json.loads(line), json.loads(told.removeprefix("-> ")))
    for line, told in pairwise(LINES)
    if line.startswith('{"id"') and told.startswith("-> ")
]


def holds(part: Any, whole: Any) -> bool:
    """Whether all that is said in the part is in the whole, numbers to four figures; of a list its beginning."""
    if isinstance(part, dict):
        return all(k in whole and holds(v, whole[k]) for k, v in part.items())
    if isinstance(part, list):
        return len(part) <= len(whole) and all(map(holds, part, whole))
    if isinstance(part, float):
        return bool(whole == pytest.approx(part, rel=1e-3))
    return bool(part == whole)


@pytest.mark.parametrize(("ask", "told"), EXAMPLES, ids=lambda x: x.get("ask", "") if isinstance(x, dict) else "")
def test_an_example_is_what_the_program_answers(ask: Any, told: Any) -> None:
    assert holds(told, answer(ask))


def test_every_ask_has_an_example() -> None:
    assert {ask["ask"] for ask, _ in EXAMPLES} == set(ASKS)
