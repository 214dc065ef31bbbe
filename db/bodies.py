"""Patterns, meters and what windings should read, as the text they are kept in."""

import json
from collections.abc import Sequence
from functools import lru_cache
from hashlib import sha256
from typing import Any

from workbench.exchange.finished import predicted_from_text, predicted_to_json
from workbench.exchange.meters import meter_from_json, meter_to_json
from workbench.exchange.patterns import pattern_from_json, pattern_to_json
from workbench.stator.meter import Meter
from workbench.stator.pattern import Pattern
from workbench.stator.predicted import Predicted


def pattern_text(pattern: Pattern) -> str:
    """Canonical: equal patterns give equal text (read back first, so that 245 and 245.0 are one)."""
    return _canonical(pattern_to_json(pattern_from_json(pattern_to_json(pattern))))


@lru_cache(maxsize=256)
def pattern_of(text: str) -> Pattern:
    return pattern_from_json(json.loads(text))


def meter_text(meter: Meter) -> str:
    return _canonical(meter_to_json(meter_from_json(meter_to_json(meter))))


@lru_cache(maxsize=64)
def meter_of(text: str) -> Meter:
    return meter_from_json(json.loads(text))


def predicted_text(some: Sequence[Predicted]) -> str:
    return _canonical(predicted_to_json(some))


@lru_cache(maxsize=256)
def predicted_of(text: str) -> tuple[Predicted, ...]:
    return predicted_from_text(text)


def digest_of(text: str) -> str:
    return sha256(text.encode("utf-8")).hexdigest()


def _canonical(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False, allow_nan=False, sort_keys=True, separators=(",", ":"))
