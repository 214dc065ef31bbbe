"""The card of the sheet on the bench: its facts, gathered."""

from datetime import datetime

from workbench.cards.check import asserted
from workbench.cards.facts import CardFacts
from workbench.cards.winding import WindingData, winding_data
from workbench.records import BenchFile, Whose
from workbench.sitting.bench import Bench
from workbench.sitting.cardwindings import as_wound
from workbench.sitting.found import found_words
from workbench.sitting.lines import Keeping
from workbench.stator.judge import judge
from workbench.stator.sheet import Proof, Sheet


def card_facts(
    bench: Bench,
    made_at: datetime,
    copy: int = 1,
    *,
    whose: Whose = Whose.CUSTOMER,
    first_made_at: datetime | None = None,
) -> CardFacts:
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
        celsius_assumed=head.celsius_assumed,
        leads_assumed=head.leads_assumed,
        iron_ohms=head.iron_ohms,
        outcome=d.outcome if d else None,
        note=d.note if d else "",
        found_to_be=found_words(bench),
        found=bench.job.found,
        done=bench.job.done,
        made_at=made_at,
        asserts=asserts_of(file_of(bench)),
        whose=whose,
        copy=copy,
        first_made_at=first_made_at,
        windings=_windings(bench) if whose is Whose.SHOP else (),
        rewound=tuple(dict.fromkeys(r.winding for r in bench.rewinds if r.done_at is not None)),
    )


def _windings(bench: Bench) -> tuple[WindingData, ...]:
    """As the part is wound by now, whenever that was."""
    return as_wound(winding_data(bench.pattern), bench.pattern, (*bench.rewound_before, *bench.rewinds))


def file_of(bench: Bench) -> BenchFile:
    """The sheet as it stands on the bench, as the store has it or soon will: what could not be kept left out."""
    kept = tuple(x.kept for x in bench.lines if x.keeping is not Keeping.LOST)
    return BenchFile(
        bench.unit,
        bench.job,
        bench.revision,
        bench.head,
        kept,
        bench.decided,
        bench.repairs,
        bench.rewinds,
        bench.rewound_before,
    )


def asserts_of(file: BenchFile) -> str:
    """What a card of this sheet asserts (`cards.check`), by the sheet alone: its verdict is that of its readings."""
    head = file.sheet
    readings = tuple(k.reading for k in file.readings if k.strike is None)
    proof = Proof(iron=head.iron_ohms is not None)
    sheet = Sheet(file.revision.pattern, head.meter, head.conditions, readings, proof=proof)
    return asserted(file, str(judge(sheet).verdict))
