"""Resistance against temperature.

R2 = R1 (k + t2) / (k + t1); k = 234.5 for copper: IEC 60228 Annex B, by secondary reprint (GOST 22483-2021);
235: IEC 60034-1's rise by resistance, by secondary reprint; aluminium 225: by secondary reprint, and 228:
IEC 60228 Annex B, by secondary reprint. The values are computed from the formula; the 7.75 K is a published
worked number, by secondary reprint.
"""

import pytest

from tests.stator.parts import FINE_PAIR, METER
from workbench.stator.copper import ALUMINIUM_K, COPPER_K, Conductor, factor, k_of
from workbench.stator.correct import Corrector
from workbench.stator.sheet import Conditions, Reading


def test_the_constants() -> None:
    assert COPPER_K == k_of(Conductor.COPPER) == 234.5
    assert ALUMINIUM_K == k_of(Conductor.ALUMINIUM) == 225.0


TABLE = [
    (1.0000, 20, 75, 234.5, 1.21611),
    (0.4500, 22, 20, 234.5, 0.446491),
    (0.6200, 31, 20, 234.5, 0.594313),
    (1.0, 25, 115, 234.5, 1.346821),
    (1.0, 20, 75, 225, 1.224490),
    (1.0, 20, 75, 228, 1.221774),
]


@pytest.mark.parametrize(("ohms", "start", "end", "k", "result"), TABLE)
def test_a_resistance_at_another_temperature(ohms: float, start: float, end: float, k: float, result: float) -> None:
    assert ohms * factor(start, end, k) == pytest.approx(result, rel=1e-5)


@pytest.mark.parametrize(("ohms", "start", "end", "k", "result"), [row for row in TABLE if row[3] != 228])
def test_the_same_through_a_sheets_correction(ohms: float, start: float, end: float, k: float, result: float) -> None:
    conductor = Conductor.COPPER if k == 234.5 else Conductor.ALUMINIUM
    corrector = Corrector(METER, Conditions(start, 0.0, lead_ohms=0.25), conductor, end)
    assert corrector.mean([Reading(FINE_PAIR, ohms + 0.25)]).ohms == pytest.approx(result, rel=1e-5)


@pytest.mark.parametrize(("k", "rise", "tolerance"), [(235, 7.75, 0.005), (234.5, 7.725, 0.0005)])
def test_a_rise_by_resistance(k: float, rise: float, tolerance: float) -> None:
    """0.200 to 0.210 ohm from 20 C, air at 25 C (IEC 60034-1's formula): k + t rises as the resistance does."""
    hot = 20 + 0.010 / 0.200 * (k + 20)
    assert 0.200 * factor(20, hot, k) == pytest.approx(0.210, rel=1e-12)
    assert hot - 25 == pytest.approx(rise, abs=tolerance)


@pytest.mark.parametrize(
    ("k", "celsius", "correction"), [(234.5, 30, 0.962193), (234.5, 5, 1.062630), (228, 30, 0.961240)]
)
def test_iec_60228s_factor_to_20_degrees(k: float, celsius: float, correction: float) -> None:
    """k_t = 254.5 / (234.5 + t), 248 / (228 + t): IEC 60228 Annex B, by secondary reprint."""
    assert factor(celsius, 20, k) == pytest.approx(correction, abs=1e-6)


@pytest.mark.parametrize(("at", "alpha"), [(0, 0.0042652), (15, 0.0040088), (25, 0.0038543)])
def test_the_temperature_coefficient_of_annealed_copper(at: float, alpha: float) -> None:
    """0.00393 at 20 C (IEC 60028, by NBS Handbook 100, secondary): 1 / (1 / 0.00393 - 20 + t), k = 234.453."""
    k = 1 / 0.00393 - 20
    assert factor(at, at + 1, k) - 1 == pytest.approx(alpha, abs=5e-8)
    assert k == pytest.approx(COPPER_K, abs=0.05)


def test_the_uncertainty_of_a_temperature() -> None:
    """dR / R = u(T) / (k + T), from the formula (JCGM 100, 5.1.2)."""
    corrected = Corrector(METER, Conditions(22.0, 3.0), Conductor.COPPER, 20.0).mean([Reading(FINE_PAIR, 100.0)])
    step = 1e-4
    either = [factor(22 + d, 20, COPPER_K) * 100 for d in (step, -step)]
    assert corrected.temperature == pytest.approx(3 * abs(either[0] - either[1]) / (2 * step), rel=1e-6)
