"""Which part is being wound anew: brings its rewinds and the shelf to the desk, and lets nothing go unkept."""

from collections.abc import Callable
from concurrent.futures import wait
from typing import TYPE_CHECKING

from workbench.records import KeptRewind, Spool
from workbench.sitting.bench import Bench
from workbench.sitting.say import Said, Tone
from workbench.window.hall import Hall

if TYPE_CHECKING:
    from workbench.sitting.rewinding import Rewinding
    from workbench.window.rewind.page import RewindPage

ROUNDS = 4  # one change is on its way at a time, and one more may wait behind it


class RewindDesk:
    """`page`: the desk while it is worked at. `to_bench(tag, anew=)` goes back there."""

    def __init__(self, hall: Hall) -> None:
        self.page: RewindPage | None = None
        self.to_bench: Callable[..., None] = lambda tag, anew: None
        self._hall = hall
        self._last: Rewinding | None = None
        self._finished = False
        self._wanted: Bench | None = None
        self._told: Said | None = None

    def open(self, bench: Bench) -> None:
        """For the unit's job; what was begun is gone on with."""
        self._wanted = bench
        self._hall.shop.rewinds_of(bench.job.id, lambda kept: self._with_shelf(bench, kept), self._hall.say)

    def may_leave(self) -> bool:
        """Once all that is on its way has come through, or its failure has been seen."""
        r = self._last
        if r is None:
            return True
        before = r.said
        for _ in range(ROUNDS):
            if not r.saving:
                break
            wait([self._hall.shop.meters()])  # whatever comes of this: all that was asked before it is done then
            self._hall.bring()
        return r.said is before or r.said is None or r.said.tone is not Tone.REFUSES

    def edit_shelf(self) -> None:
        from workbench.window.rewind.shelfdialog import ShelfDialog

        r, page = self._last, self.page
        if r is None or page is None:
            return
        dialog = ShelfDialog(page, self._hall.look, r.spools, self._hall.shop.save_spool)
        dialog.finished.connect(lambda _: self._hall.shop.spools(r.shelve))  # once all that was sent is kept
        self._hall.ask(dialog)

    # ---- inside

    def _with_shelf(self, bench: Bench, kept: tuple[KeptRewind, ...]) -> None:
        if bench is self._wanted:
            self._hall.shop.spools(lambda spools: self._open(bench, kept, spools), self._hall.say)

    def _open(self, bench: Bench, kept: tuple[KeptRewind, ...], spools: tuple[Spool, ...]) -> None:
        from workbench.sitting.rewinding import Rewinding
        from workbench.sitting.rewindwhich import likely_winding
        from workbench.window.rewind.page import RewindPage

        if bench is not self._wanted:
            return
        self._wanted = None
        hall, likely = self._hall, likely_winding(bench)
        r = Rewinding(
            bench.unit,
            bench.job,
            bench.pattern,
            kept,
            spools,
            hall.shop,
            reckon=hall.reckon,
            winding=likely,
            head=bench.head,
            before=bench.rewound_before,
        )
        if not r.windings:
            hall.say(
                Exception(f"The pattern of {bench.unit.tag} has no winding of wire, so there is nothing to rewind.")
            )
            return
        self._last, self._finished = r, False
        r.on_done = lambda: self._done(r)
        page = RewindPage(hall.look, r, to_bench=self._back, shelf=self.edit_shelf)
        old, self.page = self.page, page
        hall.see(page, f"{bench.unit.tag}: rewind")
        if old is not None:
            hall.drop(old)
        page.take_focus()

    def _back(self) -> None:
        page, r = self.page, self._last
        if page is None or r is None:
            return
        page.leave()
        # nobody is there to see it any more, so that trouble is told by itself
        self._told = r.said
        r.on_change = lambda: self._trouble(r)
        self.page = None
        self.to_bench(r.unit.tag, anew=self._finished or r.run_since)
        self._hall.drop(page)

    def _trouble(self, r: "Rewinding") -> None:
        said, before = r.said, self._told
        self._told = said  # once: other news come while it stands
        if said is not None and said is not before and said.tone is Tone.REFUSES:
            self._hall.say(Exception(said.sentence))

    def _done(self, r: "Rewinding") -> None:
        """What it took is off the shelf now."""
        self._finished = True
        self._hall.shop.spools(r.shelve)
