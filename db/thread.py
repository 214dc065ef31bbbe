"""A thread of its own that owns the store, and does what it is asked in the order it was asked."""

import threading
from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor
from contextlib import AbstractContextManager
from datetime import datetime
from typing import TYPE_CHECKING, TypeVar
from uuid import UUID

from db.trouble import StoreTrouble
from workbench.records import now

if TYPE_CHECKING:
    from sqlalchemy.orm import Session

    from db.store import Store

T = TypeVar("T")
Deliver = Callable[[Callable[[], object]], object]
Then = Callable[[T], object] | None
Failed = Callable[[StoreTrouble], object] | None
Crash = Callable[[BaseException], object]

_UNEXPECTED = "Something unexpected went wrong in the program, and this was not done. What was kept before is safe. "
_ADVICE = "Try it again; if that fails too, start the program anew."


class StoreThread:
    """Imports the store and its database library on the thread itself, and only when it is opened."""

    def __init__(
        self,
        place: str | None,
        bench: UUID | None,
        deliver: Deliver | None,
        on_crash: Crash | None,
        clock: Callable[[], datetime] = now,
    ) -> None:
        self._place = place
        self._bench = bench
        self._clock = clock
        self._deliver: Deliver = deliver or _at_once
        self._on_crash: Crash = on_crash or _to_excepthook
        self._thread = ThreadPoolExecutor(1, thread_name_prefix="store")
        self._store: Store | None = None
        self._closing: Future[None] | None = None

    def open(self, then: Then[None], failed: Failed, *, create: bool = True, place: str | None = None) -> Future[None]:
        return self._post(lambda: self._open(create, place), then, failed)

    def look(self, then: Then[None], failed: Failed) -> Future[None]:
        """Opens the store only to read."""
        return self._post(self._look, then, failed)

    def write(self, work: "Callable[[Session], T]", then: Then[T], failed: Failed) -> Future[T]:
        """One transaction: committed and on disk before `then` hears of it."""
        return self._post(lambda: _within(self._opened().writing(), work), then, failed)

    def read(self, work: "Callable[[Session], T]", then: Then[T], failed: Failed) -> Future[T]:
        return self._post(lambda: _within(self._opened().reading(), work), then, failed)

    def close(self) -> None:
        """Waits for all that was asked before; raises what closing itself raised. Harmless when repeated."""
        if self._closing is None:
            self._closing = self._post(self._close, None, None)
            self._thread.shutdown(wait=True)
        self._closing.result()

    def _open(self, create: bool, place: str | None) -> None:
        from db.place import default_url
        from db.store import Store

        if self._store is None:
            self._place = place or self._place
            place = default_url() if self._place is None else self._place
            self._store = Store.open(place, bench=self._bench, make=create, clock=self._clock)

    def _look(self) -> None:
        from db.place import default_url
        from db.store import Store

        if self._store is None:
            self._store = Store.look(default_url() if self._place is None else self._place)

    def _opened(self) -> "Store":
        if self._store is None:
            raise StoreTrouble(
                "The store is not open. Nothing was written; what is on the screen stays there. "
                "See to what kept it from opening, then try again."
            )
        return self._store

    def _close(self) -> None:
        if self._store is not None:
            self._store.close()
            self._store = None

    def _post(self, job: Callable[[], T], then: Then[T], failed: Failed) -> Future[T]:
        """Raises RuntimeError after `close`."""
        return self._thread.submit(self._do, job, then, failed)

    def _do(self, job: Callable[[], T], then: Then[T], failed: Failed) -> T:
        try:
            result = job()
        except StoreTrouble as e:
            self._tell(failed, e)
            raise
        except BaseException as e:
            self._on_crash(e)
            self._tell(failed, StoreTrouble(_UNEXPECTED + _ADVICE))
            raise
        self._tell(then, result)
        return result

    def _tell(self, listener: Callable[[T], object] | None, news: T) -> None:
        """A listener that fails is a fault of its own: what it was told of stands."""
        if listener is None:
            return
        try:
            self._deliver(lambda: listener(news))
        except BaseException as e:
            self._on_crash(e)


def _within(session: "AbstractContextManager[Session]", work: "Callable[[Session], T]") -> T:
    with session as s:
        return work(s)


def _at_once(call: Callable[[], object]) -> None:
    call()


def _to_excepthook(error: BaseException) -> None:
    what = (type(error), error, error.__traceback__, threading.current_thread())
    threading.excepthook(threading.ExceptHookArgs(what))
