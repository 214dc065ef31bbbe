"""How long the plan's page holds the window: an answer shown, the drawing painted; and how long the back desk takes."""

import os
import time
from collections import defaultdict
from collections.abc import Callable
from dataclasses import replace
from functools import partial
from statistics import median
from typing import Any

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtWidgets import QApplication

from tests.sitting.plans import BLOCK
from tests.sitting.rewinds import rewinding
from workbench.rewind.coil import Manner
from workbench.sitting.planform import plan_asked
from workbench.sitting.rewindplan import came_of
from workbench.window.app import look_of, make_app
from workbench.window.look import Look
from workbench.window.rewind.page import RewindPage
from workbench.window.rewind.planpage import PlanPage

FRAME = 16.0  # ms
TIMES = 7
DEEP = replace(BLOCK, tip="40", gap="40", flywheel="60", gauge="AWG 30", over="")
PLANS = (
    ("45 wires", BLOCK),
    ("2,000 wires", replace(DEEP, turns="2000")),
    ("2,000 as they fall", replace(DEEP, turns="2000", manner=Manner.SCRAMBLE)),
    ("30,000 wires", replace(DEEP, turns="30000", gauge="AWG 40")),
    ("30,000 too many", replace(DEEP, turns="30000", gauge="AWG 36")),
)


def timed(act: Callable[[], object]) -> float:
    begin = time.perf_counter()
    act()
    return 1e3 * (time.perf_counter() - begin)


class Page:
    """The page with a back desk whose work is done when it is told to, and timed."""

    def __init__(self, app: QApplication, look: Look) -> None:
        self.app = app
        self.waiting: list[tuple[Callable[[], Any], Callable[[Any], object]]] = []
        self.shown: defaultdict[str, list[float]] = defaultdict(list)
        self.behind: defaultdict[str, list[float]] = defaultdict(list)
        r, _ = rewinding(winding="phase 1")
        r.reckon = lambda work, then: self.waiting.append((work, then))
        self.desk = RewindPage(look, r, to_bench=lambda: None, shelf=lambda: None)
        at = next(i for i, p in enumerate(self.desk.pages) if isinstance(p, PlanPage))
        page = self.desk.pages[at]
        assert isinstance(page, PlanPage)
        self.page = page
        self.desk.resize(1366, 728)
        self.desk.show()
        self.desk.show_page(at)
        app.processEvents()

    def drain(self) -> None:
        while self.waiting:
            work, then = self.waiting.pop(0)
            out: list[Any] = []
            what = work.func.__name__  # type: ignore[attr-defined]  # both are partials
            self.behind[what].append(timed(partial(_into, out, work)))
            self.shown[what].append(timed(partial(self._shown, then, out)))

    def _shown(self, then: Callable[[Any], object], out: list[Any]) -> None:
        then(out[0])
        self.app.processEvents()

    def larger(self, by: int) -> None:
        self.desk.resize(1366, 728 + by)
        self.app.processEvents()

    def close(self) -> None:
        self.desk.leave()
        self.desk.deleteLater()
        self.app.processEvents()


def _into(out: list[Any], work: Callable[[], Any]) -> None:
    out.append(work())


def main() -> None:
    app = make_app()
    look = look_of(app)
    for title, form in PLANS:
        p = Page(app, look)
        line(title, "planned, behind", [timed(partial(came_of, plan_asked(form), 1)) for _ in range(3)])
        pressed = []
        for i in range(TIMES):  # another plan each time, since the same is not reckoned again
            other = replace(form, turns=str(int(form.turns) - i))
            pressed.append(timed(partial(p.page.desk.plan, other)))
            p.drain()
        line(title, "Plan it pressed", pressed)
        line(title, "wires drawn, behind", p.behind["wire_picture"])
        line(title, "a plan comes", p.shown["came_of"])
        line(title, "its wires come", p.shown["wire_picture"])
        line(title, "painted", [timed(p.page.sketch.repaint) for _ in range(TIMES)])
        line(title, "window made larger", [timed(partial(p.larger, 10 * i)) for i in range(1, TIMES)])
        p.drain()
        p.close()


def line(title: str, what: str, took: list[float]) -> None:
    ms = median(took)
    print(f"{title:20} {what:20} {ms:7.2f} ms, {ms / FRAME:5.0%} of a frame")


if __name__ == "__main__":
    main()
