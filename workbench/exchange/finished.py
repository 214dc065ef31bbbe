"""What a part's finished rewinds, as they are kept, say of it: what its windings should read, and what it lacks."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from workbench.exchange.fields import Fields, parse, under
from workbench.exchange.rewindbody import body_from_text
from workbench.records import KeptRewind
from workbench.rewind.finished import Lack, failed, lacking
from workbench.rewind.ofpattern import names_of
from workbench.rewind.predict import counted_turns, predicted
from workbench.rewind.record import Body
from workbench.stator.errors import FieldError
from workbench.stator.pattern import Pattern
from workbench.stator.predicted import Predicted


@dataclass(frozen=True, slots=True)
class Finished:
    """`lacks`: what is not shown yet before the part may be called good; `failed`: what was tested and came out bad."""

    lacks: tuple[Lack, ...] = ()
    failed: tuple[Lack, ...] = ()


def predicted_by(pattern: Pattern, rewinds: Sequence[KeptRewind]) -> tuple[Predicted, ...]:
    """Of every winding that was wound anew, by its latest rewind that is done, in the pattern's order.

    A winding whose latest rewind tells nothing, or can't be read, is left out: what was expected of it before is of
    wire that is gone. So is one that the pattern doesn't have (any more).
    """
    out = {
        p.winding: p
        for names, winding, body in holding(pattern, rewinds)
        if body is not None
        for p in predicted(pattern, winding, body, counted_turns(body))
        if p.winding in names
    }
    return tuple(out[w.name] for w in pattern.windings if w.element is None and w.name in out)


def finished_by(pattern: Pattern, rewinds: Sequence[KeptRewind], before: Sequence[KeptRewind] = ()) -> Finished:
    """Of the latest rewind of each winding that is done. One that can't be read shows nothing.

    `before`: of the part's earlier visits. What they left unproved or bad still is, until the winding is wound once
    more; how it ran then says nothing of this visit.
    """
    now, ever = _shown(pattern, rewinds), _shown(pattern, (*before, *rewinds))
    lacks, bad = (
        tuple(x for x in late if x is not Lack.RUN or x in ours)
        for late, ours in ((ever.lacks, now.lacks), (ever.failed, now.failed))
    )
    return Finished(lacks, bad)


def _shown(pattern: Pattern, rewinds: Sequence[KeptRewind]) -> Finished:
    lacks: set[Lack] = set()
    bad: set[Lack] = set()
    for _, winding, body in holding(pattern, rewinds):
        lacks.update(lacking(pattern, winding, body or Body()))
        bad.update(failed(pattern, winding, body or Body()))
    return Finished(tuple(x for x in Lack if x in lacks), tuple(x for x in Lack if x in bad))


def holding(pattern: Pattern, rewinds: Sequence[KeptRewind]) -> Iterator[tuple[set[str], str, Body | None]]:
    """The rewinds that hold: for which windings of the pattern, what they are of, and their body. A later one of a
    winding replaces what was before.
    """
    done = sorted((r for r in rewinds if r.done_at is not None), key=lambda r: r.done_at)  # type: ignore[arg-type, return-value]  # none of them is None
    hold: dict[str, KeptRewind] = {}
    for r in done:
        hold.update(dict.fromkeys(names_of(pattern, r.winding), r))
    for r in done:
        names = {w.name for w in pattern.windings if hold.get(w.name) is r}
        if names:
            yield names, r.winding, _body(r)


def _body(rewind: KeptRewind) -> Body | None:
    """None where it can't be read."""
    try:
        return body_from_text(rewind.body)
    except FieldError:
        return None


# ---- as it is kept beside a sheet


def predicted_to_json(some: Sequence[Predicted]) -> list[dict[str, Any]]:
    return [{"winding": p.winding, "ohms_20": p.ohms_20, "low_20": p.low_20, "high_20": p.high_20} for p in some]


def predicted_from_text(text: str) -> tuple[Predicted, ...]:
    """Of what `predicted_to_json` gave, as text. Raises FieldError."""
    f = Fields({"predicted": parse(text)}, "", "what the windings should read")
    return tuple(_predicted(value, at) for value, at in f.items("predicted"))


def _predicted(value: Any, at: str) -> Predicted:
    f = Fields(value, at, "what a winding should read")
    name, ohms, low, high = f.text("winding"), f.number("ohms_20"), f.number("low_20"), f.number("high_20")
    f.done()
    return under(at, lambda: Predicted(name, ohms, low, high))
