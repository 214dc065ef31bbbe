"""The published example of a sheet, and a way to ask `judge` about lines."""

import copy
import io
import json
from collections.abc import Iterable
from typing import Any

from workbench.exchange.lines import judge_lines
from workbench.stator.pattern import Pattern

Json = dict[str, Any]

EXAMPLE: Json = {
    "id": "sheet-1",
    "pattern": {
        "name": "two coils on a common pin",
        "reference_celsius": 20,
        "conductor": "copper",
        "connectors": [{"name": "P", "cavities": [{"pin": pin} for pin in "12345"]}],
        "windings": [
            {"name": "fine", "kind": "ignition", "from": "P.1", "to": "P.3", "ohms": 245.0, "tolerance_percent": 10},
            {"name": "coarse", "kind": "ignition", "from": "P.3", "to": "P.2", "ohms": 31.0, "tolerance_percent": 10},
        ],
        "links": [{"name": "loop", "from": "P.4", "to": "P.5", "limit_ohms": 0.5}],
    },
    "meter": {
        "ranges": [
            {"upto_ohms": 200, "resolution_ohms": 0.1, "percent": 0.8, "digits": 3},
            {"upto_ohms": 2000, "resolution_ohms": 1, "percent": 0.8, "digits": 3},
            {"upto_ohms": 2e7, "resolution_ohms": 1e4, "percent": 1.0, "digits": 3},
        ],
        "open_above_ohms": 2e7,
        "lead_ohms": 0.2,
        "lead_uncertainty_ohms": 0.05,
    },
    "celsius": 22.0,
    "celsius_uncertainty": 2.0,
    "checks": [["P.1", "P.3"], ["P.1", "core"]],
    "readings": [{"from": "P.1", "to": "P.3", "ohms": 247}, {"from": "P.1", "to": "core", "open": True}],
}


def sheet(**changes: Any) -> Json:
    """The example with some of its fields replaced; None takes one away."""
    out = copy.deepcopy(EXAMPLE) | copy.deepcopy(changes)
    return {k: v for k, v in out.items() if v is not None}


def read(*pairs: tuple[str, str, float | None], **changes: Any) -> Json:
    """The example with these readings (None: open) and no plan of its own."""
    readings = [
        {"from": a, "to": b, "open": True} if ohms is None else {"from": a, "to": b, "ohms": ohms}
        for a, b, ohms in pairs
    ]
    return sheet(**{"readings": readings, "checks": None} | changes)


def nobody(_: str) -> Pattern | None:
    """A library without a pattern in it."""
    return None


def ask_lines(lines: Iterable[bytes]) -> tuple[list[Json], bool]:
    """The answers to raw lines, and whether none was refused."""
    out = io.StringIO()
    well = judge_lines(io.BytesIO(b"\n".join(lines)), out, nobody)
    return [json.loads(line) for line in out.getvalue().splitlines()], well


def ask(*sheets: Json) -> list[Json]:
    answers, _ = ask_lines(json.dumps(s).encode() for s in sheets)
    return answers


def ask_one(s: Json) -> Json:
    (answer,) = ask(s)
    assert "error" not in answer, answer["error"]
    return answer
