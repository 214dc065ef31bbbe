"""What the bench asks in a dialog: conditions, a strike's reason, the decision, why a part came back."""

from collections.abc import Callable, Sequence
from datetime import datetime

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QDialog, QWidget

from workbench import words
from workbench.records import NamedMeter, PatternRevision
from workbench.sitting.bench import Bench
from workbench.sitting.found import found_choices
from workbench.sitting.jobwords import words_of
from workbench.sitting.mended import repair_line
from workbench.sitting.otherpattern import choices, in_the_way, read_on
from workbench.sitting.views import ReadingView
from workbench.window.bench.conditionsdialog import ConditionsDialog
from workbench.window.bench.dialogs import BackDialog, DecideDialog, NoteDialog, StrikeDialog
from workbench.window.bench.jobdialog import JobDialog
from workbench.window.bench.patterndialog import PatternDialog
from workbench.window.bench.repairdialog import RepairDialog
from workbench.window.look import Look


class BenchAsking:
    """One dialog at a time, without stopping the program for it; `after` is called when it is gone."""

    def __init__(self, page: QWidget, look: Look, bench: Bench, after: Callable[[], None]) -> None:
        self.dialog: QDialog | None = None
        self._page, self._look, self._bench, self._after = page, look, bench, after

    def conditions(self, meters: Sequence[NamedMeter]) -> None:
        dialog = ConditionsDialog(self._page, self._look, self._bench.head, meters)
        self._ask(dialog, lambda: self._bench.change_conditions(dialog.head))

    def strike(self, line: ReadingView) -> None:
        dialog = StrikeDialog(self._page, self._look, f"{line.typed} for {line.title}")
        self._ask(dialog, lambda: self._bench.strike(line.id, dialog.reason.text()))

    def decision(self) -> None:
        verdict = words.SHEET_WORDS[self._bench.judged.verdict]
        dialog = DecideDialog(self._page, self._look, verdict, self._bench.decided, found_choices(self._bench))

        def decided() -> None:
            if dialog.outcome is not None:
                found = dialog.found
                note, ran_well = dialog.note.toPlainText(), dialog.ran_well.isChecked()
                self._bench.decide(dialog.outcome, note, found.fault, found.where, ran_well=ran_well)

        self._ask(dialog, decided)

    def job(self, library: Sequence[PatternRevision], move: Callable[[PatternRevision], None]) -> None:
        """`library`: the latest revision of each pattern; `move`: the part is to be read by one of them."""
        bench = self._bench
        unit, job = bench.unit, bench.job
        mended = [repair_line(r, _moment(r.repaired_at)) for r in bench.repairs]
        title, by, stuck = f"{unit.tag}, job {job.number}", read_on(bench, library), in_the_way(bench)
        dialog = JobDialog(self._page, self._look, title, words_of(unit, job), mended, by, stuck)

        def written() -> None:
            bench.write_job(dialog.words)
            if dialog.repairing:
                QTimer.singleShot(0, self._page, self.repair)
            elif dialog.moving:
                QTimer.singleShot(0, self._page, lambda: self.other_pattern(library, move))

        self._ask(dialog, written)

    def other_pattern(self, library: Sequence[PatternRevision], move: Callable[[PatternRevision], None]) -> None:
        bench = self._bench
        offered = choices(bench.revision, library)
        dialog = PatternDialog(self._page, self._look, bench.unit.tag, read_on(bench, library), offered)
        self._ask(dialog, lambda: move(dialog.revision) if dialog.revision is not None else None)

    def repair(self) -> None:
        dialog = RepairDialog(self._page, self._look, self._bench.unit.tag)
        self._ask(
            dialog, lambda: self._bench.repair(dialog.kind, dialog.where.text(), dialog.note.toPlainText())
        )  # fmt: skip

    def note(self) -> None:
        dialog = NoteDialog(self._page, self._look, self._bench.head.note)
        self._ask(dialog, lambda: self._bench.write_note(dialog.note.toPlainText()))

    def complaint(self, told: Callable[[str], None]) -> None:
        dialog = BackDialog(self._page, self._look, self._bench.unit.tag)
        self._ask(dialog, lambda: told(dialog.complaint.text()))

    def _ask(self, dialog: QDialog, accepted: Callable[[], None]) -> None:
        self.dialog = dialog
        dialog.accepted.connect(accepted)
        dialog.finished.connect(self._asked)
        dialog.open()

    def _asked(self) -> None:
        if self.dialog is not None:
            self.dialog.deleteLater()
            self.dialog = None
        self._after()


def _moment(at: datetime) -> str:
    return f"{at.astimezone():%Y-%m-%d %H:%M}"
