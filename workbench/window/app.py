"""Starts Qt, dresses it, opens the window."""

import os
import sys
from collections.abc import Callable

from PySide6.QtCore import QMessageLogContext, QtMsgType, qInstallMessageHandler
from PySide6.QtGui import QGuiApplication, Qt
from PySide6.QtWidgets import QApplication

from workbench import display
from workbench.window import settings
from workbench.window.bench.desk import Practice
from workbench.window.look import Look
from workbench.window.mainwindow import MainWindow
from workbench.window.theme import DARK, LIGHT, Sizes, apply


def make_app() -> QApplication:
    """The one QApplication. Qt falls back to drawing unseen where the display fails; ask `unseen`."""
    os.environ.setdefault("QT_QPA_PLATFORM", display.platforms())
    before = qInstallMessageHandler(_quiet)
    try:
        app = QApplication.instance() or QApplication([sys.argv[0]])
    finally:
        qInstallMessageHandler(before)
    if unseen() and before is None:
        qInstallMessageHandler(_without_chatter)
    assert isinstance(app, QApplication)
    app.setApplicationName("plugface")
    app.setApplicationDisplayName("")
    return app


def unseen() -> bool:
    return QGuiApplication.platformName() in ("offscreen", "minimal")


def look_of(app: QApplication, *, dark: bool | None = None, text_scale: float = 1.0) -> Look:
    """Dresses the program in light or dark; None: as the system is."""
    if dark is None:
        dark = app.styleHints().colorScheme() == Qt.ColorScheme.Dark
    theme = DARK if dark else LIGHT
    apply(app, theme, text_scale)
    return Look(theme, Sizes(text_scale))


def look_liked(app: QApplication, liking: settings.Liking) -> Look:
    dark = {"light": False, "dark": True}.get(liking.theme)
    return look_of(app, dark=dark, text_scale=liking.text_scale)


def run(
    url: str | None,
    *,
    shop_name: str = "",
    start_tag: str = "",
    practice: Practice | None = None,
    otherwise: Callable[[str], int] | None = None,
) -> int:
    """Opens the window and stays until it is closed. `otherwise(sentence)`: what to do where none can open."""
    app = make_app()
    if unseen() and otherwise is not None:
        return otherwise(display.why_unseen())
    if unseen():
        print(f"{display.why_unseen()} Plugface needs a window. Nothing was opened or changed.", file=sys.stderr)  # noqa: T201
        return 1
    liking = settings.load()

    def relook(wanted: settings.Liking) -> Look:
        settings.save(wanted)
        return look_liked(app, wanted)

    window = MainWindow(
        look_liked(app, liking),
        url,
        shop_name=shop_name,
        start_tag=start_tag,
        practice=practice,
        liking=liking,
        relook=relook,
    )
    window.crash_path.install()
    window.show()
    return app.exec()


def _without_chatter(kind: QtMsgType, context: QMessageLogContext, message: str) -> None:
    """What the offscreen platform says of itself at every window is no news; the rest is passed on."""
    if not message.startswith("This plugin does not support"):
        print(message, file=sys.stderr)  # noqa: T201 - as Qt itself does


def _quiet(kind: QtMsgType, context: QMessageLogContext, message: str) -> None:
    """While Qt looks for a display its own complaints are replaced by one sentence of ours."""
