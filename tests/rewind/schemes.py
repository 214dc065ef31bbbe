"""Winding schemes for tests: three phases that balance, and single ones."""

from hypothesis import strategies as st

from workbench.rewind.layout import Connection, Scheme
from workbench.rewind.star import symmetric

ABLE = [(teeth, poles) for teeth in range(3, 37, 3) for poles in range(2, 2 * teeth, 2) if symmetric(teeth, poles)]
BETWEEN_PHASES = st.sampled_from([Connection.WYE, Connection.DELTA])


@st.composite
def three_phase(draw: st.DrawFn, turns: int = 1) -> Scheme:
    teeth, poles = draw(st.sampled_from(ABLE))
    return Scheme(teeth, poles, 3, draw(BETWEEN_PHASES), turns=turns)


@st.composite
def one_phase(draw: st.DrawFn) -> Scheme:
    teeth = draw(st.integers(2, 24))
    return Scheme(teeth, 2 * draw(st.integers(1, teeth - 1)), 1, Connection.SERIES)
