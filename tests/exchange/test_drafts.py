"""A draft is kept as it stands, whole or not."""

import json

import pytest
from hypothesis import given

from tests.drafting.drawn import TWO, wired
from tests.stator.strategies import patterns
from workbench.drafting import plugs, windings
from workbench.drafting.draft import Draft
from workbench.exchange.drafts import draft_from_json, draft_to_json
from workbench.stator.errors import FieldError
from workbench.stator.pattern import Pattern


def again(draft: Draft) -> Draft:
    return draft_from_json(json.loads(json.dumps(draft_to_json(draft))))


@given(patterns(elements=True, laid_out=True))
def test_what_is_a_pattern_comes_back_equal(pattern: Pattern) -> None:
    assert again(Draft.of(pattern)) == Draft.of(pattern)


def test_what_is_none_yet_comes_back_equal() -> None:
    half, _ = windings.connect(TWO, "P.1", "nowhere")
    for d in (Draft(), half, wired().checked(None), plugs.rename_pin(wired(), "P", "1", "a b")):
        assert again(d) == d


def test_what_was_never_written_is_refused() -> None:
    with pytest.raises(FieldError):
        draft_from_json({"name": "x"})
    with pytest.raises(FieldError):
        draft_from_json(draft_to_json(wired()) | {"more": 1})
