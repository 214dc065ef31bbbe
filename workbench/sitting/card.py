"""The card of the sheet on the bench: its facts, gathered."""

from datetime import datetime

from workbench.cards.facts import CardFacts
from workbench.sitting.bench import Bench


def card_facts(bench: Bench, made_at: datetime, copy: int = 1) -> CardFacts:
    """What a card of this sheet says. `made_at` in the zone it should be printed in."""
    d, head = bench.decided, bench.head
    return CardFacts(
        tag=bench.unit.tag,
        label=bench.unit.label,
        job_number=bench.job.number,
        complaint=bench.job.complaint,
        pattern_name=bench.pattern.name,
        pattern_revision=bench.revision.number,
        sheet_id=head.id,
        judged=bench.judged,
        struck=tuple(
            (x.kept.reading.pair, x.kept.typed, x.kept.strike.reason) for x in bench.lines if x.kept.strike is not None
        ),
        meter_name=head.meter_name,
        source=head.source,
        meter_zeroed=head.meter_zeroed,
        iron_ohms=head.iron_ohms,
        outcome=d.outcome if d else None,
        note=d.note if d else "",
        found=bench.job.found,
        done=bench.job.done,
        made_at=made_at,
        copy=copy,
    )
