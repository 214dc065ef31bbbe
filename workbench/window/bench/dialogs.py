"""Small questions of the bench: why a reading is struck out, and what is decided of the part."""

from PySide6.QtGui import QTextCursor
from PySide6.QtWidgets import (
    QButtonGroup,
    QCheckBox,
    QComboBox,
    QDialog,
    QDialogButtonBox,
    QHBoxLayout,
    QLineEdit,
    QPlainTextEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from workbench.records import Decided, Outcome
from workbench.sitting.found import FoundChoice, FoundChoices
from workbench.window.look import Look
from workbench.window.parts import allow, label
from workbench.words import OUTCOME_WORDS

REASONS = ("missed the pin", "wrong range", "wrong pair", "slip of the finger", "probe moved")
STRUCK = "It stays visible on the sheet and counts no more. If it was right after all, read its pair again."


class StrikeDialog(QDialog):
    """Asks for the reason; the usual ones are one press away."""

    def __init__(self, parent: QWidget, look: Look, what: str) -> None:
        super().__init__(parent)
        self.setWindowTitle("Strike out a reading")
        self.setMinimumWidth(look.sizes.px(460))
        self.reason = QLineEdit()
        self.reason.setAccessibleName("Reason")
        self.reason.setMaxLength(200)
        caption = label("&Why?")
        caption.setBuddy(self.reason)
        self.usual = [QPushButton(r) for r in REASONS]
        column = QVBoxLayout(self)
        column.addWidget(label(f"Strike out {what}", "title", wrap=True))
        column.addWidget(label(STRUCK, "quiet", wrap=True))
        column.addWidget(caption)
        column.addWidget(self.reason)
        for some in (self.usual[:3], self.usual[3:]):
            row = QHBoxLayout()
            for b in some:
                b.setAutoDefault(False)
                b.setAccessibleName(b.text())
                b.clicked.connect(lambda _=False, chosen=b: self._take(chosen.text()))
                row.addWidget(b)
            row.addStretch(1)
            column.addLayout(row)
        self.buttons = ok_cancel(self, "Strike out")
        column.addWidget(self.buttons)
        self.reason.textChanged.connect(self._allow)
        self._allow()
        self.reason.setFocus()

    def _take(self, text: str) -> None:
        self.reason.setText(text)
        self.accept()

    def _allow(self) -> None:
        ok = self.buttons.button(QDialogButtonBox.StandardButton.Ok)
        allow(ok, bool(self.reason.text().strip()), "Say why first, or press one of the reasons")


class DecideDialog(QDialog):
    """Pass, repair, rewind or scrap, what the part was found to have, and a note. The sheet's verdict stands above.

    What is proposed as found goes with the outcome until a hand has chosen.
    """

    def __init__(
        self, parent: QWidget, look: Look, verdict: str, before: Decided | None, found: FoundChoices | None = None
    ) -> None:
        super().__init__(parent)
        self.setWindowTitle("Decide")
        self.setMinimumWidth(look.sizes.px(460))
        self._verdict = verdict
        self._found = found or FoundChoices()
        self._by_hand = False
        self.group = QButtonGroup(self)
        self.choices: dict[Outcome, QPushButton] = {}
        row = QHBoxLayout()
        for i, (outcome, key) in enumerate(zip(Outcome, ("&Pass", "&Repair", "Re&wind", "&Scrap"), strict=True)):
            b = QPushButton(key)
            b.setCheckable(True)
            b.setAutoDefault(False)
            b.setAccessibleName(OUTCOME_WORDS[outcome])
            self.group.addButton(b, i)
            self.choices[outcome] = b
            row.addWidget(b)
        self.found_box = QComboBox()
        self.found_box.setAccessibleName("Found to be")
        self.found_box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.found_box.addItems([c.title for c in self._found.every])
        self.found_box.setMaxVisibleItems(self.found_box.count())
        self.found_box.activated.connect(self._chosen)
        found_caption = label("&Found to be")
        found_caption.setBuddy(self.found_box)
        self.note = QPlainTextEdit()
        self.note.setAccessibleName("Note")
        self.note.setTabChangesFocus(True)
        self.note.setMaximumHeight(look.sizes.px(110))
        caption = label("&Note")
        caption.setBuddy(self.note)
        self.ran_well = QCheckBox("It ran well on its &machine: known good")
        self.ran_well.setAccessibleName("It ran well on its machine: known good")
        self.ran_well.setToolTip("Parts known good are what bands of the shop's own are made from")
        self.warning = label("", wrap=True)
        self.buttons = ok_cancel(self, "Keep the decision")
        column = QVBoxLayout(self)
        column.addWidget(label(f"The sheet says {verdict}", "title", wrap=True))
        column.addLayout(row)
        column.addWidget(self.warning)
        column.addWidget(found_caption)
        column.addWidget(self.found_box)
        column.addWidget(caption)
        column.addWidget(self.note)
        column.addWidget(self.ran_well)
        column.addWidget(self.buttons)
        self.group.idClicked.connect(lambda _: self._changed())
        if before is not None:
            self.choices[before.outcome].setChecked(True)
            self.note.setPlainText(before.note)
            self.ran_well.setChecked(before.ran_well)
        self._changed()

    @property
    def outcome(self) -> Outcome | None:
        return next((o for o, b in self.choices.items() if b.isChecked()), None)

    @property
    def found(self) -> FoundChoice:
        return self._found.every[self.found_box.currentIndex()]

    def _chosen(self, _: int) -> None:
        self._by_hand = True

    def _changed(self) -> None:
        if not self._by_hand:
            self.found_box.setCurrentIndex(self._found.every.index(self._found.proposed(self.outcome)))
        allow(self.ran_well, self.outcome is Outcome.PASS, "Only a part that passes can be known good")
        if self.outcome is not Outcome.PASS:
            self.ran_well.setChecked(False)
        ok = self.buttons.button(QDialogButtonBox.StandardButton.Ok)
        allow(ok, self.outcome is not None, "Choose pass, repair, rewind or scrap first")
        passing = self.outcome is Outcome.PASS and self._verdict != "GOOD"
        self.warning.setText(f"The sheet says {self._verdict}, not GOOD; the card will say so too." if passing else "")


class NoteDialog(QDialog):
    """What is to be remembered of this sitting."""

    def __init__(self, parent: QWidget, look: Look, note: str) -> None:
        super().__init__(parent)
        self.setWindowTitle("Note on this sheet")
        self.setMinimumWidth(look.sizes.px(460))
        self.note = QPlainTextEdit(note)
        self.note.setAccessibleName("Note on this sheet")
        self.note.setTabChangesFocus(True)
        self.note.setMinimumHeight(look.sizes.px(110))
        column = QVBoxLayout(self)
        column.addWidget(label("Note on this sheet", "title"))
        column.addWidget(label("A cracked tooth, a splice: it stays with the sheet.", "quiet", wrap=True))
        column.addWidget(self.note, 1)
        column.addWidget(ok_cancel(self, "Keep the note"))
        self.note.setFocus()
        self.note.moveCursor(QTextCursor.MoveOperation.End)


class BackDialog(QDialog):
    """A part that was decided on is back: what is it in for this time?"""

    def __init__(self, parent: QWidget, look: Look, tag: str) -> None:
        super().__init__(parent)
        self.setWindowTitle("Back again")
        self.setMinimumWidth(look.sizes.px(460))
        self.complaint = QLineEdit()
        self.complaint.setAccessibleName("Complaint")
        self.complaint.setMaxLength(400)
        caption = label("&Complaint")
        caption.setBuddy(self.complaint)
        column = QVBoxLayout(self)
        column.addWidget(label(f"{tag} is back", "title", wrap=True))
        column.addWidget(
            label("It was decided on before: this opens a new job, with a sheet of its own.", "quiet", wrap=True)
        )
        column.addWidget(caption)
        column.addWidget(self.complaint)
        column.addWidget(ok_cancel(self, "Open the job"))
        self.complaint.setFocus()


def ok_cancel(dialog: QDialog, ok: str) -> QDialogButtonBox:
    standard = QDialogButtonBox.StandardButton
    made = QDialogButtonBox(standard.Ok | standard.Cancel)
    made.button(standard.Ok).setText(ok)
    made.button(standard.Ok).setProperty("role", "strong")
    for b in (made.button(standard.Ok), made.button(standard.Cancel)):
        b.setAccessibleName(b.text())
    made.accepted.connect(dialog.accept)
    made.rejected.connect(dialog.reject)
    return made
