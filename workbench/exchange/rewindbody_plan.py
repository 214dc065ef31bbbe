"""A rewind's plan as JSON: the order of a coil as `plugface rewind` has it, and what came of it."""

from typing import Any

from workbench.exchange.fields import Fields, under
from workbench.exchange.rewind_coil import coil_order, order_to_json
from workbench.exchange.rewind_parts import whole
from workbench.rewind.coil import CoilOrder
from workbench.rewind.record import PlanWork
from workbench.stator.errors import FieldError

_FIGURES = ("metres", "ohms_20", "u")


def plan_to_json(work: PlanWork) -> dict[str, Any]:
    figures = {name: getattr(work, name) for name in _FIGURES}
    return {"order": order_to_json(work.order), "coils": work.coils, "paths": work.paths, **figures}


def plan_from_json(value: Any) -> PlanWork:
    """Raises FieldError for what `plan_to_json` never writes: an ask may leave things out, a record may not."""
    f = Fields(value, "plan", "the plan")
    ordered = f.take("order")
    coils, paths = whole(f, "coils"), whole(f, "paths")
    figures = [f.number(name) for name in _FIGURES]
    f.done()

    def make() -> PlanWork:
        order = under("order", lambda: _order(ordered))
        return PlanWork(order, coils, paths, *figures)

    return under("plan", make)


def _order(value: Any) -> CoilOrder:
    f = Fields(value, "", "the order of a coil")
    make = coil_order(f)
    f.done()
    order = make()
    written = order_to_json(order)
    for name, part in written.items():
        if value.get(name) != part:
            raise FieldError(name, "is not as it would be written here")
    return order
