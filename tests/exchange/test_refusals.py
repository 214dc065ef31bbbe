"""Everything a line is refused for, one case each: the field is named, the id comes back, the run goes on."""

import copy
import json
from typing import Any

import pytest

from tests.exchange.example import EXAMPLE, Json, ask_lines, sheet

REMOVE = object()


def changed(path: str, value: Any) -> Json:
    """The example with `value` at `path`, as in `pattern.windings.0.ohms`."""
    out = copy.deepcopy(EXAMPLE)
    *way, last = [int(k) if k.isdigit() else k for k in path.split(".")]
    at: Any = out
    for k in way:
        at = at[k]
    if value is REMOVE:
        del at[last]
    elif isinstance(at, list) and last == len(at):
        at.append(value)
    else:
        at[last] = value
    return out


def _winding(**k: Any) -> Json:
    return {"name": "extra", "from": "P.4", "to": "core", "ohms": 1, "tolerance_percent": 10} | k


def _many(n: int, **k: Any) -> list[Json]:
    return [{"name": f"w{i}", "from": "P.1", "to": "P.2"} | k for i in range(n)]


def _pins(n: int) -> list[Json]:
    return [{"name": "P", "cavities": [{"pin": str(i)} for i in range(1, n + 1)]}]


def _inner(node: str = "middle") -> Json:
    """A sheet whose pattern has an inner point, read there."""
    out = changed("pattern.windings", [_winding(to=node), _winding(name="other", **{"from": node, "to": "P.1"})])
    out["checks"] = []
    out["readings"] = [{"from": "P.1", "to": node, "ohms": 1}]
    return out


# (the sheet, the field its refusal must begin with, a word of the sentence)
REFUSED: dict[str, tuple[Json, str, str]] = {
    # unknown key, wherever objects stand
    "unknown key": (changed("colour", 1), "colour", "not a field"),
    "unknown key of a pattern": (changed("pattern.maker", "x"), "pattern.maker", "not a field"),
    "unknown key of a connector": (
        changed("pattern.connectors.0.sex", "f"),
        "pattern.connectors[0].sex",
        "not a field",
    ),
    "unknown key of a cavity": (
        changed("pattern.connectors.0.cavities.2.z", 1),
        "pattern.connectors[0].cavities[2].z",
        "not a field",
    ),
    "unknown key of a winding": (changed("pattern.windings.1.turns", 3), "pattern.windings[1].turns", "not a field"),
    "unknown key of a link": (changed("pattern.links.0.ohms", 3), "pattern.links[0].ohms", "not a field"),
    "unknown key of a meter": (changed("meter.brand", "x"), "meter.brand", "not a field"),
    "unknown key of a range": (changed("meter.ranges.1.name", "x"), "meter.ranges[1].name", "not a field"),
    "unknown key of a reading": (changed("readings.0.note", "x"), "readings[0].note", "not a field"),
    # a number that is none
    "NaN": (changed("readings.0.ohms", float("nan")), "readings[0].ohms", "finite"),
    "Infinity": (changed("celsius", float("inf")), "celsius", "finite"),
    "-Infinity": (changed("pattern.windings.0.ohms", float("-inf")), "pattern.windings[0].ohms", "finite"),
    "a huge whole number": (changed("meter.lead_ohms", 10**400), "meter.lead_ohms", "finite"),
    "true for a number": (changed("celsius", True), "celsius", "must be a number"),
    "text for a number": (changed("readings.0.ohms", "247"), "readings[0].ohms", "must be a number"),
    "null for a number": (changed("readings.0.ohms", None), "readings[0].ohms", "must be a number"),
    # windings and links
    "winding of 0 ohm": (changed("pattern.windings.0.ohms", 0), "pattern.windings[0].ohms", "above 0"),
    "winding below 0 ohm": (changed("pattern.windings.1.ohms", -3), "pattern.windings[1].ohms", "above 0"),
    "tolerance 0": (changed("pattern.windings.0.tolerance_percent", 0), "pattern.windings[0].tolerance_percent", "100"),
    "tolerance above 100": (
        changed("pattern.windings.0.tolerance_percent", 100.1),
        "pattern.windings[0].tolerance_percent",
        "100",
    ),
    "tolerance missing": (
        changed("pattern.windings.0.tolerance_percent", REMOVE),
        "pattern.windings[0].tolerance_percent",
        "tolerance",
    ),
    "ohms missing": (changed("pattern.windings.0.ohms", REMOVE), "pattern.windings[0].ohms", "needs ohms"),
    "low is high": (
        changed("pattern.windings.0", {"name": "a", "from": "P.1", "to": "P.3", "low_ohms": 5, "high_ohms": 5}),
        "pattern.windings[0].low_ohms",
        "below high",
    ),
    "low above high": (
        changed("pattern.windings.0", {"name": "a", "from": "P.1", "to": "P.3", "low_ohms": 6, "high_ohms": 5}),
        "pattern.windings[0].low_ohms",
        "below high",
    ),
    "low of 0": (
        changed("pattern.windings.0", {"name": "a", "from": "P.1", "to": "P.3", "low_ohms": 0, "high_ohms": 5}),
        "pattern.windings[0].low_ohms",
        "above 0",
    ),
    "low alone": (
        changed("pattern.windings.0", {"name": "a", "from": "P.1", "to": "P.3", "low_ohms": 4}),
        "pattern.windings[0].high_ohms",
        "together",
    ),
    "ohms outside their limits": (
        changed(
            "pattern.windings.0", {"name": "a", "from": "P.1", "to": "P.3", "ohms": 9, "low_ohms": 4, "high_ohms": 5}
        ),
        "pattern.windings[0].ohms",
        "outside",
    ),
    "an element with ohms": (changed("pattern.windings.0.element", "diode"), "pattern.windings[0].element", "no ohms"),
    "link limit of 0": (changed("pattern.links.0.limit_ohms", 0), "pattern.links[0].limit_ohms", "above 0"),
    "both ends of a winding on one pin": (
        changed("pattern.windings.0.to", "P.1"),
        "pattern.windings[0].to",
        "both ends",
    ),
    "open limit of 0": (changed("pattern.open_limit_ohms", 0), "pattern.open_limit_ohms", "above 0"),
    "no windings and no links": (
        sheet(pattern=EXAMPLE["pattern"] | {"windings": [], "links": []}),
        "pattern.windings",
        "at least one",
    ),
    # nodes
    "winding to no pin": (changed("pattern.windings.0.to", "P.9"), "pattern.windings[0].to", "no pin 'P.9'"),
    "link from no plug": (changed("pattern.links.0.from", "Q.1"), "pattern.links[0].from", "no pin 'Q.1'"),
    "reading on no pin": (changed("readings.0.to", "P.9"), "readings[0].to", "no pin 'P.9'"),
    "check of no pin": (changed("checks.0", ["P.1", "P.9"]), "checks[0]", "no pin 'P.9'"),
    "pattern's check of no pin": (changed("pattern.checks", [["P.1", "P.9"]]), "pattern.checks[0]", "no pin 'P.9'"),
    "inner point that nothing else uses": (
        changed("pattern.windings.0.to", "middle"),
        "pattern.windings[0].to",
        "nothing else uses",
    ),
    "reading on a word that is no node": (changed("readings.0.from", "frame"), "readings[0].from", "no 'frame'"),
    "reading on an inner point": (_inner(), "readings[0].to", "inner point"),
    "check of one node": (changed("checks.0", ["P.1"]), "checks[0]", "two nodes"),
    "both leads on one pin": (changed("readings.0.to", "P.1"), "readings[0].to", "both leads"),
    # readings against the meter
    "reading too far below 0": (changed("readings.0.ohms", -0.31), "readings[0].ohms", "below 0"),
    "reading above every range": (changed("readings.0.ohms", 2.1e7), "readings[0].ohms", "above every range"),
    "reading above its named range": (
        changed("readings.0", {"from": "P.1", "to": "P.3", "ohms": 247, "range_upto_ohms": 200}),
        "readings[0].ohms",
        "without being open",
    ),
    "a range the meter hasn't": (
        changed("readings.0", {"from": "P.1", "to": "P.3", "ohms": 247, "range_upto_ohms": 600}),
        "readings[0].range_upto_ohms",
        "no range up to 600",
    ),
    "neither ohms nor open": (changed("readings.0.ohms", REMOVE), "readings[0].ohms", "missing"),
    "open: false without ohms": (changed("readings.1.open", False), "readings[1].ohms", "missing"),
    "open and ohms": (changed("readings.1.ohms", 5), "readings[1].open", "not both"),
    "open as a word": (changed("readings.1.open", "yes"), "readings[1].open", "true or false"),
    "no ranges": (changed("meter.ranges", []), "meter.ranges", "at least one range"),
    "two ranges of one top": (changed("meter.ranges.1.upto_ohms", 200), "meter.ranges", "same top"),
    "a range up to 0": (changed("meter.ranges.0.upto_ohms", 0), "meter.ranges[0].upto_ohms", "above 0"),
    "a resolution of 0": (changed("meter.ranges.0.resolution_ohms", 0), "meter.ranges[0].resolution_ohms", "above 0"),
    "a negative percent": (changed("meter.ranges.0.percent", -1), "meter.ranges[0].percent", "from 0"),
    "negative leads": (changed("meter.lead_ohms", -0.1), "meter.lead_ohms", "from 0"),
    "negative uncertainty of the leads": (
        changed("meter.lead_uncertainty_ohms", -0.1),
        "meter.lead_uncertainty_ohms",
        "from 0",
    ),
    # temperature
    "too cold": (changed("celsius", -60.1), "celsius", "-60 to 300"),
    "too hot": (changed("celsius", 300.1), "celsius", "-60 to 300"),
    "reference too hot": (changed("pattern.reference_celsius", 301), "pattern.reference_celsius", "-60 to 300"),
    "negative uncertainty of the temperature": (changed("celsius_uncertainty", -1), "celsius_uncertainty", "from 0"),
    # words that are none of the known ones
    "conductor": (changed("pattern.conductor", "silver"), "pattern.conductor", "known are copper, aluminium"),
    "kind of winding": (changed("pattern.windings.0.kind", "magic"), "pattern.windings[0].kind", "known are lighting"),
    "kind of terminal": (
        changed("pattern.connectors.0.cavities.0.kind", "pin"),
        "pattern.connectors[0].cavities[0].kind",
        "known are",
    ),
    "element": (
        changed("pattern.windings.0", {"name": "a", "from": "P.1", "to": "P.3", "element": "lamp"}),
        "pattern.windings[0].element",
        "known are diode, electronics",
    ),
    "side of the key": (changed("pattern.connectors.0.key", "front"), "pattern.connectors[0].key", "known are bottom"),
    "pattern not in the library": (changed("pattern", "unheard of"), "pattern", "'unheard of'"),
    # names
    "two windings of one name": (changed("pattern.windings.1.name", "fine"), "pattern.windings[1].name", "twice"),
    "a link named as a winding": (changed("pattern.links.0.name", "fine"), "pattern.links[0].name", "twice"),
    "two plugs of one name": (
        changed("pattern.connectors.1", {"name": "P", "cavities": [{"pin": "1"}]}),
        "pattern.connectors[1].name",
        "twice",
    ),
    "two pins of one name": (
        changed("pattern.connectors.0.cavities.1.pin", "1"),
        "pattern.connectors[0].cavities[1].pin",
        "twice",
    ),
    "a plug named core": (changed("pattern.connectors.0.name", "core"), "pattern.connectors[0].name", "core"),
    "a plug with a dot": (changed("pattern.connectors.0.name", "P.Q"), "pattern.connectors[0].name", "dot"),
    "a plug without cavities": (
        changed("pattern.connectors.0.cavities", []),
        "pattern.connectors[0].cavities",
        "one cavity",
    ),
    "one cavity placed, the rest not": (
        changed("pattern.connectors.0.cavities.0", {"pin": "1", "x": 0, "y": 0}),
        "pattern.connectors[0].cavities",
        "none",
    ),
    # too many
    "1,001 readings": (changed("readings", [{"from": "P.1", "to": "P.3", "ohms": 247}] * 1001), "readings", "1000"),
    "1,001 checks": (changed("checks", [["P.1", "P.3"]] * 1001), "checks", "1000"),
    "65 windings": (changed("pattern.windings", _many(65, ohms=1, tolerance_percent=9)), "pattern.windings", "64"),
    "65 links": (changed("pattern.links", _many(65)), "pattern.links", "64"),
    "513 cavities": (changed("pattern.connectors", _pins(513)), "pattern.connectors", "512"),
    # shape
    "no pattern": (changed("pattern", REMOVE), "pattern", "missing"),
    "no readings": (changed("readings", REMOVE), "readings", "missing"),
    "a list for a pattern": (changed("pattern", []), "pattern", "must be an object"),
    "an object for a list": (changed("readings", {}), "readings", "must be a list"),
    "a reading that is a number": (changed("readings.0", 247), "readings[0]", "must be an object"),
    "contacts as a word": (changed("contacts_proved", "no"), "contacts_proved", "true or false"),
}


@pytest.mark.parametrize("case", REFUSED)
def test_refused_with_its_field_and_id_and_the_run_goes_on(case: str) -> None:
    bad, field, word = REFUSED[case]
    lines = [json.dumps(s).encode() for s in (sheet(id="before"), bad | {"id": "bad"}, sheet(id="after"))]
    (before, refused, after), well = ask_lines(lines)
    assert not well
    assert (before["id"], before["verdict"]) == ("before", "good")
    assert set(refused) == {"id", "error"}
    assert refused["id"] == "bad"
    assert refused["error"].startswith(f"{field}: "), refused["error"]
    assert word in refused["error"]
    assert (after["id"], after["verdict"]) == ("after", "good")


def test_an_id_that_is_no_text_is_refused_by_name() -> None:
    (answer,), well = ask_lines([json.dumps(sheet(id=7)).encode()])
    assert answer["id"] is None
    assert answer["error"].startswith("id: ")
    assert not well


@pytest.mark.parametrize(
    "text", ["[1]", '"sheet"', "3", "null", "true", "{", "}", "{'id': 1}", "nothing", '{"id": "a",}']
)
def test_what_is_no_json_object_is_refused(text: str) -> None:
    (refused, after), well = ask_lines([text.encode(), json.dumps(sheet()).encode()])
    assert not well
    assert refused["id"] is None
    assert "JSON" in refused["error"]
    assert after["verdict"] == "good"


LAST_TAKEN: list[tuple[str, Any]] = [
    ("celsius", -60), ("celsius", 300), ("pattern.reference_celsius", 300), ("celsius_uncertainty", 0),
    ("pattern.windings.0.tolerance_percent", 100), ("readings.0.ohms", -0.3), ("readings.0.ohms", 0),
    ("meter.ranges.0.digits", 0), ("meter.ranges.0.percent", 0), ("pattern.connectors", _pins(512)),
    ("pattern.windings", _many(64, ohms=1, tolerance_percent=9)), ("pattern.links", _many(64)),
    ("readings", [{"from": "P.1", "to": "P.3", "ohms": 247}] * 1000), ("checks", [["P.1", "P.3"]] * 1000),
    ("readings", []), ("pattern.windings", []), ("pattern.links", []), ("pattern.connectors.0.key", None),
    ("readings.0.open", False),
]  # fmt: skip


@pytest.mark.parametrize(("path", "accepted"), LAST_TAKEN)
def test_the_last_value_before_a_refusal_is_taken(path: str, accepted: Any) -> None:
    lines = [json.dumps(changed(path, accepted)).encode()]
    (answer,), well = ask_lines(lines)
    assert well, answer
