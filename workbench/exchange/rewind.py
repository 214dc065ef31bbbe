"""`plugface rewind`: asks about wire, coils and layouts in, answers out, one JSON line each."""

import json
from collections.abc import Callable, Mapping
from typing import Any, BinaryIO, TextIO

from workbench.exchange.fields import Fields
from workbench.exchange.lines import bounded_lines, object_in, refusal
from workbench.exchange.rewind_coil import coil_answer
from workbench.exchange.rewind_layout import layout_answer
from workbench.exchange.rewind_strip import strip_answer
from workbench.exchange.rewind_substitute import substitute_answer
from workbench.exchange.rewind_wire import wire_answer
from workbench.stator.errors import FieldError

# each takes the ask's fields but `id` and `ask`, and answers all but the id; it raises FieldError
ASKS: Mapping[str, Callable[[Fields], dict[str, Any]]] = {
    "wire": wire_answer,
    "coil": coil_answer,
    "strip": strip_answer,
    "layout": layout_answer,
    "substitute": substitute_answer,
}


def rewind_lines(source: BinaryIO, answers: TextIO) -> bool:
    """Answers every line, in order; blank lines are passed over. True if none was refused."""
    all_well = True
    for line in bounded_lines(source):
        if line is not None and not line.strip():
            continue
        answer, well = rewind_line(line)
        all_well &= well
        answers.write(json.dumps(answer, allow_nan=False) + "\n")
        answers.flush()
    return all_well


def rewind_line(line: bytes | None) -> tuple[dict[str, Any], bool]:
    """The answer to one line (None: one that was too long to read), and whether it could be answered."""
    try:
        f = Fields(object_in(line), "", "an ask")
        ask_id = f.text("id") if f.has("id") else None
        asked = f.text("ask")
        if asked not in ASKS:
            raise FieldError("ask", f"{json.dumps(asked[:40])} is nothing to ask for; known are {', '.join(ASKS)}")
        return {"id": ask_id, **ASKS[asked](f)}, True
    except FieldError as e:
        return refusal(line, e), False
