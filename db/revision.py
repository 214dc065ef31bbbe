"""Which revisions of the store there are. The head is a constant, so that opening needs no Alembic."""

from dataclasses import dataclass
from pathlib import Path

REVISIONS = ("0001", "0002", "0003", "0004", "0005", "0006", "0007")
HEAD = REVISIONS[-1]


@dataclass(frozen=True, slots=True)
class History:
    """Revisions from the first to the head, and the folder with the scripts that lead through them."""

    revisions: tuple[str, ...]
    scripts: Path

    @property
    def head(self) -> str:
        return self.revisions[-1]


HISTORY = History(REVISIONS, Path(__file__).parent / "migrations")
