"""What may be typed at the bench, and what each text means."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.stator.parts import TWO_COILS
from workbench.stator.entry import LONGEST, Entry, EntryError, LoneOne, Overload, Shown, read_entry, read_value
from workbench.stator.pattern import CORE, Cavity, Connector, Pair, Pattern, Winding


def part(**plugs: tuple[str, ...]) -> Pattern:
    """A part with these plugs and pins; what it is wound like doesn't matter here."""
    connectors = tuple(Connector(name, tuple(Cavity(pin) for pin in pins)) for name, pins in plugs.items())
    first = connectors[0].nodes[0]
    return Pattern("typed at", connectors, (Winding("coil", first, CORE, ohms=10, tolerance_percent=10),))


TWO_PLUGS = part(A=("1", "2", "3"), B=("1", "2", "3", "4"))


@pytest.mark.parametrize(
    ("text", "ohms", "step"),
    [
        ("184.3", 184.3, 0.1),
        ("184,3", 184.3, 0.1),
        (".5", 0.5, 0.1),
        (",5", 0.5, 0.1),
        ("5.", 5.0, 1.0),
        ("0,123", 0.123, 0.001),
        ("247", 247.0, 1.0),
        ("1.0", 1.0, 0.1),
        ("1.2k", 1200.0, 100.0),
        ("1.2K", 1200.0, 100.0),
        ("1,234k", 1234.0, 1.0),
        ("1k2", 1200.0, 100.0),
        ("1k20", 1200.0, 10.0),
        ("4R7", 4.7, 0.1),
        ("0r47", 0.47, 0.01),
        ("2M", 2e6, 1e6),
        ("2M2", 2.2e6, 1e5),
        ("-0.02", -0.02, 0.01),
        ("\u22120.02", -0.02, 0.01),
        ("+3", 3.0, 1.0),
        ("1Ω", 1.0, 1.0),
        ("1\u2126", 1.0, 1.0),
        ("1 ohm", 1.0, 1.0),
        ("184.3 OHMS", 184.3, 0.1),
        ("1.2 kΩ", 1200.0, 100.0),
        ("1.2kohm", 1200.0, 100.0),
        ("3 MΩ", 3e6, 1e6),
        ("  12.0  ", 12.0, 0.1),
    ],
)
def test_a_number_is_read_with_the_step_its_digits_tell(text: str, ohms: float, step: float) -> None:
    for value in (read_value(text), read_entry(text, TWO_COILS, "P").value):
        assert isinstance(value, Shown)
        assert value.ohms == pytest.approx(ohms, rel=1e-15)
        assert value.step == pytest.approx(step, rel=1e-15)
        assert value.text == text.strip()


@pytest.mark.parametrize(
    "text", ["OL", "ol", "O.L", "0L", "0.L", ".OL", "OL.", "open", "Open", "*", "inf", "∞", "OL Ω"]
)
def test_an_overload_is_a_value_of_its_own(text: str) -> None:
    assert read_value(text) == Overload(text)


@pytest.mark.parametrize("text", ["1", "1.", " 1 "])
def test_a_one_alone_may_be_an_overload(text: str) -> None:
    assert read_value(text) == LoneOne(text.strip())


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "OL"),
        ("   ", "OL"),
        ("abc", "184.3"),
        ("-", "184.3"),
        (".", "184.3"),
        ("k", "184.3"),
        ("1e3", "184.3"),
        ("1k2k", "184.3"),
        ("1\u212a", "184.3"),  # the Kelvin sign folds to k, and is none
        ("4 5", "184.3"),  # two numbers are not one
        ("1,234", "point"),
        ("1.234,5", "both a comma and a point"),
        ("1.2.3", "more than one decimal mark"),
        ("2m", "milli or mega"),
        ("2 mΩ", "milli or mega"),
        ("9999999M", "more than any ohmmeter"),
        ("7" * (LONGEST + 1), "too long"),
    ],
)
def test_what_cannot_be_read_is_told_in_a_sentence(text: str, says: str) -> None:
    with pytest.raises(EntryError) as told:
        read_value(text)
    assert says in told.value.sentence
    assert told.value.sentence[0].isupper() or told.value.sentence[0] == "“"
    assert told.value.sentence.endswith(".")


@pytest.mark.parametrize(
    ("text", "plug", "pair"),
    [
        ("1 3", "A", ("A.1", "A.3")),
        ("1 3", "B", ("B.1", "B.3")),
        ("3 1", "A", ("A.3", "A.1")),  # the first takes the positive lead
        ("A1 B3", "A", ("A.1", "B.3")),
        ("a1 b3", "B", ("A.1", "B.3")),
        ("A.1 B.3", None, ("A.1", "B.3")),
        ("1 B3", "A", ("A.1", "B.3")),
        ("1 4", "A", ("A.1", "B.4")),  # no 4 in sight, and only one elsewhere
        ("1 core", "A", ("A.1", CORE)),
        ("1 gnd", "A", ("A.1", CORE)),
        ("Ground 2", "A", (CORE, "A.2")),
        ("1-3", "A", ("A.1", "A.3")),
        ("1 - 3", "A", ("A.1", "A.3")),
        ("1 – 3", "A", ("A.1", "A.3")),
        ("1\u22123", "A", ("A.1", "A.3")),
        ("A1-B3", "B", ("A.1", "B.3")),
        ("1-ground", "A", ("A.1", CORE)),
    ],
)
def test_two_words_name_a_pair(text: str, plug: str | None, pair: tuple[str, str]) -> None:
    assert read_entry(text, TWO_PLUGS, plug) == Entry(Pair(*pair), None)


@pytest.mark.parametrize("pins", ["1 3", "1-3", "1 - 3", "A1 A3"])
@pytest.mark.parametrize(
    ("value", "read"),
    [
        ("184.3", Shown(184.3, 0.1, "184.3")),
        ("1.2 k", Shown(1200.0, 100.0, "1.2 k")),
        ("-0.02", Shown(-0.02, 0.01, "-0.02")),
        ("OL", Overload("OL")),
        ("1", LoneOne("1")),
    ],
)
def test_a_pair_and_its_value_may_stand_in_one_line(pins: str, value: str, read: object) -> None:
    assert read_entry(f"{pins} {value}", TWO_PLUGS, "A") == Entry(Pair("A.1", "A.3"), read)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("1 9", "no pin “9”"),
        ("9-1", "no pin “9”"),
        ("1 1", "Both leads"),
        ("core gnd", "Both leads"),
        ("A1", "one pin"),
        ("ground", "one pin"),
        ("1 3 4 5", "“4 5” is not a reading"),
        ("1 3 x", "“x” is not a reading"),
        ("184.3 12", "no pin “184.3”"),
        ("12 V", "“12 V” is no number of ohms"),
        ("1,5mH", "“1,5mH” is no number of ohms"),
        ("1 3 20 °C", "“20 °C” is no number of ohms"),
        ("1 " * LONGEST, "too long"),
    ],
)
def test_a_pair_that_cannot_be_is_told_in_a_sentence(text: str, says: str) -> None:
    with pytest.raises(EntryError, match=says) as told:
        read_entry(text, TWO_PLUGS, "A")
    assert told.value.sentence.endswith(".")


@pytest.mark.parametrize("word", ["ground", "core", "A1"])
def test_the_way_on_from_one_pin_can_be_typed_as_it_is_told(word: str) -> None:
    with pytest.raises(EntryError) as told:
        read_entry(word, TWO_PLUGS, "A")
    offered = told.value.sentence.rpartition("as in “")[2].removesuffix("”.")
    assert offered.startswith(word)
    assert read_entry(offered, TWO_PLUGS, "A").pair is not None


def test_a_missing_pin_is_answered_with_those_that_are_there() -> None:
    with pytest.raises(EntryError, match="Plug B has 1, 2, 3, 4; the iron is “ground”"):
        read_entry("7 1", TWO_PLUGS, "B")


def test_a_name_that_fits_two_pins_asks_for_the_plug() -> None:
    same_elsewhere = part(A=("x",), B=("1", "2"), C=("1", "2"))
    with pytest.raises(EntryError, match=r"could be B\.1 or C\.1: name the plug too"):
        read_entry("x 1", same_elsewhere, "A")
    assert read_entry("x B.1", same_elsewhere, "A").pair == Pair("A.x", "B.1")
    run_together = part(A=("11", "z"), A1=("1",), B=("x",))
    with pytest.raises(EntryError, match=r"A\.11 or A1\.1"):
        read_entry("A11 x", run_together, "B")
    assert read_entry("A.11 A1.1", run_together, "B").pair == Pair("A.11", "A1.1")


def test_pins_named_with_words_and_with_what_looks_like_values() -> None:
    words = part(P=("red", "Red", "OL", "k", "1k2", "ground", "7-8"))
    assert read_entry("red Red", words, "P").pair == Pair("P.red", "P.Red")  # case tells where it can
    assert read_entry("OL 1k2", words, "P").pair == Pair("P.OL", "P.1k2")
    assert read_entry("OL k", words, "P").pair == Pair("P.OL", "P.k")  # no unit: there is a pin k
    assert read_entry("red k 1.2k", words, "P") == Entry(Pair("P.red", "P.k"), Shown(1200.0, 100.0, "1.2k"))
    assert read_entry("ground core", words, "P").pair == Pair("P.ground", CORE)  # the iron has other names
    assert read_entry("red 7-8", words, "P").pair == Pair("P.red", "P.7-8")
    assert read_entry("7-8 red", words, "P").pair == Pair("P.7-8", "P.red")
    # one word alone is a value first: it is what a meter shows
    assert read_entry("OL", words, "P").value == Overload("OL")
    assert read_entry("1k2", words, "P").value == Shown(1200.0, 100.0, "1k2")


JUNK = st.text(max_size=70) | st.text("0123456789.,-+ \u2212–kKmMrRoOlLΩ\u2126\u212aohms*AB", max_size=20)


@given(text=JUNK, plug=st.sampled_from(["A", "B", None]))
def test_any_text_reads_or_is_told_why_not(text: str, plug: str | None) -> None:
    entry, told = None, ""
    try:
        entry = read_entry(text, TWO_PLUGS, plug)
    except EntryError as e:
        told = e.sentence
    if entry is None:
        assert len(told) > 20
        assert told.endswith(".")
    else:
        assert entry.pair is not None or entry.value is not None
        if entry.value is not None:
            assert "".join(entry.value.text.split()) in "".join(text.split())
        if entry.pair is not None:
            assert all(TWO_PLUGS.can_touch(n) for n in entry.pair)
            assert entry.pair.positive != entry.pair.negative


@st.composite
def written(draw: st.DrawFn) -> tuple[str, Decimal, Decimal]:
    """A number in one of the accepted ways, what it is worth and its step."""
    whole, part = draw(st.integers(0, 99999)), draw(st.text("0123456789", max_size=4))
    sign = draw(st.sampled_from(["", "-", "\u2212", "+"]))
    unit = draw(st.sampled_from(["", "k", "K", "M"]))
    tail = draw(st.sampled_from(["", "Ω", "\u2126", "ohm", "Ohms"]))
    scale = {"": 1, "k": 1000, "K": 1000, "M": 1000000}[unit]
    if part and draw(st.booleans()):
        text = f"{sign}{whole}{unit or draw(st.sampled_from('rR'))}{part}{tail}"
    else:
        mark = draw(st.sampled_from([".", ","])) if part else ""
        if mark == "," and len(part) == 3 and not unit and whole:
            mark = "."
        gap = draw(st.sampled_from(["", " "])) if unit or tail else ""
        text = f"{sign}{whole}{mark}{part}{gap}{unit}{tail}"
    number = Decimal(f"{'-' if sign in ('-', chr(0x2212)) else ''}{whole}.{part or 0}") * scale
    return text, number, Decimal(scale).scaleb(-len(part))


@given(typed=written())
def test_a_number_written_in_any_accepted_way_reads_back_with_its_step(typed: tuple[str, Decimal, Decimal]) -> None:
    text, number, step = typed
    value = read_entry(text, TWO_PLUGS, "A").value
    if text == "1":
        assert value == LoneOne("1")
    else:
        assert value == Shown(float(number), float(step), text)
