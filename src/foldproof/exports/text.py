"""A document as plain text for a terminal or a message."""

from __future__ import annotations

import textwrap
from typing import assert_never

from foldproof.drawing.records import (
    Block,
    Code,
    Document,
    Heading,
    Listing,
    PageBreak,
    Paragraph,
    Picture,
    Step,
    Table,
)
from foldproof.drawing.steps import step_blocks
from foldproof.drawing.wording import one_line

UNDERLINES = {0: "=", 1: "-"}
SIGNS = {"text": "", "check": "✓ ", "caution": "! ", "not_proved": "✗ "}
GUTTER = "  "
NARROWEST_COLUMN = 8
LEAST_WIDTH = 20


def document_text(document: Document, width: int = 78) -> str:
    """``document`` in lines of at most ``width`` characters where words allow; a picture in its words."""
    assert width >= LEAST_WIDTH, f"{width} characters are too few for text"
    blocks = [_heading(document.title, 0), *(_block(block, width) for block in document.blocks)]
    return "\n\n".join(blocks) + "\n"


def _block(block: Block, width: int) -> str:
    match block:
        case Heading():
            return _heading(block.text, block.level)
        case Paragraph():
            return _wrapped(block.text, SIGNS[block.kind], width)
        case Listing():
            signs = [f"{number}. " if block.numbered else "- " for number in range(1, len(block.items) + 1)]
            longest = max((len(sign) for sign in signs), default=0)
            items = zip(signs, block.items, strict=True)
            return "\n".join(_wrapped(item, sign.rjust(longest), width) for sign, item in items)
        case Picture():
            return _wrapped(f"[{one_line(block.page.alt)}]", GUTTER, width)
        case Table():
            return _table(block, width)
        case Step():
            return "\n\n".join(_block(part, width) for part in step_blocks(block))
        case PageBreak():
            return "-" * width
        case Code():
            return _wrapped(f"{block.text} {block.target}", "", width)
        case _:
            assert_never(block)


def _heading(text: str, level: int) -> str:
    shown = one_line(text)
    return f"{shown}\n{UNDERLINES[level] * len(shown)}" if level in UNDERLINES else shown


def _wrapped(text: str, sign: str, width: int) -> str:
    return textwrap.fill(
        one_line(text),
        width,
        initial_indent=sign,
        subsequent_indent=" " * len(sign),
        break_on_hyphens=False,
        break_long_words=False,
    )


def _table(table: Table, width: int) -> str:
    rows = [tuple(one_line(cell) for cell in row) for row in (table.columns, *table.rows)]
    assert all(len(row) == len(table.columns) for row in rows), f"{table.title}: a row lacks a cell"
    widths = _column_widths(rows, width)
    ruled = GUTTER.join("-" * column for column in widths)
    lines = [one_line(table.title), ""] if table.title else []
    lines += [*_row(rows[0], widths), ruled]
    for row in rows[1:]:
        lines += _row(row, widths)
    return "\n".join(lines)


def _column_widths(rows: list[tuple[str, ...]], width: int) -> list[int]:
    """The width each column needs; the widest give way until the table fits or nothing can give."""
    widths = [max(1, *(len(row[column]) for row in rows)) for column in range(len(rows[0]))]
    room = width - len(GUTTER) * (len(widths) - 1)
    while sum(widths) > room and max(widths) > NARROWEST_COLUMN:
        widths[widths.index(max(widths))] -= 1
    return widths


def _row(cells: tuple[str, ...], widths: list[int]) -> list[str]:
    columns = [
        textwrap.wrap(cell, width, break_on_hyphens=False) or [""]
        for cell, width in zip(cells, widths, strict=True)
    ]
    height = max(len(column) for column in columns)
    padded = [column + [""] * (height - len(column)) for column in columns]
    return [
        GUTTER.join(line.ljust(width) for line, width in zip(parts, widths, strict=True)).rstrip()
        for parts in zip(*padded, strict=True)
    ]
