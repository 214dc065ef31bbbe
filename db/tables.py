"""The store's tables. Rows of these never leave `db`: the records of `workbench.records` do.

Every row has an id made by whoever sends it, so that sending it twice is harmless, and `made_on`, the
bench it came from. `version` stands on whatever can be edited; the rest is append-only.
"""

from datetime import datetime
from uuid import UUID

from sqlalchemy import (
    Boolean,
    CheckConstraint,
    Column,
    Float,
    ForeignKey,
    Index,
    Integer,
    MetaData,
    PrimaryKeyConstraint,
    String,
    Table,
    Text,
    UniqueConstraint,
    Uuid,
)
from sqlalchemy.orm import DeclarativeBase, Mapped, mapped_column

from db.columns import UtcTime
from workbench.records import CardSize, Outcome, TemperatureSource, Whose
from workbench.stator.sheet import COLDEST, HOTTEST

NAMES = {
    "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "ck": "ck_%(table_name)s_%(constraint_name)s",
    "fk": "fk_%(table_name)s_%(column_0_name)s_%(referred_table_name)s",
    "pk": "pk_%(table_name)s",
}


class Row(DeclarativeBase):
    metadata = MetaData(naming_convention=NAMES)
    type_annotation_map = {  # noqa: RUF012 - SQLAlchemy's own declaration
        UUID: Uuid(),
        datetime: UtcTime(),
        str: Text(),
        float: Float(),
        bool: Boolean(),
        int: Integer(),
    }


def _one_of(column: str, words: list[str]) -> CheckConstraint:
    return CheckConstraint(f"{column} IN ({', '.join(repr(w) for w in words)})", name=column)


class BenchRow(Row):
    __tablename__ = "benches"
    id: Mapped[UUID] = mapped_column(primary_key=True)
    made_at: Mapped[datetime]


class PatternRow(Row):
    __tablename__ = "patterns"
    __table_args__ = (UniqueConstraint("name"), CheckConstraint("length(name) > 0", name="name"))
    id: Mapped[UUID] = mapped_column(primary_key=True)
    name: Mapped[str]
    made_at: Mapped[datetime]
    made_on: Mapped[UUID] = mapped_column(ForeignKey("benches.id"))


class PatternRevisionRow(Row):
    __tablename__ = "pattern_revisions"
    __table_args__ = (
        UniqueConstraint("pattern_id", "number"),
        CheckConstraint("number >= 1", name="number"),
        CheckConstraint("length(digest) = 64", name="digest"),
    )
    id: Mapped[UUID] = mapped_column(primary_key=True)
    pattern_id: Mapped[UUID] = mapped_column(ForeignKey("patterns.id"))
    number: Mapped[int]
    body: Mapped[str]
    digest: Mapped[str] = mapped_column(String(64))
    made_at: Mapped[datetime]
    made_on: Mapped[UUID] = mapped_column(ForeignKey("benches.id"))


class MeterRow(Row):
    __tablename__ = "meters"
    __table_args__ = (
        UniqueConstraint("name"),
        CheckConstraint("length(name) > 0", name="name"),
        CheckConstraint("version >= 1", name="version"),
    )
    id: Mapped[UUID] = mapped_column(primary_key=True)
    name: Mapped[str]
    body: Mapped[str]
    version: Mapped[int]
    made_at: Mapped[datetime]
    made_on: Mapped[UUID] = mapped_column(ForeignKey("benches.id"))


class UnitRow(Row):
    """`tag_key` is the tag, `found_by` tag and label, as they are compared: any case, any spacing."""

    __tablename__ = "units"
    __table_args__ = (
        UniqueConstraint("tag_key"),
        CheckConstraint("length(tag_key) > 0", name="tag_key"),
        CheckConstraint("version >= 1", name="version"),
    )
    id: Mapped[UUID] = mapped_column(primary_key=True)
    tag: Mapped[str]
    tag_key: Mapped[str]
    label: Mapped[str]
    found_by: Mapped[str]
    pattern_id: Mapped[UUID | None] = mapped_column(ForeignKey("patterns.id"))
    made_at: Mapped[datetime] = mapped_column(index=True)
    version: Mapped[int]
    made_on: Mapped[UUID] = mapped_column(ForeignKey("benches.id"))


class JobRow(Row):
    __tablename__ = "jobs"
    __table_args__ = (
        UniqueConstraint("number"),
        CheckConstraint("number >= 1", name="number"),
        CheckConstraint("version >= 1", name="version"),
        Index(None, "unit_id", "number"),
    )
    id: Mapped[UUID] = mapped_column(primary_key=True)
    unit_id: Mapped[UUID] = mapped_column(ForeignKey("units.id"))
    number: Mapped[int]
    complaint: Mapped[str]
    seen: Mapped[str]
    approved: Mapped[str]
    found: Mapped[str]
    done: Mapped[str]
    opened_at: Mapped[datetime]
    closed_at: Mapped[datetime | None]
    version: Mapped[int]
    made_on: Mapped[UUID] = mapped_column(ForeignKey("benches.id"))


class SheetRow(Row):
    """`place` counts within the job, from 1: a clock that was set back can't make an old sheet the latest."""

    __tablename__ = "sheets"
    __table_args__ = (
        UniqueConstraint("job_id", "place"),
        CheckConstraint("place >= 1", name="place"),
        CheckConstraint(f"celsius BETWEEN {COLDEST:g} AND {HOTTEST:g}", name="celsius"),
        CheckConstraint("celsius_uncertainty >= 0", name="celsius_uncertainty"),
        CheckConstraint("lead_ohms >= 0 AND lead_uncertainty_ohms >= 0", name="leads"),
        _one_of("source", [str(s) for s in TemperatureSource]),
        CheckConstraint("meter_zeroed IN (0, 1)", name="meter_zeroed"),
        CheckConstraint("version >= 1", name="version"),
    )
    id: Mapped[UUID] = mapped_column(primary_key=True)
    job_id: Mapped[UUID] = mapped_column(ForeignKey("jobs.id"))
    place: Mapped[int]
    revision_id: Mapped[UUID] = mapped_column(ForeignKey("pattern_revisions.id"))
    meter_id: Mapped[UUID] = mapped_column(ForeignKey("meters.id"))
    meter_name: Mapped[str]
    meter_body: Mapped[str]
    celsius: Mapped[float]
    celsius_uncertainty: Mapped[float]
    lead_ohms: Mapped[float]
    lead_uncertainty_ohms: Mapped[float]
    source: Mapped[str]
    meter_zeroed: Mapped[bool]
    iron_ohms: Mapped[float | None]
    started_at: Mapped[datetime]
    version: Mapped[int]
    made_on: Mapped[UUID] = mapped_column(ForeignKey("benches.id"))
    note: Mapped[str] = mapped_column(server_default="")
    predicted: Mapped[str] = mapped_column(server_default="[]")
    celsius_assumed: Mapped[bool] = mapped_column(server_default="0")
    leads_assumed: Mapped[bool] = mapped_column(server_default="0")


class ReadingRow(Row):
    """`ohms` null is an overload; `range_upto_ohms` null, that no range was named."""

    __tablename__ = "readings"
    __table_args__ = (
        UniqueConstraint("sheet_id", "place"),
        CheckConstraint("place >= 1", name="place"),
        CheckConstraint("node_from <> node_to", name="nodes"),
        CheckConstraint("range_upto_ohms > 0", name="range_upto_ohms"),
    )
    id: Mapped[UUID] = mapped_column(primary_key=True)
    sheet_id: Mapped[UUID] = mapped_column(ForeignKey("sheets.id"))
    place: Mapped[int]
    node_from: Mapped[str]
    node_to: Mapped[str]
    ohms: Mapped[float | None]
    range_upto_ohms: Mapped[float | None]
    typed: Mapped[str]
    taken_at: Mapped[datetime]
    made_on: Mapped[UUID] = mapped_column(ForeignKey("benches.id"))


class StrikeRow(Row):
    __tablename__ = "strikes"
    __table_args__ = (UniqueConstraint("reading_id"), CheckConstraint("length(trim(reason)) > 0", name="reason"))
    id: Mapped[UUID] = mapped_column(primary_key=True)
    reading_id: Mapped[UUID] = mapped_column(ForeignKey("readings.id"))
    reason: Mapped[str]
    struck_at: Mapped[datetime]
    made_on: Mapped[UUID] = mapped_column(ForeignKey("benches.id"))


class DecisionRow(Row):
    """`place` counts within the job, from 1: the last one holds. `found`: a fault's code, or empty; the store knows
    no list of them, so that one more needs no new table."""

    __tablename__ = "decisions"
    __table_args__ = (
        UniqueConstraint("job_id", "place"),
        CheckConstraint("place >= 1", name="place"),
        _one_of("outcome", [str(o) for o in Outcome]),
    )
    id: Mapped[UUID] = mapped_column(primary_key=True)
    job_id: Mapped[UUID] = mapped_column(ForeignKey("jobs.id"))
    place: Mapped[int]
    sheet_id: Mapped[UUID] = mapped_column(ForeignKey("sheets.id"))
    outcome: Mapped[str]
    note: Mapped[str]
    verdict: Mapped[str]
    decided_at: Mapped[datetime]
    made_on: Mapped[UUID] = mapped_column(ForeignKey("benches.id"))
    found: Mapped[str] = mapped_column(server_default="")
    found_where: Mapped[str] = mapped_column(server_default="")
    ran_well: Mapped[bool] = mapped_column(server_default="0")


class DraftRow(Row):
    """What is being worked on. `kind`: which desk it lies on; `body`: JSON, whose shape is that desk's."""

    __tablename__ = "drafts"
    id: Mapped[UUID] = mapped_column(primary_key=True)
    kind: Mapped[str]
    title: Mapped[str]
    body: Mapped[str]
    made_at: Mapped[datetime]
    changed_at: Mapped[datetime]
    version: Mapped[int]
    made_on: Mapped[UUID] = mapped_column(ForeignKey("benches.id"))


class CardRow(Row):
    """`copy` counts within the sheet and whose it is, from 1. `asserts`: what the card said; empty, not kept yet."""

    __tablename__ = "cards"
    __table_args__ = (
        UniqueConstraint("sheet_id", "whose", "copy"),
        CheckConstraint("copy >= 1", name="copy"),
        _one_of("how", ["saved", "printed"]),
        _one_of("whose", [str(w) for w in Whose]),
        _one_of("size", [str(s) for s in CardSize]),
    )
    id: Mapped[UUID] = mapped_column(primary_key=True)
    sheet_id: Mapped[UUID] = mapped_column(ForeignKey("sheets.id"))
    copy: Mapped[int]
    how: Mapped[str]
    made_at: Mapped[datetime]
    made_on: Mapped[UUID] = mapped_column(ForeignKey("benches.id"))
    whose: Mapped[str]
    size: Mapped[str]
    asserts: Mapped[str]


# Alembic's own table, made here so that a new store needs no Alembic.
STAMP = Table(
    "alembic_version",
    MetaData(),
    Column("version_num", String(32), nullable=False),
    PrimaryKeyConstraint("version_num", name="alembic_version_pkc"),
)


class SpoolRow(Row):
    """Wire on the shelf: what is left of it now."""

    __tablename__ = "spools"
    __table_args__ = (
        UniqueConstraint("name"),
        CheckConstraint("length(name) > 0", name="name"),
        CheckConstraint("grams >= 0", name="grams"),
    )
    id: Mapped[UUID] = mapped_column(primary_key=True)
    name: Mapped[str]
    gauge: Mapped[str]
    build: Mapped[str]
    grams: Mapped[float]
    note: Mapped[str]
    made_at: Mapped[datetime]
    version: Mapped[int]
    made_on: Mapped[UUID] = mapped_column(ForeignKey("benches.id"))


class RewindRow(Row):
    """One winding replaced within a job. `body`: as found, planned and as wound, as JSON in the rewind desk's shape."""

    __tablename__ = "rewinds"
    __table_args__ = (Index(None, "job_id"),)
    id: Mapped[UUID] = mapped_column(primary_key=True)
    job_id: Mapped[UUID] = mapped_column(ForeignKey("jobs.id"))
    winding: Mapped[str]
    body: Mapped[str]
    made_at: Mapped[datetime]
    done_at: Mapped[datetime | None]
    version: Mapped[int]
    made_on: Mapped[UUID] = mapped_column(ForeignKey("benches.id"))


class SpoolDrawRow(Row):
    """What a rewind took off a spool, once."""

    __tablename__ = "spool_draws"
    __table_args__ = (UniqueConstraint("rewind_id", "spool_id"), CheckConstraint("grams > 0", name="grams"))
    id: Mapped[UUID] = mapped_column(primary_key=True)
    spool_id: Mapped[UUID] = mapped_column(ForeignKey("spools.id"))
    rewind_id: Mapped[UUID] = mapped_column(ForeignKey("rewinds.id"))
    grams: Mapped[float]
    drawn_at: Mapped[datetime]
    made_on: Mapped[UUID] = mapped_column(ForeignKey("benches.id"))


class RepairRow(Row):
    """`place` counts within the job, from 1. `kind`: a code that the store knows no list of."""

    __tablename__ = "repairs"
    __table_args__ = (UniqueConstraint("job_id", "place"), CheckConstraint("place >= 1", name="place"))
    id: Mapped[UUID] = mapped_column(primary_key=True)
    job_id: Mapped[UUID] = mapped_column(ForeignKey("jobs.id"))
    place: Mapped[int]
    kind: Mapped[str]
    where: Mapped[str]
    note: Mapped[str]
    repaired_at: Mapped[datetime]
    made_on: Mapped[UUID] = mapped_column(ForeignKey("benches.id"))
