"""A document as Markdown. What people typed stays text: no markup, link or HTML of theirs comes through."""

from __future__ import annotations

import re
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

DEEPEST_HEADING = 6
ENTITIES = {"&": "&amp;", "<": "&lt;", ">": "&gt;"}
SIGNS = {"check": "✓", "caution": "⚠", "not_proved": "✗"}


BESIDE = "{name}.svg"  # a picture lies beside the text


def document_markdown(document: Document, *, picture: str = BESIDE) -> str:
    """``document`` under its title; a picture is a link to ``picture``, with its page's name in it."""
    blocks = [f"# {escaped(document.title)}", *(_block(block, picture) for block in document.blocks)]
    return "\n\n".join(blocks) + "\n"


def escaped(text: str) -> str:
    """``text`` as Markdown that shows exactly it, on one line."""
    shown = re.sub(r"[\\`*_{}\[\]#!|~$^]", r"\\\g<0>", one_line(text).strip())
    shown = re.sub(r"[&<>]", lambda found: ENTITIES[found[0]], shown)
    shown = re.sub(r"(?<=[A-Za-z]):(?=//)", r"\\:", shown)
    shown = re.sub(r"(?i)\b(mailto|xmpp|javascript|data):", r"\1\\:", shown)
    shown = re.sub(r"(?i)\b(www)\.", r"\1\\.", shown)
    shown = re.sub(r"(?<=\S)@(?=\S)", "&#64;", shown)
    shown = re.sub(r"^([-+=])", r"\\\1", shown)
    return re.sub(r"^(\d+)([.)])(?=\s|$)", r"\1\\\2", shown)


def _block(block: Block, picture: str) -> str:
    match block:
        case Heading():
            text = re.sub(r"^(\d+)\\\.", r"\1.", escaped(block.text))  # after the signs it begins no list
            return f"{'#' * min(block.level + 1, DEEPEST_HEADING)} {text}"
        case Paragraph(kind="text"):
            return escaped(block.text)
        case Paragraph(kind="not_proved"):
            return f"> {SIGNS[block.kind]} **{escaped(block.text)}**"
        case Paragraph():
            return f"> {SIGNS[block.kind]} {escaped(block.text)}"
        case Listing():
            return "\n".join(
                f"{f'{number}.' if block.numbered else '-'} {escaped(item)}"
                for number, item in enumerate(block.items, start=1)
            )
        case Picture():
            address = picture.format(name=_address(one_line(block.page.name)))
            return f"![{escaped(block.page.alt)}]({address})"
        case Table():
            return _table(block)
        case Step():
            return "\n\n".join(_block(part, picture) for part in step_blocks(block))
        case PageBreak():
            return "---"
        case Code():
            return escaped(f"{block.text} {block.target}")
        case _:
            assert_never(block)


def _address(name: str) -> str:
    """A file's name as a link takes it (RFC 3986): all but plain letters, digits and ``-._~`` as %XX."""
    return "".join(
        chr(byte) if chr(byte).isascii() and re.match(r"[\w.~-]", chr(byte), re.ASCII) else f"%{byte:02X}"
        for byte in name.encode("utf-8")
    )


def _table(table: Table) -> str:
    assert all(len(row) == len(table.columns) for row in table.rows), f"{table.title}: a row lacks a cell"
    lines = [f"**{escaped(table.title)}**", ""] if table.title else []
    lines += [_row(table.columns), "|" + " --- |" * len(table.columns), *(_row(row) for row in table.rows)]
    return "\n".join(lines)


def _row(cells: tuple[str, ...]) -> str:
    return "| " + " | ".join(escaped(cell) for cell in cells) + " |"
