"""Winding factors of tooth coils, and when three phases balance.

12/10, 12/8, 9/8, 18/16 and the full-pitch winding of two coils a belt: as "Use of the star of slots in designing
fractional-slot single-layer synchronous motors" has them, by secondary quotation in a public test file. The others, and
which counts can't balance: from the same method's closed form, kp = sin(pi p/Q) and kd = sin(pi/6)/(z sin(pi/(6 z))),
z being the numerator of q = Q/(3 x 2p).
"""

import math
from fractions import Fraction

import numpy as np
import pytest

from workbench.rewind.errors import RewindError
from workbench.rewind.layout import Connection, Scheme, ToothCoil, of_phase
from workbench.rewind.layoutplan import plan
from workbench.rewind.star import Around, pitch_factor, winding_factor

QUOTED = [(12, 10, 0.9330), (12, 8, 0.8660), (9, 8, 0.9452), (18, 16, 0.9452)]
COMPUTED = [
    (3, 2, 0.8660), (6, 4, 0.8660), (9, 6, 0.8660), (15, 10, 0.8660), (18, 12, 0.8660), (21, 14, 0.8660),
    (24, 16, 0.8660), (36, 24, 0.8660), (3, 4, 0.8660), (6, 8, 0.8660), (9, 12, 0.8660), (12, 16, 0.8660),
    (15, 20, 0.8660), (18, 24, 0.8660), (21, 28, 0.8660), (24, 32, 0.8660), (27, 36, 0.8660), (9, 10, 0.9452),
    (18, 20, 0.9452), (12, 14, 0.9330), (24, 20, 0.9330), (24, 28, 0.9330), (15, 14, 0.9514), (15, 16, 0.9514),
]  # fmt: skip
ALL = QUOTED + COMPUTED


def phases(teeth: int, poles: int, layers: int = 2) -> list[tuple[ToothCoil, ...]]:
    laid = plan(Scheme(teeth, poles, 3, Connection.WYE, layers=layers)).coils
    return [of_phase(laid, p) for p in (1, 2, 3)]


@pytest.mark.parametrize(("teeth", "poles", "printed"), ALL)
def test_the_printed_factor_of_every_phase(teeth: int, poles: int, printed: float) -> None:
    for own in phases(teeth, poles):
        assert winding_factor([c.around for c in own], teeth, poles) == pytest.approx(printed, abs=5e-5)


@pytest.mark.parametrize(("teeth", "poles"), [(12, 10), (12, 14), (24, 20)])
def test_a_coil_on_every_second_tooth(teeth: int, poles: int) -> None:
    """0.9659: kd is 1, kp alone stays; by the closed form."""
    for own in phases(teeth, poles, layers=1):
        assert winding_factor([c.around for c in own], teeth, poles) == pytest.approx(0.9659, abs=5e-5)


def test_two_coils_of_full_pitch_side_by_side() -> None:
    """q = 2, full pitch: 0.9659, as quoted."""
    belt = [Around(1, span=6), Around(2, span=6)]
    assert winding_factor(belt, 12, 2) == pytest.approx(0.9659, abs=5e-5)


@pytest.mark.parametrize(("teeth", "poles", "printed"), ALL)
def test_the_closed_form(teeth: int, poles: int, printed: float) -> None:
    kp = math.sin(math.pi * poles / 2 / teeth)
    z = Fraction(teeth, 3 * poles).numerator
    kd = math.sin(math.pi / 6) / (z * math.sin(math.pi / (6 * z)))
    own = [c.around for c in phases(teeth, poles)[0]]
    assert winding_factor(own, teeth, poles) == pytest.approx(kp * kd, rel=1e-12)
    assert abs(pitch_factor(teeth, poles)) == pytest.approx(kp, rel=1e-12)


@pytest.mark.parametrize(("teeth", "poles"), [(12, 10), (9, 8), (18, 12), (15, 14), (12, 16)])
@pytest.mark.parametrize("harmonic", [1, 3, 5, 7])
def test_against_the_spectrum_of_the_winding_function(teeth: int, poles: int, harmonic: int) -> None:
    """How often each place of the ring is wound around, and its Fourier coefficient of order harmonic x pole pairs
    beside that of a full-pitch turn, 1/(pi n): nothing of it knows of pitch or distribution.
    """
    fine = 1024
    own = phases(teeth, poles)[0]
    around = np.zeros(teeth * fine)
    for c in own:
        around[(c.tooth - 1) * fine : c.tooth * fine] += c.sense
    n = harmonic * poles // 2
    order = np.exp(-2j * np.pi * n * (np.arange(teeth * fine) + 0.5) / (teeth * fine))
    coefficient = abs((around * order).mean()) * np.pi * n / len(own)
    # sampled in 1024 places a tooth, which the highest order, 56, sees to some 3e-5
    assert winding_factor([c.around for c in own], teeth, poles, harmonic) == pytest.approx(coefficient, abs=1e-4)


@pytest.mark.parametrize(("teeth", "poles"), [(12, 12), (9, 18), (12, 6), (18, 18)])
def test_counts_that_are_not_symmetric_are_refused(teeth: int, poles: int) -> None:
    """teeth / (3 gcd(teeth, pole pairs)) is no whole number."""
    with pytest.raises(RewindError, match=f"can't balance on {teeth} teeth under {poles} poles") as refused:
        plan(Scheme(teeth, poles, 3, Connection.WYE))
    assert refused.value.field == "poles"


def test_teeth_that_three_phases_cannot_share_are_refused() -> None:
    with pytest.raises(RewindError, match="8 teeth can't be shared alike by three phases"):
        plan(Scheme(8, 6, 3, Connection.WYE))
