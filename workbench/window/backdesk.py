"""Work too long for the window's thread, done one piece after the other on a thread of its own."""

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from typing import TypeVar

T = TypeVar("T")


class BackDesk:
    """`deliver` posts a callable to the window's thread."""

    def __init__(self, deliver: Callable[[Callable[[], object]], object]) -> None:
        self._deliver = deliver
        self._thread = ThreadPoolExecutor(1, thread_name_prefix="back-desk")

    def do(self, work: Callable[[], T], then: Callable[[T], object], failed: Callable[[Exception], object]) -> None:
        """`then` or `failed` is called on the window's thread: nothing that goes wrong dies with this one."""

        def run() -> None:
            try:
                result = work()
            except Exception as e:
                trouble = e
                self._deliver(lambda: failed(trouble))
                return
            self._deliver(lambda: then(result))

        self._thread.submit(run)

    def close(self) -> None:
        """Waits for what was begun."""
        self._thread.shutdown(wait=True)
