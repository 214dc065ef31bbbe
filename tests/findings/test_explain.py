"""What the plain cases of a bench come out as."""

import math

import pytest

from tests.findings.parts import FLOATING, GROUNDED, ask, chance, part, top
from workbench.findings.faults import STATED, Fault
from workbench.stator.meter import Meter, Range
from workbench.stator.sheet import Conditions

TWO = part("P:12 Q:12", ("one", "P.1", "P.2", 10.0, 10), ("two", "Q.1", "Q.2", 300.0, 10))


def test_with_nothing_read_the_findings_are_the_stated_guesses() -> None:
    x = ask(FLOATING)
    # a single winding leaves no place for a short between two
    left = 1 - STATED[Fault.WINDING_TO_WINDING]
    assert chance(x, "sound") == pytest.approx(0.55 / left)
    assert chance(x, "open-lead", "P.1") == pytest.approx(0.04 / left)
    assert chance(x, "unlisted") == pytest.approx(0.01 / left)


def test_readings_as_they_should_be_speak_for_a_sound_part() -> None:
    x = ask(FLOATING, ("P.1", "P.2", 10.1), ("P.1", "core", None))
    assert top(x) == ("sound", "")
    assert chance(x, "sound") > 0.85
    assert chance(x, "open-winding", "coil") == 0


def test_an_open_winding_and_its_leads_share_the_blame() -> None:
    x = ask(FLOATING, ("P.1", "P.2", None))
    assert top(x) == ("open-winding", "coil")
    assert chance(x, "open-lead", "P.1") == pytest.approx(chance(x, "open-lead", "P.2"))
    assert chance(x, "sound") == 0


@pytest.mark.parametrize("f", [0.3, 0.5, 0.8])
def test_shorted_turns_and_how_many(f: float) -> None:
    x = ask(TWO, ("P.1", "P.2", 10 * (1 - f) + 0.11), ("P.1", "core", None), ("Q.1", "Q.2", 300.0))
    assert top(x) == ("shorted-turns", "one")
    (fraction,) = x.findings[0].parameters
    assert fraction.name == "fraction"
    assert fraction.low < f < fraction.high
    assert fraction.value == pytest.approx(f, abs=0.06)


def test_a_short_to_the_core_its_ohms_and_where_it_lies() -> None:
    # 10 ohm of coil, 7 ohm of fault a quarter of the way from P.1
    x = ask(FLOATING, ("P.1", "P.2", 10.11), ("P.1", "core", 2.5 + 7.11), ("P.2", "core", 7.5 + 7.11))
    assert top(x) == ("winding-to-core", "coil")
    by = {p.name: p for p in x.findings[0].parameters}
    assert by["ohms"].value == pytest.approx(7, rel=0.1)
    assert by["position"].value == pytest.approx(0.25, abs=0.06)
    assert by["ohms"].low < 7 < by["ohms"].high


def test_a_poor_lead_adds_to_every_pair_with_its_pin() -> None:
    x = ask(GROUNDED, ("P.1", "P.2", 20.1 + 9), ("P.2", "core", 25.1 + 9), ("P.1", "core", 5.1))
    assert top(x) == ("resistive-lead", "P.2")
    assert x.findings[0].parameters[0].value == pytest.approx(9, rel=0.15)


def test_swapped_pins() -> None:
    x = ask(GROUNDED, ("P.1", "core", 25.1), ("P.2", "core", 5.1), ("P.1", "P.2", 20.1))
    assert top(x) == ("swapped-pins", "P.1|P.2")


def test_leads_that_were_not_zeroed_show_on_every_reading() -> None:
    low = part("P:12 Q:12", ("one", "P.1", "P.2", 1.0, 10), ("two", "Q.1", "Q.2", 2.0, 10))
    x = ask(low, ("P.1", "P.2", 3.1), ("Q.1", "Q.2", 4.1), ("P.1", "core", None))
    assert top(x) == ("leads-not-zeroed", "")
    assert x.findings[0].parameters[0].value == pytest.approx(2.0, abs=0.15)


def test_a_part_warmer_than_stated_reads_high_all_over() -> None:
    ohms = {f"{p}.{i}": r * i for p, r in (("P", 50.0), ("Q", 30.0)) for i in (1, 2, 3)}
    many = part("P:123 Q:123", *((f"to {pin}", pin, "core", r, 4) for pin, r in ohms.items()))
    up = 1 + 45 / 254.5
    x = ask(many, *((pin, "core", r * up + 0.1) for pin, r in ohms.items()))
    assert top(x) == ("wrong-temperature", "")
    (celsius,) = x.findings[0].parameters
    assert celsius.name == "celsius"
    assert celsius.value == pytest.approx(65, abs=8)


def test_two_windings_touching() -> None:
    x = ask(TWO, ("P.1", "P.2", 10.1), ("Q.1", "Q.2", 300.0), ("P.1", "Q.1", 170.0), ("P.1", "core", None))
    assert top(x) == ("winding-to-winding", "one|two")
    assert {p.name for p in x.findings[0].parameters} == {"ohms", "position_a", "position_b"}


def test_a_leak_is_unlisted() -> None:
    x = ask(FLOATING, ("P.1", "P.2", 10.1), ("P.1", "core", 45e3))
    assert top(x) == ("unlisted", "")
    assert x.findings[0].probability > 0.99


def test_a_meter_that_stops_short_may_read_a_sound_winding_as_open() -> None:
    short = Meter((Range(200, 0.1, 0.8, 3),), 200)
    tall = part("P:12", ("coil", "P.1", "P.2", 215.0, 8))
    assert top(ask(tall, ("P.1", "P.2", None), meter=short)) == ("sound", "")
    # by far less than the winding's tolerance it can't be
    low = part("P:12", ("coil", "P.1", "P.2", 150.0, 8))
    assert top(ask(low, ("P.1", "P.2", None), meter=short)) == ("open-winding", "coil")


def test_a_touch_always_adds_a_little() -> None:
    fine = Meter((Range(20, 0.001, 0.1, 1), Range(2e7, 1e3, 1, 3)), 2e7)
    link = part("P:12", links=[("loop", "P.1", "P.2")])
    still = Conditions(20, 1, 0.1, 0.001)

    def sound(shown: float) -> float:
        return chance(ask(link, ("P.1", "P.2", shown), meter=fine, room=still), "sound")

    # 0.02 of the link, 0.1 of the leads, and the mean of |N(0, 0.02)|: 0.016
    assert sound(0.136 + 0.04) == pytest.approx(sound(0.136 - 0.04), rel=0.01)


def test_readings_that_nothing_explains_are_unlisted_and_finite() -> None:
    x = ask(TWO, ("P.1", "P.2", 4e6), ("Q.1", "Q.2", 0.3), ("P.1", "Q.1", None), ("P.2", "Q.2", 3.0))
    assert top(x) == ("unlisted", "")
    assert math.fsum(f.probability for f in x.findings) == pytest.approx(1)
