"""The worst library and line that are allowed stay within a bound of time and memory, in a process of their own."""

import itertools
import json
import subprocess
import sys

import pytest

from tests.exchange.example import Json
from tests.exchange.test_which import PART, a_pattern

# stated: 4 s and 450 MB with 300 such patterns, half of it once a shape; here with 60, and asserted loosely, since
# machines are shared
PATTERNS, SECONDS, MEGABYTES = 60, 8.0, 300.0

MEASURE = """
import io, json, sys, time
from workbench.exchange.which import patterns_from_lines, which_lines
from workbench.matching.library import Library
shelf, part = json.load(sys.stdin)
lines = [json.dumps(p).encode() for p in shelf]
out = io.StringIO()
start = time.perf_counter()
library = Library.of(patterns_from_lines(io.BytesIO(b"\\n".join(lines)), "shelf"))
which_lines(io.BytesIO(json.dumps(part).encode()), out, library)
took = time.perf_counter() - start
try:
    # the process's own high-water mark; getrusage would count its parent's from before exec
    status = open("/proc/self/status").read()
    megabytes = int(status.split("VmHWM:")[1].split()[0]) / 1024
except (OSError, IndexError):
    megabytes = 0
print(json.dumps([took, megabytes, out.getvalue()[:60]]))
"""


def wound(plugs: list[Json], k: int, ends: list[tuple[str, str]], links: list[tuple[str, str]]) -> Json:
    return a_pattern(
        f"pattern {k}",
        connectors=plugs,
        windings=[
            {"name": f"w{i}", "from": a, "to": b, "ohms": 10 + k + 7 * i, "tolerance_percent": 9}
            for i, (a, b) in enumerate(ends)
        ],
        links=[{"name": f"l{i}", "from": a, "to": b} for i, (a, b) in enumerate(links)],
    )


def bullets() -> tuple[list[Json], list[str]]:
    """Seven alike: 5,040 layings."""
    plugs = [{"name": f"P{i}", "key": None, "cavities": [{"pin": "1"}]} for i in range(7)]
    return plugs, [f"P{i}.1" for i in range(7)]


def row() -> tuple[list[Json], list[str]]:
    """32 pins, meshed by 64 windings and 64 links."""
    return [{"name": "P", "cavities": [{"pin": str(i)} for i in range(32)]}], [f"P.{i}" for i in range(32)]


@pytest.mark.parametrize("count", [0, 3, 100])
@pytest.mark.parametrize("many", ["bullets", "row"])
def test_the_worst_is_answered_within_bounds(many: str, count: int) -> None:
    plugs, pins = bullets() if many == "bullets" else row()
    chain = list(itertools.pairwise(pins))
    mesh = chain + (list(itertools.combinations(pins, 2))[::5] if many == "row" else [])
    shelf = [wound(plugs, k, mesh[:64], mesh[64:128]) for k in range(PATTERNS)]
    pairs = list(itertools.combinations([*pins, "core"], 2))[:count]
    readings = [{"from": a, "to": b, "ohms": 10.2 + i % 90} for i, (a, b) in enumerate(pairs)]
    part = PART | {"pattern": {"connectors": plugs}, "readings": readings}
    ran = subprocess.run(
        [sys.executable, "-c", MEASURE],
        input=json.dumps([shelf, part]),
        capture_output=True,
        text=True,
        timeout=120,
        check=True,
    )
    took, megabytes, answer = json.loads(ran.stdout)
    assert '"patterns"' in answer
    assert took < SECONDS
    assert megabytes < MEGABYTES
