"""The odds before the first reading, as the owner sees them: as stated, as counted, and as they are now."""

from dataclasses import dataclass

from workbench.findings.faults import STATED, Fault
from workbench.findings.odds import AS_STATED, Counts, Family, odds
from workbench.findingwords import family_words, kind_words, odds_words

COLUMNS = ("Explanation", "Stated", "Found here", "Now")
UNUSED = "The stated odds hold, whatever the shop finds."


@dataclass(frozen=True, slots=True)
class OddsRow:
    title: str
    stated: str
    found: str
    now: str

    @property
    def cells(self) -> tuple[str, ...]:
        return (self.title, self.stated, self.found, self.now)


@dataclass(frozen=True, slots=True)
class OddsView:
    """`rows`: in the model's own order. `sentence`: what the odds stand on."""

    rows: tuple[OddsRow, ...]
    sentence: str


@dataclass(frozen=True, slots=True)
class Whose:
    """Parts that the odds may be looked at for; `family` None: any."""

    title: str
    family: Family | None


def whose(counts: Counts) -> tuple[Whose, ...]:
    """The whole shop first, then each family of which something was found, most first."""
    families = sorted(counts.by_family, key=lambda f: (-counts.number(f), f))
    whole = Whose(f"the whole shop: {counts.number(None)}", None)
    return (whole, *(Whose(f"{family_words(f)}: {counts.number(f)}", f) for f in families))


def odds_view(counts: Counts, family: Family | None, *, learns: bool) -> OddsView:
    """`family` None: of any part."""
    now = odds(counts, family) if learns else AS_STATED
    found = counts.of(family)
    rows = tuple(
        OddsRow(kind_words(f), _percent(STATED[f]), str(found.get(f, 0)), _percent(now.priors[f])) for f in Fault
    )
    return OddsView(rows, odds_words(now) if learns else UNUSED)


def _percent(share: float) -> str:
    return f"{100 * share:.1f} %"
