"""A winding that this shop wound before: the rewind desk begins with it as it was left."""

from dataclasses import replace
from uuid import uuid4

import pytest

from tests.rewind.test_predict import planned, taken
from tests.rewind.wounds import AT, MEAN, TURNS, WIRE, body, coil, in_order
from tests.sitting.rewinds import rewinding
from workbench.exchange.rewindbody import body_to_text
from workbench.records import KeptRewind
from workbench.rewind.asleft import as_left
from workbench.rewind.record import WHOLE, Body
from workbench.rewind.shelf import AsWas
from workbench.rewind.wire import Build, Wire, awg
from workbench.rewind.woundrecord import CoilWound, Spot, WoundWire
from workbench.sitting.rewindwire import AS_LEFT, FIRST, WireDesk


def kept(of: Body, winding: str = WHOLE) -> KeptRewind:
    return KeptRewind(uuid4(), uuid4(), winding, body_to_text(of), AT, AT)


def test_as_it_was_wound_rather_than_as_it_was_found() -> None:
    other = WoundWire(Wire.of(awg(20), Build.HEAVY), "window")
    work = in_order()
    coils = tuple(replace(c, wire=other, turns=TURNS + 2) for c in work.coils)
    assert as_left(body(replace(work, coils=coils))) == AsWas(other.wire, TURNS + 2, MEAN, 4)
    assert as_left(body(work)) == AsWas(WIRE.wire, TURNS, MEAN, 4)


def test_the_wire_and_turns_that_were_taken_where_no_coil_was_noted() -> None:
    left = as_left(taken(turns=66))
    assert left is not None
    assert (left.turns, left.coils, left.mean_turn_mm) == (66, 6, 80.0)
    both = as_left(replace(taken(turns=66), plan=planned(50).plan))
    assert both is not None
    assert both.mean_turn_mm != pytest.approx(80.0)  # the plan knows it better


def test_what_is_not_known_is_not_made_up() -> None:
    mixed = (coil(1), CoilWound(Spot(2), TURNS, WoundWire(Wire.of(awg(20), Build.HEAVY))))
    assert as_left(body(replace(in_order(), coils=mixed))) is None
    assert as_left(Body()) is None
    assert as_left(planned()) is None  # nothing says that it was wound so


def test_the_page_wire_begins_with_it_and_writes_nothing() -> None:
    r, keeper = rewinding(before=[kept(body(in_order()))], winding=WHOLE)
    desk = WireDesk(r)
    form = desk.form
    assert (form.gauge, form.turns, form.mean_turn, form.coils) == ("AWG 18", str(TURNS), f"{MEAN:g}", "4")
    assert desk.first == AS_LEFT
    assert keeper.asked == []
    desk.ask(replace(form, turns="41"))
    assert r.body.wire is not None
    assert desk.form.turns == "41"  # what is noted goes before it


def test_a_phase_by_a_rewind_of_all_three_but_not_the_other_way_round() -> None:
    whole, phase = kept(body(in_order())), kept(body(in_order()), "phase 2")
    r, _ = rewinding(before=[whole], winding="phase 2")
    assert r.winding == "phase 2"
    assert r.left is not None
    r, _ = rewinding(before=[phase], winding=WHOLE)
    assert (r.winding, r.left, WireDesk(r).first) == (WHOLE, None, FIRST)
