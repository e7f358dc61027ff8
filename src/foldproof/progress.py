"""How long work is told and stopped: a caller hands in a Progress, the work calls it."""

from __future__ import annotations

from typing import Protocol


class Stopped(Exception):
    """The caller asked the work to stop. Work that has a best result so far returns it instead of raising."""


class Progress(Protocol):
    """Told of each stage; answers whether to go on."""

    def __call__(self, stage: str, done: int, total: int) -> bool:
        """``stage`` is a message code, ``done`` of ``total`` steps are finished. False means: stop."""
        ...


def unwatched(stage: str, done: int, total: int) -> bool:
    """The Progress of a caller who neither watches nor stops."""
    return True
