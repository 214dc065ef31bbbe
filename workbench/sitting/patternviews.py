"""What is in hand at the pattern desk, and small views that its page draws from."""

from collections.abc import Callable
from dataclasses import dataclass

from workbench.drafting.draft import Draft
from workbench.drafting.edits import EditError
from workbench.stator.pattern import CORE, Cavity, Connector, Link, Pattern, Winding


@dataclass
class Hand:
    """`plug`, `pin`: drawn on; `nodes`: the one or two last picked; `points`: inner points named but not joined yet."""

    plug: str = ""
    pin: str = ""
    nodes: tuple[str, ...] = ()
    points: tuple[str, ...] = ()
    wire_side: bool = False

    def press(self, node: str) -> None:
        """The first, the second, or a new first; one that is held already is let go."""
        if node in self.nodes:
            self.nodes = tuple(n for n in self.nodes if n != node)
        else:
            self.nodes = (*self.nodes, node) if len(self.nodes) < 2 else (node,)

    def follow(self, draft: Draft) -> None:
        """Lets go of what is there no more."""
        names = [p.name for p in draft.plugs]
        if self.plug not in names:
            self.plug = names[0] if names else ""
        plug = next((p for p in draft.plugs if p.name == self.plug), None)
        if plug is None or self.pin not in {c.pin for c in plug.cavities}:
            self.pin = plug.cavities[0].pin if plug is not None else ""
        joined = draft.inner_points
        self.points = tuple(p for p in self.points if p not in joined)
        known = {*draft.pins, *joined, *self.points, CORE}
        self.nodes = tuple(n for n in self.nodes if n in known)

    def inner_points(self, draft: Draft) -> tuple[str, ...]:
        """Those that are joined, and those only named so far."""
        return (*draft.inner_points, *self.points)


def celsius_edit(text: str) -> Callable[[Draft], Draft]:
    def edit(draft: Draft) -> Draft:
        try:
            celsius = float(text.strip().removesuffix("°C").strip().replace(",", "."))
        except ValueError:
            raise EditError("Type the degrees Celsius at which the ohms stand: 20.") from None
        if not -60 <= celsius <= 300:
            raise EditError(f"{celsius:g} °C is no temperature of a stator: type one from -60 to 300.")
        return draft.at_celsius(celsius)

    return edit


def sketch_pattern(draft: Draft) -> Pattern:
    """A pattern with this draft's layout and winding kinds, for the coil sketch: the draft itself may be none yet."""
    plug = Connector("P", (Cavity("1"), Cavity("2")))
    wound = tuple(
        Winding(w.name, "P.1", "P.2", w.kind, ohms=1.0, tolerance_percent=1.0)
        for w in draft.windings
        if w.element is None
    )
    spare = () if wound else (Link("nothing wound yet", "P.1", "P.2"),)
    return Pattern("draft", (plug,), wound, spare, layout=draft.layout)


def missing(draft: Draft) -> tuple[tuple[str, str, str, tuple[str, ...]], ...]:
    """What a draft lacks before it can be a pattern, in the order it is drawn: whom it is about, what in few words, as
    a sentence, and names to be lit. Empty where what keeps it from being one is something else.
    """
    out: list[tuple[str, str, str, tuple[str, ...]]] = []
    if not draft.name.strip():
        out.append(("No name", "give it one, at the top", "A pattern needs a name: give it one at the top.", ()))
    if not draft.plugs:
        out.append(("No plug", "add one, on the page Plugs", "No plug is drawn yet: add one, on the page Plugs.", ()))
    if not draft.edges:
        said = "Nothing is joined yet: on the page Windings choose two pins, then Winding."
        out.append(("Nothing is joined", "choose two pins, then Winding", said, ()))
    for w in draft.windings:
        if w.element is None and w.ohms is None and w.low_ohms is None:
            said = f"The {w.name} has no ohms and no band yet: type them on the page Windings."
            out.append((w.name, "no ohms and no band yet", said, (w.name,)))
    uses = [n for e in draft.edges for n in (e.start, e.finish)]
    for point in draft.inner_points:
        if uses.count(point) == 1:
            said = f"Only one thing is joined to the inner point {point}: join another to it, or drop it."
            out.append((point, "joined to one thing only", said, (point,)))
    return tuple(out)
