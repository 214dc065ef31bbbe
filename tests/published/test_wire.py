"""Round copper wire against what was printed of it.

AWG: NBS Handbook 100 and ASTM B258, secondary reprints (0.005 in x 92^((36 - n)/39); diameters to 0.1 mil). Copper at
20 C: IEC 60028, by secondary reprint (58 m/(ohm mm2), 8.89 g/cm3). Over the film: NEMA MW 1000, by two secondary
reprints, and IEC 60317-0-1, by two secondary reprints.
"""

import pytest

from workbench.rewind.wire import (
    Build,
    Scale,
    Wire,
    area_mm2,
    awg,
    awg_mm,
    gauges,
    grams_per_metre,
    metric,
    ohms_per_metre,
)

MIL = 0.0254
FOOT = 0.3048
POUND = 453.59237

# AWG, mil, mm2, ohm / 1000 ft, ft/lb: ASTM B258's rounded diameters, a copper wire table by secondary reprint
PRINTED = [
    (10, 101.9, 5.262, 0.9988, 31.82),
    (12, 80.8, 3.308, 1.589, 50.6),
    (14, 64.1, 2.082, 2.524, 80.4),
    (16, 50.8, 1.308, 4.019, 128),
    (18, 40.3, 0.8229, 6.386, 203),
    (19, 35.9, 0.6531, 8.047, 256),
    (20, 32.0, 0.5189, 10.13, 323),
    (22, 25.3, 0.3243, 16.20, 516),
    (23, 22.6, 0.2588, 20.31, 647),
    (24, 20.1, 0.2047, 25.67, 818),
    (26, 15.9, 0.1281, 41.02, 1310),
    (28, 12.6, 0.08045, 65.33, 2080),
    (30, 10.0, 0.05067, 103.7, 3300),
    (32, 8.0, 0.03243, 162.0, 5160),
    (35, 5.6, 0.01589, 330.7, 10500),
]


@pytest.mark.parametrize(("n", "mil", "mm2", "per_kft", "feet"), PRINTED)
def test_the_printed_rows(n: int, mil: float, mm2: float, per_kft: float, feet: float) -> None:
    """Diameter exactly; area and ohms within their last digit (ohms were printed within 0.031 %)."""
    g = awg(n)
    assert g.mm == pytest.approx(mil * MIL, abs=1e-9)
    assert g.area_mm2 == pytest.approx(mm2, rel=4e-4)
    assert g.ohms_per_metre * 1000 * FOOT == pytest.approx(per_kft, rel=3.5e-4)
    # three figures are printed, the last one not always rounded alike
    assert POUND / (g.grams_per_metre * FOOT) == pytest.approx(feet, rel=4e-3)


def test_no_36_reads_414_8() -> None:
    """5.0 mil and 414.8 ohm / 1000 ft: by secondary reprint."""
    assert awg(36).mm == pytest.approx(0.127, abs=1e-12)
    assert awg(36).ohms_per_metre * 1000 * FOOT == pytest.approx(414.8, abs=0.05)


# 36 to 40 by secondary reprint too
@pytest.mark.parametrize(("n", "mil"), [(36, 5.0), (37, 4.5), (38, 4.0), (39, 3.5), (40, 3.1)])
def test_fine_sizes(n: int, mil: float) -> None:
    assert awg(n).mm == pytest.approx(mil * MIL, abs=1e-9)


@pytest.mark.parametrize(
    ("n", "inch"), [(-3, 0.46), (36, 0.005), (10, 0.1018971), (20, 0.0319615), (30, 0.0100252), (40, 0.0031445)]
)
def test_the_formula(n: int, inch: float) -> None:
    """0.4600 and 0.0050 in by definition (NBS Handbook 100, secondary); the others computed from it."""
    assert awg_mm(n) / 25.4 == pytest.approx(inch, abs=1e-7)


def test_its_ratios() -> None:
    """92^(1/39) a gauge; three gauges halve the area, ten take it down tenfold: computed from the formula."""
    assert awg_mm(19) / awg_mm(20) == pytest.approx(1.1229322, abs=1e-7)
    assert area_mm2(awg_mm(20)) / area_mm2(awg_mm(23)) == pytest.approx(2.005032, abs=1e-6)
    assert area_mm2(awg_mm(20)) / area_mm2(awg_mm(30)) == pytest.approx(10.16414, abs=1e-5)


@pytest.mark.parametrize("g", gauges(Scale.AWG), ids=lambda g: g.name)
def test_table_and_formula_agree_within_the_tables_rounding(g) -> None:  # type: ignore[no-untyped-def]
    """To 0.1 mil through 44 (ASTM B258, secondary); 45 and 46 to 0.01 mil, from memory."""
    step = 0.1 if g.size <= 44 else 0.01
    assert abs(g.mm - awg_mm(g.size)) <= step / 2 * MIL + 1e-9
    assert g.mm / MIL / step == pytest.approx(round(g.mm / MIL / step), abs=1e-6)


def test_an_exact_diameter_reads_otherwise_than_the_table() -> None:
    """AWG 20: 10.128 rounded, 10.153 exact; AWG 40: 1079 and 1049 ohm / 1000 ft (older handbooks)."""
    assert awg(20).ohms_per_metre * 1000 * FOOT == pytest.approx(10.128, abs=0.001)
    assert ohms_per_metre(awg_mm(20)) * 1000 * FOOT == pytest.approx(10.153, abs=0.001)
    assert awg(40).ohms_per_metre * 1000 * FOOT == pytest.approx(1079, abs=0.5)
    assert ohms_per_metre(awg_mm(40)) * 1000 * FOOT == pytest.approx(1049, abs=0.5)


def test_copper_is_iec_60028s() -> None:
    """1/58 ohm mm2/m and 8.89 g/cm3 (IEC 60028, secondary); their product is 0.15328 ohm g/m2."""
    assert ohms_per_metre(1) * area_mm2(1) == pytest.approx(0.01724137931, abs=1e-11)
    assert ohms_per_metre(0.3) * grams_per_metre(0.3) == pytest.approx(0.15328, abs=5e-6)


@pytest.mark.parametrize(
    ("mm", "metres", "ohms", "grams"),
    [(32.0 * MIL, 18, 0.59812, 83.03), (40.3 * MIL, 25, 0.52377, 182.90), (0.8, 20, 0.68601, 89.37)],
)
def test_a_length_of_wire(mm: float, metres: float, ohms: float, grams: float) -> None:
    """Computed from IEC 60028's constants."""
    assert metres * ohms_per_metre(mm) == pytest.approx(ohms, abs=5e-6)
    assert metres * grams_per_metre(mm) == pytest.approx(grams, abs=5e-3)


# least and largest bare diameter, mil: ASTM B258's sizes as NEMA MW 1000 limits them, by secondary reprint
BARE = {18: (39.9, 40.7), 20: (31.7, 32.3), 22: (25.0, 25.6), 24: (19.9, 20.3), 28: (12.5, 12.7), 30: (9.9, 10.1)}


@pytest.mark.parametrize("n", BARE)
def test_bare_limits(n: int) -> None:
    low, high = BARE[n]
    assert (awg(n).bare.low, awg(n).bare.high) == (pytest.approx(low * MIL), pytest.approx(high * MIL))


@pytest.mark.parametrize(("n", "high", "low"), [(20, 10.32, 9.941), (30, 105.8, 101.7)])
def test_ohms_at_the_bare_limits(n: int, high: float, low: float) -> None:
    """Printed beside the nominal ones, by secondary reprint."""
    thin, thick = awg(n).bare.low, awg(n).bare.high
    assert thin is not None
    assert thick is not None
    assert ohms_per_metre(thin) * 1000 * FOOT == pytest.approx(high, rel=5e-4)
    assert ohms_per_metre(thick) * 1000 * FOOT == pytest.approx(low, rel=5e-4)


# single least and largest, heavy least, mil: NEMA MW 1000, two secondary reprints agreeing (one for 14 to 23)
NEMA = [
    (14, 65.1, 66.6, 66.7), (18, 41.2, 42.4, 42.5), (20, 32.9, 33.9, 34.0), (24, 20.9, 21.7, 21.8),
    (28, 13.3, 14.0, 14.1), (30, 10.6, 11.2, 11.3), (36, 5.3, 5.8, 5.7), (40, 3.2, 3.7, 3.6),
]  # fmt: skip


@pytest.mark.parametrize(("n", "single_low", "single_high", "heavy_low"), NEMA)
def test_nema_films(n: int, single_low: float, single_high: float, heavy_low: float) -> None:
    single, heavy = awg(n).overall(Build.SINGLE), awg(n).overall(Build.HEAVY)
    assert single.low == pytest.approx(single_low * MIL, abs=1e-6)
    assert single.high == pytest.approx(single_high * MIL, abs=1e-6)
    assert heavy.low == pytest.approx(heavy_low * MIL, abs=1e-6)


@pytest.mark.parametrize(("n", "increase"), [(18, 2.6), (30, 1.4), (36, 0.8)])
def test_heavys_least_is_the_least_bare_and_the_least_increase(n: int, increase: float) -> None:
    """NEMA MW 1000, by secondary reprint."""
    low, bare = awg(n).overall(Build.HEAVY).low, awg(n).bare.low
    assert low is not None
    assert bare is not None
    assert low - bare == pytest.approx(increase * MIL, abs=1e-6)


# nominal, grade 1, 2 and 3 largest, mm: IEC 60317-0-1, by two secondary reprints
IEC = [
    (0.2, 0.226, 0.239, 0.252), (0.25, 0.281, 0.297, 0.312), (0.315, 0.349, 0.367, 0.384), (0.4, 0.439, 0.459, 0.478),
    (0.5, 0.544, 0.566, 0.587), (0.63, 0.679, 0.704, 0.728), (0.8, 0.855, 0.884, 0.911), (1.0, 1.062, 1.094, 1.124),
    (1.25, 1.316, 1.349, 1.381),
]  # fmt: skip
GRADES = (Build.GRADE_1, Build.GRADE_2, Build.GRADE_3)


@pytest.mark.parametrize(("mm", "one", "two", "three"), IEC)
def test_iec_films(mm: float, one: float, two: float, three: float) -> None:
    assert [metric(mm).overall(b).high for b in GRADES] == pytest.approx([one, two, three], abs=1e-6)


@pytest.mark.parametrize("g", gauges(Scale.METRIC), ids=lambda g: g.name)
def test_every_metric_film_is_thicker_than_the_one_before(g) -> None:  # type: ignore[no-untyped-def]
    """IEC 60317-0-1: bare, then grade 1, 2, 3; up to 0.5 mm grade 2 begins above where grade 1 ends (secondary)."""
    one, two, three = (g.overall(b) for b in GRADES)
    assert one.high is not None
    assert two.high is not None
    assert three.high is not None
    assert g.mm < one.high < two.high < three.high
    if g.mm <= 0.5:
        assert one.low is not None
        assert two.low is not None
        assert g.mm < one.low
        assert one.high < two.low


@pytest.mark.parametrize("g", gauges(Scale.AWG), ids=lambda g: g.name)
def test_every_awg_film_is_in_order(g) -> None:  # type: ignore[no-untyped-def]
    for build in g.builds:
        o = g.overall(build)
        known = [x for x in (g.mm, o.low, o.nominal, o.high) if x is not None]
        assert known == sorted(known)


def test_strands_side_by_side() -> None:
    """Areas and 1/R add. 2 of 0.75 mm are one of 1.0607 mm, 3 of 0.50 mm one of 0.8660 mm; 20 m of 3 x 0.50 mm are
    0.58540 ohm; two of AWG n + 3 are 0.99749 of n: computed.
    """
    assert 2 * area_mm2(0.75) == pytest.approx(area_mm2(1.0607), rel=1e-4)
    three = Wire.of(metric(0.5), Build.GRADE_2, strands=3)
    assert three.area_mm2 == pytest.approx(area_mm2(0.8660), rel=1e-4)
    assert 20 * three.ohms_per_metre == pytest.approx(0.58540, abs=5e-6)
    assert 2 * area_mm2(awg_mm(23)) / area_mm2(awg_mm(20)) == pytest.approx(0.99749, abs=5e-6)
