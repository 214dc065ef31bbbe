"""A way to ask for a layout or a substitute, and the worked examples that are kept as files."""

import json
from importlib.resources import files
from typing import Any

from jsonschema import Draft202012Validator

from tests.exchange.example import Json
from tests.exchange.test_schemas import schema
from workbench.exchange.fields import Fields, parse
from workbench.exchange.lines import refusal
from workbench.exchange.rewind_layout import layout_answer
from workbench.exchange.rewind_substitute import substitute_answer
from workbench.stator.errors import FieldError

ASKS = {"layout": layout_answer, "substitute": substitute_answer}
QUESTION = {name: Draft202012Validator(schema(f"rewind-{name}")) for name in ASKS}
ANSWER = {name: Draft202012Validator(schema(f"rewind-{name}-answer")) for name in ASKS}


def answer(ask: Any, name: str | None = None) -> Json:
    """What the line of this ask is answered, once through JSON; `name`: of an ask that doesn't say any more."""
    line = json.dumps(ask).encode()
    try:
        f = Fields(parse(line.decode()), "", "an ask")
        said = f.text("id"), f.take("ask")
        if said[1] != (name or said[1]):
            raise FieldError("ask", "is another")
        told = {"id": said[0], **ASKS[name or said[1]](f)}
    except FieldError as e:
        told = refusal(line, e)
    out: Json = json.loads(json.dumps(told, allow_nan=False))
    return out


def example(name: str) -> Json:
    """`ask` and `answer` of a worked example."""
    file = files("tests.exchange.rewind").joinpath(f"{name}.json")
    out: Json = json.loads(file.read_text(encoding="utf-8"))
    return out
