"""Tolerance factors against ISO 16269-6 (by secondary reprint: open test tables) and NIST's handbook."""

import math

import pytest

from workbench.drafting.earned import k_factor, order_needs

# ISO 16269-6:2014, two-sided, unknown mean and sigma, confidence 0.95: by secondary reprint; printed with the ceiling
# at four decimals
ISO = [
    (0.90, 8, 3.1561), (0.90, 16, 2.4486), (0.90, 35, 2.0943),
    (0.95, 5, 5.0769), (0.95, 10, 3.3935), (0.95, 26, 2.6188), (0.95, 90, 2.2519), (0.95, 200, 2.1430),
    (0.99, 9, 4.6329), (0.99, 17, 3.7606), (0.99, 35, 3.2762), (0.99, 100, 2.9356),
]  # fmt: skip


@pytest.mark.parametrize(("coverage", "n", "k"), ISO)
def test_iso_16269_6(coverage: float, n: int, k: float) -> None:
    assert math.ceil(1e4 * k_factor(n, coverage, 0.95) - 1e-6) / 1e4 == pytest.approx(k, abs=1.01e-4)


# an environmental-statistics text's rounded table, 95 % confidence: by secondary reprint
@pytest.mark.parametrize(
    ("n", "ks"), [(5, (4.29, 5.08, 6.60)), (10, (2.86, 3.39, 4.44)), (30, (2.15, 2.55, 3.35))]
)  # fmt: skip
def test_a_rounded_table(n: int, ks: tuple[float, ...]) -> None:
    got = tuple(round(k_factor(n, p, 0.95), 2) for p in (0.90, 0.95, 0.99))
    assert got == pytest.approx(ks, abs=0.0051)


def test_nist_howes_approximation_lies_close() -> None:
    """NIST/SEMATECH e-Handbook 7.2.6.3, worked example: N = 43, 90 % with 99 %, k2 = 2.217 by Howe's formula."""
    assert k_factor(43, 0.90, 0.99) == pytest.approx(2.217, rel=3e-3)


def test_the_least_and_the_greatest_of_ninety_three() -> None:
    """ISO 16269-6: 95 % with 95 % confidence between the extremes; 1 - n p^(n-1) + (n-1) p^n, computed."""
    assert order_needs(0.95, 0.95) == 93
    assert 1 - 93 * 0.95**92 + 92 * 0.95**93 >= 0.95 > 1 - 92 * 0.95**91 + 91 * 0.95**92
