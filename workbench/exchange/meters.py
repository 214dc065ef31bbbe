"""A meter as JSON, read and written: its ranges and what it shows as an overload."""

from typing import Any

from workbench.exchange.fields import Fields
from workbench.stator.meter import Meter, Range


def ranges_from_json(f: Fields) -> tuple[Range, ...]:
    return tuple(_range(v, at) for v, at in f.items("ranges"))


def _range(value: Any, path: str) -> Range:
    f = Fields(value, path, "a range")
    out = Range(f.number("upto_ohms"), f.number("resolution_ohms"), f.number("percent"), f.number("digits"))
    f.done()
    return out


def meter_from_json(value: Any, path: str = "meter") -> Meter:
    """The meter alone, without the leads of a sheet."""
    f = Fields(value, path, "a meter")
    ranges = ranges_from_json(f)
    meter = Meter(ranges, f.number("open_above_ohms"))
    f.done()
    return meter


def meter_to_json(meter: Meter) -> dict[str, Any]:
    return {
        "ranges": [
            {
                "upto_ohms": r.upto_ohms,
                "resolution_ohms": r.resolution_ohms,
                "percent": r.percent,
                "digits": r.digits,
            }
            for r in meter.ranges
        ],
        "open_above_ohms": meter.open_above_ohms,
    }
