"""The benches that rows come from."""

from uuid import UUID

from sqlalchemy import insert, select
from sqlalchemy.orm import Session

from db.tables import BenchRow
from workbench.records import now


def know_bench(session: Session, bench: UUID, *, make: bool) -> bool:
    """Whether the store knew this bench before; `make`: enters it if not."""
    known = session.scalar(select(BenchRow.id).where(BenchRow.id == bench)) is not None
    if make and not known:
        session.execute(insert(BenchRow).values(id=bench, made_at=now()))
    return known


def bench_of(session: Session) -> UUID:
    """The bench that this session writes for."""
    bench = session.info["bench"]
    assert isinstance(bench, UUID)
    return bench
