"""Papers for the sides that show: sizes on the ruler, in words and as pieces to cut.

A paper is its side less the border on each edge, rounded down: never larger than was asked. What the folded box needs
of a side is taken off before they come here.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from shapely.geometry import Polygon as Shape

from foldproof.drawing.records import Block, Heading, Listing, Paragraph, Table
from foldproof.geometry.plane import inset
from foldproof.lengths import ZERO, Length, Rounded, in_words, length, round_to
from foldproof.pattern.layout import PieceLayout
from foldproof.pattern.measured import MeasuredPiece
from foldproof.pattern.records import Panel, Piece, Polygon
from foldproof.project.records import Papers, Project
from foldproof.views.piece import plain
from foldproof.words.catalogue import ENGLISH, Language

LEAST_PAPER = length(5, "mm")  # narrower than this a paper cannot be cut or glued by hand
FINEST_MM = 4  # decimals of a millimetre that a measured side keeps: far finer than any ruler

Place = Literal["front and back", "left and right", "base", "lid"]
# By what they are on. Files and lists are named by these in every language.
PIECES: dict[Place, str] = {
    "front and back": "paper_for_front_and_back_walls",
    "left and right": "paper_for_left_and_right_walls",
    "base": "paper_for_base_inside",
    "lid": "paper_for_top",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class PanelPaper:
    """One paper, or several alike. ``like`` is its shape, "" for a rectangle; ``outline`` is in mm from (0, 0)."""

    part: str
    piece: str
    place: Place
    width: Rounded
    height: Rounded
    copies: int
    outline: Polygon
    like: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PaperPlan:
    """All papers of a project, and why a side that was asked for has none."""

    papers: tuple[PanelPaper, ...]
    left_out: tuple[str, ...]


NO_PAPERS = PaperPlan(papers=(), left_out=())


def rectangle_paper(
    part: str, piece: str, place: Place, sides: tuple[Length, Length], project: Project, copies: int
) -> PanelPaper | None:
    """The paper for a rectangle of ``sides``: less the border on each edge, rounded down; None when nothing is left."""
    assert project.papers is not None, "papers are asked for"
    border = project.papers.border * 2
    if min(sides) - border < LEAST_PAPER:
        return None
    width, height = (round_to(side - border, project.ruler, "down") for side in sides)
    if min(width.shown, height.shown) < LEAST_PAPER:
        return None
    wide, tall = width.shown.float_mm, height.shown.float_mm
    return PanelPaper(
        part=part,
        piece=piece,
        place=place,
        width=width,
        height=height,
        copies=copies,
        outline=((0.0, 0.0), (wide, 0.0), (wide, tall), (0.0, tall)),
    )


def shaped_paper(part: str, piece: str, like: str, outline: Polygon, project: Project) -> PanelPaper | None:
    """The paper for a shaped layer: its outline drawn in by the border. Width and height are of what it is cut from."""
    assert project.papers is not None, "papers are asked for"
    drawn_in = inset(outline, project.papers.border.float_mm) if project.papers.border > ZERO else (outline,)
    if not drawn_in:
        return None
    left, low, right, high = Shape(drawn_in[0]).bounds
    if min(right - left, high - low) < LEAST_PAPER.float_mm:
        return None
    width, height = (round_to(measured(side), project.ruler, "up") for side in (right - left, high - low))
    return PanelPaper(
        part=part,
        piece=piece,
        place="lid",
        width=width,
        height=height,
        copies=1,
        outline=tuple((x - left, y - low) for x, y in drawn_in[0]),
        like=like,
    )


def measured(side_mm: float) -> Length:
    """A side of a pattern as a length; float noise is left behind."""
    return length(f"{side_mm:.{FINEST_MM}f}", "mm")


# --- As pieces to cut ---------------------------------------------------------------------------------------


def paper_piece(paper: PanelPaper) -> MeasuredPiece:
    """The paper as a piece: cut list, templates and cut files are made of it as of any other."""
    name = PIECES[paper.place]
    xs, ys = [x for x, _ in paper.outline], [y for _, y in paper.outline]
    panel = Panel(id="paper", kind="paper", place="", outline=paper.outline)
    flat = Piece(id=name, blank_width_mm=max(xs), blank_height_mm=max(ys), root=panel.id, panels=(panel,), creases=())
    exact, marked = (
        PieceLayout(piece=name, width=width, height=height, across=(), up=())
        for width, height in (
            (paper.width.exact, paper.height.exact),
            (paper.width.shown, paper.height.shown),
        )
    )
    return MeasuredPiece(
        part=paper.part,
        exact=exact,
        marked=marked,
        designed=flat,
        piece=flat,
        width=paper.width,
        height=paper.height,
        across=(),
        up=(),
        measures=(),
        readings_across=None,
        readings_up=None,
        copies=paper.copies,
    )


def paper_cards(plan: PaperPlan, papers: Papers) -> dict[tuple[str, str], tuple[str, str]]:
    """By part and piece, shape and paper, for the cut list."""
    return {
        (paper.part, paper_piece(paper).piece.id): (paper.like or "rectangle", papers.name) for paper in plan.papers
    }


# --- In words -----------------------------------------------------------------------------------------------


def paper_blocks(project: Project, plan: PaperPlan, *, language: Language = ENGLISH) -> tuple[Block, ...]:
    """The papers with their sizes and what stays bare; nothing when none are asked for. Steps say when they go on."""
    papers = project.papers
    if papers is None:
        return ()
    border, other = in_words(papers.border, project.ruler), in_words(papers.border, project.other_ruler)
    said = [
        language.tables.papers_clear,
        *((language.tables.papers_upright,) if papers.upright else ()),
        *plan.left_out,
    ]
    blocks: list[Block] = [Heading(text=language.tables.papers_title, level=1)]
    if plan.papers:
        blocks.append(Paragraph(text=language.tables.papers_intro.format(name=papers.name, border=border, other=other)))
        blocks.append(
            Table(
                title="",
                columns=language.tables.papers_columns,
                rows=tuple(_row(project, paper, language=language) for paper in plan.papers),
            )
        )
    return (*blocks, Listing(items=tuple(said)))


def _row(project: Project, paper: PanelPaper, *, language: Language = ENGLISH) -> tuple[str, ...]:
    assert project.papers is not None
    width, height = (in_words(side.shown, project.other_ruler) for side in (paper.width, paper.height))
    also = language.report.oblong.format(width=width, height=height)
    if paper.like:
        margin = in_words(project.papers.border, project.ruler)
        also = f"{also}; {language.tables.papers_like.format(like=language.term(paper.like), margin=margin)}"
    name = language.tables.papers_of_part.format(
        part=language.term(plain(paper.part)).capitalize(), side=language.tables.papers_sides[paper.place]
    )
    return (name, str(paper.copies), paper.width.text, paper.height.text, also)
