"""A real store file of every landed revision opens for ever, and reads back what was put in."""

import shutil
import sqlite3
from dataclasses import replace
from pathlib import Path

import pytest

from db import queries
from db.revision import HEAD, REVISIONS
from db.store import Store
from tests.db.invented import (
    BENCH,
    CARD,
    DECIDED,
    DRAFT,
    DRAW,
    HEAD_OF_SHEET,
    JOB,
    METER,
    PATTERN,
    READINGS,
    REPAIR,
    REWIND,
    SPOOL,
    UNIT,
    WIDER,
)
from tests.db.make_store_file import STORES
from workbench.records import CardSize, Whose, as_read


def test_there_is_a_file_for_every_revision() -> None:
    assert tuple(sorted(f.stem for f in STORES.glob("*.sqlite"))) == REVISIONS


def _since(first: str) -> tuple[str, ...]:
    """That revision and all after it."""
    return REVISIONS[REVISIONS.index(first) :]


# What a revision had no place for yet reads back as a shop would have left it.
SHEETS = dict.fromkeys(REVISIONS[: REVISIONS.index("0007")], replace(HEAD_OF_SHEET, predicted=(), leads_assumed=False))
SHEETS["0001"] = replace(HEAD_OF_SHEET, note="", predicted=(), leads_assumed=False)
_ONLY_KIND = replace(CARD, whose=Whose.CUSTOMER, size=CardSize.STAND, asserts="")
CARDS = {"0001": _ONLY_KIND, "0002": _ONLY_KIND}
DECISIONS = dict.fromkeys(("0001", "0002", "0003"), replace(DECIDED, found="", found_where="", ran_well=False))
DECISIONS["0004"] = replace(DECIDED, ran_well=False)
DRAFTS = dict.fromkeys(_since("0005"), (replace(DRAFT, version=1),))
SPOOLS = dict.fromkeys(_since("0006"), (replace(SPOOL, grams=SPOOL.grams - DRAW.grams, version=2),))
REWINDS = dict.fromkeys(_since("0006"), (replace(REWIND, version=1),))
REPAIRS = dict.fromkeys(_since("0006"), (REPAIR,))


@pytest.mark.parametrize("revision", REVISIONS)
def test_it_opens_and_reads_back(revision: str, tmp_path: Path) -> None:
    path = Path(shutil.copy(STORES / f"{revision}.sqlite", tmp_path / "shop.sqlite"))
    store = Store.open(path, bench=BENCH)
    try:
        with store.reading() as s:
            file = queries.sheets.bench_file(s, "kl-0148")
            assert file is not None
            assert (file.unit, file.job, file.sheet) == (UNIT, JOB, SHEETS.get(revision, HEAD_OF_SHEET))
            assert (file.readings, file.decided) == (READINGS, DECISIONS.get(revision, DECIDED))
            assert queries.patterns.revision(s, HEAD_OF_SHEET.revision_id).pattern == PATTERN
            assert file.revision == as_read(queries.patterns.revision(s, HEAD_OF_SHEET.revision_id), file.sheet)
            assert [r.pattern for r in queries.patterns.latest(s)] == [WIDER]
            assert queries.meters.all_meters(s) == (METER,)
            assert queries.cards.of_sheet(s, HEAD_OF_SHEET.id) == (CARDS.get(revision, CARD),)
            assert queries.drafts.of_kind(s, DRAFT.kind) == DRAFTS.get(revision, ())
            assert queries.shelf.spools(s) == SPOOLS.get(revision, ())
            assert queries.rewinds.of_job(s, JOB.id) == REWINDS.get(revision, ())
            assert queries.rewinds.repairs_of(s, JOB.id) == REPAIRS.get(revision, ())
    finally:
        store.close()
    copies = list(tmp_path.glob("*.revision-*"))
    assert len(copies) == (revision != HEAD)


def test_a_store_of_the_first_revision_takes_notes_and_keeps_every_row(tmp_path: Path) -> None:
    path = Path(shutil.copy(STORES / "0001.sqlite", tmp_path / "shop.sqlite"))
    before = _rows(path)
    store = Store.open(path, bench=BENCH)
    noted = replace(HEAD_OF_SHEET, note="smells of varnish", predicted=(), leads_assumed=False)
    with store.writing() as s:
        assert queries.sheets.change_conditions(s, noted) == replace(noted, version=2)
    with store.reading() as s:
        file = queries.sheets.file_of(s, HEAD_OF_SHEET.id)
        assert file is not None
        assert file.sheet == replace(noted, version=2)
    store.close()
    after = _rows(path)
    sheets = after.pop("sheets")
    assert [row[-4:] for row in sheets] == [("smells of varnish", "[]", 0, 0)]
    del before["sheets"]
    cards = after.pop("cards")
    assert [row[: len(cards[0]) - 3] for row in cards] == before.pop("cards")
    decisions = after.pop("decisions")
    assert [row[-3:] for row in decisions] == [("", "", 0)]
    assert [row[:-3] for row in decisions] == before.pop("decisions")
    assert all(after.pop(new) == [] for new in ("drafts", "spools", "rewinds", "spool_draws", "repairs"))
    assert after == before


@pytest.mark.parametrize("deed", ["UPDATE decisions SET found = 'sound'", "DELETE FROM decisions"])
def test_decisions_of_an_older_store_still_stand_once_it_is_brought_up_to_date(deed: str, tmp_path: Path) -> None:
    path = Path(shutil.copy(STORES / "0003.sqlite", tmp_path / "shop.sqlite"))
    Store.open(path, bench=BENCH).close()
    connection = sqlite3.connect(path)
    with pytest.raises(sqlite3.IntegrityError, match="append-only"):
        connection.execute(deed)
    connection.close()


def _rows(path: Path) -> dict[str, list[tuple[object, ...]]]:
    """Every row of every table but the stamp."""
    connection = sqlite3.connect(path)
    names = [n for (n,) in connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'")]
    rows = {n: connection.execute(f"SELECT * FROM {n} ORDER BY id").fetchall() for n in names if n != "alembic_version"}
    connection.close()
    return rows
