"""A real store file of every landed revision opens for ever, and reads back what was put in."""

import shutil
from pathlib import Path

import pytest

from db import queries
from db.revision import HEAD, REVISIONS
from db.store import Store
from tests.db.invented import BENCH, CARD, DECIDED, HEAD_OF_SHEET, JOB, METER, PATTERN, READINGS, UNIT, WIDER
from tests.db.make_store_file import STORES


def test_there_is_a_file_for_every_revision() -> None:
    assert tuple(sorted(f.stem for f in STORES.glob("*.sqlite"))) == REVISIONS


@pytest.mark.parametrize("revision", REVISIONS)
def test_it_opens_and_reads_back(revision: str, tmp_path: Path) -> None:
    path = Path(shutil.copy(STORES / f"{revision}.sqlite", tmp_path / "shop.sqlite"))
    store = Store.open(path, bench=BENCH)
    try:
        with store.reading() as s:
            file = queries.sheets.bench_file(s, "kl-0148")
            assert file is not None
            assert (file.unit, file.job, file.sheet) == (UNIT, JOB, HEAD_OF_SHEET)
            assert (file.readings, file.decided) == (READINGS, DECIDED)
            assert (file.revision.pattern, file.revision.number) == (PATTERN, 1)
            assert [r.pattern for r in queries.patterns.latest(s)] == [WIDER]
            assert queries.meters.all_meters(s) == (METER,)
            assert queries.cards.of_sheet(s, HEAD_OF_SHEET.id) == (CARD,)
    finally:
        store.close()
    copies = list(tmp_path.glob("*.revision-*"))
    assert len(copies) == (revision != HEAD)
