"""Forms of coils to be planned that tests share."""

from dataclasses import replace

from workbench.rewind.coil import Manner
from workbench.sitting.planform import PlanForm
from workbench.stator.layout import Facing

# twelve outward teeth; 41 turns of AWG 18 heavy go in square-stacked, 45 nested
RING = PlanForm(
    "AWG 18", turns="40", teeth="12", tooth="8", stack="22", root="22", tip="40", flank="0.4", ends="0.5",
    root_lining="0.5", tip_lining="0.8", clear="0.3", flywheel="45", above="8", coils="4", celsius="60",
)  # fmt: skip
INWARD = replace(RING, facing=Facing.INWARD, root="40", tip="24", flywheel="22.5", turns="30")
# a window of 20 x 5 mm, and wire that is 1.0 mm over its enamel
BLOCK = PlanForm(
    "0.9 mm", over="1.0", turns="45", facing=Facing.STRAIGHT, tooth="10", stack="20", tip="20", gap="10", flywheel="23",
    bulge="0", stretch="0", tails="0", spare="0", core_u="0",
)  # fmt: skip
SCRAMBLE = replace(BLOCK, manner=Manner.SCRAMBLE)
