"""Slips of the finger and the probe: asked about when one of them would make a reading fit, and only then."""

from decimal import Decimal

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from tests.stator.parts import COARSE_PAIR, FINE_PAIR, GROUND, LOOP, METER, SERIES, TWO_COILS, sheet
from tests.stator.strategies import HANDHELD, pairs_of, patterns
from workbench.stator.correct import Corrector
from workbench.stator.entry import LoneOne, Shown, read_value
from workbench.stator.expect import Expectations, Path
from workbench.stator.judge import judge
from workbench.stator.meter import Meter, Range
from workbench.stator.pattern import CORE, Element, Pair, Pattern, Winding
from workbench.stator.sheet import Conditions, Reading, Sheet
from workbench.stator.slips import Slip, SlipKind, find_slip
from workbench.stator.verdict import Verdict

PLAN = (FINE_PAIR, COARSE_PAIR, SERIES, LOOP, GROUND)
ASK = Expectations(TWO_COILS)
SO_FAR = sheet(checks=PLAN)


def slip(pair: Pair, typed: str, so_far: Sheet = SO_FAR, ask: Expectations = ASK) -> Slip | None:
    shown = read_value(typed)
    assert isinstance(shown, Shown)
    return find_slip(so_far, ask, pair, shown)


@pytest.mark.parametrize("typed", ["245", "221", "269", "31.0"])
def test_nothing_is_asked_of_a_reading_that_fits(typed: str) -> None:
    assert slip(COARSE_PAIR if typed == "31.0" else FINE_PAIR, typed) is None


def test_nothing_is_asked_of_a_reading_that_is_not_wholly_outside() -> None:
    assert slip(FINE_PAIR, "271") is None  # 271 - U still lies in the band


@pytest.mark.parametrize(
    ("pair", "typed", "meant", "text"),
    [
        (FINE_PAIR, "0.245", 245.0, "0.245k"),  # kilohm on the display, typed as ohm
        (FINE_PAIR, "245k", 245.0, "245"),  # and the other way round
        (FINE_PAIR, "245000", 245.0, "245.000"),
        (COARSE_PAIR, "0.031", 31.0, "0.031k"),
    ],
)
def test_kilohm_and_ohm_mixed_up(pair: Pair, typed: str, meant: float, text: str) -> None:
    assert slip(pair, typed) == Slip(SlipKind.FACTOR, meant, text, pair)


@pytest.mark.parametrize(
    ("pair", "typed", "meant"),
    [
        (COARSE_PAIR, "312", 31.2),  # the point lost
        (COARSE_PAIR, "3.12", 31.2),  # misplaced
        (FINE_PAIR, "2455", 245.5),
        (COARSE_PAIR, "228.0", 28.0),  # a digit doubled
    ],
)
def test_a_point_or_a_digit_slipped(pair: Pair, typed: str, meant: float) -> None:
    # every planned pair but this one is read, so that none of them is offered instead
    others = sheet(*((p, 1.0) for p in PLAN if p != pair), checks=PLAN)
    assert slip(pair, typed, others) == Slip(SlipKind.DIGIT, meant, str(meant), pair)


def test_a_lost_digit_is_put_back_where_the_reading_fits() -> None:
    found = slip(FINE_PAIR, "45", sheet(*((p, 1.0) for p in PLAN if p != FINE_PAIR), checks=PLAN))
    assert found is not None
    assert found.kind is SlipKind.DIGIT
    assert 220.5 <= found.ohms <= 269.5
    assert found.text.replace(".", "").replace("2", "", 1) == "45"


def test_another_pair_was_touched() -> None:
    assert slip(FINE_PAIR, "31.0") == Slip(SlipKind.PAIR, 31.0, "31.0", COARSE_PAIR)
    assert slip(COARSE_PAIR, "276") == Slip(SlipKind.PAIR, 276.0, "276", SERIES)


def test_a_number_where_it_should_be_open_may_be_another_pair() -> None:
    assert slip(GROUND, "245") == Slip(SlipKind.PAIR, 245.0, "245", FINE_PAIR)
    assert slip(GROUND, "5000") is None  # a leak that no planned pair explains
    assert slip(GROUND, "3M") is None  # above the open limit: undecided, not outside


def test_a_pair_that_is_read_already_is_not_offered() -> None:
    assert slip(GROUND, "245", sheet((FINE_PAIR, 245.0), checks=PLAN)) is None


def test_the_pair_in_reverse_is_not_another_pair() -> None:
    back = Pair(FINE_PAIR.negative, FINE_PAIR.positive)
    assert slip(FINE_PAIR, "150", sheet(checks=(back,))) is None


def test_nothing_is_asked_when_the_meter_cannot_tell() -> None:
    """On a range of 10 ohm steps a coil of 0.4 ohm can't be judged: no reading is called a slip."""
    coarse = Meter((Range(2e4, 10, 1, 5),), open_above_ohms=2e4)
    tiny = Pattern("tiny", TWO_COILS.connectors, (Winding("w", "P.1", "P.3", ohms=0.4, tolerance_percent=10),))
    for typed in ("0", "10", "40"):
        assert slip(FINE_PAIR, typed, sheet(checks=PLAN, meter=coarse, pattern=tiny), Expectations(tiny)) is None


def test_nothing_is_asked_on_a_path_that_ohms_do_not_judge() -> None:
    diode = Pattern("diode", TWO_COILS.connectors, (Winding("d", "P.1", "P.3", element=Element.DIODE),))
    assert slip(FINE_PAIR, "0.5", sheet(checks=(FINE_PAIR,), pattern=diode), Expectations(diode)) is None


def test_the_leads_and_the_warmth_of_the_part_count() -> None:
    """300 ohm is outside cold, and inside on a part at 80 C: 300 x 254.5/314.5 = 242.8 (IEC 60228's constant)."""
    warm = sheet(checks=PLAN, conditions=Conditions(80.0, 0.5))
    assert slip(FINE_PAIR, "300", warm) is None
    assert slip(FINE_PAIR, "0.3", warm) == Slip(SlipKind.FACTOR, 300.0, "0.3k", FINE_PAIR)


@st.composite
def slipped(draw: st.DrawFn) -> tuple[Sheet, Expectations, Pair, Shown]:
    p = draw(patterns(elements=True))
    ask = Expectations(p)
    pairs = pairs_of(p)
    pair = draw(st.sampled_from(pairs))
    base = ask.of(draw(st.sampled_from(pairs))).ohms or draw(st.sampled_from([0.5, 30.0, 1e5]))
    number = Decimal(base * draw(st.sampled_from([1000, 0.001, 10, 0.1, 1, 0.5])))
    text = f"{number:.{draw(st.integers(0, 3))}f}"
    shown = read_value(text)
    assume(isinstance(shown, Shown))
    assert isinstance(shown, Shown)
    plan = tuple(draw(st.lists(st.sampled_from(pairs), max_size=5)))
    return Sheet(p, HANDHELD, Conditions(24.0, 3.0, 0.2, 0.05), (), plan), ask, pair, shown


@given(slipped())
def test_a_slip_is_only_found_where_the_reading_is_out_and_its_own_value_lies_in_the_band(
    case: tuple[Sheet, Expectations, Pair, Shown],
) -> None:
    so_far, ask, pair, shown = case
    found = find_slip(so_far, ask, pair, shown)
    if found is None:
        return
    meant = ask.of(found.pair)
    assert meant.path in (Path.WINDINGS, Path.LINKS)
    assert meant.low is not None
    assert meant.high is not None
    p = so_far.pattern
    corrector = Corrector(so_far.meter, so_far.conditions, p.conductor, p.reference_celsius)
    value = corrector.mean([Reading(found.pair, found.ohms)])
    assert meant.low <= value.ohms <= meant.high
    read = read_value(found.text)
    assert isinstance(read, LoneOne) or (isinstance(read, Shown) and read.ohms == found.ohms)
    if found.kind is SlipKind.PAIR:
        assert not ask.same(found.pair, pair)
        assert found.ohms == shown.ohms
    else:
        assert found.pair == pair
    # and what was typed lies outside, or above or below every range
    on = so_far.meter.covering(shown.ohms)
    if on is not None and shown.ohms >= on.floor:
        row = judge(Sheet(p, so_far.meter, so_far.conditions, (Reading(pair, shown.ohms),)), ask).rows[0]
        assert row.verdict is Verdict.OUTSIDE


def test_the_core_is_a_pair_like_any_other() -> None:
    grounded = Pattern("grounded", TWO_COILS.connectors, (Winding("w", "P.1", CORE, ohms=200, tolerance_percent=10),))
    so_far = sheet(checks=(GROUND,), pattern=grounded, meter=METER)
    assert slip(GROUND, "0.2", so_far, Expectations(grounded)) == Slip(SlipKind.FACTOR, 200.0, "0.2k", GROUND)
