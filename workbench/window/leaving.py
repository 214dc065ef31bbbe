"""Before the program is left: what is worked on at a desk is kept, or it was seen that it can't be."""

from concurrent.futures import wait

from PySide6.QtWidgets import QMessageBox, QWidget

from workbench.sitting.draftkeep import DraftKeep
from workbench.window.hall import Hall


def kept_or_seen(hall: Hall, keeping: DraftKeep, page: QWidget, sentence: str) -> bool:
    """Waits for what is on its way; asks where the last of it could not be kept. `sentence`: what would be lost."""
    for _ in range(2):  # what is on its way, and what waits behind it
        if keeping.busy:
            wait([hall.shop.meters()])  # whatever comes of this: all that was asked before it is done then
            hall.bring()
    if not keeping.lost:
        return True
    standard = QMessageBox.StandardButton
    asked = QMessageBox.question(
        page, "Plugface", f"{sentence} Close all the same?", standard.Close | standard.Cancel, standard.Cancel
    )
    return asked is standard.Close
