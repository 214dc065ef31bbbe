"""Contacts worked out from the sheet, where nobody states them: an overload may be a missed touch."""

import pytest

from tests.stator.parts import COARSE_PAIR, FINE_PAIR, GROUND, LOOP, SERIES, Shown, sheet
from workbench.stator.judge import SheetVerdict, Why, judge
from workbench.stator.pattern import CORE, Pair
from workbench.stator.sheet import Proof
from workbench.stator.verdict import Verdict

WORKED_OUT = Proof()
IRON = Proof(iron=True)
ACROSS = Pair("P.1", "P.4")  # should be open


@pytest.mark.parametrize(
    ("shown", "proof", "unproved"),
    [
        (((GROUND, None),), WORKED_OUT, ("P.1", CORE)),
        (((GROUND, None),), IRON, ("P.1",)),
        (((GROUND, None), (FINE_PAIR, 245.0)), WORKED_OUT, (CORE,)),
        (((GROUND, None), (FINE_PAIR, 245.0)), IRON, ()),
        # the order in which they were read doesn't matter; a value that is outside proves contact, too
        (((GROUND, None), (SERIES, 9.0)), IRON, ()),
        # an overload proves nothing, nor does a reading of other pins
        (((GROUND, None), (FINE_PAIR, None)), IRON, ("P.1",)),
        (((GROUND, None), (COARSE_PAIR, 31.0)), IRON, ("P.1",)),
        # a number on the very pair, in either sense, proves nothing of it
        (((GROUND, None), (Pair(CORE, "P.1"), 5e6)), IRON, ("P.1",)),
        # a number to ground doesn't prove the iron: only two bare spots do
        (((GROUND, None), (FINE_PAIR, 245.0), (Pair("P.4", CORE), 5e6)), WORKED_OUT, (CORE,)),
        (((ACROSS, None), (FINE_PAIR, 245.0)), WORKED_OUT, ("P.4",)),
        (((ACROSS, None), (FINE_PAIR, 245.0), (LOOP, 0.1)), WORKED_OUT, ()),
        # stated for the whole sheet
        (((GROUND, None),), Proof(stated=True), ()),
        (((GROUND, None), (FINE_PAIR, 245.0)), Proof(stated=False, iron=True), ("P.1", CORE)),
    ],
)
def test_an_open_counts_only_with_both_contacts_proved(
    shown: tuple[Shown, ...], proof: Proof, unproved: tuple[str, ...]
) -> None:
    row = judge(sheet(*shown, proof=proof)).rows[0]
    assert row.unproved_contacts == unproved
    if unproved:
        assert (row.why, row.verdict) == (Why.CONTACT, Verdict.UNDECIDED)
        assert row.decision is not None
        assert row.decision.probability is None
    else:
        assert (row.why, row.verdict) == (Why.STAYS_OPEN, Verdict.INSIDE)


def test_an_open_not_proved_holds_the_sheet_back_until_it_is() -> None:
    plan = (FINE_PAIR, GROUND)
    assert judge(sheet((GROUND, None), (FINE_PAIR, 245.0), checks=plan, proof=WORKED_OUT)).verdict is (
        SheetVerdict.NOT_PROVED
    )
    assert judge(sheet((GROUND, None), (FINE_PAIR, 245.0), checks=plan, proof=IRON)).verdict is SheetVerdict.GOOD


def test_a_broken_winding_is_asked_for_again_and_not_for_a_proof_it_could_never_have() -> None:
    once = judge(sheet((FINE_PAIR, None), proof=WORKED_OUT))
    assert (once.rows[0].why, once.verdict) == (Why.OPENS, SheetVerdict.UNFINISHED)
    assert judge(sheet((FINE_PAIR, None), (FINE_PAIR, None), proof=WORKED_OUT)).verdict is SheetVerdict.FAIL


def test_where_contacts_are_said_to_be_missing_a_broken_winding_is_undecided() -> None:
    row = judge(sheet((FINE_PAIR, None), proof=Proof(stated=False))).rows[0]
    assert (row.why, row.verdict) == (Why.CONTACT, Verdict.UNDECIDED)
