"""Problems gathered while a file is read, so that a maker hears of all of them at once."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable

from foldproof.errors import InputError, Problem

MOST_PROBLEMS = 50  # listed; a file with more is mended in rounds
MOST_SHOWN_CHARACTERS = 60  # of a value or a key: enough to find it again
MOST_SHOWN_NUMBER = 10**30  # larger whole numbers are typing mistakes, and slow to write out

_BARE_KEY = re.compile(r"[A-Za-z0-9_-]+")


class Problems:
    """A growing list of problems. After the first 50 it only counts."""

    def __init__(self) -> None:
        self._listed: list[Problem] = []
        self._count = 0

    def __len__(self) -> int:
        return self._count

    @property
    def full(self) -> bool:
        """Whether further problems are only counted, so that their words need not be found."""
        return self._count >= MOST_PROBLEMS

    def add(self, field: str, value: object, reason: str, remedy: str) -> None:
        """One more unusable value: why, and what would work."""
        if not self.full:
            self._listed.append(Problem(field=field, value=shown(value), reason=reason, remedy=remedy))
        self._count += 1

    def count(self, number: int) -> None:
        """More problems, when the list is full."""
        self._count += number

    def raise_any(self) -> None:
        """Raises InputError if there is any problem: the first 50, and how many more there are."""
        if not self._count:
            return
        more = self._count - len(self._listed)
        if more:
            self._listed.append(
                Problem(
                    field="the file",
                    value="",
                    reason=f"has {more} more problem{'s' if more > 1 else ''}",
                    remedy="mend these first, then try again",
                )
            )
        raise InputError(tuple(self._listed))


def shown(value: object) -> str:
    """A value from a file as a maker recognises it: short, on one line."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, dict):
        return "a table"
    if isinstance(value, list):
        return "a list"
    if isinstance(value, int) and abs(value) > MOST_SHOWN_NUMBER:
        return "a very large number"
    return in_short(str(value))


def in_short(text: str) -> str:
    """Text cut to what is needed to find it again, without line breaks and control characters."""
    kept = text[: MOST_SHOWN_CHARACTERS + 1]
    plain = "".join(character if character.isprintable() else "\ufffd" for character in kept)
    return plain if len(plain) <= MOST_SHOWN_CHARACTERS else f"{plain[: MOST_SHOWN_CHARACTERS - 1]}…"


def field_path(*keys: str) -> str:
    """A path as it can be written in the file: keys that are more than letters and digits in quotes."""
    return ".".join(_path_key(key) for key in keys)


def _path_key(key: str) -> str:
    short = in_short(key)
    return short if _BARE_KEY.fullmatch(short) else json.dumps(short, ensure_ascii=False)


def one_of(choices: Iterable[str]) -> str:
    """Choices in quotes, in one phrase: '"plain", "one side" or "both sides"'."""
    quoted = [f'"{choice}"' for choice in choices]
    return quoted[0] if len(quoted) == 1 else f"{', '.join(quoted[:-1])} or {quoted[-1]}"
