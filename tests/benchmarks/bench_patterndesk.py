"""How long a step at the pattern desk holds the window: the edit with its proof, and the paint after it."""

import os
import time
from collections.abc import Callable
from dataclasses import replace
from statistics import median

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from tests.sitting.fakes import TWO_COILS, starter
from tests.sitting.test_patterndesk import BASE, Records
from workbench.drafting import plugs, windings
from workbench.drafting.draft import Draft
from workbench.drafting.prove import Proof
from workbench.sitting.patterndesk import PatternDesk
from workbench.window.app import look_of, make_app
from workbench.window.patterns.page import PatternPage

FRAME = 16.0  # ms
TIMES = 7


def loom(pins: int, wound: int) -> Draft:
    d = plugs.add_plug(Draft("a loom"), plugs.rows((pins // 2, pins - pins // 2)), name="P")
    for i in range(wound):
        d, name = windings.connect(d, f"P.{2 * i + 1}", f"P.{2 * i + 2}")
        d = windings.set_percent(d, name, 10.0 + i, 10)
    return d


def main() -> None:
    app = make_app()
    look = look_of(app)
    drafts = (
        ("two coils", Draft.of(starter(TWO_COILS))), ("20 pins, 8 windings", loom(20, 8)),
        ("40 pins, 12 windings", loom(40, 12)), ("60 pins, 20 windings", loom(60, 20)),
    )  # fmt: skip
    for title, draft in drafts:
        elsewhere: list[tuple[Callable[[], Proof], Callable[[Proof], None]]] = []
        desk = PatternDesk(
            Records(), base=replace(BASE, pattern=draft.pattern()), reckon=lambda w, t, e=elsewhere: e.append((w, t))
        )  # fmt: skip
        page = PatternPage(look, desk, lambda: None, lambda tag: None)
        page.resize(1366, 728)
        page.show()
        app.processEvents()
        plug, wound, pins = draft.plugs[0].name, draft.windings[0].name, draft.pins

        def step(what: str, act: Callable[[int], object], title: str = title, times: int = TIMES) -> None:
            took = []
            for i in range(times):
                begin = time.perf_counter()
                act(i)
                app.processEvents()
                took.append(1e3 * (time.perf_counter() - begin))
            print(f"{title:22} {what:16} {median(took):5.1f} ms, {median(took) / FRAME:4.0%} of a frame")

        step("move a cavity", lambda i, d=desk, n=plug: d.edit(lambda x: plugs.move_cavity(x, n, "1", (-1.0 - i, 3.0))))
        page.see(1)
        app.processEvents()
        step("press a pin", lambda i, p=page, n=pins: p.face.face.pinPressed.emit(n[i % 3]))
        step("ohms", lambda i, d=desk, n=wound: d.edit(lambda x: windings.set_percent(x, n, 20.0 + i, 10)))
        step("another page", lambda i, p=page: p.see(i % 4))
        if elsewhere:
            work, then = elsewhere[-1]
            proof = work()
            step("a proof comes", lambda _, t=then, r=proof: t(r), times=1)
        page.leave()
        page.deleteLater()
        app.processEvents()


if __name__ == "__main__":
    main()
