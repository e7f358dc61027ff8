"""A document as one web page that needs nothing else: drawings, faces and look are in the file, and no script.

What people typed stays text. A measure keeps the space in '3 1/4': the fraction is formed by the face, so that
copied text, a screen reader and a browser without the face all have the number as it was written.
"""

from __future__ import annotations

import html
import math
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import count
from typing import assert_never

from foldproof.drawing.records import (
    Block,
    Code,
    Document,
    Heading,
    Label,
    Listing,
    Page,
    PageBreak,
    Paragraph,
    Picture,
    Step,
    Table,
)
from foldproof.drawing.style import MM_PER_PT, SEA_GREEN, Palette
from foldproof.drawing.type import FRACTION
from foldproof.drawing.wording import one_line
from foldproof.exports.html_style import style_sheet
from foldproof.exports.svg_screen import screen_svg
from foldproof.words.catalogue import ENGLISH, Language

LEAST_LABEL_PX = 17.0  # lettering in a drawing is never smaller: a narrow screen slides the drawing sideways
QUIET_CELLS = 4  # bare cells round a code (ISO/IEC 18004)
SECTION_LEVEL, DEEPEST_HEADING = 2, 6  # the title has the first level
ANCHOR = "part-{place}"
SECURITY = "default-src 'none'; style-src 'unsafe-inline'; font-src data:; base-uri 'none'; form-action 'none'"

SIGNS = {
    "check": "M5 12.5l5 5 9-11",
    "caution": "M12 3.5L22 20.5H2ZM12 10v5M12 17.7v.1",
    "not_proved": "M3 3h18v18H3ZM8 8l8 8M16 8l-8 8",
}
_WHOLE = r"\d+(?:[.,]\d+)?"
MEASURE = re.compile(rf"(?<![\w/.,])(?:{FRACTION.pattern}|{_WHOLE})(?:\s(?:in|cm|mm)\b|(?![\w/]|[.,]\d))", re.ASCII)
OTHER_UNIT = re.compile(r"\((?=[^()]{0,80}\d\s(?:in|cm|mm)\b)[^()]{0,80}\)", re.ASCII)
LINK = re.compile(r"https?://[^\s\"'<>]+")


@dataclass(frozen=True, slots=True, kw_only=True)
class _View:
    """How blocks are written: palette, steps' numbers, the next drawing's number."""

    palette: Palette
    steps: tuple[int, ...]
    number: Callable[[], int]


def document_html(document: Document, palette: Palette = SEA_GREEN, *, language: Language = ENGLISH) -> str:
    """``document`` as a web page in UTF-8, the same bytes each time; ``palette`` colours the card in its drawings."""
    steps = tuple(block.number for block in document.blocks if isinstance(block, Step))
    view = _View(palette=palette, steps=steps, number=count(1).__next__)
    opening, closing = _opening(document.blocks), _closing(document.blocks)
    body = document.blocks[len(opening) : len(document.blocks) - len(closing)]
    text = "\n".join(
        [
            f'<a class="skip" href="#text">{language.page.skip}</a>',
            "<header>",
            f'<h1 dir="auto">{set_text(document.title)}</h1>',
            *_written(view, opening, language=language),
            *_contents(body, language=language),
            "</header>",
            '<main id="text">',
            *_written(view, body, language=language),
            "</main>",
            *(["<footer>", *_written(view, closing, language=language), "</footer>"] if closing else []),
        ]
    )
    style = style_sheet(palette, _characters(text), frozenset(map(_least_px, _lettered(document.blocks))))
    return "\n".join(
        [
            "<!DOCTYPE html>",
            f'<html lang="{html.escape(document.language)}">',
            "<head>",
            '<meta charset="utf-8">',
            f'<meta http-equiv="Content-Security-Policy" content="{SECURITY}">',
            '<meta name="viewport" content="width=device-width, initial-scale=1">',
            f"<title>{html.escape(one_line(document.title))}</title>",
            f"<style>{style}</style>",
            "</head>",
            "<body>",
            text,
            "</body>",
            "</html>",
            "",
        ]
    )


def set_text(text: str) -> str:
    """One line of text as HTML: every measure is kept together, fractions are formed, the other unit is quieter."""
    shown = one_line(text)
    parts: list[str] = []
    done = 0
    for found in OTHER_UNIT.finditer(shown):
        parts += [_with_measures(shown[done : found.start()]), f'<span class="other">{_with_measures(found[0])}</span>']
        done = found.end()
    return "".join([*parts, _with_measures(shown[done:])])


def _with_measures(text: str) -> str:
    parts: list[str] = []
    done = 0
    for found in MEASURE.finditer(text):
        parts += [html.escape(text[done : found.start()]), f'<span class="n">{_fractions(found[0])}</span>']
        done = found.end()
    return "".join([*parts, html.escape(text[done:])])


def _fractions(measure: str) -> str:
    """A measure with its fraction marked for the face; the space before it stays a space."""

    def marked(found: re.Match[str]) -> str:
        whole = f"{found['whole']} " if found["whole"] else ""
        return f'{whole}<span class="f">{found["above"]}/{found["below"]}</span>'

    return FRACTION.sub(marked, measure)


def _characters(markup: str) -> frozenset[str]:
    """Every character a reader may see."""
    return frozenset(html.unescape(re.sub(r"<[^>]*>", "", markup)))


# --- Contents -----------------------------------------------------------------------------------------------


def _opening(blocks: tuple[Block, ...]) -> tuple[Block, ...]:
    """What stands before the first heading or step."""
    for place, block in enumerate(blocks):
        if isinstance(block, Heading | Step):
            return blocks[:place]
    return blocks


def _closing(blocks: tuple[Block, ...]) -> tuple[Block, ...]:
    """What stands after the last page break, when it has no heading: who made it, and where to find it."""
    breaks = [place for place, block in enumerate(blocks) if isinstance(block, PageBreak)]
    last = blocks[breaks[-1] + 1 :] if breaks else ()
    alone = not any(isinstance(block, Heading | Step) for block in last) and len(_opening(blocks)) < len(blocks)
    return last if alone else ()


def _contents(blocks: tuple[Block, ...], *, language: Language = ENGLISH) -> Iterator[str]:
    """The sections, each with the numbers of its steps."""
    sections: list[tuple[str, list[int]]] = []
    for block, level in zip(blocks, _levels(blocks), strict=True):
        if isinstance(block, Heading) and level == SECTION_LEVEL:
            sections.append((block.text, []))
        elif isinstance(block, Step) and sections:
            sections[-1][1].append(block.number)
    if len(sections) < 2:
        return
    yield f'<nav class="contents" aria-label="{language.page.contents}">'
    yield "<ul>"
    for place, (name, steps) in enumerate(sections, start=1):
        yield f'<li><a href="#{ANCHOR.format(place=place)}" dir="auto">{set_text(name)}</a>'
        if steps:
            links = "".join(
                f'<li><a href="#step-{number}"><span class="hidden">{language.page.step} </span>{number}</a></li>'
                for number in steps
            )
            yield f"<ul>{links}</ul>"
        yield "</li>"
    yield "</ul>"
    yield "</nav>"


def _levels(blocks: tuple[Block, ...]) -> tuple[int, ...]:
    """The level of each heading and step, 0 for all else. No level is left out on the way down."""
    found: list[int] = []
    before, in_section = SECTION_LEVEL - 1, False
    for block in blocks:
        level = 0
        if isinstance(block, Heading):
            level = min(block.level + 1, before + 1, DEEPEST_HEADING)
            in_section = in_section or level == SECTION_LEVEL
        elif isinstance(block, Step):
            level = SECTION_LEVEL + 1 if in_section else SECTION_LEVEL
        before = level or before
        found.append(level)
    return tuple(found)


# --- Blocks -------------------------------------------------------------------------------------------------


def _written(view: _View, blocks: tuple[Block, ...], *, language: Language = ENGLISH) -> Iterator[str]:
    """The blocks in order; a heading of the first level begins a section."""
    sections = 0
    for block, level in zip(blocks, _levels(blocks), strict=True):
        if isinstance(block, Heading) and level == SECTION_LEVEL:
            if sections:
                yield "</section>"
            sections += 1
            anchor = ANCHOR.format(place=sections)
            yield f'<section aria-labelledby="{anchor}">'
            yield f'<h2 id="{anchor}" dir="auto">{set_text(block.text)}</h2>'
        else:
            yield from _block(view, block, level, language=language)
    if sections:
        yield "</section>"


def _block(view: _View, block: Block, level: int, *, language: Language = ENGLISH) -> Iterator[str]:
    match block:
        case Heading():
            yield f'<h{level} dir="auto">{set_text(block.text)}</h{level}>'
        case Paragraph():
            yield _paragraph(block, language=language)
        case Listing():
            tag = "ol" if block.numbered else "ul"
            items = "".join(f'<li dir="auto">{set_text(item)}</li>\n' for item in block.items)
            yield f"<{tag}>\n{items}</{tag}>"
        case Picture():
            yield _drawing(view, block.page, language=language)
        case Table():
            yield from _table(block)
        case Step():
            yield from _step(view, block, level, language=language)
        case PageBreak():
            yield '<div class="break"></div>'
        case Code():
            yield _code(block)
        case _:
            assert_never(block)


def _paragraph(paragraph: Paragraph, *, language: Language = ENGLISH) -> str:
    if paragraph.kind == "text":
        return f'<p dir="auto">{set_text(paragraph.text)}</p>'
    path, spoken = SIGNS[paragraph.kind], language.page.caution if paragraph.kind == "caution" else ""
    sign = f'<svg class="sign" viewBox="0 0 24 24" aria-hidden="true"><path d="{path}"/></svg>'
    hidden = f'<span class="hidden">{spoken}</span>' if spoken else ""
    return f'<p class="{paragraph.kind}" dir="auto">{sign}{hidden}{set_text(paragraph.text)}</p>'


def _step(view: _View, step: Step, level: int, *, language: Language = ENGLISH) -> Iterator[str]:
    """A section of its own, with a way back and a way on."""
    name = f"step-{step.number}"
    pictured = " pictured" if step.picture is not None else ""
    yield f'<section class="step{pictured}" id="{name}" aria-labelledby="{name}-title">'
    yield (
        f'<h{level} id="{name}-title"><span class="number">'
        f'<span class="hidden">{language.page.step} </span>{step.number}<span class="hidden">: </span></span>'
        f'<span dir="auto">{set_text(step.title)}</span></h{level}>'
    )
    yield '<div class="told">'
    yield f'<p class="do" dir="auto">{set_text(step.text)}</p>'
    if step.caution is not None:
        yield _paragraph(Paragraph(text=step.caution, kind="caution"), language=language)
    yield "</div>"
    if step.picture is not None:
        yield _drawing(view, step.picture, language=language)
    yield '<div class="told">'
    yield _paragraph(Paragraph(text=step.check, kind="check"), language=language)
    yield f'<p class="if-not" dir="auto">{set_text(step.if_not)}</p>'
    yield from _ways(view, view.steps.index(step.number), language=language)
    yield "</div>"
    yield "</section>"


def _ways(view: _View, here: int, *, language: Language = ENGLISH) -> Iterator[str]:
    links = [
        f'<a href="#step-{view.steps[place]}">{words.format(number=view.steps[place])}</a>'
        for place, words in ((here - 1, language.page.back), (here + 1, language.page.next))
        if 0 <= place < len(view.steps)
    ]
    if links:
        yield f'<p class="ways">{" ".join(links)}</p>'


def _drawing(view: _View, page: Page, *, language: Language = ENGLISH) -> str:
    """The drawing in the text. Where its lettering would get too small for a screen, it slides sideways instead."""
    number = view.number()
    prefix = f"d{number}"  # a drawing may stand on the page twice: each has its own ids
    if not _is_lettered(page):
        drawn = screen_svg(page, view.palette, prefix)
        return f'<figure class="drawing"><div class="view">\n{drawn}</div></figure>'
    least_px = _least_px(page)
    drawn = screen_svg(page, view.palette, prefix, style=f"min-width:{least_px}px")
    name = language.page.drawing.format(number=number)
    return (
        f'<figure class="drawing w{least_px}"><p class="slides" aria-hidden="true">{language.page.slides}</p>\n'
        f'<div class="view" tabindex="0" role="group" aria-label="{name}">\n{drawn}</div></figure>'
    )


def _lettered(blocks: tuple[Block, ...]) -> Iterator[Page]:
    """Every drawing with lettering."""
    for block in blocks:
        page = block.page if isinstance(block, Picture) else block.picture if isinstance(block, Step) else None
        if page is not None and _is_lettered(page):
            yield page


def _is_lettered(page: Page) -> bool:
    return any(isinstance(mark, Label) for mark in page.marks)


def _least_px(page: Page) -> int:
    """How wide a drawing must be so that its smallest lettering is large enough."""
    smallest_pt = min(mark.size_pt for mark in page.marks if isinstance(mark, Label))
    return math.ceil(page.width_mm * LEAST_LABEL_PX / (smallest_pt * MM_PER_PT))


def _table(table: Table) -> list[str]:
    assert all(len(row) == len(table.columns) for row in table.rows), f"{table.title}: a row lacks a cell"
    head = "".join(f'<th scope="col">{set_text(column)}</th>' for column in table.columns)
    caption = f"<caption>{set_text(table.title)}</caption>" if table.title else ""
    name = html.escape(one_line(table.title or ", ".join(table.columns)))
    rows = []
    for row in table.rows:
        first, *others = row
        cells = "".join(_cell(cell) for cell in others)
        rows.append(f'<tr><th scope="row" dir="auto">{set_text(first)}</th>{cells}</tr>')
    return [
        f'<div class="table" tabindex="0" role="group" aria-label="{name}"><table>{caption}',
        f"<thead><tr>{head}</tr></thead>",
        "<tbody>",
        *rows,
        "</tbody></table></div>",
    ]


def _cell(cell: str) -> str:
    hero = ' class="hero"' if MEASURE.fullmatch(one_line(cell).strip()) else ""
    return f'<td{hero} dir="auto">{set_text(cell)}</td>'


def _code(code: Code) -> str:
    """The code for a camera, and the same link to press. What is no web address is not made a link."""
    target = one_line(code.target)
    shown = html.escape(target)
    link = f'<a href="{shown}" rel="noreferrer">{shown}</a>' if LINK.fullmatch(target) else shown
    return f'<div class="code">{_cells(code)}<p dir="auto">{set_text(code.text)}<br>{link}</p></div>'


def _cells(code: Code) -> str:
    """The code as black cells on white, also on a dark page: cameras read it no other way."""
    import segno

    rows = segno.make(code.target, error="m", micro=False).matrix
    side = len(rows) + 2 * QUIET_CELLS
    dark = [(x, y) for y, row in enumerate(rows, start=QUIET_CELLS) for x, cell in enumerate(row, QUIET_CELLS) if cell]
    data = "".join(f"M{x} {y}h1v1h-1z" for x, y in dark)
    name = html.escape(one_line(code.text))
    return (
        f'<svg viewBox="0 0 {side} {side}" role="img" aria-label="{name}" shape-rendering="crispEdges">'
        f'<path fill="#ffffff" d="M0 0h{side}v{side}H0z"/><path fill="#000000" d="{data}"/></svg>'
    )
