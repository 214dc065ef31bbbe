"""A pair read more than once whose readings contradict each other: one party of them is right, the rest were slips.

What this meter's repeatability lets two readings of one pair differ by is one party. Each party is in turn taken as
right and weighed with the rest of the sheet, beside how likely it is that the others came about by a slip (Bayes' rule;
JCGM 101 for what a reading would have been elsewhere). No explanation stands on the mean of two that contradict.
"""

import itertools
import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from workbench.findings.elsewhere import stood_on
from workbench.findings.evidence import own_variance
from workbench.findings.explain import Explained
from workbench.findings.faults import BENCH_PRIORS, SLIPS, BenchFault, Fault
from workbench.findings.leading import sound_leads
from workbench.findings.records import Finding, Parameter
from workbench.stator.meter import Meter
from workbench.stator.pattern import Pattern
from workbench.stator.sheet import Conditions, Reading

# standard deviations of a difference, beyond which a slip is the likelier account of it (computed: its odds against
# the normal law's tail)
_APART = 5.0
# that the probes missed where a meter shows an overload: common practice, no source
_MISSED = 0.05
# a number this near the overload's limit (as a share) and an overload don't contradict each other
_NEAR_OPEN = 0.1
# of slips, those that are no wrong point or unit: a misread digit, a poor touch; even over so many e-folds of ohms
_STRAY, _FOLDS = 0.5, 25.0
_MOST_WAYS, _MOST_TRIED = 8, 1024

Rest = Callable[[Sequence[Reading]], Explained]


@dataclass(frozen=True, slots=True)
class _Slip:
    """One account of how a reading came to be wrong: log of its probability (density, for a number)."""

    log: float
    finding: Finding


def explain_apart(
    pattern: Pattern, meter: Meter, conditions: Conditions, readings: Sequence[Reading], together: Explained, rest: Rest
) -> Explained | None:
    """What a sheet says on which readings of a pair contradict each other; None where none do, or where the part is
    sound whichever of them is right (`together`: what all of them say, repeats as their mean).

    `rest`: explains what of the readings is taken as right. A part that is sound but for a slip is found as that slip,
    with the reading it is (`Finding.slipped`). Of many ways to tell right from wrong the ones with fewest slips count.
    """
    ways = sorted(_ways(meter, readings), key=len)[:_MOST_WAYS]
    if len(ways) < 2:
        return None
    weighed: list[tuple[float, Explained, list[_Slip] | None]] = []
    for wrong in ways:
        kept = [r for i, r in enumerate(readings) if i not in wrong]
        slips = [_accounts(pattern, meter, conditions, kept, readings[i]) for i in wrong]
        found = rest(kept)
        log = found.log + math.fsum(_sum(s) for s in slips)
        # of an overload that was a missed touch nothing is said
        named = next((s for i, s in zip(wrong, slips, strict=True) if readings[i].ohms is not None), None)
        weighed.append((log, found, named))
    if sound_leads(together) and all(sound_leads(found) for _, found, _ in weighed):
        return None
    top = max(log for log, _, _ in weighed)
    total = math.fsum(math.exp(log - top) for log, _, _ in weighed)
    said: dict[tuple[str, str], list[Finding]] = {}
    for log, found, named in weighed:
        for f in _slipped(found, named):
            share = math.exp(log - top) / total * f.probability
            said.setdefault((f.fault, f.where), []).append(replace(f, probability=share))
    lead = max(weighed, key=lambda w: w[0])[1]
    # each explanation once, with its size and its reading from where it is likeliest
    findings = [
        replace(max(of, key=lambda f: f.probability), probability=math.fsum(f.probability for f in of))
        for of in said.values()
    ]
    findings.sort(key=lambda f: -f.probability)
    return replace(lead, findings=tuple(findings), log=top + math.log(total))


def _ways(meter: Meter, readings: Sequence[Reading]) -> Iterator[tuple[int, ...]]:
    """Which readings were wrong, as their numbers: for each pair, all but one of its parties."""
    by_pair: dict[tuple[str, str], list[int]] = {}
    for i, r in enumerate(readings):
        by_pair.setdefault(r.pair.unordered, []).append(i)
    disputed = [p for of in by_pair.values() if len(of) > 1 and len(p := _parties(meter, readings, of)) > 1]
    choices = itertools.product(
        *([[i for party in p if party is not right for i in party] for right in p] for p in disputed)
    )
    for choice in itertools.islice(choices, 1 << 10):
        yield tuple(i for wrong in choice for i in wrong)


def _parties(meter: Meter, readings: Sequence[Reading], of: list[int]) -> list[list[int]]:
    """The readings of one pair (their numbers), those together that agree."""
    numbers = sorted((ohms, i) for i in of if (ohms := readings[i].ohms) is not None)
    opens = [i for i in of if readings[i].ohms is None]
    parties: list[list[int]] = []
    before: Reading | None = None
    for _, i in numbers:
        if before is not None and _agree(meter, before, readings[i]):
            parties[-1].append(i)
        else:
            parties.append([i])
        before = readings[i]
    if not opens:
        return parties
    above = min(meter.overload_above(readings[i].range_on(meter)) for i in opens)
    if numbers and numbers[-1][0] >= _NEAR_OPEN * above:
        parties[-1] += opens
    else:
        parties.append(opens)
    return parties


def _agree(meter: Meter, one: Reading, other: Reading) -> bool:
    assert one.ohms is not None
    assert other.ohms is not None
    return abs(one.ohms - other.ohms) <= _APART * math.sqrt(_difference(meter, one, other))


def _difference(meter: Meter, one: Reading, other: Reading) -> float:
    """Variance (ohm squared) of the difference of two readings of one pair: a range's gain is common to both."""
    on, at = (meter.ranges.index(r.range_on(meter)) for r in (one, other))
    var = own_variance(meter, on) + own_variance(meter, at)
    if on != at:
        var += meter.ranges[on].gain(one.ohms or 0.0) ** 2 + meter.ranges[at].gain(other.ohms or 0.0) ** 2
    return var


def _accounts(
    pattern: Pattern, meter: Meter, conditions: Conditions, kept: Sequence[Reading], wrong: Reading
) -> list[_Slip]:
    """How a reading may have come about beside those that are right."""
    where = "|".join(wrong.pair.unordered)
    if wrong.ohms is None:
        return [_Slip(math.log(_MISSED), Finding(Fault.SOUND, "", 0.0))]
    prior = BENCH_PRIORS[BenchFault.SLIP]
    shown = abs(wrong.ohms) + 1e-3
    out = [
        _Slip(math.log(prior * _STRAY / _FOLDS / shown), Finding(BenchFault.SLIP, where, 0.0, slipped=wrong)),
        *_typed(meter, kept, wrong, prior * (1 - _STRAY), where),
    ]
    stood = stood_on(pattern, meter, conditions, kept, wrong)
    if stood:
        each = math.log(BENCH_PRIORS[BenchFault.ELSEWHERE] / len(stood))
        best, pair = max(stood, key=lambda s: s[0])
        log = each + best + math.log(math.fsum(math.exp(x - best) for x, _ in stood)) if best > -math.inf else best
        alone = best > -math.inf and log - each - best < math.log(2)
        instead = pair if alone else None
        out.append(_Slip(log, Finding(BenchFault.ELSEWHERE, where, 0.0, instead=instead, slipped=wrong)))
    return out


def _typed(meter: Meter, kept: Sequence[Reading], wrong: Reading, prior: float, where: str) -> Iterator[_Slip]:
    """Typed with a wrong point or unit over what the pair reads by its other readings."""
    right = [r for r in kept if r.pair.unordered == wrong.pair.unordered and r.ohms is not None]
    if not right or wrong.ohms is None or wrong.range_upto_ohms is not None:
        return
    mean = math.fsum(r.ohms or 0.0 for r in right) / len(right)
    for factor in SLIPS:
        meant = wrong.ohms / factor
        if meter.covering(meant) is None:
            continue
        var = _difference(meter, replace(wrong, ohms=meant), right[0])
        log = -0.5 * (meant - mean) ** 2 / var - 0.5 * math.log(2 * math.pi * var)
        log += math.log(prior / len(SLIPS)) - math.log(factor)
        size = (Parameter("ohms", meant, meant, meant),)
        yield _Slip(log, Finding(BenchFault.SLIP, where, 0.0, size, slipped=wrong))


def _slipped(found: Explained, accounts: Sequence[_Slip] | None) -> Iterator[Finding]:
    """Its findings, where a part that is sound is one whose reading slipped, by each of the accounts."""
    for f in found.findings:
        if f.fault is not Fault.SOUND or accounts is None:
            yield f
            continue
        yield replace(f, probability=0.0)  # none of these readings leaves it plainly sound
        total = _sum(accounts)
        for a in accounts:
            yield replace(a.finding, probability=f.probability * math.exp(a.log - total))


def _sum(accounts: Sequence[_Slip]) -> float:
    top = max(a.log for a in accounts)
    return top + math.log(math.fsum(math.exp(a.log - top) for a in accounts))
