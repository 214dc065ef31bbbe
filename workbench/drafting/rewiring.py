"""What hangs on nodes follows them: when they are renamed, and when they go."""

from collections.abc import Collection, Mapping
from dataclasses import replace

from workbench.drafting.draft import Draft
from workbench.stator.pattern import Link, Pair, Winding


def with_nodes_renamed(draft: Draft, names: Mapping[str, str]) -> Draft:
    """Windings, links and checks under the nodes' new names."""

    def end(node: str) -> str:
        return names.get(node, node)

    checks = None if draft.checks is None else tuple(Pair(end(a), end(b)) for a, b in draft.checks)
    return replace(
        draft,
        windings=tuple(replace(w, start=end(w.start), finish=end(w.finish)) for w in draft.windings),
        links=tuple(replace(x, start=end(x.start), finish=end(x.finish)) for x in draft.links),
        checks=checks,
    )


def without_nodes(draft: Draft, gone: Collection[str]) -> Draft:
    """Without what was joined to them, what was checked on them, and the coils of those windings."""

    def stays(e: Winding | Link) -> bool:
        return e.start not in gone and e.finish not in gone

    checks = None if draft.checks is None else tuple(c for c in draft.checks if not {*c} & {*gone})
    left = replace(
        draft,
        windings=tuple(w for w in draft.windings if stays(w)),
        links=tuple(x for x in draft.links if stays(x)),
        checks=checks,
    )
    return without_strange_coils(left)


def without_strange_coils(draft: Draft) -> Draft:
    """Coils of windings that are gone go too."""
    layout = draft.layout
    if layout is None:
        return draft
    names = {w.name for w in draft.windings}
    coils = tuple(c for c in layout.coils if c.winding in names)
    return draft if len(coils) == len(layout.coils) else replace(draft, layout=replace(layout, coils=coils))
