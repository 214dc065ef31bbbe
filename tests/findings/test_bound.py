"""The largest part and sheet that a line may carry, as a sound part reads, so that no explanation falls out early."""

import itertools
import json
import subprocess
import sys

import pytest

from tests.exchange.example import Json
from tests.exchange.test_bound import MEASURE, worst
from workbench.exchange.patterns import pattern_from_json
from workbench.stator.expect import Expectations
from workbench.stator.pattern import Pair

# stated: under 5 s and 300 MB; loosely asserted, since machines are shared
SECONDS, MEGABYTES = 20.0, 300.0


def sound_sheet(meshed: int, readings: int) -> Json:
    line = worst(meshed)
    pattern = pattern_from_json(line["pattern"])
    ask = Expectations(pattern)
    pairs = [Pair(a, b) for a, b in itertools.combinations(pattern.pins[:meshed], 2)]
    ask.prepare(pairs)
    shown = [
        {"from": p[0], "to": p[1]} | ({"open": True} if ohms is None else {"ohms": round(ohms + 0.2, 1)})
        for p in pairs
        for ohms in (ask.of(p).ohms,)
    ]
    return line | {"readings": list(itertools.islice(itertools.cycle(shown), readings))}


@pytest.mark.parametrize(("meshed", "readings"), [(46, 1000), (46, 100), (46, 79), (46, 39), (100, 20)])
def test_a_large_sound_sheet_is_answered_within_its_bound(meshed: int, readings: int) -> None:
    text = json.dumps(sound_sheet(meshed, readings)).encode()
    done = subprocess.run([sys.executable, "-c", MEASURE], input=text, capture_output=True, check=True, timeout=60)
    seconds, megabytes, answer = json.loads(done.stdout)
    print(f"{meshed} pins, {readings} readings: {seconds:.2f} s, {megabytes:.0f} MB: {answer}")  # noqa: T201
    assert done.stderr == b""
    assert '"error"' not in answer
    assert seconds < SECONDS
    assert megabytes < MEGABYTES
