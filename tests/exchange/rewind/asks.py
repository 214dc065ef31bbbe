"""A way to ask `plugface rewind`, and the worked examples that are kept as files."""

import json
from importlib.resources import files
from typing import Any

from jsonschema import Draft202012Validator

from tests.exchange.example import Json
from tests.exchange.test_schemas import schema
from workbench.exchange.rewind import ASKS, rewind_line

QUESTION = {name: Draft202012Validator(schema(f"rewind-{name}")) for name in ASKS}
ANSWER = {name: Draft202012Validator(schema(f"rewind-{name}-answer")) for name in ASKS}


def answer(ask: Any) -> Json:
    """What the line of this ask is answered, once through JSON."""
    told, well = rewind_line(json.dumps(ask).encode())
    assert well == ("error" not in told)
    out: Json = json.loads(json.dumps(told, allow_nan=False))
    return out


def example(name: str) -> Json:
    """`ask` and `answer` of a worked example."""
    file = files("tests.exchange.rewind").joinpath(f"{name}.json")
    out: Json = json.loads(file.read_text(encoding="utf-8"))
    return out
