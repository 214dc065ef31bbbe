"""The benches that rows come from."""

from datetime import datetime
from uuid import UUID

from sqlalchemy import insert, select
from sqlalchemy.orm import Session

from db.tables import BenchRow


def know_bench(session: Session, bench: UUID, *, make_at: datetime | None) -> bool:
    """Whether the store knew this bench before; `make_at`: enters it as of then if not."""
    known = session.scalar(select(BenchRow.id).where(BenchRow.id == bench)) is not None
    if make_at is not None and not known:
        session.execute(insert(BenchRow).values(id=bench, made_at=make_at))
    return known


def bench_of(session: Session) -> UUID:
    """The bench that this session writes for."""
    bench = session.info["bench"]
    assert isinstance(bench, UUID)
    return bench
