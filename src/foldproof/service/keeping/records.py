"""What is told of kept projects."""

from __future__ import annotations

from dataclasses import dataclass

from foldproof.design.merging import Clash
from foldproof.errors import Problem


@dataclass(frozen=True, slots=True, kw_only=True)
class Kept:
    """One project in the folder: its id, the name it has, when it was changed, and its verdict, "" when not known.

    ``trouble`` says why it cannot be opened; "" when it can.
    """

    id: str
    name: str
    changed: str
    version: int
    archived: bool = False
    verdict: str = ""
    trouble: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptText:
    """A project as it stands: the text of its version, and whether there is something to undo and to redo.

    ``outside`` says why a change that was made by hand to the file in its folder is not heeded; "" when there is none.
    """

    id: str
    name: str
    version: int
    text: str
    changed: str
    archived: bool
    verdict: str
    can_undo: bool
    can_redo: bool
    outside: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Version:
    """One version: what changed and when, and the version it was made of (0 for the first).

    ``current``: the project stands at it. ``on_the_way``: it can be come to by undoing and redoing. ``beside``: it
    was kept beside the project because it clashed.
    """

    number: int
    parent: int
    when: str
    what: tuple[str, ...]
    current: bool
    on_the_way: bool
    beside: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Saved:
    """The version that stands now, its text, and what changed. ``merged``: with a change made elsewhere meanwhile."""

    version: int
    text: str
    what: tuple[str, ...]
    merged: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Clashed:
    """What was not saved, because it was changed elsewhere meanwhile, to version ``version`` with ``text``.

    ``clashes`` are the values changed in two ways; with none of them ``problems`` say what does not go together.
    What was to be saved is kept in the history as version ``beside``.
    """

    version: int
    text: str
    beside: int
    clashes: tuple[Clash, ...] = ()
    problems: tuple[Problem, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Removed:
    """A project in the bin: what to call it there, its name, and when it was put there."""

    bin_id: str
    name: str
    when: str
