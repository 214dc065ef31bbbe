"""Undo and redo: drafts are frozen, so what was before is simply kept."""

from dataclasses import dataclass, field

from workbench.drafting.draft import Draft

MOST_KEPT = 500


@dataclass(frozen=True, slots=True)
class History:
    """`now` with what was before it, oldest first, and what was undone, the next to be redone last."""

    now: Draft = field(default_factory=Draft)
    before: tuple[Draft, ...] = ()
    undone: tuple[Draft, ...] = ()

    def then(self, draft: Draft) -> "History":
        """One edit more; one that changed nothing is none."""
        if draft == self.now:
            return self
        return History(draft, (*self.before, self.now)[-MOST_KEPT:])

    def undo(self) -> "History":
        if not self.before:
            return self
        return History(self.before[-1], self.before[:-1], (*self.undone, self.now))

    def redo(self) -> "History":
        if not self.undone:
            return self
        return History(self.undone[-1], (*self.before, self.now), self.undone[:-1])
