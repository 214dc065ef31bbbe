"""A rewind may be called good only with its senses, its insulation and a run: each alone holds it back."""

from dataclasses import replace

import pytest

from tests.rewind.wounds import AT, COILS, FINE, FOUR_WIRES, body, coil, in_order, pattern, turned
from workbench.rewind.finished import Lack, failed, lacking
from workbench.rewind.record import WHOLE, Body
from workbench.rewind.woundrecord import Insulation, Run, SenseSeen, Spot, Way, WoundWork

WYE = pattern()


def lacks(work: WoundWork | None) -> tuple[Lack, ...]:
    return lacking(WYE, WHOLE, body(work))


def test_in_order_nothing_is_lacking() -> None:
    assert lacks(in_order()) == ()
    assert failed(WYE, WHOLE, body(in_order())) == ()


def test_of_nothing_written_all_but_ohms_is_lacking() -> None:
    assert lacks(None) == (Lack.SENSE, Lack.INSULATION, Lack.RUN)
    assert lacking(WYE, WHOLE, Body()) == (Lack.SENSE, Lack.INSULATION, Lack.RUN)
    assert failed(WYE, WHOLE, body(None)) == ()


@pytest.mark.parametrize("tooth", [c.tooth for c in COILS])
def test_every_tooth_must_be_tested_and_agree(tooth: int) -> None:
    whole = in_order()
    untested = replace(whole, sense=tuple(s for s in whole.sense if s.spot != Spot(tooth)))
    assert lacks(untested) == (Lack.SENSE,)
    assert failed(WYE, WHOLE, body(untested)) == ()
    wrong = turned(whole, tooth)
    assert lacks(wrong) == failed(WYE, WHOLE, body(wrong)) == (Lack.SENSE,)


@pytest.mark.parametrize(
    ("test", "is_lacking", "is_failed"),
    [
        (None, True, False),
        (Insulation(500, 100, 20), False, False),
        (Insulation(500, 0.2, 20), True, True),
        # enough as read, but 12 megohm at 20 C are 3 at 40: undecided
        (Insulation(500, 12, 20), True, False),
        (Insulation(250, 2, 20, above=True), True, False),  # the tester reaches no further
        (Insulation(500, 4, 60), False, False),  # warm: 16 at 40 C
    ],
)
def test_insulation_by_what_it_read(test: Insulation | None, is_lacking: bool, is_failed: bool) -> None:
    b = body(replace(in_order(), insulation=test))
    assert lacking(WYE, WHOLE, b) == ((Lack.INSULATION,) if is_lacking else ())
    assert failed(WYE, WHOLE, b) == ((Lack.INSULATION,) if is_failed else ())


def test_it_must_have_run_and_well() -> None:
    assert lacks(replace(in_order(), run=None)) == (Lack.RUN,)
    b = body(replace(in_order(), run=Run(False, "no charge", AT)))
    assert lacking(WYE, WHOLE, b) == failed(WYE, WHOLE, b) == (Lack.RUN,)


@pytest.mark.parametrize(("times", "is_lacking"), [(1.0, False), (0.9, True), (1.2, True)])
def test_a_coil_outside_what_it_should_read(times: float, is_lacking: bool) -> None:
    work = in_order()
    spoilt = replace(work, coils=(*work.coils[:-1], coil(COILS[-1].tooth, times, FOUR_WIRES)))
    assert lacks(spoilt) == ((Lack.OHMS,) if is_lacking else ())


def test_an_open_coil() -> None:
    work = in_order()
    last = coil(COILS[-1].tooth)
    assert last.reading is not None
    spoilt = replace(work, coils=(*work.coils[:-1], replace(last, reading=replace(last.reading, ohms=None))))
    assert lacks(spoilt) == (Lack.OHMS,)


def test_coils_without_ohms_hold_nothing_back() -> None:
    assert lacks(replace(in_order(), coils=())) == ()


def test_where_nothing_is_laid_the_patterns_own_senses_count() -> None:
    work = in_order()
    assert lacking(WYE, WHOLE, Body(wound=work))[0] is Lack.SENSE  # the pattern has all clockwise
    alike = tuple(SenseSeen(Spot(t), Way.CLOCKWISE) for t in range(1, 13))
    assert lacking(WYE, WHOLE, Body(wound=replace(work, sense=alike))) == ()
    phase = tuple(SenseSeen(Spot(t), Way.SOUTH) for t in (1, 4, 7, 10))
    assert lacking(WYE, "phase 1", Body(wound=replace(work, sense=phase))) == ()


def test_a_lone_coil_of_no_known_sense_has_to_be_tested_only() -> None:
    potted = pattern("potted ignition module")
    work = replace(in_order(), coils=(), sense=())
    assert lacking(potted, "high tension", Body(wound=work)) == (Lack.SENSE,)
    tested = replace(work, sense=(SenseSeen(Spot(2), Way.NORTH),))
    assert lacking(potted, "high tension", Body(wound=tested)) == ()


def test_several_coils_of_no_known_sense_may_stand_against_each_other() -> None:
    layout = WYE.layout
    assert layout is not None
    unknown = replace(WYE, layout=replace(layout, coils=tuple(replace(c, sense=None) for c in layout.coils)))
    alike = tuple(SenseSeen(Spot(t), Way.CLOCKWISE) for t in range(1, 13))
    assert lacking(unknown, WHOLE, Body(wound=replace(in_order(), sense=alike, coils=()))) == (Lack.SENSE,)


def test_the_meter_that_it_was_read_on_counts() -> None:
    """A tenth too little is nothing to a meter that can't tell it."""
    work = in_order()
    coarse = replace(FINE, meter=replace(FINE.meter, ranges=(replace(FINE.meter.ranges[0], digits=5000.0),)))
    spoilt = replace(work, coils=(coil(1, 0.9, coarse),))
    assert lacks(spoilt) == ()
