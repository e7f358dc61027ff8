"""Work that is done beside the rest. The compiler that sets pages runs outside Python: on another core, at once."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from typing import TypeVar

T = TypeVar("T")
WORKERS = 2  # more would not set the few papers of a pack sooner


class Beside:
    """Starts pure work; what comes of it does not depend on when it is done."""

    def __init__(self, pool: ThreadPoolExecutor) -> None:
        self._pool = pool

    def start(self, work: Callable[[], T]) -> Callable[[], T]:
        """Begins ``work`` beside the rest; what is returned waits for its end and gives what it gave."""
        return self._pool.submit(work).result


@contextmanager
def beside() -> Iterator[Beside]:
    """While the block runs, work can be started. What has not begun when the block is left by an error never does."""
    with ThreadPoolExecutor(max_workers=WORKERS) as pool:
        try:
            yield Beside(pool)
        except BaseException:
            pool.shutdown(wait=False, cancel_futures=True)
            raise
