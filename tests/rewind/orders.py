"""Cores, wires and orders that tests share, and any of them drawn."""

from hypothesis import strategies as st

from workbench.rewind.coil import Allowances, CoilOrder, Manner
from workbench.rewind.tables import Span
from workbench.rewind.window import Core, Lining
from workbench.rewind.wire import Build, Gauge, Wire, awg, gauges, metric
from workbench.rewind.wire import Scale as WireScale
from workbench.stator.layout import Facing

# a leg 10 x 20 mm, 20 mm long, with 10 mm of gap: half of it is a window of 20 x 5 mm
BLOCK = Core(Facing.STRAIGHT, tooth_mm=10, stack_mm=20, root_mm=0, tip_mm=20, gap_mm=10)
RING = Core(Facing.OUTWARD, tooth_mm=8, stack_mm=20, root_mm=18, tip_mm=35, teeth=12)
NOTHING = Allowances(0, 0, 0, 0, 0)
# 0.9 mm that is 1.0 mm over its enamel: sums that can be done in the head
ROUND = Wire(metric(0.9), Span(high=1.0))
HEAVY_20 = Wire.of(awg(20), Build.HEAVY)
ALL_GAUGES = gauges(WireScale.AWG) + gauges(WireScale.METRIC)


def on_block(turns: int, wire: Wire = ROUND, **more: object) -> CoilOrder:
    given = {"allowances": NOTHING, **more}
    return CoilOrder(wire, turns, BLOCK, **given)  # type: ignore[arg-type]


def _wire(g: Gauge, film: float, strands: int) -> Wire:
    return Wire(g, Span(high=g.mm * (1 + film)), strands=strands)


WIRES = st.builds(
    _wire,
    st.sampled_from([g for g in ALL_GAUGES if 0.2 <= g.mm <= 2.1]),
    st.sampled_from([0.05, 0.1, 0.2]),
    st.integers(1, 3),
)


@st.composite
def cores(draw: st.DrawFn) -> Core:
    facing = draw(st.sampled_from(Facing))
    tooth, stack = draw(st.floats(4, 12)), draw(st.floats(8, 40))
    long = draw(st.floats(8, 30))
    wound = draw(st.booleans())
    if facing is Facing.STRAIGHT:
        return Core(facing, tooth, stack, 0, long, gap_mm=draw(st.floats(8, 40)), neighbour_wound=wound)
    # teeth that leave at least as much gap as iron where they are nearest to each other
    teeth = draw(st.integers(3, 24))
    near = tooth * teeth / 3 + draw(st.floats(1, 20))
    ends = (near, near + long) if facing is Facing.OUTWARD else (near + long, near)
    return Core(facing, tooth, stack, *ends, teeth=teeth, neighbour_wound=wound)


LININGS = st.builds(Lining.liner, st.floats(0, 0.6))
MANNERS = st.sampled_from(Manner)
