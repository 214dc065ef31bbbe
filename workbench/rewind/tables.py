"""The wire tables in resources/wire, in millimetres. Each file names its source and what of it was seen where."""

import json
from dataclasses import dataclass
from functools import cache
from typing import Any

from resources.files import read_text

MM_PER = {"mm": 1.0, "mil": 0.0254}


@dataclass(frozen=True, slots=True)
class Span:
    """Least, nominal and largest diameter, mm; None where the table has none."""

    low: float | None = None
    nominal: float | None = None
    high: float | None = None


def _file(name: str) -> tuple[float, list[dict[str, Any]]]:
    document = json.loads(read_text("wire", f"{name}.json"))
    return MM_PER[document["unit"]], document["rows"]


def _span(three: list[float | None], unit: float) -> Span:
    # to a nanometre, so that 0.1 mil is one and the same number wherever it came from
    low, nominal, high = (None if x is None else round(x * unit, 6) for x in three)
    return Span(low, nominal, high)


@cache
def bare(name: str) -> dict[float, Span]:
    """Bare diameters by AWG number (`awg`) or by nominal millimetres (`metric`)."""
    unit, rows = _file(name)
    return {_size(row): _span(row["bare"], unit) for row in rows}


@cache
def film(name: str) -> dict[float, dict[str, Span]]:
    """Diameters over the enamel, by the same sizes and then by the code of a build."""
    unit, rows = _file(f"film-{name}")
    return {
        _size(row): {key: _span(value, unit) for key, value in row.items() if isinstance(value, list)} for row in rows
    }


def _size(row: dict[str, Any]) -> float:
    return float(row["awg"] if "awg" in row else row["mm"])
