"""How long the page As wound holds the window's thread: a coil noted, a sense seen, a step ticked; on a core of 12 and
of 96 teeth, all of them wound. `python -m tests.benchmarks.bench_woundpage`.
"""

import os
from dataclasses import replace
from statistics import median
from time import perf_counter

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtWidgets import QMainWindow

from tests.rewind.wounds import MEAN, TURNS, WIRE, coil
from tests.sitting.fakes import WYE
from tests.sitting.rewinds import rewinding
from tests.sitting.wounddesk import head
from workbench.rewind.layout import Connection, Scheme
from workbench.rewind.layoutplan import plan
from workbench.rewind.record import Body, Laid, WireWork
from workbench.rewind.shelf import AsWas
from workbench.rewind.woundrecord import SenseSeen, Spot, Way, WoundWork
from workbench.stator.layout import Facing
from workbench.window.app import look_of, make_app
from workbench.window.rewind.page import RewindPage
from workbench.window.rewind.pages import PAGES
from workbench.window.rewind.woundpage import WoundPage

FRAME = 16.0  # ms
TIMES = 15


def main() -> None:
    app = make_app()
    look = look_of(app, dark=False, text_scale=1.0)
    for teeth, poles in ((12, 10), (96, 80)):
        scheme = Scheme(teeth, poles, 3, Connection.WYE)
        coils = plan(scheme).coils
        r, _ = rewinding(WYE, head=head())
        wound = WoundWork(
            coils=tuple(replace(coil(1), spot=Spot(c.tooth)) for c in coils),
            sense=tuple(SenseSeen(Spot(c.tooth), Way.CLOCKWISE if c.sense > 0 else Way.NORTH) for c in coils),
        )
        r.change(Body(Laid(scheme, Facing.OUTWARD, coils), WireWork(AsWas(WIRE.wire, TURNS, MEAN)), wound=wound))
        began = perf_counter()
        desk = RewindPage(look, r, to_bench=lambda: None, shelf=lambda: None)
        window = QMainWindow()
        window.setCentralWidget(desk)
        window.resize(1366, 728)
        window.show()
        at = next(i for i, kind in enumerate(PAGES) if kind.make is WoundPage)
        desk.show_page(at)
        app.processEvents()
        page = desk.page
        assert isinstance(page, WoundPage)
        print(f"{teeth} teeth: desk and page made in {1000 * (perf_counter() - began):.0f} ms")
        spots = [a.spot for a in page.desk.asked]
        for what, act in (
            ("a coil noted", lambda p=page: _note(p)),
            ("a sense seen", lambda p=page: p.desk.see_sense(Way.CLOCKWISE)),
            ("another coil in hand", lambda p=page: p.desk.move(1)),
            ("a step ticked, taken back", lambda p=page: (p.steps.tick.click(), p.steps.back.click())),
        ):
            page.desk.choose(spots[0])
            took, drawn = [], []
            for _ in range(TIMES):
                began = perf_counter()
                act()
                took.append(1000 * (perf_counter() - began))
                began = perf_counter()
                app.processEvents()
                drawn.append(1000 * (perf_counter() - began))
            print(
                f"  {what}: {median(took):.1f} ms, at most {max(took):.1f}; drawn in {median(drawn):.1f}; "
                f"{median(took) / FRAME:.2f} of a frame"
            )
        window.close()
        window.deleteLater()
        app.processEvents()


def _note(page: WoundPage) -> None:
    before = int(page.coils.turns.text() or TURNS)
    page.coils.turns.setText(str(TURNS + (before + 1) % 3))
    page.coils.note.click()


if __name__ == "__main__":
    main()
