"""A winding as it was found: what was seen of it before the knife, and what was counted and measured under it."""

from collections.abc import Iterator
from dataclasses import dataclass

from workbench.rewind.errors import RewindError
from workbench.rewind.strip import StripRecord
from workbench.rewind.wire import Scale
from workbench.stator.layout import MOST_TEETH

LONGEST = 400
NOTHING = StripRecord()
_WORDS = ("photos", "start", "finish", "crossovers", "liner")


@dataclass(frozen=True, slots=True)
class AsFound:
    """Anything may be missing. `photos`: where they are. `start`, `finish`: which lead is which, in words.

    `senses`: tooth and sense, each tooth once, by number; +1 wound clockwise as seen from its tip towards its root, -1
    the other way. `record`'s gauge, as on a tag, is one of the tables. Raises RewindError.
    """

    record: StripRecord = NOTHING
    photos: str = ""
    start: str = ""
    finish: str = ""
    senses: tuple[tuple[int, int], ...] = ()
    crossovers: str = ""
    liner: str = ""

    def __post_init__(self) -> None:
        for field, sentence in _wrong(self):
            raise RewindError(field, sentence)


def _wrong(found: AsFound) -> Iterator[tuple[str, str]]:
    for name in _WORDS:
        if len(getattr(found, name)) > LONGEST:
            yield name, f"at most {LONGEST} characters go there"
    before = 0
    for i, (tooth, sense) in enumerate(found.senses):
        if not 1 <= tooth <= MOST_TEETH:
            yield f"senses[{i}]", f"a core has from 1 to {MOST_TEETH} teeth, so there is no tooth {tooth}"
        if sense not in (1, -1):
            yield f"senses[{i}]", f"a sense is 1 or -1, not {sense}"
        if tooth <= before:
            yield f"senses[{i}]", f"tooth {tooth} stands twice, or not in its order"
        before = tooth
    for name in ("gauge", "lead_gauge"):
        gauge = getattr(found.record, name)
        if gauge is not None and gauge.scale is Scale.MEASURED:
            yield f"record.{name}", "a gauge as it is written on a tag is one of the tables; this one was measured"
