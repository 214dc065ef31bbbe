"""Our own faults: written to a file once, said once, and the program goes on; what was kept is safe."""

import sys
import threading
import traceback
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from types import TracebackType

from platformdirs import user_log_path
from PySide6.QtWidgets import QMessageBox, QWidget

from workbench import __version__

SENTENCE = (
    "Something in the program went wrong that should not have. Every reading that stands solid is safe. "
    "If the screen looks odd, close the program and open it again; it comes back where it was.\n\n"
    "What happened is written in {file}, for whoever mends the program."
)


class CrashPath:
    """Installed as the hook of the window's thread and of every other. `deliver` posts to the window's thread."""

    def __init__(self, deliver: Callable[[Callable[[], object]], object], file: Path | None = None) -> None:
        self.file = file or user_log_path("plugface") / "faults.log"
        self._deliver = deliver
        self._said = False
        self.window: QWidget | None = None

    def install(self) -> None:
        sys.excepthook = self._hook
        threading.excepthook = lambda args: self.fault(args.exc_value) if args.exc_value else None

    def _hook(self, kind: type[BaseException], fault: BaseException, trace: TracebackType | None) -> None:
        if issubclass(kind, KeyboardInterrupt):
            sys.__excepthook__(kind, fault, trace)
            return
        self.fault(fault)

    def fault(self, fault: BaseException) -> None:
        """May be called on any thread."""
        text = "".join(traceback.format_exception(fault))
        print(text, file=sys.stderr)  # noqa: T201 - whoever started it from a terminal sees it there
        try:
            self.file.parent.mkdir(parents=True, exist_ok=True)
            with self.file.open("a", encoding="utf-8") as f:
                f.write(f"{datetime.now(UTC).isoformat()} plugface {__version__}\n{text}\n")
        except OSError:
            pass  # a full disk must not make a second fault of the first; it was printed above
        self._deliver(self._say)

    def _say(self) -> None:
        if self._said:
            return
        self._said = True
        box = QMessageBox(QMessageBox.Icon.Warning, "Plugface", SENTENCE.format(file=self.file), parent=self.window)
        box.open()
