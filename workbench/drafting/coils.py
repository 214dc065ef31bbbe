"""Edits of the coil layout: teeth, which winding's coil on which of them, in what sense."""

from dataclasses import replace

from workbench.drafting.draft import Draft
from workbench.drafting.edits import EditError
from workbench.stator.errors import FieldError
from workbench.stator.layout import MOST_PLACES, Coil, Facing, Layout, Wire


def set_core(draft: Draft, teeth: int, facing: Facing) -> Draft:
    """Coils on teeth that are gone go too; so do those beside a ring that is straight now. Raises EditError."""
    old = draft.layout.coils if draft.layout is not None else ()
    kept = tuple(c for c in old if (c.tooth <= teeth if c.tooth is not None else facing is not Facing.STRAIGHT))
    return draft.laid_out(_layout(teeth, facing, kept))


def put_coil(draft: Draft, winding: str, tooth: int | None = None, beside_degrees: float | None = None) -> Draft:
    """On top of what is on that tooth, or beside the ring; its sense is not noted yet. Raises EditError."""
    layout = _its(draft)
    coil = Coil(winding, tooth, 0, None, None, beside_degrees)
    stack = layout.stack(coil)
    if len(stack) >= MOST_PLACES:
        raise EditError(f"A tooth takes at most {MOST_PLACES} coils here.")
    place = 1 + max((c.place for c in stack), default=-1)
    return draft.laid_out(_layout(layout.teeth, layout.facing, (*layout.coils, replace(coil, place=place))))


def take_coil(draft: Draft, coil: Coil) -> Draft:
    """Those above it come down by one."""
    layout = _its(draft)
    kept = [c for c in layout.coils if c != coil]
    moved = tuple(
        replace(c, place=c.place - 1) if c.spot == coil.spot and c.place > coil.place else c for c in kept
    )  # fmt: skip
    return draft.laid_out(replace(layout, coils=moved))


def move_coil(draft: Draft, coil: Coil, by: int) -> tuple[Draft, Coil]:
    """Past its neighbour in the stack, 1 away from the root or -1 towards it; and the coil as it lies then.

    Raises EditError where it is the last one.
    """
    layout = _its(draft)
    stack = layout.stack(coil)
    to = stack.index(coil) + by
    if not 0 <= to < len(stack):
        raise EditError("No coil lies beyond it there.")
    other = stack[to]
    moved, back = replace(coil, place=other.place), replace(other, place=coil.place)
    made = tuple(moved if c == coil else back if c == other else c for c in layout.coils)
    return draft.laid_out(_layout(layout.teeth, layout.facing, made)), moved


def set_sense(draft: Draft, coil: Coil, sense: int | None) -> Draft:
    """1: clockwise from its tip to its root; -1: the other way; None: not noted. Raises EditError."""
    return _with(draft, coil, replace(coil, sense=sense))


def set_coil_wire(draft: Draft, coil: Coil, wire: Wire | None) -> Draft:
    return _with(draft, coil, replace(coil, wire=wire))


def _with(draft: Draft, coil: Coil, new: Coil) -> Draft:
    layout = _its(draft)
    return draft.laid_out(
        _layout(layout.teeth, layout.facing, tuple(new if c == coil else c for c in layout.coils))
    )  # fmt: skip


def _its(draft: Draft) -> Layout:
    if draft.layout is None:
        raise EditError("Say first how many teeth the core has.")
    return draft.layout


def _layout(teeth: int, facing: Facing, coils: tuple[Coil, ...]) -> Layout:
    try:
        return Layout(teeth, facing, coils)
    except FieldError as e:
        raise EditError(f"{e.sentence[0].upper()}{e.sentence[1:]}.") from None
