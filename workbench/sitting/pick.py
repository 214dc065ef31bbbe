"""Which pins are picked on which plug, and how the plug is held."""

from dataclasses import dataclass, field, replace

from workbench.sitting.faceplan import View
from workbench.stator.pattern import CORE, Pair


@dataclass(frozen=True, slots=True)
class Pick:
    """`plug` is the one in sight; `nodes` are none, one or two."""

    plug: str | None
    nodes: tuple[str, ...] = ()
    view: View = field(default_factory=View)

    @property
    def pair(self) -> Pair | None:
        return Pair(*self.nodes) if len(self.nodes) == 2 else None

    def pressed(self, node: str) -> "Pick":
        """The first pin, the second, or a new first; the same first again lets go of it."""
        if len(self.nodes) == 1:
            return replace(self, nodes=() if node == self.nodes[0] else (self.nodes[0], node))
        return replace(self, nodes=(node,))

    def taken(self, pair: Pair) -> "Pick":
        """A whole pair; the plug changes only when neither pin is on the one in sight."""
        plugs = [node.partition(".")[0] for node in pair if node != CORE]
        plug = plugs[0] if plugs and self.plug not in plugs else self.plug
        return replace(self, nodes=tuple(pair), plug=plug)

    def seeing(self, plug: str) -> "Pick":
        return replace(self, plug=plug)

    def turned(self) -> "Pick":
        return replace(self, view=self.view.turned())

    def flipped(self) -> "Pick":
        return replace(self, view=self.view.flipped())


class Held:
    """The plugs as they are held, and what is picked on them, for panels to render."""

    _pick: Pick
    _last: Pair | None = None

    @property
    def plug(self) -> str | None:
        """The plug in sight."""
        return self._pick.plug

    @property
    def picked(self) -> tuple[str, ...]:
        """None, one or two nodes."""
        return self._pick.nodes

    @property
    def pair(self) -> Pair | None:
        return self._pick.pair

    @property
    def view(self) -> View:
        """How the plugs are held."""
        return self._pick.view

    @property
    def last(self) -> Pair | None:
        """The pair last read, whose result stays in sight until the next."""
        return self._last
