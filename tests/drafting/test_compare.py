"""Two revisions side by side."""

from dataclasses import replace

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.drafting.drawn import wired
from tests.exchange.test_schemas import _places
from tests.stator.strategies import patterns
from workbench.comparewords import difference_words
from workbench.drafting import plugs, windings
from workbench.drafting.compare import Difference, Noun, compare
from workbench.exchange.patterns import pattern_from_json, pattern_to_json
from workbench.stator.copper import Conductor
from workbench.stator.errors import FieldError
from workbench.stator.layout import Facing
from workbench.stator.pattern import Pair, Pattern, Side, Terminal

OLD = wired().pattern()


def changed(**more: object) -> tuple[Difference, ...]:
    return compare(OLD, replace(OLD, **more))  # type: ignore[arg-type]


@given(patterns(elements=True, laid_out=True))
def test_a_pattern_differs_in_nothing_from_itself(pattern: Pattern) -> None:
    assert compare(pattern, pattern) == ()


@settings(suppress_health_check=[HealthCheck.too_slow])
@given(patterns(elements=True, laid_out=True), st.data())
def test_nothing_that_a_revision_says_otherwise_is_passed_over(pattern: Pattern, data: st.DataObject) -> None:
    """Any one thing changed, dropped or moved, somewhere in it: something is said just where they are not equal."""
    json = pattern_to_json(pattern)
    places = [(at, key) for at, key in _places(json) if key not in ("x", "y")]
    at, key = places[data.draw(st.integers(0, len(places) - 1))]
    match data.draw(st.sampled_from(("drop", "reverse", "add", "word"))):
        case "drop":
            del at[key]
        case "reverse" if isinstance(at[key], list):
            at[key].reverse()
        case "add" if isinstance(at[key], int | float):
            at[key] += 1
        case _ if isinstance(at[key], str):
            at[key] += "x"
    try:
        other = pattern_from_json(json)
    except FieldError:
        return
    assert (compare(pattern, other) == ()) == (placed(pattern) == placed(other))


def placed(p: Pattern) -> Pattern:
    """With every cavity's place written out."""
    plugs = (
        replace(c, cavities=tuple(replace(v, x=x, y=y) for v, (x, y) in zip(c.cavities, c.places, strict=True)))
        for c in p.connectors
    )
    return replace(p, connectors=tuple(plugs))


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


def test_a_band_with_no_low_limit_is_told_whole() -> None:
    five, six = (windings.set_under(wired(), "low", ohms).pattern() for ohms in (5, 6))
    for old, new, said in (
        (OLD, five, ("Winding low, band", "18 … 22 Ω", "under 5 Ω")),
        (five, six, ("Winding low, band", "under 5 Ω", "under 6 Ω")),
        (six, OLD, ("Winding low, band", "under 6 Ω", "18 … 22 Ω")),
    ):
        assert [difference_words(d) for d in compare(old, new)] == [said]
    moved = windings.move_end(windings.set_under(wired(), "low", 5), "low", finish="core").pattern()
    assert [(d.name, d.field) for d in compare(five, moved)] == [("low", "finish")]
    (gone,) = (d for d in compare(five, windings.drop_edge(wired(), "low").pattern()) if d.noun is Noun.WINDING)
    assert difference_words(gone) == ("Winding low", "P 2 – P 3, under 5 Ω", "—")


def test_what_came_and_what_went() -> None:
    less = windings.drop_edge(wired(), "low").pattern()
    assert next((d.noun, d.name, d.field, d.after) for d in compare(OLD, less)) == (Noun.WINDING, "low", "", None)
    assert next((d.noun, d.name, d.before) for d in compare(less, OLD)) == (Noun.WINDING, "low", None)
    assert [d.name for d in compare(OLD, plugs.add_cavity(wired(), "P", (9, 9)).pattern())] == ["P.4"]


def test_what_holds_for_the_whole_pattern_is_said() -> None:
    for field, value in (
        ("name", "other"), ("reference_celsius", 25.0), ("conductor", Conductor.ALUMINIUM), ("open_limit_ohms", 2e6),
    ):  # fmt: skip
        (said,) = changed(**{field: value})
        assert said == Difference(Noun.PATTERN, "", field, getattr(OLD, field), value)


def test_a_link_that_came_went_or_may_read_more() -> None:
    (link,) = OLD.links
    assert changed(links=()) == (Difference(Noun.LINK, "ground", "", link, None),)
    assert compare(replace(OLD, links=()), OLD) == (Difference(Noun.LINK, "ground", "", None, link),)
    assert changed(links=(replace(link, limit_ohms=0.3),)) == (
        Difference(Noun.LINK, "ground", "limit_ohms", 0.5, 0.3),
    )  # fmt: skip


def test_a_check_that_came_is_said_beside_those_that_stay() -> None:
    a, b = OLD.checks or ()
    assert compare(replace(OLD, checks=(a,)), OLD) == (Difference(Noun.CHECK, str(b), "", None, b),)


def test_a_coil_that_came_and_another_core_are_said() -> None:
    layout = OLD.layout
    assert layout is not None
    fewer = replace(OLD, layout=replace(layout, coils=layout.coils[:2]))
    assert compare(fewer, OLD) == (Difference(Noun.COIL, "low", "", None, layout.coils[2]),)
    assert changed(layout=replace(layout, teeth=6)) == (Difference(Noun.COIL, "", "teeth", 4, 6),)
    assert changed(layout=replace(layout, facing=Facing.INWARD)) == (
        Difference(Noun.COIL, "", "facing", Facing.OUTWARD, Facing.INWARD),
    )  # fmt: skip
    none = changed(layout=None)
    assert [(d.field, d.after) for d in none] == [("teeth", None), ("facing", None), *[("", None)] * 3]


def test_another_order_and_a_plan_left_to_the_program_are_said() -> None:
    assert changed(windings=OLD.windings[::-1]) == (
        Difference(Noun.WINDING, "", "order", ("high", "low"), ("low", "high")),
    )
    assert OLD.layout is not None
    coils = OLD.layout.coils
    (moved,) = changed(layout=replace(OLD.layout, coils=coils[::-1]))
    assert (moved.noun, moved.field, moved.after) == (Noun.COIL, "order", coils[::-1])
    none = replace(OLD, checks=())
    assert compare(none, replace(none, checks=None)) == (Difference(Noun.CHECK, "", "planned", True, False),)


def test_checks_that_came_went_or_changed_their_order() -> None:
    a, b = OLD.checks or ()
    assert [(d.field, d.before, d.after) for d in changed(checks=(b, a))] == [("order", (a, b), (b, a))]
    assert changed(checks=(Pair(a.negative, a.positive), b))[0].field == "order"  # the same pair, leads exchanged
    assert [(d.before, d.after) for d in changed(checks=(a,))] == [(b, None)]
    assert [(d.noun, d.field) for d in changed(name="other", open_limit_ohms=2e6)] == [
        (Noun.PATTERN, "name"), (Noun.PATTERN, "open_limit_ohms"),
    ]  # fmt: skip
