"""Every revision of one pattern, and of no other."""

from dataclasses import replace

from db import queries
from db.store import Store
from tests.db.invented import PATTERN, PATTERN_ID, WIDER, at
from workbench.records import new_id


def test_a_patterns_revisions_oldest_first(store: Store) -> None:
    with store.writing() as s:
        further = queries.patterns.save(s, PATTERN, at(51))
        other = queries.patterns.save(s, replace(PATTERN, name="another"), at(52))
        found = queries.patterns.revisions(s, PATTERN_ID)
        assert [r.number for r in found] == [1, 2, 3]
        assert [r.pattern for r in found] == [PATTERN, WIDER, PATTERN]
        assert found[-1] == further
        assert queries.patterns.revisions(s, other.pattern_id) == (other,)
        assert queries.patterns.revisions(s, new_id()) == ()
