"""From the text of a project file to plain tables: syntax only, and refusing what could take long to read."""

from __future__ import annotations

import json
import re
import tomllib
from collections.abc import Iterable
from typing import Any

from foldproof.errors import InputError, wrong
from foldproof.project.problems import in_short

MOST_FILE_CHARACTERS = 1_000_000  # thousands of times a project file
MOST_NESTING = 20  # a project file nests three deep; the rest is room for [extra]

# Text and comments, so that what looks like structure inside them is not counted. Every branch ends where the
# text ends, so this takes one pass however broken the text is.
_QUOTED = re.compile(
    r'"""(?:[^"\\]|\\.|"(?!""))*+(?:"{3,5}|\Z)'
    r"|'''(?:[^']|'(?!''))*+(?:'{3,5}|\Z)"
    r'|"(?:[^"\\\n]|\\[^\n])*+"?'
    r"|'[^'\n]*+'?"
    r"|\#[^\n]*+",
    re.DOTALL,
)
_BRACKETS = re.compile(r"[\[\]{}]")
_DOTTED = re.compile(rf"(?<![\w-])(?:[\w-]++[ \t]*+\.[ \t]*+){{{MOST_NESTING}}}")
_PLACE = re.compile(
    r"(?P<reason>.*) \(at (?:line (?P<line>\d+), column (?P<column>\d+)|end of document)\)", re.DOTALL
)
# What the reader of the syntax says, in our words. Anything else is told as it is said.
_TOLD = (
    ("Cannot overwrite a value", "gives a key that is already there", "keep one of the two"),
    ("Cannot mutate", "gives a key that is already there", "keep one of the two"),
    ("Cannot redefine", "gives a key that is already there", "keep one of the two"),
    ("Duplicate inline table key", "gives a key that is already there", "keep one of the two"),
    ("Cannot declare", "is a heading that is already there", "put the lines of both under one heading"),
    ("Expected newline", "goes on after its value", 'put text and fractions in quotes: "3 1/4"'),
    ("Invalid value", "has a value that cannot be read", 'put text and fractions in quotes: "3 1/4"'),
    (
        "Invalid initial character",
        "has a key that cannot be read",
        "put keys with other signs than - and _ in quotes",
    ),
    ("Expected '='", "has no = after its key", 'write it like: name = "My box"'),
    (
        "Illegal character",
        "has a character that cannot stand there",
        "type it again; text ends on its own line",
    ),
    ("Found invalid character", "has a character that cannot stand there", "type the line again"),
    ("Unterminated", "has a text that does not end", "end it with the quote it begins with"),
    ("Unclosed", "has a list or a table that does not end", "add the missing bracket"),
    ("Unescaped", "has a lone \\ in its text", "write \\\\ for one \\"),
)


def parse_toml(text: str) -> dict[str, Any]:
    """The tables of a project file. InputError has one problem: too long, too deep, or where it breaks."""
    if len(text) > MOST_FILE_CHARACTERS:
        raise wrong(
            "the file",
            f"{len(text)} characters",
            "is far too long for a project file",
            f"give a file of at most {MOST_FILE_CHARACTERS // 1_000_000} MB",
        )
    text = text.removeprefix("\ufeff")
    structure = _QUOTED.sub("q", text)
    if _deepest(structure) > MOST_NESTING or _DOTTED.search(structure):
        raise _too_deep()
    try:
        tables = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise _syntax_problem(str(error), text) from error
    except ValueError as error:  # a whole number of thousands of digits
        raise wrong(
            "the file", "", "has a number with far too many digits", "write lengths as makers do"
        ) from error
    if not _within(tables, MOST_NESTING):
        raise _too_deep()
    return tables


def quoted(written: str) -> str:
    """Text in the quotes of the file format, which are those of JSON but for one character."""
    return json.dumps(written, ensure_ascii=False).replace("\x7f", "\\u007f")


def key_text(name: str) -> str:
    """A key as it stands in a file: in quotes where it needs them."""
    return name if name.isascii() and name.replace("-", "").replace("_", "").isalnum() else quoted(name)


def _too_deep() -> InputError:
    return wrong(
        "the file",
        "",
        f"has tables or lists more than {MOST_NESTING} deep",
        "write parts as [parts.tray], and lists of plain values",
    )


def _deepest(structure: str) -> int:
    depth = deepest = 0
    for bracket in _BRACKETS.finditer(structure):
        depth = depth + 1 if bracket.group() in "[{" else max(depth - 1, 0)
        deepest = max(deepest, depth)
    return deepest


def _within(tables: dict[str, Any], most: int) -> bool:
    """Whether nothing lies deeper than ``most``, looked at level by level."""
    level: list[Any] = [tables]
    for _ in range(most + 1):
        level = [child for parent in level for child in _children(parent)]
        if not level:
            return True
    return False


def _children(parent: Any) -> Iterable[Any]:
    children = parent.values() if isinstance(parent, dict) else parent
    return (child for child in children if isinstance(child, dict | list))


def _syntax_problem(message: str, text: str) -> InputError:
    found = _PLACE.fullmatch(message)
    reason = found["reason"] if found else message
    lines = text.splitlines() or [""]
    line = int(found["line"]) if found and found["line"] else len(lines)
    column = int(found["column"]) if found and found["column"] else len(lines[-1]) + 1
    told, remedy = next(
        ((ours, remedy) for theirs, ours, remedy in _TOLD if reason.startswith(theirs)),
        (f"cannot be read: {reason[:1].lower()}{reason[1:]}", "write it as TOML, like the examples"),
    )
    written = text.split("\n")[line - 1] if line <= text.count("\n") + 1 else ""
    return wrong(f"line {line}, column {column}", in_short(written.strip()), told, remedy)
