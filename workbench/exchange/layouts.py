"""A layout as JSON (the `layout` of the published Schema `pattern-1.json`), read and written."""

from typing import Any

from workbench.exchange.fields import Fields, under
from workbench.stator.errors import FieldError
from workbench.stator.layout import Coil, Facing, Layout, Wire


def layout_from_json(value: Any, path: str = "") -> Layout:
    """Raises FieldError naming the field, from `path` on."""
    f = Fields(value, path, "a layout")
    teeth = _whole(f, "teeth")
    facing = f.code("facing", Facing, "way for teeth to face") if f.has("facing") else Facing.OUTWARD
    coils = tuple(_coil(v, at) for v, at in f.items("coils"))
    f.done()
    return under(path, lambda: Layout(teeth, facing, coils))


def _coil(value: Any, path: str) -> Coil:
    f = Fields(value, path, "a coil")
    coil = Coil(
        winding=f.text("winding"),
        tooth=_whole(f, "tooth") if f.has("tooth") else None,
        place=_whole(f, "place") if f.has("place") else 0,
        sense=_whole(f, "sense") if f.has("sense") else None,
        wire=f.code("wire", Wire, "wire") if f.has("wire") else None,
        beside_degrees=f.optional_number("beside_degrees"),
    )
    f.done()
    return coil


def _whole(f: Fields, name: str) -> int:
    number = f.number(name)
    if not number.is_integer():
        raise FieldError(f.place(name), f"must be a whole number, not {number:g}")
    return int(number)


def layout_to_json(layout: Layout) -> dict[str, Any]:
    """What `layout_from_json` reads back as an equal layout; defaults are left out, but for the facing."""
    return {
        "teeth": layout.teeth,
        "facing": str(layout.facing),
        "coils": [_coil_to_json(c) for c in layout.coils],
    }


def _coil_to_json(c: Coil) -> dict[str, Any]:
    out: dict[str, Any] = {"winding": c.winding}
    for name in ("tooth", "beside_degrees", "sense"):
        if getattr(c, name) is not None:
            out[name] = getattr(c, name)
    if c.place:
        out["place"] = c.place
    if c.wire is not None:
        out["wire"] = str(c.wire)
    return out
