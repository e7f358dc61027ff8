"""Shows what is going on and stops it: on Ctrl-C, or when the time given is over."""

from __future__ import annotations

import signal
import sys
import time
from types import FrameType, TracebackType
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from rich.status import Status

SHOW_AFTER_S = 0.4  # work that is done sooner needs no report
STOPPING = "Stopping with what there is. Press Ctrl-C again to stop at once."


class Watch:
    """A Progress for the command line, used as a context.

    ``stopped`` becomes True at the first Ctrl-C, or ``most_s`` seconds after the start. A second Ctrl-C stops at
    once. On a terminal the stage is shown on standard error.
    """

    def __init__(self, most_s: float | None = None) -> None:
        self.stopped = False
        self._most_s = most_s
        self._started_s = time.monotonic()
        self._status: Status | None = None
        self._before: Any = None

    def __call__(self, stage: str, done: int, total: int) -> bool:
        """Told of each stage; False once the work is to stop."""
        elapsed_s = time.monotonic() - self._started_s
        if self._most_s is not None and elapsed_s >= self._most_s:
            self.stopped = True
        if not self.stopped and elapsed_s >= SHOW_AFTER_S and sys.stderr.isatty():
            self._show(stage, done, total)
        return not self.stopped

    def __enter__(self) -> Watch:
        self._before = signal.getsignal(signal.SIGINT)
        signal.signal(signal.SIGINT, self._interrupted)
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        signal.signal(signal.SIGINT, self._before)
        if self._status is not None:
            self._status.stop()

    def _interrupted(self, number: int, frame: FrameType | None) -> None:
        if self.stopped:
            raise KeyboardInterrupt
        self.stopped = True
        print(STOPPING, file=sys.stderr)

    def _show(self, stage: str, done: int, total: int) -> None:
        from foldproof.teach.messages import stage_words

        words = f"{stage_words(stage)}: {done} of {total}" if total > 1 else stage_words(stage)
        if self._status is None:
            from rich.console import Console

            self._status = Console(stderr=True).status(words)
            self._status.start()
        self._status.update(words)
