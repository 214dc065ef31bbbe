"""Numbers, bands, pairs, reasons and remedies as the shop reads them."""

import re
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.stator.parts import COARSE_PAIR, COLD, FINE_PAIR, GROUND, LOOP, METER, TWO_COILS, sheet
from workbench import words
from workbench.records import Outcome
from workbench.stator.correct import Corrected
from workbench.stator.expect import Expected, Path
from workbench.stator.judge import Row, SheetVerdict, Why, judge
from workbench.stator.meter import Meter, Range
from workbench.stator.pattern import CORE, Element, Pair, Winding
from workbench.stator.sheet import Conditions, Proof, Reading
from workbench.stator.verdict import Verdict

BAND = Expected(Path.WINDINGS, 245.0, 220.5, 269.5)


def row(pair: Pair, ohms: float | None, **more: object) -> Row:
    return judge(sheet((pair, ohms), **more)).rows[0]  # type: ignore[arg-type]


def with_value(ohms: float, expanded: float) -> Row:
    return replace(row(FINE_PAIR, 245.0), corrected=Corrected(ohms, (), expanded / 2, 0.0, 0.0))


@pytest.mark.parametrize(
    ("ohms", "expanded", "text"),
    [
        (307.123, 10.2, "307 ± 10 Ω"),
        (155.2, 1.867, "155.2 ± 1.9 Ω"),
        (0.4231, 0.0342, "0.423 ± 0.034 Ω"),
        (0.4231, 0.00512, "0.4231 ± 0.0051 Ω"),
        (155.2, 9.96, "155 ± 10 Ω"),  # 9.96 rounds to 10, not to 10.0
        (1.0, 0.0996, "1.00 ± 0.10 Ω"),
        (1234.5, 123.0, "1234 ± 123 Ω"),  # never coarser than an ohm
        (15234.0, 123.0, "15.23 ± 0.12 kΩ"),
        (2_345_678.0, 23_456.0, "2.346 ± 0.023 MΩ"),
        (-0.042, 0.15, "−0.04 ± 0.15 Ω"),
        (-0.0001, 1.5, "0.0 ± 1.5 Ω"),  # a zero has no sign
    ],
)
def test_a_value_stands_with_its_u_to_two_figures(ohms: float, expanded: float, text: str) -> None:
    """JCGM 100, 7.2.6."""
    assert words.value_words(with_value(ohms, expanded)) == text


@given(ohms=st.floats(0.01, 9e6), share=st.floats(1e-3, 0.5))
def test_u_has_two_figures_and_the_value_the_same_place(ohms: float, share: float) -> None:
    text = words.value_words(with_value(ohms, ohms * share))
    match = re.fullmatch(r"([\d.]+) ± ([\d.]+) ([kM]?)Ω", text)
    assert match is not None
    value, u, unit = match.groups()
    assert len(value.partition(".")[2]) == len(u.partition(".")[2])
    scale = {"": 1.0, "k": 1e3, "M": 1e6}[unit]
    step = 10.0 ** -len(u.partition(".")[2])
    assert abs(float(value) * scale - ohms) <= 0.5001 * step * scale
    assert abs(float(u) * scale - ohms * share) <= 0.5001 * step * scale
    figures = u.replace(".", "").lstrip("0")
    if step == 1:
        assert len(figures) >= 2
    elif step > 1e-4:
        assert len(figures) == 2


def test_an_overload_and_what_has_no_corrected_value() -> None:
    assert words.value_words(row(FINE_PAIR, None)) == "open"
    diode = replace(TWO_COILS, windings=(Winding("d", "P.1", "P.3", element=Element.DIODE),))
    assert words.value_words(row(FINE_PAIR, 0.5, pattern=diode)) == "0.5 Ω as shown"


@pytest.mark.parametrize(
    ("ohms", "step", "text"),
    [
        (245.0, None, "245 Ω"),
        (0.42, None, "0.42 Ω"),
        (1234.0, None, "1234 Ω"),
        (9999.6, None, "10000 Ω"),
        (12345.0, None, "12.35 kΩ"),
        (2e7, None, "20 MΩ"),
        (0.0, None, "0 Ω"),
        (-3.0, None, "−3 Ω"),
        (269.5, 0.1, "269.5 Ω"),
        (16500.0, 100.0, "16.5 kΩ"),
    ],
)
def test_a_plain_number_has_its_unit_and_no_exponent(ohms: float, step: float | None, text: str) -> None:
    assert words.ohms_words(ohms, step) == text


@given(ohms=st.floats(1e-4, 1e9))
def test_a_plain_number_is_within_its_fourth_figure_and_has_no_exponent(ohms: float) -> None:
    match = re.fullmatch(r"([\d.]+) ([kM]?)Ω", words.ohms_words(ohms))
    assert match is not None
    assert float(match[1]) * {"": 1.0, "k": 1e3, "M": 1e6}[match[2]] == pytest.approx(ohms, rel=5.1e-4)


@pytest.mark.parametrize(
    ("expected", "text"),
    [
        (Expected(Path.NONE), "open"),
        (Expected(Path.ELEMENT), "not by ohms"),
        (Expected(Path.LINKS, 0.02, 0.0, 0.5), "up to 0.5 Ω"),
        (BAND, "220.5 … 269.5 Ω"),
        (Expected(Path.WINDINGS, 155, 139.5, 170.5), "139.5 … 170.5 Ω"),
        (Expected(Path.WINDINGS, 0.4, 0.32, 0.48), "0.32 … 0.48 Ω"),
        (Expected(Path.WINDINGS, 100, 90, 110), "90 … 110 Ω"),
        (Expected(Path.WINDINGS, 8000, 7200, 8800), "7200 … 8800 Ω"),
        (Expected(Path.WINDINGS, 9800, 9000, 10500), "9 … 10.5 kΩ"),
        (Expected(Path.WINDINGS, 15000, 13500, 16500), "13.5 … 16.5 kΩ"),
        (Expected(Path.WINDINGS, 1.2e6, 0.9e6, 1.5e6), "0.9 … 1.5 MΩ"),
        (Expected(Path.WINDINGS, 2.5, 0.0, 5.0), "under 5 Ω"),
    ],
)
def test_a_band_is_told_in_one_unit_and_no_wider_than_it_is(expected: Expected, text: str) -> None:
    said = words.band_words(expected)
    if text == "9 … 10.5 kΩ":
        text = "9.0 … 10.5 kΩ"  # both to the same place
    assert said == text


@given(low=st.floats(0.01, 5e6), spread=st.floats(1.01, 3))
def test_a_band_reads_back_as_it_is(low: float, spread: float) -> None:
    match = re.fullmatch(
        r"([\d.]+) … ([\d.]+) ([kM]?)Ω", words.band_words(Expected(Path.WINDINGS, low, low, low * spread))
    )
    assert match is not None
    scale = {"": 1.0, "k": 1e3, "M": 1e6}[match[3]]
    assert float(match[1]) * scale == pytest.approx(low, rel=5.1e-4, abs=5.1e-5 * scale)
    assert float(match[2]) * scale == pytest.approx(low * spread, rel=5.1e-4, abs=5.1e-5 * scale)


def test_pins_and_pairs_are_named_as_the_bench_says_them() -> None:
    one = TWO_COILS
    two = replace(one, connectors=(*one.connectors, replace(one.connectors[0], name="B")))
    assert words.pair_words(Pair("P.1", "P.3"), one) == "1 – 3"
    assert words.pair_words(Pair("P.1", CORE), one) == "1 – ground"
    assert words.pair_words(Pair(CORE, "P.1"), one) == "ground – 1"
    assert words.pair_words(Pair("P.1", "P.3"), two) == "P 1 – 3"
    assert words.pair_words(Pair("P.1", "B.3"), two) == "P 1 – B 3"
    assert words.pair_words(Pair(CORE, "B.3"), two) == "ground – B 3"
    assert words.node_words("star", one) == "star"


def test_a_pin_with_a_dot_in_its_name_stays_whole() -> None:
    plug = replace(TWO_COILS.connectors[0], cavities=(*TWO_COILS.connectors[0].cavities,))
    two = replace(TWO_COILS, connectors=(plug, replace(plug, name="B")))
    assert words.pair_words(Pair("B.1.2", "B.3"), two) == "B 1.2 – 3"


@pytest.mark.parametrize(
    ("judged", "word"),
    [
        (row(FINE_PAIR, 245.0), "in"),
        (row(FINE_PAIR, 268.5), "close"),
        (row(FINE_PAIR, 270.5), "doubtful"),
        (row(FINE_PAIR, 300.0), "out"),
        (row(GROUND, None, proof=Proof(stated=False)), "doubtful"),
    ],
)
def test_a_verdict_is_one_word(judged: Row, word: str) -> None:
    assert words.verdict_word(judged) == word


def test_every_code_has_its_word() -> None:
    assert set(words.SHEET_WORDS) == set(SheetVerdict)
    assert set(words.OUTCOME_WORDS) == {str(o) for o in Outcome}


COARSE = Meter((Range(2000, 10, 0.8, 3), Range(2e7, 1e4, 1.0, 3)), open_above_ohms=2e7)
SHORT = Meter((Range(2000, 1, 0.8, 3),), open_above_ohms=2000)
DIODE = replace(TWO_COILS, windings=(Winding("d", "P.1", "P.3", element=Element.DIODE),))
ROWS: dict[str, tuple[Row, Why, Verdict | None, str]] = {
    "in": (row(FINE_PAIR, 245.0), Why.BAND, Verdict.INSIDE, "Inside 220.5 … 269.5 Ω."),
    "low": (row(FINE_PAIR, 150.0), Why.BAND, Verdict.OUTSIDE, "Below 220.5 … 269.5 Ω."),
    "high": (row(FINE_PAIR, 400.0), Why.BAND, Verdict.OUTSIDE, "Above 220.5 … 269.5 Ω."),
    "near": (row(FINE_PAIR, 268.5), Why.BAND, Verdict.UNDECIDED, "Too near a limit"),
    "continuous": (
        row(COARSE_PAIR, 30.0, meter=COARSE),
        Why.BAND,
        Verdict.CONTINUOUS,
        "Shorted turns are not excluded",
    ),
    "link in": (row(LOOP, 0.1), Why.BAND, Verdict.INSIDE, "Inside up to 0.5 Ω."),
    "link out": (row(LOOP, 3.0), Why.BAND, Verdict.OUTSIDE, "Above 0.5 Ω."),
    "link near": (row(LOOP, 0.4), Why.BAND, Verdict.CONTINUOUS, "Whether it lies under 0.5 Ω"),
    "broken": (row(FINE_PAIR, None), Why.OPENS, Verdict.OUTSIDE, "Open where 220.5 … 269.5 Ω belongs"),
    "open": (row(GROUND, None), Why.STAYS_OPEN, Verdict.INSIDE, "not yet insulated"),
    "leak": (row(GROUND, 4700.0), Why.LEAKS, Verdict.OUTSIDE, "4700 Ω is a path that doesn't belong"),
    "high ohms": (row(GROUND, 5e6), Why.HIGH_OHMS, Verdict.UNDECIDED, "hands off the probes"),
    "short range": (row(GROUND, None, meter=SHORT), Why.SHORT_RANGE, Verdict.UNDECIDED, "highest range"),
    "contact": (row(GROUND, None, proof=Proof()), Why.CONTACT, Verdict.UNDECIDED, "contact at 1 and ground"),
    "element": (row(FINE_PAIR, 0.5, pattern=DIODE), Why.ELEMENT, None, "ohms can't judge it"),
}


def test_every_reason_is_shown_below() -> None:
    assert {why for _, why, _, _ in ROWS.values()} == set(Why)
    assert {v for _, _, v, _ in ROWS.values()} == {*Verdict, None}


@pytest.mark.parametrize("name", ROWS)
def test_the_reason_of_a_verdict_is_a_sentence(name: str) -> None:
    judged, why, verdict, says = ROWS[name]
    assert (judged.why, judged.verdict) == (why, verdict)
    sentence = words.reason_words(judged, TWO_COILS)
    assert says in sentence
    assert sentence[0].isupper()
    assert sentence.endswith(".")


def test_a_plain_wire_is_not_said_to_hide_shorted_turns() -> None:
    assert "turns" not in words.reason_words(ROWS["link near"][0], TWO_COILS)


@pytest.mark.parametrize(
    ("name", "says"),
    [
        ("in", ""),
        ("continuous", ""),
        ("open", ""),
        ("element", ""),
        ("low", "Lift the probes"),
        ("broken", "Lift the probes"),
        ("leak", "Lift the probes"),
        ("contact", "two bare spots of the iron"),
    ],
)
def test_what_would_settle_a_reading_is_told_where_something_would(name: str, says: str) -> None:
    remedy = words.remedy_words(ROWS[name][0], zeroed=True)
    assert says in remedy
    assert bool(remedy) == bool(says)


def test_a_reading_that_was_repeated_has_nothing_left_to_settle_it() -> None:
    twice = judge(sheet((FINE_PAIR, 150.0), (FINE_PAIR, 150.2))).rows[0]
    assert words.remedy_words(twice, zeroed=True) == ""


@pytest.mark.parametrize(
    ("conditions", "zeroed", "says"),
    [
        (COLD, True, "A lower range or a finer meter"),
        (Conditions(20.0, 5.0), True, "Let the part reach the room's temperature"),
        (Conditions(20.0, 0.0, 2.0, 5.0), False, "Zero the leads"),
        (Conditions(20.0, 0.0, 0.0, 5.0), True, "Hold the leads still"),
    ],
)
def test_the_largest_doubt_is_settled_first(conditions: Conditions, zeroed: bool, says: str) -> None:
    near = row(FINE_PAIR, 268.5 + conditions.lead_ohms, conditions=conditions)
    assert near.verdict is Verdict.UNDECIDED
    assert words.remedy_words(near, zeroed=zeroed).startswith(says)


def test_the_meter_of_these_tests_is_the_ordinary_one() -> None:
    assert Reading(FINE_PAIR, 245.0).range_on(METER).resolution_ohms == 1


@pytest.mark.parametrize(
    ("ohms", "said"),
    [
        (0.3, "Under 5 Ω, and no low limit is known: shorted turns are not excluded here."),
        (4.9, "Too near its limit of 5 Ω to decide: inside with 72 % probability."),
        (6.0, "Above 5 Ω."),
    ],
)
def test_the_reason_where_a_high_limit_is_all_that_is_known(ohms: float, said: str) -> None:
    p = replace(
        TWO_COILS, windings=(TWO_COILS.windings[0], replace(TWO_COILS.windings[1], ohms=2.5, tolerance_percent=100))
    )
    assert words.reason_words(row(COARSE_PAIR, ohms, pattern=p), p) == said


def test_the_reason_where_the_meter_can_not_tell_a_high_limit() -> None:
    tiny = replace(TWO_COILS.windings[1], ohms=0.1, tolerance_percent=100)
    p = replace(TWO_COILS, windings=(TWO_COILS.windings[0], tiny))
    said = words.reason_words(row(COARSE_PAIR, 0.1, pattern=p), p)
    assert said == "It conducts. Whether it lies under 0.2 Ω is more than this meter can tell."
