"""A layout as JSON: read back equal, refused by field, and as the Schema has it."""

import json
from importlib.resources import files
from typing import Any

import pytest
from hypothesis import given
from jsonschema import Draft202012Validator

from tests.exchange.example import EXAMPLE, Json, ask
from tests.stator.strategies import layouts
from workbench.exchange.layouts import layout_from_json, layout_to_json
from workbench.exchange.patterns import pattern_from_json, pattern_to_json
from workbench.stator.errors import FieldError
from workbench.stator.layout import Coil, Facing, Layout, Wire

PATTERN = Draft202012Validator(
    json.loads(files("resources").joinpath("schemas", "pattern-1.json").read_text(encoding="utf-8"))
)
FULL: Json = {
    "teeth": 8,
    "facing": "inward",
    "coils": [
        {"winding": "fine", "tooth": 8, "place": 7, "sense": -1, "wire": "fine"},
        {"winding": "coarse", "beside_degrees": 359.5},
        {"winding": "fine", "tooth": 1},
    ],
}


def with_layout(layout: Any) -> Json:
    return {**EXAMPLE["pattern"], "layout": layout}


def with_coil(**fields: Any) -> Json:
    return {"teeth": 8, "coils": [{"winding": "fine", "tooth": 1} | fields]}


def test_each_field_is_read() -> None:
    PATTERN.validate(with_layout(FULL))
    assert pattern_from_json(with_layout(FULL)).layout == Layout(
        8,
        Facing.INWARD,
        (
            Coil("fine", 8, 7, -1, Wire.FINE),
            Coil("coarse", beside_degrees=359.5),
            Coil("fine", 1),
        ),
    )


def test_what_was_read_is_written_as_it_stood() -> None:
    written = pattern_to_json(pattern_from_json(with_layout(FULL)))
    assert written["layout"] == FULL
    assert "layout" not in pattern_to_json(pattern_from_json(EXAMPLE["pattern"]))


@given(layouts(("fine", "coarse")))
def test_a_layout_comes_back_equal(layout: Layout) -> None:
    text = json.dumps(layout_to_json(layout))
    assert layout_from_json(json.loads(text)) == layout
    PATTERN.validate(with_layout(json.loads(text)))


def test_a_sheet_is_judged_as_without() -> None:
    (plain,) = ask(EXAMPLE)
    (drawn,) = ask(EXAMPLE | {"pattern": with_layout(FULL)})
    assert drawn == plain


# (layout, the field, a word of the sentence, whether the Schema can say it)
REFUSED: dict[str, tuple[Any, str, str, bool]] = {
    "null": (None, "layout", "an object", True),
    "a list": ([], "layout", "an object", True),
    "no teeth said": ({"coils": []}, "layout.teeth", "missing", True),
    "no coils said": ({"teeth": 3}, "layout.coils", "missing", True),
    "no teeth": ({"teeth": 0, "coils": []}, "layout.teeth", "not 0", True),
    "too many teeth": ({"teeth": 97, "coils": []}, "layout.teeth", "97", True),
    "half a tooth": ({"teeth": 2.5, "coils": []}, "layout.teeth", "whole", True),
    "a true tooth": ({"teeth": True, "coils": []}, "layout.teeth", "a number", True),
    "unknown facing": ({"teeth": 3, "facing": "up", "coils": []}, "layout.facing", "'up'", True),
    "unknown key": ({"teeth": 3, "coils": [], "poles": 4}, "layout.poles", "not a field", True),
    "unknown key of a coil": (with_coil(turns=4), "layout.coils[0].turns", "not a field", True),
    "coils no list": ({"teeth": 3, "coils": {}}, "layout.coils", "a list", True),
    "tooth 0": (with_coil(tooth=0), "layout.coils[0].tooth", "no tooth 0", True),
    "tooth beyond": (with_coil(tooth=9), "layout.coils[0].tooth", "no tooth 9", False),
    "half on a tooth": (with_coil(tooth=1.5), "layout.coils[0].tooth", "whole", True),
    "both": (with_coil(beside_degrees=3), "layout.coils[0].beside_degrees", "not both", True),
    "nowhere": ({"teeth": 8, "coils": [{"winding": "fine"}]}, "layout.coils[0].tooth", "needs", True),
    "whole turn": (
        {"teeth": 8, "coils": [{"winding": "fine", "beside_degrees": 360}]},
        "layout.coils[0].beside_degrees",
        "360",
        True,
    ),
    "beside a straight one": (
        {"teeth": 8, "facing": "straight", "coils": [{"winding": "fine", "beside_degrees": 3}]},
        "layout.coils[0].beside_degrees",
        "no ring",
        False,
    ),
    "too high a place": (with_coil(place=8), "layout.coils[0].place", "0 to 7", True),
    "a sense of 0": (with_coil(sense=0), "layout.coils[0].sense", "1 or -1", True),
    "a wire of its own": (with_coil(wire="thick"), "layout.coils[0].wire", "heavy, fine", True),
    "a winding that is none": (with_coil(winding="loop"), "layout.coils[0].winding", "'loop'", False),
    "a winding without a name": ({"teeth": 8, "coils": [{"tooth": 1}]}, "layout.coils[0].winding", "missing", True),
    "a place taken": (
        {"teeth": 8, "coils": [{"winding": "fine", "tooth": 1}, {"winding": "coarse", "tooth": 1}]},
        "layout.coils[1].place",
        "taken",
        False,
    ),
}


@pytest.mark.parametrize("case", REFUSED)
def test_a_contradiction_is_refused_by_its_field(case: str) -> None:
    layout, field, word, schema_says = REFUSED[case]
    with pytest.raises(FieldError) as refused:
        pattern_from_json(with_layout(layout))
    assert refused.value.field == field
    assert word in refused.value.sentence.replace('"', "'")
    assert PATTERN.is_valid(with_layout(layout)) is not schema_says


def test_a_line_names_the_field_from_its_top() -> None:
    (answer,) = ask(EXAMPLE | {"pattern": with_layout(with_coil(tooth=9))})
    assert "pattern.layout.coils[0].tooth" in answer["error"]
