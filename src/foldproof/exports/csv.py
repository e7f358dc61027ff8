"""A table as comma-separated values (RFC 4180), safe to open in a spreadsheet."""

from __future__ import annotations

import re

from foldproof.drawing.records import Table
from foldproof.drawing.wording import one_line

FORMULA_STARTS = tuple("=+-@\uff1d\uff0b\uff0d\uff20")  # and their full-width forms
PLAIN_NUMBER = re.compile(r"[+-]?\d+(?:[.,]\d+)?")


def table_csv(table: Table) -> str:
    """The columns' names, then the rows, lines ending in CR LF. A cell that a spreadsheet would reckon out
    gets an apostrophe before it; a plain number, below zero too, stays a number.
    """
    assert all(len(row) == len(table.columns) for row in table.rows), f"{table.title}: a row lacks a cell"
    return "".join(",".join(_cell(text) for text in row) + "\r\n" for row in (table.columns, *table.rows))


def _cell(text: str) -> str:
    shown = one_line(text)
    if shown.lstrip().startswith(FORMULA_STARTS) and not PLAIN_NUMBER.fullmatch(shown.strip()):
        shown = "'" + shown
    if any(char in shown for char in ',"') or shown != shown.strip():
        return '"' + shown.replace('"', '""') + '"'
    return shown
