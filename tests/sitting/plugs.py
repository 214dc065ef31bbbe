"""Plugs in every arrangement that the faces must draw. All invented."""

from workbench.stator.pattern import Cavity, Connector, Side, Terminal


def plug(name: str, places: list[tuple[float, float]], key: Side | None = Side.BOTTOM, sockets: str = "") -> Connector:
    """Pins 1, 2, ... at these places (x right, y up); `sockets` names those that are no blades."""
    return Connector(
        name,
        tuple(
            Cavity(str(i), Terminal.SOCKET if str(i) in sockets.split() else Terminal.BLADE, x, y)
            for i, (x, y) in enumerate(places, 1)
        ),
        key,
    )


INLINE_3 = plug("A", [(0, 0), (1, 0), (2, 0)], sockets="3")
STAGGERED_5 = plug("B", [(0.5, 1), (1.5, 1), (0, 0), (1, 0), (2, 0)], sockets="3")
TWO_ROWS_6 = plug("C", [(0, 1), (1, 1), (2, 1), (0, 0), (1, 0), (2, 0)], Side.LEFT, "1 4")
ROUND_4 = plug("D", [(0, 1), (1, 0), (0, -1), (-1, 0)], sockets="1 2 3 4")
THREE_ROWS_12 = plug("E", [(x, 2 - y) for y in range(3) for x in range(4)], sockets="5 6 7 8")
BULLET = Connector("F", (Cavity("1"),), None)
ALL = (INLINE_3, STAGGERED_5, TWO_ROWS_6, ROUND_4, THREE_ROWS_12, BULLET)
