"""The pages of the rewind desk, in the order of the work."""

from workbench.sitting.rewindfound import found_done
from workbench.sitting.rewindplan import plan_done
from workbench.sitting.rewindsteps import steps_done
from workbench.sitting.rewindwire import wire_done
from workbench.sitting.rewindwound import wound_done
from workbench.window.rewind.deskpage import PageKind
from workbench.window.rewind.foundpage import FoundPage
from workbench.window.rewind.planpage import PlanPage
from workbench.window.rewind.stepspage import StepsPage
from workbench.window.rewind.wirepage import WirePage
from workbench.window.rewind.woundpage import WoundPage

PAGES = (
    PageKind("As found", found_done, FoundPage),
    PageKind("Plan", plan_done, PlanPage),
    PageKind("Wire", wire_done, WirePage),
    PageKind("Steps", steps_done, StepsPage),
    PageKind("As wound", wound_done, WoundPage),
)
