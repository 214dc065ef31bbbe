"""Small drafts for the tests beside this."""

from workbench.drafting.draft import Draft
from workbench.stator.layout import Coil, Facing, Layout
from workbench.stator.pattern import Cavity, Connector, Kind, Link, Pair, Terminal, Winding

TWO = Draft("two on a common pin", (Connector("P", tuple(Cavity(n, Terminal.SOCKET) for n in "123")),))


def wired() -> Draft:
    """Two coils in series on three pins, the last one linked to ground."""
    return Draft(
        TWO.name,
        TWO.plugs,
        (
            Winding("high", "P.1", "P.2", Kind.IGNITION, ohms=150.0, tolerance_percent=10),
            Winding("low", "P.2", "P.3", Kind.LIGHTING, ohms=20.0, tolerance_percent=10),
        ),
        (Link("ground", "P.3", "core"),),
        checks=(Pair("P.1", "P.2"), Pair("P.3", "core")),
        layout=Layout(4, Facing.OUTWARD, (Coil("high", 1), Coil("low", 1, 1), Coil("low", 2))),
    )
