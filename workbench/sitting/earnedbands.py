"""What the shop's own units say of a pattern's bands, to be accepted or left by the owner."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

from workbench.drafting.draft import Draft
from workbench.drafting.earned import EarnedBand, Goodness, Method, UnitValue, earned_band
from workbench.drafting.windings import set_limits
from workbench.records import GoodSheet
from workbench.stator.correct import Corrector
from workbench.stator.expect import Expectations
from workbench.stator.pattern import Pair, Pattern, Winding
from workbench.words import ohms_words, winding_band_words

# what a band says of where it came from, where it was earned here
EARNED = "earned"


@dataclass(frozen=True, slots=True)
class EarnedView:
    """One winding: its band as it stands, and what the shop's own units would make of it.

    `low`, `high`: of the earned band, None where there is none yet. `state`: how firm it is, and from what.
    """

    winding: str
    stands: str
    earned: str
    state: str
    low: float | None
    high: float | None
    band: EarnedBand

    @property
    def spoken(self) -> str:
        return f"{self.winding}: {self.stands}. {self.earned or 'no band of the shop’s own yet'}. {self.state}"


def earned_views(pattern: Pattern, good: Sequence[GoodSheet], method: Method = Method.NORMAL) -> tuple[EarnedView, ...]:
    """Of every winding that some unit's sheet read across its own two ends."""
    return tuple(
        _view(w, earned_band(_values(pattern, w, good), method)) for w in pattern.windings if w.element is None
    )


def accepted(pattern: Pattern, view: EarnedView, on: date) -> Pattern:
    """The pattern with this winding's band as earned: a further revision. Raises ValueError where there is none."""
    if view.low is None or view.high is None:
        raise ValueError("there is no earned band to take")
    low, high = _outward(view.low, view.high)
    return set_limits(Draft.of(pattern), view.winding, low, high, band_from=source_words(view.band, on)).pattern()


def _outward(low: float, high: float) -> tuple[float, float]:
    """To three figures of its width, and never narrower by that."""
    step = Decimal(1).scaleb(math.floor(math.log10(min(low, high - low))) - 2)
    return float(Decimal(low).quantize(step, ROUND_FLOOR)), float(Decimal(high).quantize(step, ROUND_CEILING))


def source_words(band: EarnedBand, on: date) -> str:
    """n, method and date: kept with the band."""
    how = "mean and spread" if band.method is Method.NORMAL else "least to greatest"
    where = f", all on {band.meter}" if band.meter else ""
    wide = "; as wide as its meter tells" if band.widened else ""
    firm = "; provisional" if band.provisional else ""
    return f"{EARNED} from {_units(band.n)} known good, {how}, 95 % with 95 %, {on.isoformat()}{where}{wide}{firm}"


def is_earned(w: Winding) -> bool:
    return w.band_from.startswith(EARNED)


def _view(w: Winding, band: EarnedBand) -> EarnedView:
    stands = winding_band_words(w) + (f", {w.band_from}" if w.band_from else "")
    if band.low is None or band.high is None:
        need = f"{band.more} more for a band" if band.n else "none read yet"
        return EarnedView(
            w.name, stands, "", f"{_units(band.n)} known good: {need}.{_left_out(band)}", None, None, band
        )
    earned = f"{ohms_words(band.low)} … {ohms_words(band.high)}"
    firm = f"provisional, {band.more} more for a firm one" if band.provisional else "firm"
    state = f"{_units(band.n)} known good: {firm}.{_widened(band)}{_left_out(band)}"
    return EarnedView(w.name, stands, earned, state, band.low, band.high, band)


def _widened(band: EarnedBand) -> str:
    if not band.widened:
        return ""
    tells = f"± {ohms_words(float(f'{band.widened:.2g}'))}"
    return f" They lie closer together than {band.meter or 'their meters'} can tell: it is as wide as that, {tells}."


def _left_out(band: EarnedBand) -> str:
    return f" {_units(band.left_out)} passed by this very band alone don't count." if band.left_out else ""


def _units(n: int) -> str:
    return "1 unit" if n == 1 else f"{n} units"


def _values(pattern: Pattern, w: Winding, good: Sequence[GoodSheet]) -> list[UnitValue]:
    """Corrected to this pattern's reference temperature by each sheet's own meter, leads and temperature."""
    if not (pattern.can_touch(w.start) and pattern.can_touch(w.finish)):
        return []
    pair, out = Pair(w.start, w.finish), []
    if not _alone(pattern, pair, w):
        return []
    for g in good:
        p, head = g.past.revision.pattern, g.past.head
        read = [
            k.reading for k in g.past.readings if k.reading.ohms is not None and {*k.reading.pair} == {*pair}
        ]  # fmt: skip
        its = next((x for x in p.windings if x.name == w.name), None)
        if not read or its is None or {its.start, its.finish} != {*pair}:
            continue
        if w.name in {x.winding for x in head.predicted}:
            continue  # the shop's own wire tells nothing of what was built
        value = Corrector(head.meter, head.conditions, p.conductor, pattern.reference_celsius).mean(read)
        goodness = Goodness.RAN_WELL if g.ran_well else Goodness.THIS_BAND if is_earned(its) else Goodness.OTHER_BAND
        out.append(UnitValue(str(g.unit_id), value.ohms, goodness, head.meter_name, value.digit, value.u))
    return out


def _alone(pattern: Pattern, pair: Pair, w: Winding) -> bool:
    """Whether the pair reads this winding and nothing beside it: in a delta a pair is no winding's own."""
    ohms = Expectations(pattern).of(pair).ohms
    return ohms is not None and abs(ohms - w.nominal) <= 1e-6 * w.nominal
