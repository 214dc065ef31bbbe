"""The fields of a winding as it was found, in the order they are come by."""

from collections.abc import Mapping

from PySide6.QtWidgets import QLineEdit, QWidget

from workbench.rewind.found import NOTHING
from workbench.rewind.strip import (
    CALIPER_U_MM,
    GRAMS_LEAST,
    GRAMS_SHARE,
    MEAN_TURN_SHARE,
    OHMS_SHARE,
    TAPE_U_MM,
    TURNS_LEAST,
    TURNS_SHARE,
)
from workbench.rewindwords import SENSE_SEEN
from workbench.sitting.foundform import FoundForm
from workbench.window.look import Look
from workbench.window.parts import tab_within
from workbench.window.rewind.deskpage import FieldGrid

COLUMNS = 4
_HALF = COLUMNS // 2
_USUAL = "19 times in 20; nothing: {}, common practice, no source"
_CALIPER = _USUAL.format(f"{2 * CALIPER_U_MM:g} mm, a caliper's")


class FoundFields(FieldGrid):
    """`lines` by the names that a FoundForm has for them. Empty until `fill`, once it has its place: each time that
    so many fields move to another parent they are dressed anew, which takes the window longer than a frame.
    """

    def __init__(self, look: Look) -> None:
        super().__init__(look, COLUMNS)
        self.lines: Mapping[str, QLineEdit] = {}
        self.fields: Mapping[str, QWidget] = {}

    def fill(self) -> None:
        f: dict[str, QLineEdit] = {}
        self.heading("Before the knife")
        f["photos"] = self.line("Photos", "where they are: a folder, a tray, a name", span=_HALF)
        f["liner"] = self.line("Liner", "of what, and how thick", span=_HALF)
        f["start"] = self.wide_line("Start", "which lead is the start, as in: white, by tooth 1, next to the key")
        f["finish"] = self.wide_line("Finish", "which lead is the finish")
        f["crossovers"] = self.wide_line("Crossovers", "how the wire goes over from tooth to tooth")
        f["clockwise"] = self.line("Clockwise, teeth", f"as in 1 4 7-9; {SENSE_SEEN}", span=_HALF)
        f["anticlockwise"] = self.line("Anticlockwise, teeth", f"as in 2 5 8; {SENSE_SEEN}", span=_HALF)
        f["ohms"] = self.line("Ohms", "of the whole winding, the meter's leads taken off; of one phase where three are")
        f["celsius"] = self.line("At °C", "how warm it was then")
        f["lead_gauge"] = self.line("Loom's wire", "its gauge, where the loom was within the ohms")
        f["lead"] = self.line("Loom, mm", "both leads together")
        self.heading("Under the knife")
        f["turns"] = self.line("Turns counted", "a number for each coil that was counted, as in 34 34 35", span=_HALF)
        f["coils"] = self.line("Coils", "alike and in series; of one phase where three are wound")
        f["strands"] = self.line("Strands", "in hand: how many wires side by side made a turn")
        f["bare"] = self.line("Bare, mm", "at three places, as in 0.80 0.81 0.80", span=_HALF)
        f["overall"] = self.line("Over enamel, mm", "at three places, as in 0.87 0.88 0.87", span=_HALF)
        f["gauge"] = self.line("Tag's gauge", "as somebody wrote it down: AWG 18, or 1.0 mm")
        f["mean_turn"] = self.line("Turn, mm", "mean turn: one cut out of the middle of the coil and laid straight")
        f["grams"] = self.line("Copper, g", "all that was stripped of all coils; of one phase where three are wound")
        self.enamelled = self.choice(
            "Enamel", {"off": False, "on": True}, "burnt off, or still on, when it was weighed"
        )
        f["width"] = self.line("Tooth's width", "mm, with its liner")
        f["height"] = self.line("Its height", "mm, with its liner")
        f["build"] = self.line("Coil's build", "mm: how thick the coil lay on the tooth")
        f["tails"] = self.line("Tails, mm", "the coils' own wire beyond their turns, all together")
        self.heading("± of a figure, 19 times in 20; nothing: the usual")
        f["give_turns"] = self.line("± turns", _USUAL.format(f"{200 * TURNS_SHARE:g} %, at least {2 * TURNS_LEAST:g}"))
        f["give_bare"] = self.line("± bare", _CALIPER)
        f["give_overall"] = self.line("± enamel", _CALIPER)
        f["give_mean_turn"] = self.line("± turn", _USUAL.format(f"{200 * MEAN_TURN_SHARE:g} %"))
        f["give_sides"] = self.line("± tooth", _USUAL.format(f"{2 * TAPE_U_MM:g} mm on each side"))
        f["give_ohms"] = self.line("± ohms", _USUAL.format(f"{200 * OHMS_SHARE:g} %"))
        f["give_celsius"] = self.line("± °C", _USUAL.format(f"{2 * NOTHING.celsius_u:g} °C"))
        f["give_grams"] = self.line(
            "± grams", _USUAL.format(f"{200 * GRAMS_SHARE:g} %, at least {2 * GRAMS_LEAST:g} g")
        )
        self.lines = f
        self.fields = {**f, "enamelled": self.enamelled}
        self.first = f["photos"]
        made: list[QWidget] = list(f.values())
        made.insert(made.index(f["grams"]) + 1, self.enamelled)
        tab_within(self, *made)

    @property
    def typed(self) -> FoundForm:
        texts = {name: field.text() for name, field in self.lines.items()}
        return FoundForm(enamelled=self.enamelled.currentData(), **texts)
