"""What the copper of a faulty part really reads, against what the circuit says by hand."""

import pytest

from demo_shop.atwork import as_typed
from demo_shop.faults import BadLead, Fault, LeadOff, Open, Shorted, Swapped, ToCore, Wet
from demo_shop.part import Part, Truth
from workbench.exchange.starters import starter_meters, starter_pattern
from workbench.stator.pattern import CORE, Pair, Pattern
from workbench.stator.sheet import Conditions

HANDHELD, FOUR_WIRES = (m for _, m in starter_meters())
CONDITIONS = Conditions(20.0, 1.0)


def pattern(name: str) -> Pattern:
    found = starter_pattern(name)
    assert found is not None
    return found


COILS = pattern("two ignition coils on a common pin")  # P.1 -155- P.3 -17- P.2, link P.4 P.5, lighting L.1 -0.4- L.2
WYE = pattern("three-phase wye")  # 0.55 each


def part(p: Pattern, *faults: Fault) -> Part:
    return Part(p, {w.name: 1.0 for w in p.windings}, 1, faults)


def ohms(p: Pattern, one: str, other: str, *faults: Fault, celsius: float = 20.0) -> float | None:
    return part(p, *faults).ohms(Pair(one, other), celsius)


@pytest.mark.parametrize(
    ("p", "one", "other", "faults", "expected"),
    [
        (COILS, "P.1", "P.2", (), 172),
        (COILS, "P.4", "P.5", (), 0.02),
        (COILS, "P.1", CORE, (), None),
        (COILS, "P.1", "P.3", (Open("low-speed coil"),), None),
        (COILS, "P.3", "P.2", (Open("low-speed coil"),), 17),
        (COILS, "P.1", "P.2", (Shorted("low-speed coil", 0.2),), 0.8 * 155 + 17),
        (COILS, "P.1", "P.2", (LeadOff("P.3"),), 172),  # what meets behind it still meets
        (COILS, "P.1", "P.3", (LeadOff("P.3"),), None),
        (COILS, "P.1", "P.3", (BadLead("P.3", 40.0),), 195),
        (COILS, "P.1", "P.2", (BadLead("P.3", 40.0),), 172),
        (COILS, "P.3", "P.2", (Swapped("P.1", "P.3"),), 172),
        (COILS, "P.1", "P.3", (Swapped("P.1", "P.3"),), 155),
        (COILS, "P.1", CORE, (ToCore("low-speed coil", 0.25, 5.0),), 0.25 * 155 + 5),
        (COILS, "P.3", CORE, (ToCore("low-speed coil", 0.25, 5.0),), 0.75 * 155 + 5),
        (COILS, "P.1", "P.3", (ToCore("low-speed coil", 0.25, 5.0),), 155),
        (WYE, "C.1", "C.2", (), 1.1),
        (WYE, "C.1", "C.2", (Shorted("phase 1", 0.5),), 0.825),
        (WYE, "C.1", "C.2", (Open("phase 3"),), 1.1),
        (WYE, "C.1", "C.3", (Open("phase 3"),), None),
    ],
)
def test_what_the_copper_reads(
    p: Pattern, one: str, other: str, faults: tuple[Fault, ...], expected: float | None
) -> None:
    found = ohms(p, one, other, *faults)
    assert found == (None if expected is None else pytest.approx(expected))
    assert ohms(p, other, one, *faults) == (None if found is None else pytest.approx(found))


def test_a_wet_plug_leaks_between_its_pins_and_to_the_iron() -> None:
    leak = ohms(WYE, "C.1", CORE, Wet("C", 60e3))
    # each of three pins through 1.3 times as much; the windings short them together
    assert leak == pytest.approx(1.3 * 60e3 / 3, rel=1e-4)
    assert ohms(COILS, "L.1", CORE, Wet("P", 60e3)) is None


def test_copper_warms_and_a_fault_does_not() -> None:
    # IEC 60228's constant for copper: 234.5
    warm = (234.5 + 80) / (234.5 + 20)
    assert ohms(COILS, "P.1", "P.3", celsius=80) == pytest.approx(155 * warm)
    assert ohms(COILS, "P.1", "P.3", BadLead("P.1", 40.0), celsius=80) == pytest.approx(155 * warm + 40)
    assert ohms(COILS, "P.4", "P.5", celsius=80) == pytest.approx(0.02)


def test_a_diode_conducts_one_way() -> None:
    p = pattern("exciter with a diode inside")
    there, back = ohms(p, "E.1", "E.4"), ohms(p, "E.4", "E.1")
    assert there is not None
    assert there > 1e5
    assert back is None


def test_the_meter_shows_the_truth_and_not_what_was_stated() -> None:
    stated, coil = Conditions(20.0, 1.0, 0.0, 0.0002), Pair("P.1", "P.3")
    warm = (234.5 + 70) / (234.5 + 20)
    cold = float(part(COILS).shows(coil, FOUR_WIRES, stated))
    assert cold == pytest.approx(155, rel=1e-3)
    hot = float(part(COILS).shows(coil, FOUR_WIRES, stated, Truth(70.0, 0.0)))
    assert hot == pytest.approx(155 * warm, rel=1e-3)
    unzeroed = float(part(COILS).shows(Pair("L.1", "L.2"), FOUR_WIRES, stated, Truth(20.0, 1.5)))
    assert unzeroed == pytest.approx(1.9, abs=0.01)
    off = Truth(20.0, 0.0, tuple(0.004 for _ in FOUR_WIRES.ranges))
    assert float(part(COILS).shows(coil, FOUR_WIRES, stated, off)) == pytest.approx(155 * 1.004, rel=3e-4)


def test_nothing_and_too_much_are_overloads() -> None:
    assert part(COILS).shows(Pair("P.1", CORE), HANDHELD, CONDITIONS) == "OL"
    assert part(WYE, Wet("C", 9e8)).shows(Pair("C.1", CORE), HANDHELD, CONDITIONS) == "OL"


@pytest.mark.parametrize(
    ("shown", "typed"), [("184.3", "184.3"), ("1840", "1840"), ("6410", "6.41k"), ("61300", "61.3k"),
                         ("612000", "612k"), ("3460000", "3.46M"), ("OL", "OL")],
)  # fmt: skip
def test_thousands_are_typed_as_the_meter_shows_them(shown: str, typed: str) -> None:
    assert as_typed(shown, HANDHELD) == typed
