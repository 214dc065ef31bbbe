"""A pattern that is being drawn: it may lack or contradict anything until it is saved."""

from dataclasses import dataclass, replace
from typing import TypeVar

from workbench.stator.copper import Conductor
from workbench.stator.errors import FieldError
from workbench.stator.layout import Layout
from workbench.stator.pattern import (
    CORE,
    OPEN_LIMIT_OHMS,
    Cavity,
    Connector,
    Link,
    Pair,
    Pattern,
    Winding,
)

Named = TypeVar("Named", Connector, Winding, Link)


@dataclass(frozen=True, slots=True)
class Draft:
    """As `Pattern`, but nothing is refused. `windings`, `links`: in the order they were drawn.

    `checks` None: chosen by the program (`checks.choose_checks`) when it is saved.
    """

    name: str = ""
    plugs: tuple[Connector, ...] = ()
    windings: tuple[Winding, ...] = ()
    links: tuple[Link, ...] = ()
    reference_celsius: float = 20.0
    conductor: Conductor = Conductor.COPPER
    open_limit_ohms: float = OPEN_LIMIT_OHMS
    checks: tuple[Pair, ...] | None = None
    layout: Layout | None = None

    @staticmethod
    def of(pattern: Pattern) -> "Draft":
        p = pattern
        return Draft(
            p.name, p.connectors, p.windings, p.links, p.reference_celsius, p.conductor, p.open_limit_ohms, p.checks,
            p.layout,
        )  # fmt: skip

    def pattern(self) -> Pattern:
        """Raises FieldError where it is not one yet."""
        if not self.name.strip():
            raise FieldError("name", "a pattern needs a name")
        return Pattern(
            self.name, self.plugs, self.windings, self.links, self.reference_celsius, self.conductor,
            self.open_limit_ohms, self.checks, self.layout,
        )  # fmt: skip

    @property
    def trouble(self) -> FieldError | None:
        """What keeps it from being a pattern."""
        try:
            self.pattern()
        except FieldError as e:
            return e
        return None

    # ---- what is in it

    @property
    def edges(self) -> tuple[Winding | Link, ...]:
        return (*self.windings, *self.links)

    @property
    def pins(self) -> tuple[str, ...]:
        return tuple(n for p in self.plugs for n in p.nodes)

    @property
    def inner_points(self) -> tuple[str, ...]:
        known = {*self.pins, CORE}
        return tuple(dict.fromkeys(n for e in self.edges for n in (e.start, e.finish) if n not in known))

    def plug(self, name: str) -> Connector:
        """Raises KeyError."""
        return _named(self.plugs, name)

    def edge(self, name: str) -> Winding | Link:
        """Raises KeyError."""
        found = next((e for e in self.edges if e.name == name), None)
        if found is None:
            raise KeyError(name)
        return found

    # ---- edits of the whole

    def named(self, name: str) -> "Draft":
        return replace(self, name=" ".join(name.split()))

    def at_celsius(self, celsius: float) -> "Draft":
        """The temperature at which its ohms stand."""
        return replace(self, reference_celsius=celsius)

    def of_metal(self, conductor: Conductor) -> "Draft":
        return replace(self, conductor=conductor)

    def checked(self, checks: tuple[Pair, ...] | None) -> "Draft":
        return replace(self, checks=checks)

    def laid_out(self, layout: Layout | None) -> "Draft":
        return replace(self, layout=layout)


def _named(things: tuple[Named, ...], name: str) -> Named:
    found = next((t for t in things if t.name == name), None)
    if found is None:
        raise KeyError(name)
    return found


def cavity_of(plug: Connector, pin: str) -> Cavity:
    """Raises KeyError."""
    found = next((c for c in plug.cavities if c.pin == pin), None)
    if found is None:
        raise KeyError(pin)
    return found
