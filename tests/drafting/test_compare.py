"""Two revisions side by side."""

from dataclasses import replace

from hypothesis import given

from tests.drafting.drawn import wired
from tests.stator.strategies import patterns
from workbench.drafting import plugs, windings
from workbench.drafting.compare import Difference, Noun, compare
from workbench.stator.pattern import Pair, Pattern, Side, Terminal

OLD = wired().pattern()


def changed(**more: object) -> tuple[Difference, ...]:
    return compare(OLD, replace(OLD, **more))  # type: ignore[arg-type]


@given(patterns(elements=True, laid_out=True))
def test_a_pattern_differs_in_nothing_from_itself(pattern: Pattern) -> None:
    assert compare(pattern, pattern) == ()


def test_a_band_a_terminal_a_key_and_a_coil() -> None:
    new = windings.set_percent(wired(), "low", 22, 10)
    new = plugs.set_key(plugs.set_terminal(new, "P", Terminal.BLADE, "2"), "P", Side.TOP)
    assert compare(OLD, new.pattern()) == (
        Difference(Noun.PLUG, "P", "key", Side.BOTTOM, Side.TOP),
        Difference(Noun.PIN, "P.2", "terminal", Terminal.SOCKET, Terminal.BLADE),
        Difference(Noun.WINDING, "low", "ohms", 20.0, 22),
    )
    assert OLD.layout is not None
    (gone,) = changed(layout=replace(OLD.layout, coils=OLD.layout.coils[:2]))
    assert (gone.noun, gone.name, gone.before, gone.after) == (Noun.COIL, "low", OLD.layout.coils[2], None)


def test_what_came_and_what_went() -> None:
    less = windings.drop_edge(wired(), "low").pattern()
    assert next((d.noun, d.name, d.field, d.after) for d in compare(OLD, less)) == (Noun.WINDING, "low", "", None)
    assert next((d.noun, d.name, d.before) for d in compare(less, OLD)) == (Noun.WINDING, "low", None)
    assert [d.name for d in compare(OLD, plugs.add_cavity(wired(), "P", (9, 9)).pattern())] == ["P.4"]


def test_checks_that_came_went_or_changed_their_order() -> None:
    a, b = OLD.checks or ()
    assert [(d.field, d.before, d.after) for d in changed(checks=(b, a))] == [("order", (a, b), (b, a))]
    assert changed(checks=(Pair(a.negative, a.positive), b))[0].field == "order"  # the same pair, leads exchanged
    assert [(d.before, d.after) for d in changed(checks=(a,))] == [(b, None)]
    assert [(d.noun, d.field) for d in changed(name="other", open_limit_ohms=2e6)] == [
        (Noun.PATTERN, "name"), (Noun.PATTERN, "open_limit_ohms"),
    ]  # fmt: skip
